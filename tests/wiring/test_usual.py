"""What is in each connector of a box that is not written out."""

from __future__ import annotations

from cardgen.wiring.usual import merged
from cardgen.wiring.wiring_parts import End
from tests.wiring.trench import job, joints, said, ways

CABLES = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 10 ft, VB-1, 10 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [tan, pink, gray], run: [VB-1, 10 ft, VB-3]}
boxes: {VB-1: {}, VB-2: {}, VB-3: {}}
"""
TEE = (
    CABLES
    + """
stations:
  A1: {area: a, box: VB-2, hot: K1 red}
  A2: {area: b, box: VB-3, hot: [K1 blue, K2 pink]}
  A3: {area: c, box: VB-1, hot: K1 green}
"""
)
BOTH = "[K1 white, K2 tan]"


def test_a_tee_joins_the_commons_with_the_valve_between_them() -> None:
    assert joints(job(TEE, BOTH), "VB-1") == [
        {"K1 blue in", "K2 pink out"},
        {"K1 green in", "A3 lead 1"},
        {"K1 white in", "K1 white out", "K2 tan out", "A3 lead 2"},
    ]  # red passes uncut


def test_the_last_box() -> None:
    assert joints(job(TEE, BOTH), "VB-2") == [
        {"K1 red in", "A1 lead 1"},
        {"K1 white in", "A1 lead 2"},
    ]


def test_each_conductor_lands_on_its_terminal() -> None:
    assert joints(job(TEE, BOTH), "A") == [
        {"A 1", "K1 red out"},
        {"A 2", "K1 blue out"},
        {"A 3", "K1 green out"},
        {"A C", "K1 white out"},
    ]


def test_a_hot_that_serves_a_twin_goes_on_from_the_first_box() -> None:
    body = CABLES + (
        "stations: {A1: {area: a, hot: K1 red, valves: {A1a: {box: VB-1}, A1b: {box: VB-2}}}}"
    )
    assert {"K1 red in", "K1 red out", "A1a lead 1"} in joints(job(body, BOTH), "VB-1")


def test_jumpers_link_terminals() -> None:
    text = job(TEE, BOTH).replace("coil: usual,", 'coil: usual, jumpers: [["7", "1"]],')
    assert {"A 7", "A 1", "K1 red out"} in joints(text, "A")


def test_a_spare_of_two_conductors_is_joined_where_they_meet() -> None:
    body = TEE + "spares: {SP-1: {conductor: [K1 green, K2 gray], to: VB-3}}"
    body = body.replace("  A3: {area: c, box: VB-1, hot: K1 green}\n", "")
    assert {"K1 green in", "K2 gray out"} in joints(job(body, BOTH), "VB-1")


TWO_COMMONS = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red], run: [A, 10 ft, VB-1]}
  K2: {gauge: 18 AWG, colors: [tan, pink], run: [A, 10 ft, VB-1]}
  K3: {gauge: 18 AWG, colors: [gold, gray], run: [VB-1, 10 ft, VB-2]}
  K4: {gauge: 18 AWG, colors: [blue], run: [A, 10 ft, VB-1]}
boxes: {VB-1: {}, VB-2: {}}
"""


def test_the_common_in_the_cable_of_the_hot_takes_the_lead() -> None:
    body = TWO_COMMONS + "stations: {A1: {area: a, box: VB-1, hot: K2 pink}}"
    assert {"K2 tan in", "A1 lead 2"} in joints(job(body, "[K1 white, K2 tan]"), "VB-1")


def test_a_lead_that_could_go_to_either_common_is_asked_about() -> None:
    body = TWO_COMMONS + "stations: {A1: {area: a, box: VB-1, hot: K4 blue}}"
    assert said(job(body, "[K1 white, K2 tan]")) == [
        "common-unclear: in 'VB-1' the lead of A1 could go to K1 white or to K2 tan"
    ]


def test_a_station_may_name_its_common() -> None:
    body = TWO_COMMONS + "stations: {A1: {area: a, box: VB-1, hot: K4 blue, common: K2 tan}}"
    assert {"K2 tan in", "A1 lead 2"} in joints(job(body, "[K1 white, K2 tan]"), "VB-1")


def test_a_common_that_either_could_feed_is_asked_about() -> None:
    body = TWO_COMMONS + "stations: {A1: {area: a, box: VB-2, hot: [K4 blue, K3 gray]}}"
    assert said(job(body, "[K1 white, K2 tan, K3 gold]")) == [
        "common-unclear: K3 gold begins in 'VB-1', where K1 white or K2 tan could feed it"
    ]


def test_nothing_is_asked_where_a_conductor_of_the_common_is_missing() -> None:
    body = TWO_COMMONS + "stations: {A1: {area: a, box: VB-1, hot: K4 blue}}"
    assert said(job(body, "[K1 white, K2 tan, K9 white]")) == [
        "unknown-name: there is no cable 'K9'"
    ]


def test_a_name_of_a_twins_common_that_means_nothing_is_told_once() -> None:
    body = TWO_COMMONS + (
        "stations: {A1: {area: a, hot: K1 red, common: K9 tan, "
        "valves: {A1a: {box: VB-1}, A1b: {box: VB-1}}}}"
    )
    assert said(job(body)) == ["unknown-name: there is no cable 'K9'"]


def test_nothing_is_asked_of_a_box_whose_joints_are_written() -> None:
    body = TWO_COMMONS + (
        "stations:\n"
        "  A1: {area: a, box: VB-2, hot: [K4 blue, K3 gray]}\n"
        "  A2: {area: b, box: VB-1, hot: K4 brown}\n"
        "joints:\n"
        "  VB-1:\n"
        "    - [K4 blue, K3 gray]\n"
        "    - [K4 brown, A2]\n"
        "    - [K1 white, A2]\n"
        "    - [K2 tan, K3 gold]\n"
    )
    body = body.replace("[blue]", "[blue, brown]")
    text = job(body, "[K1 white, K2 tan, K3 gold]")
    assert said(text) == []
    assert ways(text) == {
        "A1": "A - K4 blue - VB-1 - K3 gray - VB-2 | A - K2 tan - VB-1 - K3 gold - VB-2",
        "A2": "A - K4 brown - VB-1 | A - K1 white - VB-1",
    }


def test_what_shares_an_end_with_what_was_merged_is_merged_too() -> None:
    """The second group goes into the first, and the fourth touches what was the second's."""
    a, b, c, d, e, f = (End(f"K1 {name}", "VB-1", "in") for name in "abcdef")
    assert merged([(a, b, c), (d, e), (c, d), (e, f)]) == [(a, b, c, d, e, f)]
    assert merged([(a, b, c), (d, e), (f,)]) == [(a, b, c), (d, e), (f,)]


def test_of_a_common_that_passes_the_controller_the_side_that_serves_nothing_is_not_on_c() -> None:
    body = """
    cables:
      K1: {gauge: 18 AWG, colors: [white, red], run: [VB-1, 10 ft, A, 10 ft, VB-2]}
    boxes: {VB-1: {}, VB-2: {kind: pull box}}
    stations: {A1: {area: a, box: %s, hot: K1 red}}
    """
    for box, side in (("VB-1", "in"), ("VB-2", "out")):
        found = joints(job(body % box), "A")
        assert {"A C", f"K1 white {side}"} in found and {"A 1", f"K1 red {side}"} in found
