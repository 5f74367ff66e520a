"""Where hots and commons stop on their way."""

from __future__ import annotations

from tests.checks.trench import assert_problems
from tests.for_each import for_each

SPLICE = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, SB-1]}
  K2: {gauge: 18 AWG, colors: [white, red, blue], run: [SB-1, 60 ft, VB-1, 60 ft, VB-2]}
boxes: {SB-1: {kind: splice box}, VB-1: {place: walk}, VB-2: {place: bed}}
"""
STATIONS = """
stations:
  A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 red]}
  A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue]}
"""


def test_a_hot_that_nothing_carries_on() -> None:
    found = assert_problems(
        SPLICE
        + """
stations:
  A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 red]}
  A2: {area: side lawn, box: VB-2, hot: K1 blue} # <- error hot-stops @ K1 blue
"""
    )
    assert found[0].sentence == (
        "A2's hot leaves on K1 blue and stops in 'SB-1'; nothing carries it to 'VB-2'"
    )


def test_a_hot_left_out_of_the_joints_of_a_splice_box() -> None:
    found = assert_problems(
        SPLICE
        + STATIONS
        + """
joints:
  SB-1: # <- error hot-stops @ SB-1
    - [K1 white, K2 white]
    - [K1 blue, K2 blue]
"""
    )
    assert found[0].sentence == (
        "A1's hot leaves on K1 red and stops in 'SB-1'; nothing carries it to 'VB-1'"
    )


def test_two_hots_left_out_of_one_box_are_told_at_once() -> None:
    found = assert_problems(
        SPLICE
        + STATIONS
        + """
joints:
  SB-1: # <- error hot-stops @ SB-1
    - [K1 white, K2 white]
"""
    )
    assert found[0].sentence.startswith("the hots of A1 and A2 stop in 'SB-1'")


def test_a_whole_cable_not_joined_is_told_at_once() -> None:
    found = assert_problems(
        SPLICE
        + STATIONS
        + """
joints:
  SB-1: [] # <- error hot-stops @ SB-1
"""
    )
    assert found[0].sentence.startswith("the hots of A1 and A2 and the common of A stop in 'SB-1'")


def test_a_common_left_out_of_the_joints_of_a_splice_box() -> None:
    found = assert_problems(
        SPLICE
        + STATIONS
        + """
joints:
  SB-1: # <- error common-stops @ SB-1
    - [K1 red, K2 red]
    - [K1 blue, K2 blue]
"""
    )
    assert found[0].sentence == "the common of A stops in 'SB-1': A1 and A2 have no return"


def test_a_hot_and_the_common_that_stop_in_two_places_are_two_faults() -> None:
    assert_problems(
        SPLICE
        + STATIONS
        + """
joints:
  SB-1: # <- error hot-stops @ SB-1
    - [K1 white, K2 white]
    - [K1 red, K2 red]
  VB-1:
    - [K2 red in, A1]
    - [K2 white in, A1] # <- error common-stops @ [
"""
    )


def test_a_common_not_joined_onward_in_a_box() -> None:
    found = assert_problems("""
        joints:
          VB-1:
            - [K1 red in, A1]
            - [K1 white in, A1] # <- error common-stops @ [
    """)
    assert found[0].sentence == "the common of A stops in 'VB-1': A2 has no return"
    assert "join the common of A coming in" in found[0].help


def test_a_common_coming_in_left_out_cuts_off_all_beyond() -> None:
    assert_problems("""
        joints:
          VB-1: # <- error common-stops @ VB-1
            - [K1 red in, A1]
            - [K1 white out, A1]
    """)


def test_a_common_of_the_second_cable_that_is_not_listed() -> None:
    found = assert_problems("""
        controllers:
          A:
            place: garage
            supply: 24 V AC
            stations: 8
            coil: usual
            common: K1 white # <- error common-stops @ K1 white
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, SB-1]}
          K2: {gauge: 18 AWG, colors: [white, red, blue], run: [SB-1, 60 ft, VB-1, 60 ft, VB-2]}
        boxes: {SB-1: {kind: splice box}, VB-1: {place: walk}, VB-2: {place: bed}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 red]}
          A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue]}
    """)
    assert found[0].sentence == (
        "no conductor of the common of A reaches 'VB-1' and 'VB-2': A1 and A2 have no return"
    )


def test_a_box_where_the_cable_does_not_come() -> None:
    assert_problems("""
        boxes: {VB-1: {place: walk}, VB-2: {place: bed}, VB-3: {place: lawn}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
          A3: {area: back lawn, box: VB-3, hot: K1 green} # <- error hot-stops @ K1 green
    """)


def test_a_common_that_is_met_on_its_way_and_not_at_its_start() -> None:
    assert_problems("""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1]}
          K2: {gauge: 18 AWG, colors: [white, blue], run: [SB-1, 60 ft, VB-1, 60 ft, VB-2]}
        boxes: {SB-1: {kind: splice box}, VB-1: {place: walk}, VB-2: {place: bed}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue]}
    """)


def test_a_master_valve_whose_own_return_is_not_joined() -> None:
    found = assert_problems("""
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, green, tan, gray], run: [A, 85 ft, SB-1]}
          K2: {gauge: 18 AWG, colors: [green, gray], run: [SB-1, 60 ft, VB-1]}
          K3: {gauge: 18 AWG, colors: [white, red, blue], run: [SB-1, 60 ft, VB-2]}
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K3 white]}
        boxes: {SB-1: {kind: splice box}, VB-1: {place: walk}, VB-2: {place: bed}}
        stations:
          A1: {area: front lawn, box: VB-2, hot: [K1 red, K3 red]}
        master valves:
          MV-1: # <- note master-valve @ MV-1
            controllers: A
            box: VB-1
            hot: [K1 green, K2 green]
            return:
              - K1 gray # <- note several-commons @ K1 gray
              - K2 gray
        joints:
          SB-1: # <- error return-stops @ SB-1
            - [K1 white, K3 white]
            - [K1 red, K3 red]
            - [K1 green, K2 green]
    """)
    assert found[2].sentence == "the return of MV-1 stops in 'SB-1': MV-1 has no return"


@for_each(
    ("said", "at"),
    [("K2 white", "SB-1"), ("K2 white from SB-1", "SB-1"), ("K2 white from VB-2 to VB-3", "VB-2")],
)
def test_a_common_is_missed_where_it_begins_or_where_it_is_said_to_be_fed(
    said: str, at: str
) -> None:
    spare = "note common-on-spare @ K2 white from VB-2 to VB-3 & " if at == "VB-2" else ""
    found = assert_problems(f"""
        controllers:
          A:
            place: hut
            supply: 24 V AC
            stations: 8
            coil: usual
            common:
              - K1 white
              - {said} # <- {spare}error common-stops @ {said}
        cables:
          K1: {{gauge: 18 AWG, colors: [white, red, tan], run: [A, 85 ft, VB-1]}}
          K2: {{gauge: 18 AWG, colors: [white, blue, pink], run: [SB-1, 9 ft, VB-2, 60 ft, VB-3]}}
          K3: {{gauge: 18 AWG, colors: [violet, gray, orange], run: [A, 60 ft, SB-1]}}
        boxes: {{VB-1: {{}}, VB-2: {{kind: pull box}}, VB-3: {{}}, SB-1: {{kind: splice box}}}}
        stations:
          A1: {{area: front lawn, box: VB-1, hot: K1 red}}
          A2: {{area: front bed, box: VB-3, hot: [K3 violet, K2 blue]}}
    """)
    sentences = [p.sentence for p in found]
    assert f"nothing feeds K2 white in '{at}': A2 has no return" in sentences
