"""One conductor with several uses on several legs: sound yards are taken as they are built.

What each stretch is was read off the joints by hand; no source beside that.
"""

from __future__ import annotations

import pytest

from tests.checks.trench import assert_problems

EXCHANGE = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: 18 AWG, colors: [white, green, blue, tan], run: [A, 50 ft, SB-1, 50 ft, SB-2]}
  K2: {gauge: 18 AWG, colors: [white, red, black, tan], run: [SB-2, 50 ft, VB-3]}
boxes: {SB-1: {kind: splice box}, SB-2: {kind: splice box}, VB-3: {place: lawn}}
stations:
  A1: {area: lawn, box: VB-3, hot: K1 green}
  A2: {area: beds, box: VB-3, hot: [K1 blue, K2 red]}
joints:
  SB-1: # <- note color-change @ SB-1
    - [K1 green in, K1 blue out]
    - [K1 blue in, K1 green out]
  SB-2: # <- note color-change @ SB-2
    - [K1 white, K2 white]
    - [K1 green, K2 red]
    - [K1 blue, K2 black]
"""


def test_a_hot_is_followed_on_the_conductor_that_the_joint_puts_it_on() -> None:
    """A1 names green, which ends for it in SB-1; green from there on is A2's."""
    found = assert_problems(EXCHANGE)
    assert "blue to black (A1), green to red (A2)" in found[1].sentence


TWO_CONTROLLERS = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
  B:
    place: barn
    supply: 24 V AC
    stations: 8
    coil: usual
    common: [K2 white, K1 pink from VB-1] # <- note common-on-spare @ K1 pink from VB-1
cables:
  K1:
    gauge: 18 AWG
    colors: [white, pink, tan, gray, black]
    run: [A, 50 ft, SB-1, 50 ft, VB-1, 50 ft, VB-2]
  K2: {gauge: 18 AWG, colors: [white, blue, gray], band: tape, run: [B, 50 ft, VB-1]}
boxes: {SB-1: {kind: splice box}, VB-1: {place: lawn}, VB-2: {place: beds}}
stations:
  A1: {area: lawn, box: VB-1, hot: K1 black}
  B1: {area: beds, box: VB-2, hot: [K2 blue, K1 tan]}
joints:
  SB-1: # <- note color-change @ SB-1
    - [K1 black in, K1 pink out]
  VB-1: # <- note color-change @ VB-1
    - [K1 pink in, A1]
    - [K1 white, A1]
    - [K2 white, K1 pink out]
    - [K2 blue, K1 tan out]
"""


def test_a_conductor_that_is_a_hot_before_it_is_another_controllers_common() -> None:
    assert_problems(TWO_CONTROLLERS)


def test_a_valve_on_the_stretch_that_is_the_other_controllers_common() -> None:
    wrong = TWO_CONTROLLERS.replace(
        "    - [K1 white, A1]\n    - [K2 white, K1 pink out]\n",
        "    - [K2 white, K1 pink out, A1] # <- error return-on-other-common @ [\n",
    )
    wrong = wrong.replace(" # <- note color-change @ SB-1", "")  # of no coil that works
    found = assert_problems(wrong)
    told = next(p for p in found if p.code == "return-on-other-common")
    assert told.sentence == "in 'VB-1' A1 returns on the common of B"


HALF_WAY = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: S1 white}
  B: {place: barn, supply: 24 V AC, stations: 8, coil: usual, common: S1 brown from B}
cables:
  S1:
    singles:
      - {color: white, gauge: 14 AWG, to: B}
      - {color: brown, gauge: 14 AWG}
      - {color: black, gauge: 14 AWG, to: B}
      - {color: tan, gauge: 14 AWG}
    run: [A, 50 ft, VB-1, 50 ft, B, 50 ft, VB-2]
boxes: {VB-1: {place: lawn}, VB-2: {place: beds}}
stations:
  A1: {area: lawn, box: VB-1, hot: S1 black}
  B1: {area: beds, box: VB-2, hot: S1 tan}
"""
HALF_WAY_JOINTS = """
joints:
  A: [[C, S1 white], ["1", S1 black]]
  B: [[C, S1 brown out], ["1", S1 tan out]]
  VB-1: [[S1 black in, A1], [S1 white, A1]]
  VB-2: [[S1 brown, B1], [S1 tan, B1]]
"""


@pytest.mark.parametrize("joints", ["", HALF_WAY_JOINTS])
def test_a_controller_half_way_along_a_cable(joints: str) -> None:
    """Singles end at it, its common begins there: before it the same wire is no common."""
    assert_problems(HALF_WAY + joints)


ONE_CABLE = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, yellow, brown, gray]
    run: [A, 50 ft, VB-1, 50 ft, SB-2, 50 ft, VB-3]
boxes: {VB-1: {place: lawn}, SB-2: {kind: splice box}, VB-3: {place: beds}}
stations:
  A1: {area: beds, box: VB-3, hot: [K1 yellow, K1 brown, K1 yellow]}
  A2: {area: lawn, box: VB-1, hot: K1 brown}
joints:
  VB-1: # <- note color-change @ VB-1 & note dead-stretch @ VB-1
    - [K1 yellow in, K1 brown out]
    - [K1 brown in, A2]
    - [K1 white, A2]
  SB-2: # <- note color-change @ SB-2
    - [K1 brown in, K1 yellow out]
"""


def test_a_hot_that_names_every_conductor_of_one_cable() -> None:
    """Brown beyond SB-2 was never meant for A1; yellow between the two boxes reads as if it was."""
    found = assert_problems(ONE_CABLE)
    dead = [p.sentence for p in found if p.code == "dead-stretch"]
    assert dead == ["K1 yellow, elsewhere the hot of A1, is dead from 'VB-1' to 'SB-2'"]


CUT = """
controllers:
  A:
    place: hut
    supply: 24 V AC
    stations: 8
    coil: usual
    common:
      - K1 white
      - K2 gray # <- note several-commons @ K2 gray
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, tan]
    run: [A, 85 ft, VB-1, 60 ft, SB-2, 60 ft, VB-3]
  K2: {gauge: 18 AWG, colors: [gray, blue, pink], run: [A, 85 ft, VB-3]}
boxes: {VB-1: {place: lawn}, SB-2: {kind: splice box}, VB-3: {place: beds}}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-3, hot: K2 blue}
joints:
  SB-2: # <- note dead-stretch @ SB-2
    - [K1 white in]
  VB-3:
    - [K2 gray, A2]
    - [K2 blue, A2]
"""


def test_one_side_of_a_common_that_is_cut_on_purpose() -> None:
    """`white in` alone says where it ends: that the rest is dead is told, once."""
    assert_problems(CUT)


HAND_OVER = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, tan, pink], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [white, blue, tan], band: tape, run: [VB-1, 60 ft, SB-3]}
boxes: {VB-1: {place: lawn}, VB-2: {place: beds}, SB-3: {kind: splice box}}
spares: {SP: {conductor: [K1 tan, K2 tan], to: SB-3}}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: beds, box: VB-2, hot: K1 pink}
joints:
  VB-1:
    - [K1 white, K2 white, A1]
    - [K1 red in, A1]
    - [K1 tan in, K2 tan]
"""


def test_a_spare_whose_first_conductor_goes_on_beyond_the_hand_over() -> None:
    """SP is K1 tan as far as VB-1 and K2 tan from there; what K1 tan does beyond is its own."""
    assert_problems(HAND_OVER)


def test_a_sensor_wire_that_goes_on_in_another_color_is_told_where_no_coil_is() -> None:
    found = assert_problems("""
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [tan, pink], run: [A, 20 ft, SB-1]}
          K3: {gauge: 18 AWG, colors: [tan, gray], run: [SB-1, 20 ft, RF]}
        boxes:
          VB-1: {place: front walk}
          VB-2: {place: front bed}
          SB-1: {place: eaves, kind: splice box}
          RF: {place: roof, kind: splice box}
        sensors:
          RAIN: # <- note sensor-on-terminals @ RAIN
            kind: rain
            controllers: A
            contact: normally open
            conductors: [K2 tan, K2 pink, K3 tan, K3 gray]
        joints:
          SB-1: # <- note color-change @ SB-1
            - [K2 tan, K3 tan]
            - [K2 pink, K3 gray]
    """)
    (change,) = (p.sentence for p in found if p.code == "color-change")
    assert change == "colors change in 'SB-1': pink to gray (RAIN)"
