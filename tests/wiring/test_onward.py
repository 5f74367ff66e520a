"""Written joints carry a hot on of which only the first conductor is named."""

from __future__ import annotations

from tests.wiring.trench import job, ways

BODY = """
cables:
  K1: {gauge: 18 AWG, colours: [white, red], run: [A, 1 ft, SB-1]}
  K2: {gauge: 18 AWG, colours: [tan, pink, gray], run: [SB-1, 1 ft, VB-1, 1 ft, VB-2]}
boxes: {SB-1: {}, VB-1: {}, VB-2: {}}
stations: {A1: {area: a, box: VB-2, hot: K1 red}}
joints: {SB-1: [[K1 white, K2 tan], [K1 red, K2 %s]]}
"""


def test_through_a_splice_that_is_written() -> None:
    assert ways(job(BODY % "pink", "[K1 white, K2 tan]")) == {
        "A1": "A - K1 red - SB-1 - K2 pink - VB-1 - K2 pink - VB-2 | "
        "A - K1 white - SB-1 - K2 tan - VB-1 - K2 tan - VB-2"
    }


def test_in_whatever_colour_the_splice_says() -> None:
    assert "K2 gray" in ways(job(BODY % "gray", "[K1 white, K2 tan]"))["A1"]


def test_not_through_a_splice_that_is_not() -> None:
    usual = BODY[: BODY.index("joints")]
    assert ways(job(usual, "[K1 white, K2 tan]")) == {}
