"""The commons as a whole."""

from __future__ import annotations

from tests.checks.trench import assert_problems

TWO = """
controllers:
  A:
    place: garage
    supply: 24 V AC
    stations: 8
    coil: usual
    common:
      - K1 white
      - K2 gray # <- note several-commons @ K2 gray
"""


def test_a_controller_without_a_common() -> None:
    found = assert_problems("""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual} # <- error common-missing @ A
    """)
    assert found[0].sentence == "no common is written for A, so A1 and A2 have no return"
    assert found[0].help == "name all conductors of its common: 'common: [K1 white]'"


def test_a_common_is_missed_before_a_hot_is_chosen_that_would_take_its_conductor() -> None:
    """One station has its hot, one not; a controller that nobody has wired yet needs nothing."""
    text = """
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual} # <- error common-missing @ A
          B: {place: pump house, supply: 24 V AC, stations: 8, coil: usual}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1]}
        stations:
          A2: {area: front lawn, box: VB-1, hot: K1 red}
          A1: {area: side lawn, box: VB-1} # <- error hot-missing @ A1
    """
    found = assert_problems(text)
    said = [(p.sentence, p.help) for p in found if p.code == "common-missing"]
    assert said == [
        (
            "no common is written for A, so A2 and A1 have no return",
            "name all conductors of its common: 'common: [K1 white]'",
        )
    ]


def test_two_commons_of_one_controller_name_their_stations() -> None:
    found = assert_problems(
        TWO
        + """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1]}
  K2: {gauge: 18 AWG, colors: [gray, brown, black, orange], run: [A, 85 ft, VB-2]}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K2 brown}
  A3: {area: back lawn, box: VB-2, hot: K2 black}
"""
    )
    assert found[0].sentence == "2 commons go to C of A: K1 white (A1); K2 gray (A2 and A3)"


def test_two_commons_that_a_pigtail_brings_to_their_terminal() -> None:
    """As the note of two wires on one screw says it: one wire is on C."""
    assert_problems("""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 gray]}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1]}
          K2: {gauge: 18 AWG, colors: [gray, brown, black, orange], run: [A, 85 ft, VB-2]}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K2 brown}
        pigtails: {PT-1: {at: A, gauge: 18 AWG}}
        joints:
          A:
            - [C, PT-1]
            - [PT-1, K1 white, K2 gray]
            - [1, K1 red]
            - [2, K2 brown]
    """)


def test_a_common_that_parts_in_a_box_is_no_second_one() -> None:
    assert_problems("""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, green, tan]
            run: [A, 9 ft, VB-1, 6 ft, VB-2]
          K2: {gauge: 18 AWG, colors: [white, green, tan], run: [VB-1, 140 ft, VB-3]}
        boxes: {VB-1: {place: walk}, VB-2: {place: bed}, VB-3: {place: lawn}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
          A3: {area: back lawn, box: VB-3, hot: [K1 green, K2 green]}
    """)


def test_two_commons_that_come_to_one_box_from_two_sides_stay_apart() -> None:
    assert_problems(
        TWO
        + """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [gray, brown, tan], run: [A, 140 ft, VB-2]}
"""
    )


def test_a_ring() -> None:
    found = assert_problems(
        """
controllers:
  A:
    place: garage
    supply: 24 V AC
    stations: 8
    coil: usual
    common:
      - K1 white # <- note common-ring @ K1 white
      - K2 white # <- note several-commons @ K2 white
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [white, brown, tan], run: [A, 140 ft, VB-2]}
joints:
  VB-2:
    - [K1 white, K2 white, A2]
    - [K1 blue, A2]
"""
    )
    assert [p.sentence for p in found] == [
        "the common of A is a ring over 'VB-1' and 'VB-2': more than one way feeds A1 and A2",
        "2 commons go to C of A: K1 white and K2 white (A1 and A2)",
    ]


def test_a_leg_beyond_a_ring_is_not_of_it() -> None:
    found = assert_problems("""
        controllers:
          A:
            place: garage
            supply: 24 V AC
            stations: 8
            coil: usual
            common:
              - K1 white # <- note common-ring @ K1 white
              - K2 white # <- note several-commons @ K2 white
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, green, tan]
            run: [A, 85 ft, VB-1, 60 ft, VB-2, 40 ft, VB-3]
          K2: {gauge: 18 AWG, colors: [white, brown, tan], run: [A, 140 ft, VB-2]}
        boxes: {VB-1: {place: walk}, VB-2: {place: bed}, VB-3: {place: lawn}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
          A3: {area: back lawn, box: VB-3, hot: K1 green}
        joints:
          VB-2:
            - [K1 white, K2 white, A2]
            - [K1 blue in, A2]
    """)
    assert found[0].sentence.startswith("the common of A is a ring over 'VB-1' and 'VB-2': ")


def test_the_returns_of_master_valve_and_relay_are_counted_on_c() -> None:
    found = assert_problems("""
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, green, yellow, tan]
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
        master valves:
          MV-1: # <- note master-valve @ MV-1
            controllers: A
            box: VB-1
            hot: K1 green
            return: K1 yellow # <- note several-commons @ K1 yellow
    """)
    assert found[1].sentence == (
        "1 common and 1 return go to C of A: K1 white (A1 and A2); K1 yellow (MV-1)"
    )


def test_two_terminals_c_hold_two_conductors() -> None:
    assert_problems(
        TWO.replace(" # <- note several-commons @ K2 gray", "").replace(
            "stations: 8", "stations: 8\n    terminals: [1 to 8, C, C]"
        )
        + """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1]}
  K2: {gauge: 18 AWG, colors: [gray, brown, black, orange], run: [A, 85 ft, VB-2]}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K2 brown}
"""
    )


def test_a_spare_that_carries_the_common_on() -> None:
    found = assert_problems("""
        controllers:
          A:
            place: garage
            supply: 24 V AC
            stations: 8
            coil: usual
            common:
              - K1 white
              - K1 green from VB-1 # <- note common-on-spare @ K1 green from VB-1
        joints:
          VB-1:
            - [K1 red in, A1]
            - [K1 white in, K1 green out, A1]
          VB-2:
            - [K1 blue, A2]
            - [K1 green, A2]
    """)
    assert found[0].sentence == "from 'VB-1' on, K1 green carries the common of A for A2"


def test_a_common_of_another_gauge_than_the_hots() -> None:
    assert_problems("""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
        cables:
          K1:
            singles:
              - {color: red, gauge: 14 AWG}
              - {color: blue, gauge: 14 AWG}
              - {color: tan, gauge: 14 AWG}
              - {color: white, gauge: 12 AWG}
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
    """)


def test_what_lands_on_c_is_listed_as_the_common_is_written_then_what_nobody_named() -> None:
    (problem,) = assert_problems("""
        controllers:
          A:
            place: hut
            supply: 24 V AC
            stations: 8
            coil: usual
            common:
              - K2 white
              - K1 white # <- note several-commons @ K1 white
        cables:
          K1: {gauge: 18 AWG, colors: [green, white, red, tan], run: [A, 60 ft, VB-1]}
          K2: {gauge: 18 AWG, colors: [white, blue, pink], run: [A, 60 ft, VB-2]}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K2 blue}
        joints:
          A:
            - [C, K1 white, K2 white, K1 green]
            - [1, K1 red]
            - [2, K2 blue]
    """)
    assert problem.sentence == ("3 commons go to C of A: K2 white (A2); K1 white (A1); K1 green")
