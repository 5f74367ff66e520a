"""What is left dead of a conductor in use, and joints of one end."""

from __future__ import annotations

from tests.checks.trench import assert_problems

THREE = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, tan]
    run: [A, 85 ft, VB-1, 60 ft, VB-2, 60 ft, VB-3]
boxes: {VB-1: {place: walk}, VB-2: {kind: pull box}, VB-3: {place: lawn}}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A3: {area: back lawn, box: VB-3, hot: K1 blue}
"""


def test_a_hot_that_rides_on_another_conductor_for_one_leg() -> None:
    """Between the two boxes blue is dead, and no circuit is worse for it."""
    found = assert_problems(
        THREE
        + """
joints:
  VB-1: # <- note dead-stretch @ VB-1 & note color-change @ VB-1
    - [K1 white, A1]
    - [K1 red in, A1]
    - [K1 blue in, K1 green out]
  VB-2: # <- note color-change @ VB-2
    - [K1 green in, K1 blue out]
"""
    )
    assert [p.sentence for p in found] == [
        "colors change in 'VB-1': blue to green (A3)",
        "K1 blue, elsewhere the hot of A3, is dead from 'VB-1' to 'VB-2'",
        "colors change in 'VB-2': green to blue (A3)",
    ]


def test_two_hots_that_exchange_their_colors_inside_one_cable() -> None:
    found = assert_problems("""
        boxes: {VB-1: {kind: pull box}, VB-2: {place: bed}}
        stations:
          A1: {area: front lawn, box: VB-2, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        joints:
          VB-1: # <- note color-change @ VB-1
            - [K1 red in, K1 blue out]
            - [K1 blue in, K1 red out]
          VB-2:
            - [K1 white, A1, A2]
            - [K1 blue, A1]
            - [K1 red, A2]
    """)
    assert found[0].sentence == "colors change in 'VB-1': red to blue (A1), blue to red (A2)"


def test_a_hot_cut_at_its_valve_leaves_nothing_to_be_told() -> None:
    assert_problems(THREE)


def test_a_common_that_is_fed_from_another_cable_beyond_a_cut() -> None:
    found = assert_problems(
        """
controllers:
  A:
    place: hut
    supply: 24 V AC
    stations: 8
    coil: usual
    common:
      - K1 white
      - K2 white # <- note several-commons @ K2 white
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, tan]
    run: [A, 85 ft, VB-1, 60 ft, VB-2, 60 ft, VB-3]
  K2: {gauge: 18 AWG, colors: [white, pink], band: yellow tape, run: [A, 145 ft, VB-2]}
boxes: {VB-1: {place: walk}, VB-2: {kind: pull box}, VB-3: {place: lawn}}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A3: {area: back lawn, box: VB-3, hot: K1 blue} # <- note ways-apart @ A3
joints:
  VB-1: # <- note dead-stretch @ VB-1
    - [K1 white in, A1]
    - [K1 red in, A1]
  VB-2:
    - [K2 white, K1 white out]
"""
    )
    sentences = [p.sentence for p in found]
    assert "K1 white, elsewhere the common of A, is dead from 'VB-1' to 'VB-2'" in sentences
    assert "A3 has its hot in K1 and returns over K2" in sentences


def test_a_conductor_alone_in_its_joint() -> None:
    found = assert_problems("""
        joints:
          VB-2:
            - [K1 white, A2]
            - [K1 blue, A2]
            - [K1 green] # <- warning joint-of-one-end @ [
    """)
    assert found[0].sentence == "in 'VB-2' K1 green is alone in its joint"
    assert found[0].help.endswith("delete the joint: an end in no joint is capped")


def test_a_spare_that_is_written_as_capped() -> None:
    assert_problems("""
        spares: {SP-1: {conductor: K1 green, to: VB-2}}
        joints:
          VB-2:
            - [K1 white, A2]
            - [K1 blue, A2]
            - [K1 green]
    """)
