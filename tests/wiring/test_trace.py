"""Each coil traced from its terminal to its lead and from C to the other."""

from __future__ import annotations

import pytest

from tests.wiring.trench import job, ways

CABLE = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 10 ft, VB-1, 10 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [tan, pink, gray], run: [VB-2, 10 ft, VB-3]}
boxes: {VB-1: {}, VB-2: {}, VB-3: {}}
"""


def test_through_a_box_uncut() -> None:
    body = CABLE + "stations: {A1: {area: a, box: VB-2, hot: K1 red}}"
    assert ways(job(body)) == {
        "A1": "A - K1 red - VB-1 - K1 red - VB-2 | A - K1 white - VB-1 - K1 white - VB-2"
    }


def test_through_a_change_of_color() -> None:
    body = CABLE + "stations: {A1: {area: a, box: VB-3, hot: [K1 red, K2 pink]}}"
    assert ways(job(body, "[K1 white, K2 tan]")) == {
        "A1": "A - K1 red - VB-1 - K1 red - VB-2 - K2 pink - VB-3 | "
        "A - K1 white - VB-1 - K1 white - VB-2 - K2 tan - VB-3"
    }


def test_joints_as_built_are_the_truth_and_not_the_names() -> None:
    body = (
        CABLE
        + """
stations:
  A1: {area: a, box: VB-1, hot: K1 red}
  A2: {area: b, box: VB-1, hot: K1 blue}
joints:
  VB-1: [[K1 red in, A1], [K1 blue in, A2], [K1 white in, A1, A2]]
  A: [[C, K1 white], ["1", K1 blue], ["2", K1 red]]
"""
    )
    assert ways(job(body)) == {}  # each hangs on the other's terminal


def test_either_lead_may_be_on_the_hot() -> None:
    body = (
        CABLE
        + """
stations: {A1: {area: a, box: VB-1, hot: K1 red}}
joints: {VB-1: [[K1 white in, A1], [K1 red in, A1]]}
"""
    )
    assert ways(job(body)) == {"A1": "A - K1 red - VB-1 | A - K1 white - VB-1"}


def test_a_twin_in_two_boxes() -> None:
    body = CABLE + (
        "stations: {A1: {area: a, hot: K1 red, valves: {A1a: {box: VB-1}, A1b: {box: VB-2}}}}"
    )
    assert ways(job(body)) == {
        "A1a": "A - K1 red - VB-1 | A - K1 white - VB-1",
        "A1b": "A - K1 red - VB-1 - K1 red - VB-2 | A - K1 white - VB-1 - K1 white - VB-2",
    }


def test_a_common_from_the_other_side() -> None:
    body = """
cables:
  K1: {gauge: 18 AWG, colors: [red, blue], run: [A, 10 ft, VB-1, 10 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [tan, pink], run: [A, 50 ft, VB-2, 10 ft, VB-1]}
boxes: {VB-1: {}, VB-2: {}}
stations: {A1: {area: a, box: VB-1, hot: K1 red}}
"""
    assert ways(job(body, "K2 tan")) == {
        "A1": "A - K1 red - VB-1 | A - K2 tan - VB-2 - K2 tan - VB-1"
    }


def test_a_contact_in_the_common_is_a_step_of_the_way() -> None:
    body = (
        CABLE
        + """
stations: {A1: {area: a, box: VB-1, hot: K1 red}}
sensors: {RAIN: {kind: rain, controllers: A, contact: normally closed, in common: K1 white}}
"""
    )
    assert ways(job(body)) == {"A1": "A - K1 red - VB-1 | A - (RAIN) - A - K1 white - VB-1"}


@pytest.mark.parametrize(
    "joints", ["", "joints: {VB-1: [[K1 white in, K1 blue out], [K1 red in, K1 red out]]}"]
)
def test_a_spare_carries_the_common_on_from_a_box(joints: str) -> None:
    body = f"{CABLE}stations: {{A1: {{area: a, box: VB-2, hot: K1 red}}}}\n{joints}"
    assert ways(job(body, "[K1 white, K1 blue from VB-1]")) == {
        "A1": "A - K1 red - VB-1 - K1 red - VB-2 | A - K1 white - VB-1 - K1 blue - VB-2"
    }


def test_a_valve_in_the_air_has_no_circuit() -> None:
    body = (
        CABLE
        + """
stations:
  A1: {area: a, box: VB-1, hot: K1 red}
  A2: {area: b, box: VB-2, hot: K1 blue}
joints: {VB-2: [[K1 white, A2]]}
"""
    )
    assert list(ways(job(body))) == ["A1"]
