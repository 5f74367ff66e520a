"""What was seen to run when a station was on: evidence that no meter gives."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import NamedTuple

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault
from cardgen.diagnosis.yard import Yard
from cardgen.results import Kind, Measured

# Logs of how often it is seen; common practice, no source.
_SEEN_WRONG = -16.0  # another thing than what is there
_AT_TIMES = math.log(0.3)  # what may run or not: with a poor splice, at half the volts
ON_TERMINALS = (FaultKind.EXCHANGED, FaultKind.MOVED_ON)


class WalkTest(NamedTuple):
    """Attributes:
    reading: its id.
    valve: whose station was on.
    ran: the valve that ran; empty where none did.
    """

    reading: str
    valve: str
    ran: str


def walks_of(yard: Yard, readings: Iterable[Measured]) -> tuple[WalkTest, ...]:
    """The newest of each valve, that the job knows; of a twin either valve is the station's."""
    newest = {
        each.valve: WalkTest(each.id, each.valve, _ran(yard, each))
        for each in readings
        if each.kind is Kind.WALK_TEST and each.valve in yard.coil
    }
    return tuple(newest.values())


def _ran(yard: Yard, measured: Measured) -> str:
    if not measured.value:
        return ""
    valve = yard.asbuilt.valve
    to = measured.to or measured.valve
    is_twin = to in valve and valve[to].station == valve[measured.valve].station
    return measured.valve if is_twin else to


def log_of_walks(
    walks: Iterable[WalkTest], faults: Sequence[SuspectedFault], at_rest: Collection[str]
) -> float:
    """How likely what ran is, where these are wrong and those valves hardly run."""
    return sum(_log(walk, faults, at_rest) for walk in walks)


def walks_against(
    walks: Iterable[WalkTest], faults: Sequence[SuspectedFault], at_rest: Collection[str]
) -> frozenset[str]:
    """The valves whose walk these faults do not explain."""
    return frozenset(w.valve for w in walks if _log(w, faults, at_rest) == _SEEN_WRONG)


def _log(walk: WalkTest, faults: Sequence[SuspectedFault], at_rest: Collection[str]) -> float:
    return _may_run(walk.valve, faults, at_rest).get(walk.ran, _SEEN_WRONG)


def _may_run(
    valve: str, faults: Sequence[SuspectedFault], at_rest: Collection[str]
) -> Mapping[str, float]:
    """What may be seen with the log of how often: valves, and no valve as an empty name."""
    for fault in faults:
        if fault.kind in ON_TERMINALS:
            before = dict(zip((*fault.valves[1:], fault.valves[0]), fault.valves, strict=True))
            valve = before.get(valve, valve)
    found = {"": 0.0, valve: _AT_TIMES} if valve in at_rest else {valve: 0.0}
    for fault in faults:
        is_named = valve in fault.valves
        match fault.kind:
            case FaultKind.HOTS_TOUCH if is_named:  # all of them get volts, through some ohms
                found |= {name: _AT_TIMES for name in fault.valves if name not in found}
            case FaultKind.COIL_LOW if is_named:
                found[""] = found.get("", _AT_TIMES)
            case FaultKind.WRONG_RETURN if valve == fault.valves[0]:
                found = {"": 0.0, **dict.fromkeys(fault.valves, _AT_TIMES)}
            case FaultKind.COMMON_EXCHANGED if not is_named:
                found = {"": 0.0, **dict.fromkeys((valve, *fault.valves), _AT_TIMES)}
            case FaultKind.OTHER_COMMON | FaultKind.VALVE_SHUT if is_named:
                found = {"": 0.0}
    return found


def as_seen(walks: Iterable[WalkTest]) -> tuple[tuple[str, ...], ...]:
    """Valves whose hots are on each other's terminals: each before the one that opens it.

    A1 on: A2 ran, A2 on: A1 ran, is (A2, A1).  Where one of a round was not tried, it closes it.
    """
    before = {walk.valve: walk.ran for walk in walks if walk.ran not in ("", walk.valve)}
    good = {walk.valve for walk in walks if walk.ran == walk.valve}
    found: list[tuple[str, ...]] = []
    starts = [valve for valve in before if valve not in before.values()]
    for start in (*starts, *before):
        if any(start in each for each in found):
            continue
        way = [start]
        while (ran := before.get(way[-1], "")) and ran not in way:
            way.append(ran)
        if len(way) > 1 and good.isdisjoint(way):
            found.append(tuple(reversed(way)))
    return tuple(found)
