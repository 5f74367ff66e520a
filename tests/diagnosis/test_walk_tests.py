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
