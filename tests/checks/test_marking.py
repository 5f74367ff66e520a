"""What lies side by side can be told apart."""

from __future__ import annotations

import pytest

from tests.checks.trench import assert_problems

TWO_CABLES = """
controllers:
  A:
    place: garage
    supply: 24 V AC
    stations: 8
    coil: usual
    common:
      - K1 white
      - K2 white # <- note several-commons @ K2 white
cables:
  K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 85 ft, VB-1]}
  K2: {gauge: 18 AWG, colors: [white, red, tan], %srun: [A, 85 ft, VB-2]}%s
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K2 red}
"""


def test_two_cables_of_the_same_colors_without_a_band() -> None:
    found = assert_problems(TWO_CABLES % ("", " # <- warning cables-look-alike @ K2"))
    assert found[1].sentence == "K1 and K2 both reach 'A' and both have 'red'"


def test_two_cables_of_the_same_colors_and_one_with_a_band() -> None:
    assert_problems(TWO_CABLES % ("band: yellow tape, ", ""))


def test_a_cable_that_goes_on_in_the_same_colors() -> None:
    assert_problems("""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 85 ft, VB-1]}
          K2: {gauge: 18 AWG, colors: [white, red, tan], run: [VB-1, 85 ft, VB-2]}
        stations:
          A2: {area: side lawn, box: VB-2, hot: [K1 red, K2 red]}
        spares: {SP-1: {conductor: [K1 tan, K2 tan]}}
        boxes: {VB-1: {kind: splice box}, VB-2: {place: bed}}
    """)


def test_the_commons_of_two_controllers_look_alike_in_a_box() -> None:
    found = assert_problems(
        """
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [white, brown, tan], run: [B, 140 ft, VB-3, 90 ft, VB-2]}
        controllers:
          A: {place: garage, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
          B: {place: shed, supply: 24 V AC, stations: 8, coil: usual, common: K2 white}
        boxes:
          VB-1: {place: walk}
          VB-2: {place: bed} # <- warning commons-look-alike @ VB-2
          VB-3: {place: lawn}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
          B1: {area: back lawn, box: VB-3, hot: K2 brown}
        spares: {}
    """.replace("[white, red, blue]", "[white, red, blue, black]"),
        "two controllers",
    )
    assert found[0].sentence == "in 'VB-2' the commons of A and B are both white"


def test_two_controllers_share_a_box() -> None:
    found = assert_problems(
        """
        boxes:
          VB-1: {place: walk}
          VB-2: {place: bed} # <- note shared-box @ VB-2
          VB-3: {place: lawn}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
          B1: {area: back lawn, box: VB-3, hot: K2 brown}
          B2: {area: back lawn, box: VB-2, hot: K2 black}
    """,
        "two controllers",
    )
    assert found[0].sentence == "'VB-2' has valves of A and B (A: A2; B: B2)"


def boxes(one: str, two: str, mark: str) -> str:
    return f"""
boxes:
  VB-1: {{place: walk}}
  VB-2: {{place: bed}}
  {one}: {{kind: pull box}}
  {two}: {{kind: pull box}}{mark}
"""


@pytest.mark.parametrize(
    ("one", "two"),
    [
        ("PB-3", "PB3"),
        ("PB-3", "PB-03"),
        ("PB-3", "pb.03"),
        ("PB-1", "PB-l"),
        ("PB-1", "PB-I"),
        ("P1A", "PIA"),
        ("PB-100", "PB-1OO"),
        ("P-0", "P-O"),
        ("SOIL", "S0IL"),
    ],
)
def test_names_that_read_as_one(one: str, two: str) -> None:
    assert_problems(boxes(one, two, f" # <- warning names-look-alike @ {two}"))


@pytest.mark.parametrize(
    ("one", "two"),
    [
        ("PB-1", "PB-10"),
        ("PB-1", "PB-11"),
        ("PB-1-1", "PB-11"),
        ("PB-1.1", "PB-11"),
        ("PB-1", "MPB-1"),
        ("PB-1A", "PB-1B"),
        ("PB-L", "PB-1"),
        ("PB-L", "PB-I"),
    ],
)
def test_names_that_do_not(one: str, two: str) -> None:
    assert_problems(boxes(one, two, ""))


@pytest.mark.parametrize(("one", "two"), [("PB-1", "pb-1"), ("PB_1", "PB-1")])
def test_two_boxes_with_one_address(one: str, two: str) -> None:
    assert_problems(boxes(one, two, f" # <- error address-used-twice @ {two}"))


def test_a_cable_and_a_station_may_read_alike() -> None:
    assert_problems("""
        controllers:
          A: {place: garage, supply: 24 V AC, stations: 8, coil: usual, common: A-1 white}
        cables:
          A-1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 8 ft, A-01, 9 ft, A-02]}
        boxes: {A-01: {place: walk}, A-02: {place: bed}}
        stations:
          A1: {area: front lawn, box: A-01, hot: A-1 red}
          A2: {area: side lawn, box: A-02, hot: A-1 blue}
    """)


def test_what_is_left_over_of_a_cable_that_goes_on_is_no_second_cable() -> None:
    """No list names the two tans: they are alike, and the second begins where the first ends."""
    assert_problems("""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 85 ft, VB-1]}
          K2: {gauge: 18 AWG, colors: [white, red, tan], run: [VB-1, 85 ft, VB-2, 60 ft, VB-3]}
        stations:
          A2: {area: side lawn, box: VB-3, hot: [K1 red, K2 red]}
        spares: {}
        boxes: {VB-1: {kind: splice box}, VB-2: {kind: pull box}, VB-3: {place: bed}}
    """)


def test_two_cables_of_one_conductor_in_the_same_color() -> None:
    assert_problems("""
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, gray], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
          S1: {gauge: 18 AWG, colors: [tan], run: [A, 85 ft, VB-1]}
          S2: # <- warning cables-look-alike @ S2
            gauge: 18 AWG
            colors: [tan]
            run: [A, 85 ft, VB-1]
    """)
