"""What ran is evidence: whose area got wet."""

from __future__ import annotations

from cardgen.diagnosis import FaultKind, diagnose
from cardgen.results import Kind, Measured
from tests.diagnosis.small_yard import OL, as_built_of, measured, walk


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


def ran(station: str, valve: str) -> Measured:
    """`valve` is empty where nothing ran."""
    return measured(station, Kind.WALK_TEST, 1.0 if valve else 0.0, to=valve)


def kinds(readings: list[Measured]) -> list[tuple[FaultKind, ...]]:
    return [tuple(f.kind for f in s.faults) for s in diagnose(as_built_of(), readings).suspects]


def test_what_ran_is_enough_where_nothing_was_measured() -> None:
    found = diagnose(as_built_of(), [ran("A1", "A2"), ran("A2", "A1"), ran("A3", "A3")])
    (suspect,) = found.suspects
    (fault,) = suspect.faults
    assert (fault.kind, set(fault.valves)) == (FaultKind.EXCHANGED, {"A1", "A2"})
    assert found.controllers == ("A",)
    assert len(found.counted) == 3


def test_four_in_a_round_are_seen() -> None:
    """A2 on the terminal of A1, A3 on that of A2, A4 on that of A3, A1 on that of A4."""
    turn = [ran("A1", "A2"), ran("A2", "A3"), ran("A3", "A4"), ran("A4", "A1")]
    (suspect,) = diagnose(as_built_of(), turn).suspects
    (fault,) = suspect.faults
    assert fault.kind is FaultKind.MOVED_ON
    at = fault.valves.index("A4")
    assert (*fault.valves[at:], *fault.valves[:at]) == ("A4", "A3", "A2", "A1")


def test_a_second_fault_explains_what_ohms_do_not() -> None:
    """10 ohms more in the hot of A7, and A5 and A6, of equal ohms, exchanged."""
    both = [*walk({7: 51.5}), ran("A5", "A6"), ran("A6", "A5")]
    for found in kinds(both):
        assert len(found) == 2 and FaultKind.EXCHANGED in found
    assert any(FaultKind.RESISTIVE in found for found in kinds(both))


def test_good_ohms_and_nothing_ran_is_the_valve_or_the_controller() -> None:
    found = diagnose(as_built_of(), [*walk({}), ran("A4", "")])
    assert not found.is_healthy
    assert {f.kind for s in found.suspects for f in s.faults} == {
        FaultKind.VALVE_SHUT,
        FaultKind.NO_OUTPUT,
    }
    # Current flows, so the controller gives it: A4 has 0.23 A by the job file.
    flows = [*walk({}), ran("A4", ""), measured("A4", Kind.MILLIAMPERES, 225)]
    assert kinds(flows) == [(FaultKind.VALVE_SHUT,)]


def test_an_open_hot_explains_that_nothing_ran() -> None:
    dead = [*walk({4: OL}), ran("A4", "")]
    found = {f.kind for s in diagnose(as_built_of(), dead).suspects for f in s.faults}
    assert FaultKind.VALVE_SHUT not in found and FaultKind.OPEN in found


def test_two_hots_that_touch_may_open_either_valve() -> None:
    """A7 and A8 touch in their box: 30 ohms beside 30 and twice the wire of 900 ft."""
    touch = [*walk({7: 26.5, 8: 26.5}), ran("A7", "A8"), ran("A8", "A8")]
    assert (FaultKind.HOTS_TOUCH,) in kinds(touch)
