"""Joints that a job writes out: the ends they name, and what in them names none."""

from __future__ import annotations

import pytest

from tests.for_each import for_each
from tests.wiring.trench import job, joints, said

BODY = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 10 ft, VB-1, 10 ft, VB-2]}
boxes: {VB-1: {}, VB-2: {}}
stations:
  A1: {area: a, box: VB-1, hot: K1 red}
  A2: {area: b, hot: K1 blue, valves: {A2a: {box: VB-2}, A2b: {box: VB-2}}}
"""


def written(at: str, text: str) -> str:
    return job(BODY + f"joints: {{{at}: {text}}}")


def test_a_bare_name_is_every_end_in_the_place() -> None:
    assert joints(written("VB-1", "[[K1 white, A1], [K1 red in, A1]]"), "VB-1") == [
        {"K1 white in", "K1 white out", "A1 lead 1"},
        {"K1 red in", "A1 lead 2"},
    ]


def test_terminals_by_their_names() -> None:
    assert joints(written("A", "[[C, K1 white], ['1', K1 red]]"), "A") == [
        {"A C", "K1 white out"},
        {"A 1", "K1 red out"},
    ]


def test_a_terminal_may_stand_in_two_joints() -> None:
    assert said(written("A", "[[C, K1 white], ['1', K1 red], ['1', K1 blue]]")) == []


@pytest.mark.parametrize(
    ("text", "finding"),
    [
        ("[[K1 red in, A9]]", "joint: 'A9' is neither a conductor nor a valve"),
        ("[[K9 red in, A1]]", "joint: 'K9 red in' is neither a conductor nor a valve"),
        ("[[K1 tan, A1]]", "no-such-conductor: K1 has no tan conductor"),
        ("[[K1 blue, A2a]]", "joint: the valve of A2a is in 'VB-2', not in 'VB-1'"),
        ("[[K1 blue, A2]]", "joint: 'A2' has several valves"),
        ("[[K1 red, A1 hot]]", "joint: 'A1 hot' is not a lead"),
        (
            "[[K1 red in, A1], [K1 white in, A1], [K1 blue in, A1]]",
            "joint: A1 is in more than two joints: a coil has two leads",
        ),
        (
            "[[K1 red in, A1], [K1 red, A1]]",
            "end-in-two-joints: 'K1 red' is in two joints of 'VB-1'",
        ),
    ],
)
def test_what_names_no_end(text: str, finding: str) -> None:
    assert said(written("VB-1", text)) == [finding]


def test_a_conductor_that_does_not_come() -> None:
    body = BODY + "joints: {VB-3: [[K1 white, K1 red]]}"
    assert said(job(body.replace("VB-2: {}}", "VB-2: {}, VB-3: {}}", 1))) == [
        "joint: K1 white does not reach 'VB-3'",
        "joint: K1 red does not reach 'VB-3'",
    ]


def test_a_side_that_is_not_there() -> None:
    assert said(written("VB-2", "[[K1 white out, A2a]]")) == [
        "joint: K1 white ends in 'VB-2': it has no 'out' here"
    ]


def test_a_valve_about_which_something_is_said_already() -> None:
    text = written("VB-1", "[[K1 white, A1], [K1 red in, A1]]")
    assert said(text.replace("hot: K1 red}", "hot: K1 tan}")) == [
        "no-such-conductor: K1 has no tan conductor"
    ]


def test_latching_leads_by_their_colors() -> None:
    text = written("VB-1", "[[K1 red in, A1 red], [K1 white, A1 black]]")
    text = text.replace("24 V AC, stations", "9 V DC latching, stations")
    text = text.replace("coil: usual,", "coil: usual, polarity: {hot: red, common: black},")
    assert joints(text, "VB-1") == [
        {"K1 red in", "A1 red"},
        {"K1 white in", "K1 white out", "A1 black"},
    ]
    assert said(text.replace("A1 red]", "A1]")) == ["joint: 'A1' does not say which lead"]


SINGLES = """
cables:
  K1:
    singles:
      - {color: red, gauge: 14 AWG, flags: [A1, A2, SP]}
      - {color: white, gauge: 14 AWG}
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
boxes: {VB-1: {}, VB-2: {}}
stations:
  A1: {area: a, box: VB-1, hot: K1 red A1}
  A2: {area: b, box: VB-2, hot: K1 red A2}
"""


def test_a_flagged_single_that_a_joint_names_beyond_its_valve() -> None:
    """Nobody pulls a dead single onward, but for this one a joint shows that somebody did."""
    text = (
        SINGLES
        + """
joints:
  VB-2: [[K1 white, A2], [K1 red A2, A2], [K1 red A1, K1 red SP]]
"""
    )
    assert {"K1 red A1 in", "K1 red SP in"} in joints(job(text), "VB-2")


def test_a_flagged_single_of_which_a_joint_holds_the_side_onward() -> None:
    """That it is capped where its valve is shows that it goes on."""
    text = (
        SINGLES
        + """
joints:
  VB-1: [[K1 white, A1], [K1 red A1 in, A1], [K1 red A1 out]]
"""
    )
    assert {"K1 red A1 out"} in joints(job(text), "VB-1")


def test_a_common_from_the_place_where_its_conductor_ends() -> None:
    assert said(job(BODY, common="K1 white from VB-2")) == [
        "run-misses-box: K1 white is given from 'VB-2' to 'VB-2', which is not a stretch of it"
    ]


@for_each(
    ("at", "words", "sentence"),
    [
        ("VB-1", "C 2", "'C 2' is neither a conductor nor a valve"),
        ("A", "C x", "'C x' is neither a conductor nor a valve"),
        ("A", "A 2", "'A 2' is neither a conductor nor a valve"),
        ("A", "K1 2", "'K1 2' names no conductor"),
        ("VB-1", "K1 2", "'K1 2' names no conductor"),
        ("A", "C 2", "the strip of A has 1 C, so there is no 'C 2'"),
    ],
)
def test_only_c_and_a_number_at_a_controller_is_one_of_several_c(
    at: str, words: str, sentence: str
) -> None:
    (told,) = said(written(at, f"[[{words}, K1 white]]"))
    assert told.partition(": ")[2] == sentence
