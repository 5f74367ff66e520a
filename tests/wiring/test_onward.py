"""Written joints carry a hot on of which only the first conductor is named."""

from __future__ import annotations

import pytest

from cardgen.problems import Verdict
from tests.jobs import examined
from tests.wiring.trench import job, ways

BODY = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red], run: [A, 1 ft, SB-1]}
  K2: {gauge: 18 AWG, colors: [tan, pink, gray], run: [SB-1, 1 ft, VB-1, 1 ft, VB-2]}
boxes: {SB-1: {}, VB-1: {}, VB-2: {}}
stations: {A1: {area: a, box: VB-2, hot: K1 red}}
joints: {SB-1: [[K1 white, K2 tan], [K1 red, K2 %s]]}
"""


def test_through_a_splice_that_is_written() -> None:
    assert ways(job(BODY % "pink", "[K1 white, K2 tan]")) == {
        "A1": "A - K1 red - SB-1 - K2 pink - VB-1 - K2 pink - VB-2 | "
        "A - K1 white - SB-1 - K2 tan - VB-1 - K2 tan - VB-2"
    }


def test_in_whatever_color_the_splice_says() -> None:
    assert "K2 gray" in ways(job(BODY % "gray", "[K1 white, K2 tan]"))["A1"]


def test_not_through_a_splice_that_is_not() -> None:
    usual = BODY[: BODY.index("joints")]
    assert ways(job(usual, "[K1 white, K2 tan]")) == {}


ONE_SINGLE = """
cables:
  K1: {gauge: 18 AWG, colors: [white, tan], run: [A, 1 ft, VB-1]}
  S1:
    singles: [{color: red, gauge: 14 AWG%s}]
    run: [A, 1 ft, VB-1, 1 ft, PB-2, 1 ft, PB-3]
boxes: {VB-1: {}, PB-2: {kind: pull box}, PB-3: {kind: pull box}}
stations: {A1: {area: a, box: VB-1, hot: S1 red}}
"""


@pytest.mark.parametrize(("to", "last"), [("", "VB-1"), (", to: PB-2", "PB-2")])
def test_how_far_a_single_without_a_flag_goes(to: str, last: str) -> None:
    """As far as it is used, unless its 'to' says farther."""
    wiring = examined(job(ONE_SINGLE % to)).wiring
    assert wiring is not None
    assert wiring.conductors["S1 red"].places[-1] == last


def test_a_joint_beyond_the_end_of_a_single() -> None:
    text = job(ONE_SINGLE % ", to: PB-2" + "joints: {PB-3: [[S1 red]]}\n")
    (problem,) = [p for p in examined(text).problems if p.verdict is Verdict.ERROR]
    assert problem.sentence == "S1 red does not reach 'PB-3'"
