"""Boxes, the joints in them, and lengths between them."""

from __future__ import annotations

import pytest

from cardgen.checks.boxes import gauges_in
from tests.checks.bases import completed
from tests.checks.trench import assert_problems
from tests.jobs import edit, examined, sample


def test_a_box_without_valves() -> None:
    assert_problems("""
        boxes:
          VB-1: {place: walk}
          VB-2: {place: bed}
          VB-3: {place: lawn} # <- note box-without-valves @ VB-3
          VB-4: {place: gate} # <- note box-without-valves @ VB-4
    """)


def test_a_box_with_a_decoder_or_a_controller_needs_no_valve() -> None:
    """A valve may lie off the path, its decoder on it."""
    assert_problems(
        """
        boxes: {DX-1: {}, DX-2: {}, DX-3: {}, VB-9: {}}
        stations:
          D1: {area: gate trees, box: VB-9, decoder: DC-1}
          D2: {area: oak trees, box: DX-2, decoder: DC-2}
          D3: {area: pine trees, box: DX-3, decoder: DC-3}
    """,
        "two-wire",
    )
    assert_problems(
        """
        controllers:
          A:
            place: inside VB-3
            box: VB-3
            supply: 24 V AC
            stations: 8
            coil: usual
            common: K1 white
        boxes: {VB-1: {}, VB-2: {}, VB-3: {}}
    """
    )


@pytest.mark.parametrize("kind", ["splice box", "pull box"])
def test_a_box_that_says_what_it_is_for(kind: str) -> None:
    assert_problems(f"boxes: {{VB-1: {{}}, VB-2: {{}}, X-3: {{kind: {kind}}}}}")


def test_a_splice_without_a_box() -> None:
    found = assert_problems("""
        boxes:
          VB-1: {place: walk}
          VB-2: {place: bed}
          S-1: {kind: buried splice} # <- warning joint-without-box @ S-1
    """)
    assert "fewer than two distances" in found[0].sentence


def test_a_splice_without_a_box_but_with_two_distances_is_still_told() -> None:
    found = assert_problems("""
        boxes:
          VB-1: {place: walk}
          VB-2: {place: bed}
          S-1: # <- warning joint-without-box @ S-1
            kind: buried splice
            ties: [3 ft from the wall, 5 ft from the walk]
    """)
    assert found[0].sentence == "the splice 'S-1' has no box"


SIZED = """
boxes:
  VB-1: {place: walk, size: %s}%s
  VB-2: {place: bed, size: 10 in round}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: front bed, box: %s, hot: K1 blue}
  A3: {area: side bed, box: VB-2, hot: K1 green}
"""
NOTED = " # <- note box-too-small @ VB-1"
# A round box of 10 in holds one valve with its splices: common practice, no source.


@pytest.mark.parametrize(
    "size", ["10 in round", "6 in round", "10-inch round", "25 cm round", "254 mm round"]
)
def test_two_valves_in_a_small_round_box(size: str) -> None:
    found = assert_problems(SIZED % (size, NOTED, "VB-1"))
    said = f"'VB-1' is {size}, and 2 valves with their splices do not fit in it"
    assert [p.sentence for p in found if p.code == "box-too-small"] == [said]


@pytest.mark.parametrize(
    "size", ["10.5 in round", "12 x 17 in", "rectangular", "26 cm round", "258 mm round"]
)
def test_two_valves_in_a_box_that_may_hold_them(size: str) -> None:
    assert_problems(SIZED % (size, "", "VB-1"))


def test_one_valve_in_a_small_round_box() -> None:
    assert_problems((SIZED % ("10 in round", "", "VB-2")).replace("bed, size: 10 in round", "bed"))


def test_valves_of_a_twin_are_two() -> None:
    twin = "valves: {A1a: {box: VB-1}, A1b: {box: VB-1}}"
    text = (SIZED % ("10 in round", NOTED, "VB-2")).replace("bed, size: 10 in round", "bed")
    one = "A1: {area: front lawn, box: VB-1, hot: K1 red}"
    two = f"A1: {{area: front lawn, {twin}, hot: K1 red}} # <- note twin @ A1"
    found = assert_problems(edit(text, one, two))
    assert "2 valves" in found[0].sentence


def test_a_small_round_box_for_splices_alone() -> None:
    text = edit(sample("heron"), "size: 12 x 17 in}\n  DX-3", "size: 10 in round}\n  DX-3")
    assert "DT-1: {place: trail fork, kind: splice box, size: 10 in round}" in text
    assert "box-too-small" not in {p.code for p in examined(text).problems}


CABLE = """
connectors: {small: {takes: 2-5 x 18 AWG}}
cables:
  K1:
    gauge: %s AWG
    colors: [white, red, blue, green, yellow, orange, tan]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
"""


def test_more_conductors_than_a_connector_takes() -> None:
    found = assert_problems(
        CABLE % 18
        + """
boxes:
  VB-1: {place: walk} # <- error connector-overfilled @ VB-1
  VB-2: {place: bed}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: front bed, box: VB-1, hot: K1 blue}
  A3: {area: side lawn, box: VB-1, hot: K1 green}
  A4: {area: side bed, box: VB-1, hot: K1 yellow}
  A5: {area: back lawn, box: VB-2, hot: K1 orange}
"""
    )
    assert found[0].sentence == (
        "a joint in 'VB-1' has 6 x 18 AWG (K1 white in, K1 white out, A1, A2, A3, A4); "
        "no connector of this job accepts that"
    )


@pytest.mark.parametrize(
    ("valves", "ends"),
    [
        (9, "K1 black in, A1, A2, A3, A4, A5, A6, A7, A8, A9"),
        (10, "K1 black in, A1, A2, A3, A4, A5, A6, A7, A8, 2 more"),
    ],
)
def test_ten_ends_of_a_joint_are_named_and_of_more_nine(valves: int, ends: str) -> None:
    colors = "black, brown, red, orange, yellow, green, blue, violet, gray, white, pink, tan"
    hots = enumerate(colors.split(", ")[1 : valves + 1], 1)
    stations = "\n".join(f"  A{n}: {{area: bed, box: VB-1, hot: K1 {hot}}}" for n, hot in hots)
    text = f"""
coils: {{usual: {{supply: 24 V AC, resistance: 30 ohm}}}}
controllers: {{A: {{place: hut, supply: 24 V AC, stations: 12, coil: usual, common: K1 black}}}}
connectors: {{small: {{takes: 2-5 x 18 AWG}}}}
cables: {{K1: {{gauge: 18 AWG, colors: [{colors}], run: [A, 85 ft, VB-1]}}}}
boxes: {{VB-1: {{place: walk}}}}
stations:
{stations}
""".lstrip()
    (told,) = (p for p in examined(completed(text)).problems if p.code == "connector-overfilled")
    assert f"({ends})" in told.sentence


def test_as_many_conductors_as_a_connector_takes() -> None:
    assert_problems(
        CABLE % 18
        + """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: front bed, box: VB-1, hot: K1 blue}
  A3: {area: side lawn, box: VB-1, hot: K1 green}
  A5: {area: back lawn, box: VB-2, hot: K1 orange}
"""
    )


def test_gauges_that_no_connector_takes_are_told_once_for_each_set() -> None:
    found = assert_problems(
        CABLE % 14
        + """
boxes:
  VB-1: {} # <- error connector-overfilled @ VB-1 & error connector-overfilled @ VB-1
  VB-2: {}
"""
    )
    assert ", as do joints in 'VB-2'; " in found[0].sentence


def test_leads_that_were_taken_for_awg_in_a_metric_job_are_told() -> None:
    text = edit(sample("larkspur"), "takes: [2-5 x 18 AWG]", "takes: [2-5 x 1 mm2]")
    found = examined(text.replace("gauge: 18 AWG", "gauge: 1 mm2")).problems
    told = {p.help for p in found if p.code == "connector-overfilled"}
    leads = "if the leads of the valve are not 18 AWG, say so under its coil: 'leads: 1 mm2'"
    assert told and all(help_.endswith(leads) for help_ in told)


def test_a_joint_counts_no_onward_side_of_a_single_that_goes_no_further() -> None:
    """`P-K1 red P1` serves a valve in VB-1, so it ends there: one conductor and one lead."""
    text = sample("sandpiper")
    exact = edit(text, "takes: [1-2 x 14 AWG + 1-4 x 18 AWG,", "takes: [1-1 x 14 AWG + 1 x 18 AWG,")
    assert [p.code for p in examined(exact).problems] == [p.code for p in examined(text).problems]
    facts = examined(text).facts
    assert facts
    joints = [j for j in facts.wiring.joints if j.at in ("VB-1", "VB-2", "VB-3")]
    assert joints
    for joint in joints:
        counts = gauges_in(facts, joint)
        assert counts is not None
        assert {str(g): n for g, n in counts.items()} == {"14 AWG": 1, "18 AWG": 1}


def test_feet_and_meters_in_one_job() -> None:
    found = assert_problems("""
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, tan]
            run:
              - A
              - 85 ft
              - PB-1
              - 60 ft
              - VB-1
              - 20 m # <- warning units-mixed @ 20 m
              - VB-2
        boxes: {VB-1: {}, VB-2: {}, PB-1: {kind: pull box}}
    """)
    assert found[0].sentence == "this leg is 20 m, while 2 legs of the job are in ft"


def test_a_leg_far_out_of_scale() -> None:
    assert_problems("""
        coils:
          usual: {supply: 24 V AC, resistance: 30 ohm}
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, tan]
            run:
              - A
              - 85 ft
              - VB-1
              - 6000 ft # <- warning leg-out-of-scale @ 6000 ft
              - VB-2
    """)


def test_long_legs_where_all_are_long() -> None:
    assert_problems("""
        coils:
          usual: {supply: 24 V AC, resistance: 30 ohm}
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, tan]
            run: [A, 2500 ft, VB-1, 2000 ft, VB-2]
    """)
