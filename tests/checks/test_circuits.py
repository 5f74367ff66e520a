"""The circuit of each coil: by its own joints."""

from __future__ import annotations

from tests.checks.trench import assert_problems

BOTH = """
boxes: {VB-2: {place: front bed}}
stations:
  A1: {area: front lawn, box: VB-2, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green, yellow], run: [A, 85 ft, VB-2]}
joints:
  VB-2:
"""


def test_joints_that_are_right() -> None:
    assert_problems(
        BOTH
        + """
    - [K1 red, A1]
    - [K1 blue, A2]
    - [K1 white, A1, A2]
"""
    )


def test_a_conductor_that_no_joint_names_passes_uncut() -> None:
    assert_problems("""
        joints:
          VB-1:
            - [K1 red in, A1]
            - [K1 white in, K1 white out, A1]
    """)


def test_two_hots_crossed_in_a_box_are_one_fault() -> None:
    found = assert_problems(
        BOTH
        + """
    - [K1 red, A2] # <- error hot-crossed @ [
    - [K1 blue, A1]
    - [K1 white, A1, A2]
"""
    )
    assert found[0].sentence == (
        "A1's valve is on the hot of A2, A2's valve is on the hot of A1: crossed in 'VB-2'"
    )


def test_a_valve_between_two_hots() -> None:
    found = assert_problems(
        BOTH
        + """
    - [K1 red, A1]
    - [K1 blue, A2, A1] # <- error valve-between-hots @ [
    - [K1 white, A2]
"""
    )
    assert found[0].sentence == "A1 is between its own hot and the hot of A2: it has no common"


def test_two_valves_of_a_twin_in_series() -> None:
    found = assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: # <- note twin @ A2
            area: side lawn
            hot: K1 blue
            valves: {A2a: {box: VB-2}, A2b: {box: VB-2}}
        joints:
          VB-2:
            - [K1 blue, A2a]
            - [A2a, A2b] # <- error coils-in-series @ [
            - [K1 white, A2b]
    """)
    assert found[1].sentence == "A2a and A2b are wired in series"


def test_the_valves_of_two_stations_in_series() -> None:
    assert_problems(
        BOTH
        + """
    - [K1 red, A1]
    - [A1, A2] # <- error coils-in-series @ [
    - [K1 white, A2]
"""
    )


def test_a_valve_lead_left_out() -> None:
    found = assert_problems("""
        joints:
          VB-1: # <- error lead-in-no-joint @ VB-1
            - [K1 red in, A1]
            - [K1 white in, K1 white out]
    """)
    assert found[0].sentence == "the joints of 'VB-1' leave out a lead of A1"


def test_a_valve_left_out_and_another_too() -> None:
    assert_problems("""
        joints:
          VB-1: # <- error lead-in-no-joint @ VB-1
            - [K1 white]
          VB-2: # <- error lead-in-no-joint @ VB-2
            - [K1 white]
    """)


def test_leads_left_out_of_one_box_are_told_at_once() -> None:
    found = assert_problems("""
        boxes: {VB-2: {place: front bed}}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, green, yellow], run: [A, 85 ft, VB-2]}
        stations:
          A1: {area: front lawn, box: VB-2, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        joints:
          VB-2: # <- error lead-in-no-joint @ VB-2
            - [K1 red, A1]
            - [K1 blue, A2]
    """)
    assert found[0].sentence == "the joints of 'VB-2' leave out a lead each of A1 and A2"


def test_a_twin_whose_hot_is_not_joined_is_told_once() -> None:
    found = assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: # <- note twin @ A2
            area: side lawn
            hot: K1 blue
            valves: {A2a: {box: VB-2}, A2b: {box: VB-2}}
        joints:
          VB-2:
            - [K1 green, A2a, A2b] # <- error hot-stops @ [
            - [K1 white, A2a, A2b]
    """)
    assert found[1].sentence == "A2's hot K1 blue reaches 'VB-2' and is not joined with A2a and A2b"


def test_both_leads_in_one_joint() -> None:
    assert_problems("""
        joints:
          VB-1:
            - [K1 red in, A1, A1] # <- error coil-bridged @ [
            - [K1 white]
    """)


def test_a_lead_on_a_conductor_that_leads_nowhere_instead_of_the_hot() -> None:
    found = assert_problems("""
        joints:
          VB-1:
            - [K1 green in, A1] # <- error hot-stops @ [
            - [K1 white, A1]
    """)
    assert found[0].sentence == "A1's hot K1 red reaches 'VB-1' and is not joined with A1"


def test_a_lead_on_a_conductor_that_leads_nowhere_instead_of_the_common() -> None:
    found = assert_problems("""
        joints:
          VB-1:
            - [K1 red in, A1]
            - [K1 white]
            - [K1 green in, A1] # <- error common-stops @ [
    """)
    assert found[0].sentence == (
        "in 'VB-1' a lead of A1 is not on the common of A: A1 has no return"
    )


def test_both_leads_on_the_conductors_of_another_station() -> None:
    assert_problems("""
        boxes: {VB-2: {place: front bed}}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, green, yellow], run: [A, 85 ft, VB-2]}
        stations:
          A1: {area: front lawn, box: VB-2, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        joints:
          VB-2:
            - [K1 blue, A2, A1]
            - [K1 green, A1] # <- error on-other-circuit @ [
            - [K1 white, A2]
    """)


def test_a_return_on_the_common_of_another_controller() -> None:
    found = assert_problems(
        """
        joints:
          VB-2:
            - [K2 gray, A2] # <- error return-on-other-common @ [
            - [K1 blue, A2]
    """,
        "two controllers",
    )
    assert found[0].sentence == "in 'VB-2' A2 returns on the common of B"


def test_two_returns_on_one_wrong_common_are_one_fault() -> None:
    assert_problems(
        """
        boxes: {VB-2: {place: front bed}, VB-3: {place: back lawn}}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [gray, brown, tan], run: [B, 140 ft, VB-3, 90 ft, VB-2]}
        stations:
          A1: {area: front lawn, box: VB-2, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
          B1: {area: back lawn, box: VB-3, hot: K2 brown}
        joints:
          VB-2:
            - [K2 gray, A2, A1] # <- error return-on-other-common @ [
            - [K1 blue, A2]
            - [K1 red, A1]
    """,
        "two controllers",
    )


def test_a_common_going_on_from_a_splice_box_on_a_hot() -> None:
    found = assert_problems("""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, SB-1]}
          K2: {gauge: 18 AWG, colors: [white, red, blue], run: [SB-1, 60 ft, VB-1, 60 ft, VB-2]}
        boxes: {SB-1: {kind: splice box}, VB-1: {place: walk}, VB-2: {place: bed}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 red]}
          A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue]}
        joints:
          SB-1:
            - [K1 red, K2 white] # <- error common-on-hot @ [
            - [K1 white, K2 red]
            - [K1 blue, K2 blue]
    """)
    assert found[0].sentence == (
        "in 'SB-1' the common of A going on is joined with the hot of A1: "
        "A2 does not return to C of A"
    )
