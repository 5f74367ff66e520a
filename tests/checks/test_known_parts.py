"""A hot with a gap, where joints are written: they must hold what is said to be known.

The job of tests/wiring/test_maybe_hots.py.
"""

from __future__ import annotations

import pytest

from cardgen.allot import allot
from cardgen.asbuilt import as_built
from cardgen.asbuilt.model.as_built import OpenQuestion
from tests.jobs import edit, examined, well_said
from tests.wiring.test_known_parts import with_hot
from tests.wiring.test_maybe_hots import JOB

AT_A = "joints: {A: [[C, K1 white], ['1', K1 red], ['3', K1 green]]}\n"
AT_VALVE = "joints: {VB-2: [[K2 white]], VB-3: [[K2 white, A3], [A3, K2 red], [K2 blue]]}\n"


def others(text: str) -> list[tuple[str, str]]:
    """What is told beside what is not known."""
    return [(p.code, p.sentence) for p in examined(text).problems if p.code != "not-known"]


@pytest.mark.parametrize(
    ("hot", "joints"),
    [("[K1 green, not known]", AT_A), ("[not known, K2 red]", AT_VALVE)],
)
def test_joints_that_hold_it_say_nothing_more(hot: str, joints: str) -> None:
    assert others(with_hot(hot) + joints) == []


def test_another_wire_on_the_terminal_is_told() -> None:
    (told,) = others(with_hot("[K1 blue, not known]") + AT_A)
    assert told == ("hot-not-landed", "the joints of 'A' land no hot for A3")


def test_another_wire_on_the_coil_is_told() -> None:
    (told,) = others(with_hot("[not known, K2 blue]") + AT_VALVE)
    assert told == ("hot-stops", "A3's hot K2 blue reaches 'VB-3' and is not joined with A3")


def test_wires_that_a_joint_on_the_way_does_not_hold_are_told() -> None:
    joints = "joints: {SB-1: [[K1 white, K2 white], [K1 blue, K2 red]]}\n"
    (told,) = others(with_hot("[K1 green, K2 red, not known]") + joints)
    assert told == ("hot-stops", "nothing brings A3's hot to 'SB-1', where K2 red takes over")


def asked_of(hot: str) -> list[tuple[str, str, list[str]]]:
    facts = examined(with_hot(hot)).facts
    assert facts is not None
    questions = [each for each in as_built(facts).questions if each.thing == "A3"]
    return [(each.at, each.side, _wires(each)) for each in questions]


def _wires(question: OpenQuestion) -> list[str]:
    return [f"{mark.cable} {mark.word}" for mark in question.candidates]


def test_the_question_is_asked_where_it_can_be_answered() -> None:
    """Where the known wire ends, at the valve, or at the terminal; the check tells one note."""
    far, near = ["K2 red", "K2 blue"], ["K1 blue", "K1 green", "K1 brown"]
    assert asked_of("[K1 green to SB-1, not known]") == [
        ("SB-1", "onward", far),
        ("VB-3", "", far),
    ]
    assert asked_of("[not known, K2 red]") == [("A", "terminal", near)]
    both = asked_of("[K1 green, not known, K2 red]")
    assert both == [("VB-1", "onward", near)]
    (note,) = map(well_said, examined(with_hot("[K1 green, not known]")).problems)
    assert note.sentence == "not known: the hot of A2 and the hot of A3"


def test_in_the_box_of_the_valve_it_is_asked_once() -> None:
    """K1 green comes to VB-1, where A2 is: that it is the one on its coil is not concluded."""
    text = edit(JOB, "box: VB-1, hot: not known", "box: VB-1, hot: [K1 green, not known]")
    facts = examined(text).facts
    assert facts is not None
    (question,) = [each for each in as_built(facts).questions if each.thing == "A2"]
    assert (question.at, question.side) == ("VB-1", "")
    assert _wires(question) == ["K1 blue", "K1 green", "K1 brown"]
    assert as_built(facts).valve["A2"].hot is None


def test_what_is_named_is_neither_spare_nor_free() -> None:
    facts = examined(with_hot("[K1 green, not known]")).facts
    assert facts is not None
    known = as_built(facts)
    assert "K1 green" not in {spare.conductor for spare in known.spares}
    valve = known.valve["A3"]
    assert valve.hot_at_controller is not None and valve.hot_at_controller.word == "green"
    assert (valve.hot, valve.ohms, valve.volts, valve.milliamperes) == (None, None, (), None)
    assert known.box["VB-1"].splices_unknown and known.box["SB-1"].splices_unknown
    assert not known.box["VB-4"].splices_unknown
    text = edit(with_hot("[K1 green, not known]"), "spares:", "  A4: {area: x, box: SB-1}\nspares:")
    assert "K1 green" not in str(allot(text).text)
