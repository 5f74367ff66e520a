"""Put sites that follow each other along one conductor together: one place to look, not many.

```
A ---1d--- A-01 ---1c--- A-02 ---1b--|   A-03      A ------1a------|   A-03
                        no farther than 90 m            no farther than 212 m from A
```
"""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.asbuilt import AsBuilt
from cardgen.diagnosis import SuspectSite
from cardgen.light_dataclass import replace

NOTHING = 1e-6  # m


def merged(known: AsBuilt, sites: Iterable[SuspectSite]) -> tuple[SuspectSite, ...]:
    """In the order of the likeliest of each."""
    found: list[SuspectSite] = []
    for site in sites:
        whole, rank = site, len(found)
        for other in tuple(found):
            both = _both(known, other, whole) or _both(known, whole, other)
            if both is not None:
                whole, rank = both, min(rank, found.index(other))
                found.remove(other)
        found.insert(rank, whole)
    return tuple(found)


def _both(known: AsBuilt, near: SuspectSite, far: SuspectSite) -> SuspectSite | None:
    """The two as one, where the second begins at the end of the first and nothing lies between."""
    if near.conductor != far.conductor or near.end != far.start or near.start == near.end:
        return None
    meters = meters_between(known, near)
    reaches_end = near.most_m is None or (meters is not None and near.most_m >= meters - NOTHING)
    if not reaches_end or (far.least_m or 0.0) > NOTHING:
        return None
    if far.most_m is not None and meters is None:
        return None
    most = None if far.most_m is None or meters is None else meters + far.most_m
    return replace(near, end=far.end, most_m=most)


def meters_between(known: AsBuilt, site: SuspectSite) -> float | None:
    """Along the conductor; None where it is none that goes from one to the other, or not known."""
    conductor = known.conductor.get(site.conductor)
    if conductor is None or not {site.start, site.end} <= set(conductor.places):
        return None
    first, last = sorted(conductor.places.index(place) for place in (site.start, site.end))
    legs = conductor.legs[first:last]
    meters = [each for each in legs if each is not None]
    return sum(meters) if len(meters) == len(legs) else None
