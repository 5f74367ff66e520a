"""Two faults side by side are told by each of them, not by every two; by hand."""

from __future__ import annotations

from itertools import pairwise

from cardgen.diagnosis import Diagnosis, FaultKind, Suspect, diagnose
from tests.diagnosis.small_yard import OL, as_built_of, walk


def of_two_low_coils() -> Diagnosis:
    """A1 and A8, in the first box and in the last: fewer ohms than their coils have."""
    return diagnose(as_built_of(), walk({1: 12.0, 8: 27.0}))


def whose(suspect: Suspect) -> str:
    return suspect.faults[0].valves[0]


def test_each_fault_is_one_suspect_and_names_those_that_go_with_it() -> None:
    suspects = of_two_low_coils().suspects
    both = [n for n, each in enumerate(suspects) if each.beside]
    assert {whose(suspects[n]) for n in both} == {"A1", "A8"}
    for number in both:
        own = suspects[number]
        assert len(own.faults) == 1
        for other in own.beside:
            assert number in suspects[other].beside
            assert whose(suspects[other]) != whose(own)


def test_they_are_fewer_than_all_two_and_two() -> None:
    suspects = of_two_low_coils().suspects
    sides = [[s for s in suspects if s.beside and whose(s) == name] for name in ("A1", "A8")]
    assert min(map(len, sides)) >= 2
    assert len(suspects) < len(sides[0]) * len(sides[1]) + 1


def test_shares_of_a_side_are_those_of_all_pairs() -> None:
    suspects = of_two_low_coils().suspects
    alone = sum(s.share for s in suspects if not s.beside)
    for name in ("A1", "A8"):
        own = [s.share for s in suspects if s.beside and whose(s) == name]
        assert abs(alone + sum(own) - 1) < 1e-9
        assert all(one >= other for one, other in pairwise(own))


def test_what_a_step_leaves_is_told_by_these_numbers() -> None:
    found = of_two_low_coils()
    numbers = range(len(found.suspects))
    for step in found.steps:
        for outcome in step.outcomes:
            assert set(outcome.suspects) <= set(numbers)
            for number in outcome.suspects:
                beside = found.suspects[number].beside
                assert not beside or set(beside) & set(outcome.suspects)


def test_few_pairs_stay_pairs() -> None:
    """The common beyond B2 open, and a bad splice nearer by: one way to say it."""
    found = diagnose(as_built_of(), walk({5: OL, 6: OL, 7: OL, 8: OL, 1: 95.0}))
    assert found.suspects[0].beside == ()
    kinds = {fault.kind for fault in found.suspects[0].faults}
    assert kinds == {FaultKind.OPEN, FaultKind.RESISTIVE}
