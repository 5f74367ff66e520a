"""Judge a diagnosis by what was put in: is the true place among those kept, how many are there.

A *place* is where somebody kneels or digs: a box, or the run of a conductor between two splices.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from cardgen.diagnosis import Diagnosis, FaultKind, HiddenKind, Suspect, SuspectedFault, SuspectSite
from tests.diagnosis.ground import circuit_of
from tests.diagnosis.metal import Circuit
from tests.diagnosis.plans import Plan
from tests.diagnosis.sites import Injected
from tests.diagnosis.walks import METER_OHMS, METER_SHARE, SCATTER

_SERIES = (FaultKind.OPEN, FaultKind.COIL_OPEN, FaultKind.CUT)
_LOW = (FaultKind.COIL_LOW, FaultKind.SECOND_COIL, FaultKind.WRONG_COIL, FaultKind.HOT_ON_COMMON)
_HIGH = (FaultKind.RESISTIVE, FaultKind.WRONG_COIL, FaultKind.WRONG_LENGTH, FaultKind.WRONG_GAUGE)
# By what was put in: the kinds that may be said, where the place that is said is the true one.
# The first is the kind itself; the others show the same ohms hot to common, for the reason given.
EQUIVALENT: Mapping[str, tuple[FaultKind, ...]] = {
    # What is in series is OL wherever it is broken; a cut takes the common of the leg with it.
    "hot open": _SERIES,
    "common open": (*_SERIES, FaultKind.CONTACT),
    "cable cut": (FaultKind.CUT, FaultKind.OPEN),
    "contact open": (FaultKind.CONTACT, FaultKind.OPEN),
    "coil open": (*_SERIES, FaultKind.OTHER_COMMON),
    "one coil of a twin open": _SERIES,
    # A coil on another common has nothing to C, as one that is open.
    "other common": (FaultKind.OTHER_COMMON, *_SERIES),
    # Ohms more are ohms more: a wet splice, a longer wire, a coil with more of them.
    "hot resistive": _HIGH,
    "common resistive": _HIGH,
    "lead resistive": _HIGH,
    "wrong length": (FaultKind.WRONG_LENGTH, FaultKind.WRONG_GAUGE, FaultKind.RESISTIVE),
    "wrong gauge": (FaultKind.WRONG_GAUGE, FaultKind.WRONG_LENGTH, FaultKind.RESISTIVE),
    "wrong box": (FaultKind.WRONG_BOX, FaultKind.RESISTIVE, FaultKind.WRONG_LENGTH),
    # Few ohms in a box: burnt turns, a coil beside it, another kind, a touch through some ohms.
    "coil low": _LOW,
    "second coil": (FaultKind.SECOND_COIL, *_LOW),
    "wrong coil": (FaultKind.WRONG_COIL, *_LOW, FaultKind.RESISTIVE),
    "hot on common": (FaultKind.HOT_ON_COMMON,),
    "hots touch": (FaultKind.HOTS_TOUCH,),
    # A second coil in series is ohms more, too; only hot to hot tells them apart.
    "between two hots": (FaultKind.WRONG_RETURN, FaultKind.RESISTIVE),
    # These are told by whose readings move together; nothing else does that.
    "exchanged": (FaultKind.EXCHANGED,),
    "common exchanged": (FaultKind.COMMON_EXCHANGED,),
    # Two of three that move on show by ohms as exchanged; the third has to be named.
    "three moved on": (FaultKind.MOVED_ON, FaultKind.EXCHANGED),
    "one common exchanged": (FaultKind.COMMON_EXCHANGED,),
    "commons joined": (FaultKind.COMMONS_JOINED,),
    "wrong reading": (FaultKind.WRONG_READING,),
}
# Whose terminals or readings are meant: the valves decide, not a place.
_BY_VALVES = (
    *(FaultKind.EXCHANGED, FaultKind.COMMON_EXCHANGED, FaultKind.WRONG_READING),
    *(FaultKind.HOTS_TOUCH, FaultKind.WRONG_RETURN, FaultKind.MOVED_ON),
)
# Of all of a cable: part of it is enough.
_OF_A_CABLE = ("wrong gauge",)


_SWAPPED = ("exchanged", "three moved on", "four moved on")

MOST_NAMED = 6  # of more their number alone is said
CLEAR = 3  # times what a meter and a coil may be off; assumed


class Shown(StrEnum):
    """What of a fault a walk at the controller can show.

    Attributes:
        FAINT: within what coils and meters differ by, so it may be called healthy.
        HIDDEN: within what the meter itself differs by: nobody can tell, and that is to be said.
    """

    CLEAR = "clear"
    FAINT = "faint"
    HIDDEN = "hidden"


def shown(plan: Plan, sound: Mapping[str, float], bad: Mapping[str, float]) -> Shown:
    """By the true ohms of both, at the controller, without a meter's error."""
    worst = Shown.HIDDEN
    for valve, ohms in sound.items():
        if ohms == bad[valve]:
            continue
        change = abs(ohms - bad[valve])
        meter = max(METER_OHMS, METER_SHARE * ohms)
        scatter = SCATTER * plan.coils[plan.valves[valve].coil]
        if change > CLEAR * (meter + scatter):
            return Shown.CLEAR
        if change > meter:
            worst = Shown.FAINT
    return worst


@dataclass(frozen=True, slots=True)
class Ways:
    """What a plan says of places: where conductors pass and where they are spliced."""

    plan: Plan
    circuit: Circuit

    def places_of(self, conductor: str) -> list[str]:
        cable = self.plan.cables.get(conductor.split(maxsplit=1)[0]) if conductor else None
        return cable.places if cable else []

    def is_spliced(self, conductor: str, place: str) -> bool:
        return any(("splice", conductor, place, side) in self.circuit for side in ("in", "out"))

    def span(self, site: SuspectSite, name: str) -> tuple[list[str], int, int]:
        """The places of its conductor or cable, from which to which it may be."""
        places = self.places_of(site.conductor or name)
        if site.start not in places or site.end not in places:
            return [site.start], 0, 0
        first, last = sorted((places.index(site.start), places.index(site.end)))
        return places, first, last

    def station_set(self, valves: tuple[str, ...]) -> set[str]:
        return {self.plan.valves[valve].station for valve in valves if valve in self.plan.valves}


def ways_of(plan: Plan) -> Ways:
    return Ways(plan, circuit_of(plan))


def may_be_said(plan: Plan, kind: str) -> tuple[FaultKind, ...]:
    """In a ring, or beside the other coil of a twin, a second way carries what a bad spot does not.

    So its ohms hardly tell whether it is open or nearly so.
    """
    kinds = EQUIVALENT.get(kind, ())
    if kind in ("common open", "common resistive") and plan.features & {"ring", "twin"}:
        return (*kinds, FaultKind.OPEN, FaultKind.RESISTIVE)
    if kind == "lead resistive" and "twin" in plan.features:
        return (*kinds, FaultKind.OPEN, FaultKind.COIL_OPEN)
    return kinds


def is_kept(ways: Ways, diagnosis: Diagnosis, injected: Injected) -> bool:
    """The true place is among those kept."""
    return any(names(ways, suspect, injected) for suspect in diagnosis.suspects)


def names(ways: Ways, suspect: Suspect, injected: Injected) -> bool:
    return any(_is_it(ways, fault, injected) for fault in suspect.faults)


def _is_it(ways: Ways, fault: SuspectedFault, injected: Injected) -> bool:
    if fault.kind not in may_be_said(ways.plan, injected.kind):
        return False
    if injected.kind == "three moved on" and fault.kind is FaultKind.EXCHANGED:
        return _are_all_named(ways, fault, injected)
    if fault.kind in _BY_VALVES:
        if ways.station_set(fault.valves) != ways.station_set(injected.valves):
            return False
        if fault.kind is not FaultKind.HOTS_TOUCH:
            return True  # a touch has a place as well
    return any(_covers(ways, fault, site, injected) for site in fault.sites)


def _are_all_named(ways: Ways, fault: SuspectedFault, injected: Injected) -> bool:
    """Two as exchanged, and the third among those that may be one of them by ohms."""
    two, all_of = ways.station_set(fault.valves), ways.station_set(injected.valves)
    alike = fault.alike if len(fault.alike) <= MOST_NAMED else ()
    return two < all_of <= two | ways.station_set(alike)


def _covers(ways: Ways, fault: SuspectedFault, site: SuspectSite, injected: Injected) -> bool:
    if site.conductor and site.conductor not in (*injected.conductors, injected.name):
        return False
    is_whose = ways.station_set(fault.valves) & ways.station_set(injected.valves)
    if not site.conductor and injected.valves and not is_whose:
        return False
    places, first, last = ways.span(site, fault.name)
    if injected.start not in places or injected.end not in places:
        return False
    start, end = sorted((places.index(injected.start), places.index(injected.end)))
    if injected.kind in _OF_A_CABLE:
        return first <= end and start <= last
    return first <= start and end <= last


def is_left_open(
    ways: Ways, diagnosis: Diagnosis, injected: Injected, walks: Sequence[Mapping[str, float]]
) -> bool:
    """A healthy walk says that it does not show this: whose hots, which commons, how many ohms.

    Args:
        walks: true ohms by valve, without the fault and with it.
    """
    said = {each.kind: each for each in diagnosis.hidden}
    if injected.kind in _SWAPPED:
        swapped = said.get(HiddenKind.SWAPPED)
        stations = ways.station_set(swapped.valves) if swapped else set()
        return ways.station_set(injected.valves) <= stations
    if injected.kind in ("commons joined", "other common"):
        return HiddenKind.COMMONS in said
    small = said.get(HiddenKind.SMALL)
    most = max(abs(walks[1][valve] - ohms) for valve, ohms in walks[0].items())
    return small is not None and small.ohms is not None and most <= small.ohms


def kept_places(ways: Ways, diagnosis: Diagnosis) -> int:
    """How many places are left, each once."""
    return len({place for suspect in diagnosis.suspects for place in places_of(ways, suspect)})


def places_of(ways: Ways, suspect: Suspect) -> Iterator[tuple[str, ...]]:
    for fault in suspect.faults:
        for site in fault.sites:
            yield from _places(ways, fault, site)


def _places(ways: Ways, fault: SuspectedFault, site: SuspectSite) -> Iterator[tuple[str, ...]]:
    places, first, last = ways.span(site, fault.name)
    if first == last:
        by_valves = fault.kind in _BY_VALVES
        yield ("at", site.start, *(sorted(fault.valves) if by_valves else ()))
        return
    run = places[first]
    for place in places[first + 1 : last + 1]:
        if ways.is_spliced(site.conductor, place) or place == places[last]:
            yield "run", site.conductor or fault.name, run, place
            run = place
