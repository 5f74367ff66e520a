"""What ran is evidence: whose area got wet."""

from __future__ import annotations

from cardgen.diagnosis import FaultKind, diagnose
from cardgen.results import Kind
from tests.diagnosis.small_yard import as_built_of, measured, walk


def test_two_of_the_same_ohms_that_are_exchanged_are_seen_by_walking() -> None:
    """A5 and A6 are in one box: no meter at the controller tells them apart."""
    assert diagnose(as_built_of(), walk({})).is_healthy
    ran = [*walk({}), measured("A5", Kind.WALK_TEST, 1, to="A6")]
    found = diagnose(as_built_of(), ran)
    assert [f.kind for s in found.suspects for f in s.faults] == [FaultKind.EXCHANGED]
    assert set(found.suspects[0].faults[0].valves) == {"A5", "A6"}


def test_what_ran_as_it_should_says_nothing_is_wrong() -> None:
    assert diagnose(as_built_of(), [*walk({}), measured("A5", Kind.WALK_TEST, 1)]).is_healthy


def test_good_ohms_and_no_current_are_the_controller() -> None:
    dead = [*walk({}), measured("A4", Kind.MILLIAMPERES, 0)]
    found = diagnose(as_built_of(), dead)
    assert [f.kind for s in found.suspects for f in s.faults] == [FaultKind.NO_OUTPUT]


def test_three_moved_on_are_seen_by_walking_too() -> None:
    """A1 on terminal 5, A5 on 7, A7 on 1: each terminal reads, and runs, the valve before it."""
    moved = walk({5: 32.6, 7: 37.7, 1: 41.5})
    ran = [measured(f"A{n}", Kind.WALK_TEST, 1, to=f"A{of}") for n, of in ((5, 1), (7, 5), (1, 7))]
    (suspect,) = diagnose(as_built_of(), [*moved, *ran]).suspects
    (fault,) = suspect.faults
    assert fault.kind is FaultKind.MOVED_ON
    at = fault.valves.index("A1")
    assert (*fault.valves[at:], *fault.valves[:at]) == ("A1", "A5", "A7")
