"""The drawing shows what metal joins, not what a conductor is called: outlines written by hand."""

from __future__ import annotations

from cardgen.drawing import outline
from tests.drawing.drawings import homes_of

HEAD = """
job: {code: X-1, site: S, revision: 1, date: 2026-01-02}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
palettes: {five: [white, red, blue, green, tan]}
coils: {usual: {supply: 24 V AC, resistance: 30 ohm}}
"""
ONE = """
controllers:
  A: {place: wall, supply: 24 V AC, stations: 4, coil: usual, common: COMMON}
cables:
  K1: {gauge: 18 AWG, palette: five, run: [A, 50 ft, VB-1, 50 ft, VB-2]}
boxes: {VB-1: {}, VB-2: {}}
stations:
  A1: {area: one, box: VB-1, hot: K1 red}
  A2: {area: two, box: VB-2, hot: K1 blue}
"""


def lines(text: str, home: int = 0) -> list[str]:
    """Without the heads of controllers and boxes."""
    found = outline(homes_of(HEAD + text)[home]).splitlines()
    return [line.strip() for line in found if " · " in line and "wall" not in line]


def test_what_is_joined_with_a_hot_is_no_spare() -> None:
    joints = "joints: {VB-1: [[K1 red in, K1 green out, A1], [K1 white in, K1 white out, A1]]}"
    assert lines(ONE.replace("COMMON", "K1 white") + joints) == [
        "white WH · terminal C · common A",
        "red RD · terminal 1 · valve A1 · one",
        "white WH · common A · for A1",
        "red RD · joined to green GN · A1 · color changes",
        "green GN · spare · ends here",
        "blue BU · terminal 2 · valve A2 · two",
        "white WH · common A · for A2 · ends here",
        "tan TN · spare · ends here",
        "dead · red RD: cut in VB-1",
    ]


def test_a_common_that_is_cut_and_fed_anew_is_dead_between() -> None:
    text = (
        ONE.replace("COMMON", "[K1 white, K2 white]").replace(
            "boxes:",
            "  K2: {gauge: 18 AWG, palette: five, band: blue tape, run: [A, 90 ft, VB-2]}\nboxes:",
        )
        + "joints:\n"
        "  VB-1: [[K1 red in, A1], [K1 white in, A1]]\n"
        "  VB-2: [[K1 blue, A2], [K2 white, A2]]\n"
    )
    first, second = lines(text), lines(text, 1)
    assert "white WH · common A · for A1 · ends here" in first
    assert "dead · white WH, red RD: cut in VB-1" in first
    assert "white WH · common A · for A2 · ends here" in second
    assert not any("common A" in line and "A2" in line for line in first)


def test_what_ends_at_a_second_controller_is_drawn_there() -> None:
    text = ONE.replace("COMMON", "K1 white").replace("VB-2]}", "VB-2, 50 ft, B]}")
    second = "  B: {place: post, supply: 24 V AC, stations: 4, coil: usual}\n"
    joints = "joints: {VB-2: [[K1 blue in, A2], [K1 white in, A2]]}"
    found = lines(text.replace("cables:", f"{second}cables:") + joints)
    assert found[-3:] == [
        "green GN · spare · ends here",
        "tan TN · spare · ends here",
        "dead · white WH, blue BU: cut in VB-2; red RD: cut in VB-1",
    ]
