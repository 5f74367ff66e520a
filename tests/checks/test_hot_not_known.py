"""A hot that is not known is a state: one question, no circuit, nothing said that depends on it.

Counted by hand in the job of tests/wiring/test_maybe_hots.py.
"""

from __future__ import annotations

import pytest

from cardgen.allot import allot
from cardgen.asbuilt import Role, as_built
from cardgen.diagnosis import diagnose
from cardgen.examine import examine_text
from cardgen.results import Kind
from tests.diagnosis.small_yard import OL, as_built_of, measured
from tests.jobs import edit, examined, problems_of, well_said
from tests.wiring.test_maybe_hots import FAR, JOB, MASTER_VALVE, NEAR


def codes(text: str) -> list[str]:
    return [problem.code for problem in examine_text(text).problems]


def test_it_is_one_note_and_nothing_else_is_found() -> None:
    found = examined(JOB)
    (note,) = map(well_said, found.problems)
    assert note.code == "not-known"
    assert note.sentence == "not known: the hot of A2 and the hot of A3"
    assert note.span.line == JOB[: JOB.index("A2:")].count("\n") + 1
    assert "hot-missing" in codes(edit(JOB, ", hot: not known", ""))


def test_each_question_names_what_comes_to_the_box_and_may_be_it() -> None:
    facts = examined(JOB).facts
    assert facts is not None
    near, far = as_built(facts).questions
    assert (near.thing, near.at, near.needed_by) == ("A2", "VB-1", ("A2",))
    assert (far.thing, far.at, far.needed_by) == ("A3", "VB-3", ("A3",))
    named = [[f"{mark.cable} {mark.word}" for mark in q.candidates] for q in (near, far)]
    assert named == [list(NEAR), list(FAR)]


def test_the_circuits_of_the_others_are_as_before_and_the_common_is_known() -> None:
    """18 AWG has 6.385 ohm/1000 ft at 20 C (NBS Handbook 100, table 5): A1 30 + 2 x 85 ft."""
    facts = examined(JOB).facts
    assert facts is not None
    assert facts.circuits.keys() == {"A1"}
    assert facts.readings["A1"].ohms == pytest.approx(30 + 2 * 85 * 6.385 / 1000, abs=0.005)
    valves = as_built(facts).valve
    for name, cable in (("A2", "K1"), ("A3", "K2")):
        valve = valves[name]
        assert (valve.hot, valve.ohms, valve.volts, valve.milliamperes) == (None, None, (), None)
        assert valve.back is not None and (valve.back.cable, valve.back.word) == (cable, "white")
        assert valve.coil is not None and valve.hot_unknown


def test_nothing_that_may_be_it_is_a_spare_or_dead() -> None:
    """Free are K1 black, listed, K3 pink, and K1 red beyond VB-1."""
    facts = examined(JOB).facts
    assert facts is not None
    known = as_built(facts)
    assert [(s.conductor, s.dead) for s in known.spares] == [
        ("K1 black", False),
        ("K3 pink", False),
        ("K1 red", True),
    ]
    for box in known.boxes:
        maybe = {*NEAR, *FAR} & {c.name for c in known.conductors if box.id in c.places}
        assert {each.conductor for each in box.maybe_hots} == maybe
        assert maybe.isdisjoint(each.conductor for each in box.passing)
        assert maybe.isdisjoint(each.conductor for each in box.capped)
    assert all(use.role is Role.MAYBE_HOT for c in known.box["VB-1"].maybe_hots for use in c.uses)


def test_checks_say_nothing_of_spares_that_may_be_hots() -> None:
    """K1 has no free conductor left but what may be a hot; three may reach SB-1, or none."""
    text = edit(JOB, "brown, black]", "brown]")
    text = edit(text, "spares: {SP-1: {conductor: K1 black}}\n", "")
    assert codes(edit(text, "SB-1: {kind", "SB-1: {spares: 3, kind")) == ["not-known"]
    assert codes(edit(text, "SB-1: {kind", "SB-1: {spares: 4, kind")) == [
        "spares-too-few",
        "not-known",
    ]


def test_nobody_guesses_on_which_of_several_commons_it_is() -> None:
    """Beside K1 another common comes to VB-1; whose hot is in K1 is on that of K1."""
    second = "  K6: {gauge: 18 AWG, colors: [gray], run: [A, 85 ft, VB-1]}\n"
    text = edit(JOB, "  K2:", second + "  K2:")
    text = edit(text, "common: [K1 white, K2 white]", "common: [K1 white, K2 white, K6 gray]")
    found = examined(text)
    assert not found.has_errors and found.facts is not None
    valves = as_built(found.facts).valve
    assert valves["A1"].back is not None and valves["A1"].back.word == "white"
    assert valves["A2"].back is None
    said = edit(text, "box: VB-1, hot: not known", "box: VB-1, hot: not known, common: K6 gray")
    facts = examined(said).facts
    assert facts is not None
    back = as_built(facts).valve["A2"].back
    assert back is not None and back.word == "gray"


def test_what_runs_with_a_master_valve_of_unknown_hot_has_no_volts() -> None:
    facts = examined(JOB + MASTER_VALVE).facts
    assert facts is not None
    valve = as_built(facts).valve["A1"]
    assert valve.ohms is not None and (valve.volts, valve.milliamperes) == ((), None)


def test_allot_gives_it_nothing_and_takes_nothing_that_may_be_it() -> None:
    """Whatever is free in K1 may be the hot of A2; K7 leads to neither of the two."""
    text = edit(JOB, "spares:", "  A4: {area: roses, box: VB-1}\nspares:")
    assert allot(text).text is None
    text = edit(JOB, "spares:", "  A4: {area: roses, box: VB-6}\nspares:")
    text = edit(text, "boxes:\n", "boxes:\n  VB-6: {}\n")
    alone = "  K7: {gauge: 18 AWG, colors: [white, tan], run: [A, 40 ft, VB-6]}\n  K3:"
    text = edit(edit(text, "  K3:", alone), "K2 white]\n", "K2 white, K7 white]\n")
    found = allot(text)
    assert found.text is not None and found.ways.keys() == {"A4"}
    assert found.text == edit(text, "box: VB-6}", "box: VB-6, hot: K7 tan}")


@pytest.mark.parametrize("words", ["unknown", "TBD", "[K1 green, TBD]"])
def test_other_words_for_it_are_told(words: str) -> None:
    text = edit(JOB, "hot: not known", f"hot: {words}")
    assert problems_of(text) or examined(text).has_errors


def test_a_reading_taken_on_it_counts_for_nothing() -> None:
    """A1 is sound; whatever A2 and A3 read, there is nothing to hold it against."""
    at = Kind.CONTROLLER
    read = [measured("A1", at, 31.0), measured("A2", at, 8.0), measured("A3", at, OL)]
    found = diagnose(as_built_of(JOB), read)
    assert found.is_healthy and [value.valve for value in found.values] == ["A1"]


def test_one_with_a_gap_is_measured_no_more_than_one_of_which_nothing_is_known() -> None:
    read = [measured("A1", Kind.CONTROLLER, 31.0), measured("A3", Kind.CONTROLLER, OL)]
    for hot in ("[K1 green, not known]", "[not known, K2 red]", "[K1 green, not known, K2 red]"):
        found = diagnose(as_built_of(edit(JOB, "Not  Known", hot)), read)
        assert found.is_healthy and [value.valve for value in found.values] == ["A1"]
