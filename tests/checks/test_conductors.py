"""Who uses which conductor."""

from __future__ import annotations

from tests.checks.bases import completed
from tests.checks.trench import assert_problems

SPLICE = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, SB-1]}
  K2: {gauge: 18 AWG, colors: [white, green, orange], run: [SB-1, 60 ft, VB-1, 60 ft, VB-2]}
boxes:
  SB-1: {kind: splice box}%s
  VB-1: {place: front walk}
  VB-2: {place: front bed}
"""
CHANGE = " # <- note color-change @ SB-1"


def test_a_sound_job_is_silent() -> None:
    assert_problems("")


def test_one_conductor_for_two_stations() -> None:
    found = assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
          A3: {area: side bed, box: VB-2, hot: K1 red} # <- error conductor-used-twice @ K1 red
    """)
    assert found[0].sentence == "conductor 'K1 red' is given to A1 and to A3"
    assert found[0].help == "spare in this cable: green, yellow"


def test_what_a_hot_with_a_fault_names_is_not_free() -> None:
    found = assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: lawn, box: VB-2, hot: [K1 green, K1 x]} # <- error no-such-conductor @ K1 x
          A3: {area: side bed, box: VB-2, hot: K1 red} # <- error conductor-used-twice @ K1 red
    """)
    assert found[1].help == "spare in this cable: blue, yellow"


def test_one_conductor_for_three_stations_is_told_for_each_but_the_first() -> None:
    assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 red} # <- error conductor-used-twice @ K1 red
          A3: {area: side bed, box: VB-2, hot: K1 red} # <- error conductor-used-twice @ K1 red
    """)


def test_what_is_written_twice_is_told_twice_but_not_as_of_two_stations() -> None:
    found = assert_problems("""
        stations:
          A1:
            area: front lawn
            box: VB-1
            hot:
              - K1 red
              - K1 red # <- error conductor-used-twice @ K1 red
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
          A3: {area: side bed, box: VB-2, hot: K1 red} # <- error conductor-used-twice @ K1 red
    """)
    assert [p.sentence for p in found] == [
        "conductor 'K1 red' is given to A1 twice",
        "conductor 'K1 red' is given to A1 and to A3",
    ]


def test_a_common_given_to_a_station() -> None:
    found = assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 white}
        controllers:
          A:
            place: garage wall
            supply: 24 V AC
            stations: 8
            coil: usual
            common: K1 white # <- error conductor-used-twice @ K1 white
    """)
    assert "to the common of A" in found[0].sentence


def test_one_common_given_to_two_controllers_is_one_fault() -> None:
    assert_problems(
        """
        controllers:
          A: {place: garage, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
          B:
            place: pump house
            supply: 24 V AC
            stations: 8
            coil: usual
            common: K1 white # <- error conductor-used-twice @ K1 white
    """,
        "two controllers",
    )


def test_the_same_color_in_another_cable() -> None:
    assert_problems("""
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 5 ft, VB-1, 6 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [white, red], run: [A, 85 ft, VB-2]}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K2 red} # <- note ways-apart @ A2
    """)


def test_a_conductor_used_again_beyond_the_box_where_it_is_cut() -> None:
    assert_problems("""
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [black, green, gray], run: [A, 85 ft, VB-1]}
        boxes:
          VB-1: {place: front walk} # <- note color-change @ VB-1
          VB-2: {place: front bed}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: [K2 green, K1 red]}
    """)


def test_a_color_that_changes_in_a_splice_box_is_a_note() -> None:
    found = assert_problems(
        SPLICE % CHANGE
        + """
stations:
  A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 green]}
  A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 orange]}
"""
    )
    assert found[0].sentence == "colors change in 'SB-1': red to green (A1), blue to orange (A2)"


def test_a_hot_that_goes_on_thicker_in_the_same_color() -> None:
    assert_problems("""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, SB-1]}
          K2:
            singles:
              - {color: red, gauge: 14 AWG, flags: A1}
              - {color: blue, gauge: 14 AWG, flags: A2}
              - {color: white, gauge: 12 AWG}
            run: [SB-1, 60 ft, VB-1, 60 ft, VB-2]
        boxes: {SB-1: {kind: splice box}, VB-1: {place: walk}, VB-2: {place: bed}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 red A1]}
          A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue A2]}
    """)


def test_a_hot_named_at_the_controller_only_is_followed_through_written_joints() -> None:
    assert_problems(
        SPLICE % ""
        + """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
joints:
  SB-1: # <- note color-change @ SB-1
    - [K1 white, K2 white]
    - [K1 red, K2 green]
    - [K1 blue, K2 orange]
"""
    )


def test_hots_of_one_color_with_flags_are_a_note() -> None:
    found = assert_problems("""
        cables:
          K1: # <- note told-apart-by-flags @ K1
            singles:
              - {color: red, gauge: 14 AWG, flags: [A1, A2, SP]}
              - {color: white, gauge: 14 AWG}
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red A1}
          A2: {area: side lawn, box: VB-2, hot: K1 red A2}
    """)
    assert found[0].sentence.startswith("in K1 the hots of A1 and A2 are all red")


def test_one_flagged_hot_needs_no_note() -> None:
    assert_problems("""
        cables:
          K1:
            singles:
              - {color: red, gauge: 14 AWG, flags: A1}
              - {color: blue, gauge: 14 AWG, flags: A2}
              - {color: white, gauge: 14 AWG}
              - {color: tan, gauge: 14 AWG}
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red A1}
          A2: {area: side lawn, box: VB-2, hot: K1 blue A2}
    """)


def test_a_spare_that_is_in_use() -> None:
    text = """\
spares:
  SP-1: {conductor: K1 red, to: VB-2} # <- error spare-in-use @ K1 red
  SP-2: {conductor: K1 yellow, to: VB-2}
"""
    found = assert_problems(text)
    assert found[0].sentence == "SP-1 is no longer spare: 'K1 red' serves A1"
    (also,) = found[0].also
    assert also.text == "used here, for A1"
    assert " A1: " in completed(text).splitlines()[also.span.line - 1]


def test_two_spares_in_use() -> None:
    assert_problems("""
        spares:
          SP-1: {conductor: K1 red, to: VB-2} # <- error spare-in-use @ K1 red
          SP-2: {conductor: K1 white, to: VB-2} # <- error spare-in-use @ K1 white
    """)


def test_a_spare_tied_to_a_live_hot_by_a_joint() -> None:
    assert_problems("""
        spares: {SP-1: {conductor: K1 green}} # <- error spare-in-use @ K1 green
        joints:
          VB-2:
            - [K1 white, A2]
            - [K1 blue, A2, K1 green]
    """)


def test_a_spare_tied_to_a_common_by_a_joint() -> None:
    assert_problems("""
        spares: {SP-1: {conductor: K1 green}} # <- error spare-in-use @ K1 green
        joints:
          VB-2:
            - [K1 white, A2, K1 green]
            - [K1 blue, A2]
    """)


def test_a_spare_in_use_does_not_hide_a_fault_of_the_station_that_uses_it() -> None:
    assert_problems("""
        spares: {SP-1: {conductor: K1 red}} # <- error spare-in-use @ K1 red
        joints:
          VB-1:
            - [K1 red in, A1, A1] # <- error coil-bridged @ [
            - [K1 white]
    """)


def test_one_conductor_listed_as_two_spares() -> None:
    assert_problems("""
        spares:
          SP-1: {conductor: K1 green, to: VB-2}
          SP-2: {conductor: K1 green, to: VB-1} # <- warning spare-listed-twice @ K1 green
    """)


CHAIN = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green, tan], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [black, green, tan], run: [VB-2, 60 ft, VB-3]}
boxes:
  VB-1: {place: front walk}
  VB-2: {place: front bed}
  VB-3: {kind: pull box}
"""


def test_a_spare_that_does_not_reach_the_box_where_it_is_promised() -> None:
    found = assert_problems(
        CHAIN
        + """
spares:
  SP-1: {conductor: K1 green, to: VB-3} # <- warning spare-stops-short @ VB-3
"""
    )
    assert found[0].sentence == "SP-1 is reserved as far as 'VB-3' but ends in 'VB-2'"


def test_a_spare_carried_on_by_a_second_cable() -> None:
    assert_problems(CHAIN + "spares: {SP-1: {conductor: [K1 green, K2 green], to: VB-3}}")


def test_a_spare_carried_on_by_a_second_cable_and_not_joined() -> None:
    assert_problems(
        CHAIN
        + """
spares:
  SP-1: {conductor: [K1 green, K2 green], to: VB-3} # <- warning spare-stops-short @ K2 green
joints:
  VB-2:
    - [K1 white, A2]
    - [K1 blue, A2]
"""
    )


def test_two_spares_tied_together() -> None:
    assert_problems(
        CHAIN
        + """
spares:
  SP-1: {conductor: K1 green}
  SP-2: {conductor: K1 tan}
joints:
  VB-2:
    - [K1 white, A2]
    - [K1 blue, A2]
    - [K1 green, K1 tan] # <- warning spares-tied @ [
"""
    )


def test_spares_of_one_color_in_two_cables() -> None:
    assert_problems(
        CHAIN
        + """
spares:
  SP-1: {conductor: K1 green}
  SP-2: {conductor: K2 green}
"""
    )


def test_a_home_run_with_every_conductor_in_use() -> None:
    found = assert_problems("""
        cables:
          K1: # <- warning no-spare @ K1
            gauge: 18 AWG
            colors: [white, red, blue]
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
    """)
    assert found[0].sentence == "all 3 conductors of K1 are in use: no spare on this home run"


def test_a_cable_that_is_no_home_run_says_nothing_of_those_after_it() -> None:
    assert_problems("""
        controllers:
          A:
            place: garage wall
            supply: 24 V AC
            stations: 8
            coil: usual
            common: [K1 white, K2 white]
        cables:
          K2: {gauge: 18 AWG, colors: [white, blue], run: [VB-1, 60 ft, VB-2]}
          K1: # <- warning no-spare @ K1
            gauge: 18 AWG
            colors: [white, red, blue]
            run: [A, 85 ft, VB-1]
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue]}
    """)


def test_a_spare_on_which_a_hot_rides_for_one_leg() -> None:
    """Promised only as far as it is free, it is free."""
    text = """
        boxes: {VB-1: {kind: pull box}, VB-2: {place: bed}}
        stations: {A2: {area: side lawn, box: VB-2, hot: K1 blue}}
        spares: {SP-1: {conductor: K1 green, to: %s}}%s
        joints:
          VB-1: # <- note color-change @ VB-1
            - [K1 blue in, K1 green out]
          VB-2:
            - [K1 green, A2]
            - [K1 white, A2]
    """
    found = assert_problems(
        (text % ("VB-2", " # <- error spare-in-use @ K1 green")).replace(
            "VB-1: # <- note", "VB-1: # <- note dead-stretch @ VB-1 & note"
        )
    )
    (problem,) = (p for p in found if p.code == "spare-in-use")
    assert problem.sentence == "SP-1 is no longer spare: 'K1 green' serves A2"
    assert problem.help.endswith("or reserve it only to 'VB-1'")
    assert_problems(
        (text % ("VB-1", "")).replace(
            "VB-1: # <- note", "VB-1: # <- note dead-stretch @ VB-1 & note"
        )
    )


def test_a_conductor_that_a_joint_makes_live_is_offered_to_nobody() -> None:
    found = assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
          A3: {area: side bed, box: VB-2, hot: K1 blue} # <- error conductor-used-twice @ K1 blue
        joints:
          VB-1:
            - [K1 white, A1]
            - [K1 red in, K1 green, A1] # <- warning live-stub @ [
    """)
    assert found[0].help == "spare in this cable: yellow"


def test_a_home_run_whose_only_spare_is_on_c() -> None:
    found = assert_problems("""
        controllers:
          A: # <- note several-commons @ A
            {place: garage wall, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
        cables:
          K1: # <- warning no-spare @ K1
            gauge: 18 AWG
            colors: [white, red, blue, tan]
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
        joints:
          A:
            - [C, K1 white, K1 tan]
            - [1, K1 red]
            - [2, K1 blue]
    """)
    assert found[1].sentence == "all 4 conductors of K1 are in use: no spare on this home run"


def test_one_conductor_twice_in_one_list() -> None:
    found = assert_problems("""
        stations:
          A1:
            area: front lawn
            box: VB-1
            hot:
              - K1 red
              - K1 red # <- error conductor-used-twice @ K1 red
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        spares:
          SP-1:
            conductor:
              - K1 green
              - K1 green # <- error conductor-used-twice @ K1 green
    """)
    assert [p.sentence for p in found] == [
        "conductor 'K1 red' is given to A1 twice",
        "conductor 'K1 green' is given to SP-1 twice",
    ]


def test_one_conductor_twice_in_a_common() -> None:
    assert_problems("""
        controllers:
          A:
            place: garage wall
            supply: 24 V AC
            stations: 8
            coil: usual
            common:
              - K1 white
              - K1 white # <- error conductor-used-twice @ K1 white
    """)


def test_a_spare_on_a_terminal_of_its_own_is_still_a_spare() -> None:
    assert_problems("""
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 8 ft, VB-1, 6 ft, VB-2]}
        spares: {SP-1: {conductor: K1 tan, to: VB-2}}
        joints:
          A:
            - [C, K1 white]
            - [1, K1 red]
            - [2, K1 blue]
            - [7, K1 tan]
    """)


def test_a_spare_that_a_joint_cuts_short() -> None:
    text = """
        spares: {SP-1: {conductor: K1 green, to: %s}}%s
        joints:
          VB-1:
            - [K1 white, A1]
            - [K1 red in, A1]
            - [K1 green in, K1 yellow out]
    """
    found = assert_problems(text % ("VB-2", " # <- warning spare-stops-short @ K1 green"))
    assert found[0].sentence == "SP-1 stops: K1 green is cut in 'VB-1'"
    assert_problems(text % ("VB-1", ""))


def test_a_spare_of_which_one_conductor_is_named_wrongly_is_told_of_that_alone() -> None:
    """What it stands for may join the other two; the next spare is told all the same."""
    assert_problems("""
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1, 9 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [pink, tan], run: [VB-2, 60 ft, SB-3]}
          K3: {gauge: 18 AWG, colors: [pink, tan], run: [SB-3, 60 ft, SB-4]}
        boxes: {VB-1: {}, VB-2: {}, SB-3: {kind: splice box}, SB-4: {kind: splice box}}
        spares:
          SP-1:
            conductor:
              - K1 green
              - K2 pinc # <- error no-such-conductor @ K2 pinc
              - K3 pink
            to: SB-4
          SP-2: {conductor: [K2 tan, K3 tan], to: SB-4} # <- warning spare-stops-short @ K3 tan
        joints:
          SB-3: [[K2 pink, K3 pink]]
    """)


def test_a_second_conductor_of_a_spare_that_is_cut_is_told_behind_a_whole_one() -> None:
    found = assert_problems("""
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1, 9 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [pink, tan], run: [VB-2, 60 ft, SB-3, 60 ft, SB-4]}
        boxes:
          VB-1: {place: walk}
          VB-2: {place: bed} # <- note color-change @ VB-2
          SB-3: {kind: splice box}
          SB-4: {kind: splice box}
        spares:
          SP-1:
            conductor:
              - K1 green
              - K2 pink # <- warning spare-stops-short @ K2 pink
            to: SB-4
        joints:
          SB-3: [[K2 pink in], [K2 tan]]
    """)
    assert found[1].sentence == "SP-1 stops: K2 pink is cut in 'SB-3'"
