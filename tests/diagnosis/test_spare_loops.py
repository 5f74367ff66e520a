"""What loops and volts of spares show: 18 AWG has 6.385 ohms for each 1,000 ft (wire table).

The gray spare lies beside the common all the way, 900 ft: tied to it in B4 that is 11.49 ohms,
tied in B2, 350 ft out, 4.47.  What it means is common practice, no source.
"""

from __future__ import annotations

import pytest

from cardgen.advice import advice
from cardgen.diagnosis import Diagnosis, FaultKind, SuspectedFault, diagnose, diagnose_each
from cardgen.results import OL, Kind
from cardgen.words import load_words
from tests.diagnosis.small_yard import TREE, as_built_of, measured, walk
from tests.jobs import edit

JOB = TREE.replace("black, purple]", "black, purple, gray]")
SPARE = "A-K1 gray"
WHOLE = 11.49
LAST_LEG = "300 ft, B4"
B4_M = 900 * 0.3048


def diagnosed(
    value: float, *, to: str = "A-K1 white", box: str = "B4", walked: bool = True
) -> Diagnosis:
    loop = measured("", Kind.SPARE_LOOP, value, start=SPARE, to=to, box=box)
    return diagnose(as_built_of(JOB), [*(walk({}) if walked else []), loop])


def shown(found: Diagnosis) -> SuspectedFault:
    (fault,) = found.apart
    return fault


@pytest.mark.parametrize("to", ["A-K1 white", "COM-A"])
def test_a_spare_that_is_whole_shows_nothing(to: str) -> None:
    """By the conductor's own name, or by what its flag says."""
    for value, box in ((WHOLE, "B4"), (WHOLE + 0.8, "B4"), (4.47, "B2")):
        found = diagnosed(value, to=to, box=box)
        assert found.is_healthy and not found.apart, (value, box)


def test_a_spare_that_is_open_where_the_walk_clears_the_other_wire() -> None:
    fault = shown(diagnosed(OL))
    assert fault.kind is FaultKind.OPEN
    assert [(s.conductor, s.start, s.end) for s in fault.sites] == [(SPARE, "A", "B4")]


def test_alone_it_may_be_either_wire() -> None:
    found = diagnosed(OL, walked=False)
    assert [site.conductor for site in shown(found).sites] == [SPARE, "A-K1 white"]


def test_ohms_more_are_those_of_a_bad_splice() -> None:
    fault = shown(diagnosed(WHOLE + 30))
    assert fault.kind is FaultKind.RESISTIVE
    assert fault.ohms == pytest.approx(30, abs=0.1)


def test_fewer_ohms_are_a_touch_nearer_by() -> None:
    """Half the ohms, 450 ft of 900; what a meter and the wire may be off is 15 % of it more."""
    fault = shown(diagnosed(WHOLE / 2))
    (site,) = fault.sites
    assert fault.kind is FaultKind.SPARE_TOUCHES and site.most_m is not None
    assert B4_M / 2 < site.most_m < 0.65 * B4_M


def test_the_loop_of_a_hot_and_a_spare() -> None:
    """Station A7 has its valve in B4: tied there its hot is the other wire."""
    assert diagnosed(WHOLE, to="A7").apart == ()
    assert shown(diagnosed(OL, to="A7")).kind is FaultKind.OPEN


def test_what_the_job_does_not_know_shows_nothing() -> None:
    for to, box in (("COM-Z", "B4"), ("A-K1 white", "B9"), ("A1", "B4")):
        assert diagnosed(OL, to=to, box=box).apart == ()


def test_a_loop_of_unknown_length_is_compared_with_nothing_but_may_be_open() -> None:
    """Ohms of the other legs alone are no loop: 9 ohm must not be a bad splice for that."""
    job = edit(JOB, LAST_LEG, "not known, B4")
    for value in (0.4, 9.0):
        loop = measured("", Kind.SPARE_LOOP, value, start=SPARE, to="A-K1 white", box="B4")
        found = diagnose(as_built_of(job), [loop])
        assert (found.apart, found.counted) == ((), ())
        words, problems = load_words(["en"])
        assert words is not None, problems
        verdict = advice(words, as_built_of(job), found, [loop]).verdict
        assert verdict[-1].printed.startswith(f"Not judged: {SPARE}.")
    loop = measured("", Kind.SPARE_LOOP, OL, start=SPARE, to="A-K1 white", box="B4")
    found = diagnose(as_built_of(job), [loop])
    assert found.counted == (loop.id,)
    assert [(s.start, s.end) for s in shown(found).sites] == [("A", "B4")] * 2
    words, _ = load_words(["en"])
    assert words is not None
    verdict = advice(words, as_built_of(job), found, [loop]).verdict
    assert [said.printed.count("One value shows") for said in verdict][:1] == [1]
    assert "; or common A (A-K1 white), between" in verdict[0].printed


def test_volts_with_no_load_are_induced_and_volts_with_one_are_not() -> None:
    induced = measured("", Kind.OPEN_VOLTS, 18.0, start=SPARE)
    none, some = (measured("", Kind.VOLTS, volts, start=SPARE) for volts in (0.2, 23.0))
    sound = diagnose(as_built_of(JOB), [*walk({}), induced, none])
    assert sound.is_healthy and not sound.apart
    fault = shown(diagnose(as_built_of(JOB), [*walk({}), induced, some]))
    assert (fault.kind, fault.sites[0].conductor) == (FaultKind.SPARE_LIVE, SPARE)


def test_spares_alone_are_told_too() -> None:
    loop = measured("", Kind.SPARE_LOOP, OL, start=SPARE, to="COM-A", box="B4")
    (found,) = diagnose_each(as_built_of(JOB), [loop])
    assert shown(found).kind is FaultKind.OPEN
