"""Which measurement comes next, by the outcomes it would have: counted by hand."""

from __future__ import annotations

import math

import pytest

from cardgen.diagnosis import StepKind, diagnose
from cardgen.diagnosis.diagnosed import FaultKind
from cardgen.results import Kind
from tests.diagnosis.small_yard import as_built_of, measured, walk

OL = math.inf
DEAD_BLOCK = {5: OL, 6: OL, 7: OL, 8: OL}


def test_between_hots_tells_an_open_common_from_a_cut_cable() -> None:
    """Two coils and wire, 30 + 30 + 7.7 = 67.7 ohm, against OL: nothing cheaper parts them."""
    found = diagnose(as_built_of(), walk(DEAD_BLOCK))
    step = found.steps[0]
    assert step.kind is StepKind.HOT_TO_HOT and step.at == "A"
    whole, cut = step.outcomes
    assert whole.low < 67.7 < whole.high and cut.low == cut.high == OL
    kinds = [suspect.faults[0].kind for suspect in found.suspects]
    assert [kinds[i] for i in whole.suspects] == [FaultKind.OPEN]
    assert [kinds[i] for i in cut.suspects] == [FaultKind.CUT]


def test_followed_it_leaves_one() -> None:
    cut = [*walk(DEAD_BLOCK), measured("A5", Kind.HOT_TO_HOT, OL, to="A6")]
    whole = [*walk(DEAD_BLOCK), measured("A5", Kind.HOT_TO_HOT, 67.7, to="A6")]
    for readings, kind in ((cut, FaultKind.CUT), (whole, FaultKind.OPEN)):
        (suspect,) = diagnose(as_built_of(), readings).suspects
        assert [fault.kind for fault in suspect.faults] == [kind]


def test_what_was_read_twice_is_not_asked_for_again() -> None:
    once = walk({4: 2400.0})
    twice = [*once, measured("A4", Kind.CONTROLLER, 2400.0)]
    assert StepKind.AGAIN in [step.kind for step in diagnose(as_built_of(), once).steps]
    assert StepKind.AGAIN not in [step.kind for step in diagnose(as_built_of(), twice).steps]


def test_half_way_along_one_conductor() -> None:
    """Hot 4 is dead between A and B2: opened at B1, one look tells which half."""
    found = diagnose(as_built_of(), walk({4: 94.5}))
    outward = next(step for step in found.steps if step.kind is StepKind.OUTWARD)
    assert (outward.valves, outward.at) == (("A4",), "B1")


def test_a_sound_yard_asks_for_nothing() -> None:
    assert diagnose(as_built_of(), walk({})).steps == ()


def test_ohms_back_from_the_coil_tell_how_far_a_touch_is() -> None:
    """A7 on its common through 20 ohm, 450 ft out, of 900 ft: between B2 and B3.

    At the controller 450 ft out and back, 5.75, and 20 beside what lies beyond, 5.75 + 30: 12.8;
    18.6.  At the coil's wires, the coil off, the other half of the way: 5.75 + 20 = 25.7.
    """
    walked = walk({7: 18.6})
    step = diagnose(as_built_of(), walked).steps[0]
    assert (step.kind, step.valves, step.at) == (StepKind.COIL_WIRES, ("A7",), "B4")
    back = measured("A7", Kind.COIL_WIRES, 25.7)
    (suspect,) = diagnose(as_built_of(), [*walked, back]).suspects
    (fault,) = suspect.faults
    assert fault.kind is FaultKind.HOT_ON_COMMON
    assert ("B2", "B3") in [(site.start, site.end) for site in fault.sites]
    assert "A" not in [site.start for site in fault.sites]
    assert fault.ohms is not None and abs(fault.ohms - 20) < 3


def test_ol_back_from_the_coil_leaves_the_coil() -> None:
    found = diagnose(as_built_of(), [*walk({7: 18.6}), measured("A7", Kind.COIL_WIRES, OL)])
    assert {s.start for x in found.suspects for f in x.faults for s in f.sites} == {"B4"}


def test_a_second_coil_is_read_at_the_wires_of_the_first() -> None:
    """15 + 11.5 of wire at the controller; with its own coil off the other 30 are still there."""
    found = diagnose(as_built_of(), [*walk({7: 26.5}), measured("A7", Kind.COIL_WIRES, 30.0)])
    assert found.suspects[0].faults[0].kind is FaultKind.SECOND_COIL
    assert found.suspects[0].faults[0].ohms == pytest.approx(30, abs=1)


def test_who_is_exchanged_is_run_and_no_splice_is_opened() -> None:
    """A1 reads what A8 should and the other way; what ran tells more than ohms."""
    found = diagnose(as_built_of(), walk({1: 41.0, 8: 32.9}))
    last = found.steps[-1]
    assert (last.kind, last.at) == (StepKind.RUN, "A")
    assert {"A1", "A8"} <= set(last.valves)
