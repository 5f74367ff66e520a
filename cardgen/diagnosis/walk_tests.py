"""What was seen to run when a station was on: evidence that no meter gives."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import NamedTuple

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault
from cardgen.diagnosis.yard import Yard
from cardgen.results import Kind, Measured

# Log of how often a walk shows another thing than what is there; common practice, no source.
_SEEN_WRONG = -16.0
_BARELY_RUNS = -1.5  # with a poor splice it may run or not


class WalkTest(NamedTuple):
    """Attributes:
    valve: whose station was on.
    ran: the valve that ran; empty where none did.
    """

    valve: str
    ran: str


def walks_of(yard: Yard, readings: Iterable[Measured]) -> tuple[WalkTest, ...]:
    """The newest of each valve, that the job knows."""
    newest = {
        each.valve: WalkTest(each.valve, (each.to or each.valve) if each.value else "")
        for each in readings
        if each.kind is Kind.WALK_TEST and each.valve in yard.coil
    }
    return tuple(newest.values())


def log_of_walks(
    walks: Iterable[WalkTest], faults: Sequence[SuspectedFault], at_rest: Collection[str]
) -> float:
    """How likely what ran is, where these are wrong and those valves hardly run."""
    exchanged: dict[str, str] = {}
    for fault in faults:
        if fault.kind in (FaultKind.EXCHANGED, FaultKind.MOVED_ON):
            exchanged |= dict(zip((*fault.valves[1:], fault.valves[0]), fault.valves, strict=True))
    log = 0.0
    for walk in walks:
        expected = exchanged.get(walk.valve, walk.valve)
        if walk.ran and walk.ran != expected:
            log += _SEEN_WRONG
        elif walk.ran and expected in at_rest:
            log += _BARELY_RUNS
        elif not walk.ran and expected not in at_rest:
            log += _SEEN_WRONG
    return log
