"""One fault alone, else two: what explains the values, counted by hand."""

from __future__ import annotations

import math

from cardgen.diagnosis import FaultKind, SuspectedFault, diagnose
from tests.diagnosis.small_yard import as_built_of, walk

OL = math.inf


def test_an_open_hot_and_a_wet_splice_elsewhere_are_two_faults() -> None:
    """A3 reads OL and A6 1200 ohm: neither is left for a third."""
    found = diagnose(as_built_of(), walk({3: OL, 6: 1200.0}))
    assert not found.is_several
    first = found.suspects[0]
    others = [fault for n in first.beside for fault in found.suspects[n].faults]
    both: list[SuspectedFault] = [*first.faults, *others]
    assert {FaultKind.OPEN, FaultKind.RESISTIVE} <= {fault.kind for fault in both}
    (wet,) = [f for f in both if f.kind is FaultKind.RESISTIVE]
    assert wet.valves == ("A6",) and wet.ohms is not None
    assert abs(wet.ohms - (1200 - 37.7)) < 15  # 37.7 is sound; the meter is off by 1 %


def test_three_that_nothing_joins_are_several() -> None:
    found = diagnose(as_built_of(), walk({1: OL, 4: 94.5, 7: 12.0}))
    assert found.is_several and found.suspects


def test_what_two_say_stands_once_whichever_was_found_first() -> None:
    found = diagnose(as_built_of(), walk({4: 94.5, 6: OL}))
    said = [frozenset((f.kind, f.valves) for f in s.faults) for s in found.suspects]
    assert len(said) == len(set(said))
    assert all(len(s.faults) == 2 or s.beside for s in found.suspects)


def test_a_common_that_adds_ohms_and_a_hot_behind_it_that_is_open() -> None:
    """5, 7 and 8 have 60 ohm more than sound, 6 is OL: the common between B2 and B3, and hot 6."""
    found = diagnose(as_built_of(), walk({5: 97.7, 6: OL, 7: 101.5, 8: 101.5}))
    first = {fault.kind: fault for fault in found.suspects[0].faults}
    common = first[FaultKind.RESISTIVE].sites[0]
    assert (common.conductor, common.start, common.end) == ("A-K1 white", "B2", "B3")
    assert first[FaultKind.OPEN].valves == ("A6",)
