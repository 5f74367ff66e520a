"""Say which of two faults is repaired first: the one that hides from the meter what is behind it.

```
[A]--- open 1 ---[VB-1]---[VB-2]--- open 2 ---[VB-3]     2 shows only when 1 is repaired
```
By the ways of the valves as built: whose way passes a place depends on it.
"""

from __future__ import annotations

from cardgen.asbuilt import AsBuilt, BuiltValve
from cardgen.diagnosis import SuspectedFault, SuspectSite


def first_to_repair(known: AsBuilt, faults: tuple[SuspectedFault, ...]) -> int | None:
    """Which of two by its index; None where neither hides the other."""
    if len(faults) != 2:
        return None
    one, two = (_behind(known, fault) for fault in faults)
    if two < one:
        return 0
    return 1 if one < two else None


def _behind(known: AsBuilt, fault: SuspectedFault) -> frozenset[str]:
    """The valves whose way passes any place of it, and those it names where it has no conductor."""
    passing = {
        valve.id
        for valve in known.valves
        for site in fault.sites
        if site.conductor and _passes(known, valve, site)
    }
    return frozenset(passing or fault.valves)


def _passes(known: AsBuilt, valve: BuiltValve, site: SuspectSite) -> bool:
    legs = _legs(known, site)
    return any(
        step.name == site.conductor and ({step.start, step.end} in legs)
        for step in (*valve.hot_way, *valve.back_way)
    )


def _legs(known: AsBuilt, site: SuspectSite) -> list[set[str]]:
    """The legs of its conductor from place to place; at a splice alone the one that leaves it."""
    conductor = known.conductor.get(site.conductor)
    if conductor is None or not {site.start, site.end} <= set(conductor.places):
        return []
    places = conductor.places
    first, last = sorted((places.index(site.start), places.index(site.end)))
    if first == last:
        first, last = min(first, len(places) - 2), min(first, len(places) - 2) + 1
    return [set(places[at : at + 2]) for at in range(first, last)]
