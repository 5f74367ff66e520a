"""What many stations share: cables, commons, terminals."""

from __future__ import annotations

from tests.checks.trench import assert_problems

AT_A = """
joints:
  A:
"""
TWO_COMMONS = """
controllers:
  A:
    place: garage
    supply: 24 V AC
    stations: 8
    coil: usual
    common:
      - K1 white
      - K2 gray%s
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1]}
  K2: {gauge: 18 AWG, colors: [gray, brown, black, orange], run: [A, 85 ft, VB-2]}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K2 brown}
  A3: {area: back lawn, box: VB-2, hot: K2 black}
"""


def test_a_controller_wired_as_it_should_be() -> None:
    assert_problems(AT_A + "    - [C, K1 white]\n    - [1, K1 red]\n    - [2, K1 blue]\n")


def test_a_common_exchanged_with_a_hot_at_the_terminals() -> None:
    found = assert_problems(
        AT_A
        + """
    - [2, K1 white] # <- error common-on-wrong-terminal @ [
    - [1, K1 red]
    - [C, K1 blue]
"""
    )
    assert found[0].sentence == "the common K1 white is on terminal 2 of A, not on C"
    assert found[0].help == "K1 blue is on C in its place: swap them"


def test_a_common_on_the_master_valve_terminal() -> None:
    assert_problems(
        AT_A
        + """
    - [MV, K1 white] # <- error common-on-wrong-terminal @ [
    - [1, K1 red]
    - [2, K1 blue]
"""
    )


def test_a_common_that_is_not_landed() -> None:
    found = assert_problems(
        """
joints:
  A: # <- error common-not-landed @ A
    - [1, K1 red]
    - [2, K1 blue]
"""
    )
    assert found[0].sentence == "K1 white is not on C of A: A1 and A2 have no return"


def test_a_second_common_that_is_not_landed_names_its_stations_only() -> None:
    found = assert_problems(
        TWO_COMMONS % ""
        + """
joints:
  A: # <- error common-not-landed @ A
    - [C, K1 white]
    - [1, K1 red]
    - [2, K2 brown]
    - [3, K2 black]
"""
    )
    assert found[0].sentence == "K2 gray is not on C of A: A2 and A3 have no return"


def test_two_stations_exchanged_at_the_terminals() -> None:
    found = assert_problems(
        AT_A
        + """
    - [C, K1 white]
    - [2, K1 red] # <- error hot-on-wrong-terminal @ [
    - [1, K1 blue]
"""
    )
    assert found[0].sentence == (
        "K1 red of A1 is on terminal 2 of A, not on 1; K1 blue of A2 is on 1, not on 2"
    )


def test_a_hot_on_a_free_terminal() -> None:
    assert_problems(
        AT_A
        + """
    - [C, K1 white]
    - [1, K1 red]
    - [3, K1 blue] # <- error hot-on-wrong-terminal @ [
"""
    )


def test_two_hots_on_one_terminal() -> None:
    assert_problems(
        AT_A
        + """
    - [C, K1 white]
    - [1, K1 red, K1 blue] # <- error hot-on-wrong-terminal @ [
"""
    )


def test_a_hot_that_is_not_landed() -> None:
    found = assert_problems(
        """
joints:
  A: # <- error hot-not-landed @ A
    - [C, K1 white]
    - [1, K1 red]
"""
    )
    assert found[0].sentence == "the joints of 'A' land no hot for A2"
    assert found[0].help == "land K1 blue on 2"


def test_a_hot_on_the_common_terminal() -> None:
    assert_problems(
        AT_A
        + """
    - [C, K1 white, K1 blue] # <- error hot-on-wrong-terminal @ [
    - [1, K1 red]
"""
    )


def test_hots_joined_on_the_way() -> None:
    found = assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-2, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        boxes: {VB-1: {kind: pull box}, VB-2: {place: bed}}
        joints:
          VB-1:
            - [K1 red, K1 blue] # <- error hots-joined @ [
    """)
    assert found[0].sentence == "the hots of A1 and A2 are joined in 'VB-1'"


def test_a_hot_joined_with_its_common_on_the_way() -> None:
    found = assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-2, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        boxes: {VB-1: {kind: pull box}, VB-2: {place: bed}}
        joints:
          VB-1:
            - [K1 red, K1 white] # <- error hot-on-common @ [
    """)
    assert found[0].sentence == "the hot of A1 and the common of A are joined in 'VB-1'"


def test_two_hots_joined_with_the_common_are_one_fault() -> None:
    found = assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-2, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        boxes: {VB-1: {kind: pull box}, VB-2: {place: bed}}
        joints:
          VB-1:
            - [K1 red, K1 white, K1 blue] # <- error hot-on-common @ [
    """)
    assert found[0].sentence.startswith("the hots of A1 and A2 and the common of A")


def test_a_hot_joined_with_the_common_of_another_controller() -> None:
    found = assert_problems(
        """
        joints:
          VB-2:
            - [K1 white, A2]
            - [K1 blue, A2, K2 gray] # <- error hot-on-common @ [
    """,
        "two controllers",
    )
    assert found[0].sentence == "the hot of A2 and the common of B are joined in 'VB-2'"


def test_the_commons_of_two_controllers_joined() -> None:
    found = assert_problems(
        """
        joints:
          VB-2:
            - [K1 white, A2, K2 gray] # <- error commons-joined @ [
            - [K1 blue, A2]
    """,
        "two controllers",
    )
    assert found[0].sentence == "the commons of A and B are joined in 'VB-2'"


def test_the_commons_joined_in_two_boxes_are_two_faults() -> None:
    assert_problems(
        """
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 5 ft, VB-1, 60 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [gray, brown, tan], run: [B, 9 ft, VB-1, 90 ft, VB-2]}
        boxes: {VB-1: {kind: pull box}, VB-2: {place: bed}}
        stations:
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        joints:
          VB-1:
            - [K1 white, K2 gray] # <- error commons-joined @ [
          VB-2:
            - [K1 white, A2, K2 gray] # <- error commons-joined @ [
            - [K1 blue, A2]
    """,
        "two controllers",
    )


def test_joined_commons_do_not_hide_a_return_on_the_wrong_one() -> None:
    assert_problems(
        """
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 5 ft, VB-1, 60 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [gray, brown, tan], run: [B, 9 ft, VB-1, 90 ft, VB-2]}
        boxes: {VB-1: {kind: pull box}, VB-2: {place: bed}}
        stations:
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        joints:
          VB-1:
            - [K1 white, K2 gray] # <- error commons-joined @ [
          VB-2:
            - [K2 gray, A2] # <- error return-on-other-common @ [
            - [K1 blue, A2]
    """,
        "two controllers",
    )


def test_a_cable_to_which_nothing_comes() -> None:
    found = assert_problems("""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1]}
          K2:
            gauge: 18 AWG
            colors: [white, red, blue]
            run:
              - SB-1 # <- error cable-cut-off @ SB-1
              - 60 ft
              - VB-2
        boxes: {SB-1: {kind: splice box}, VB-1: {place: walk}, VB-2: {place: bed}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue]}
          A3: {area: side bed, box: VB-2, hot: [K1 tan, K2 red]}
    """)
    assert found[0].sentence == (
        "no cable from a controller reaches 'SB-1' or any other place of K2"
    )


def test_what_to_move_before_joined_commons_are_parted() -> None:
    """A2 works today only because the two commons touch in VB-1."""
    found = assert_problems(
        """
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 5 ft, VB-1, 60 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [gray, brown, tan], run: [B, 9 ft, VB-1, 90 ft, VB-2]}
        boxes: {VB-1: {kind: pull box}, VB-2: {place: bed}}
        stations:
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        joints:
          VB-1:
            - [K1 white, K2 gray] # <- error commons-joined @ [
          VB-2:
            - [K2 gray, A2] # <- error return-on-other-common @ [
            - [K1 blue, A2]
    """,
        "two controllers",
    )
    assert found[0].help == (
        "lock off A and B and prove dead with the meter first, for a stopped controller can be fed "
        "backward through its transformer; then separate them: each controller keeps its own "
        "common, in its own connector; first move the lead of A2 in 'VB-2', or it "
        "goes dead when they are separated"
    )


def test_two_groups_of_cables_to_which_nothing_comes_are_told_one_by_one() -> None:
    """K2 and K3 hang together, K4 by itself."""
    assert_problems("""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1]}
          K2:
            gauge: 18 AWG
            colors: [white, red]
            run:
              - SB-1 # <- error cable-cut-off @ SB-1
              - 60 ft
              - SB-2
          K3: {gauge: 18 AWG, colors: [blue, tan], run: [SB-2, 60 ft, SB-3]}
          K4:
            gauge: 18 AWG
            colors: [white, red]
            run:
              - SB-4 # <- error cable-cut-off @ SB-4
              - 60 ft
              - SB-5
        boxes:
          VB-1: {place: walk}
          SB-1: {kind: splice box}
          SB-2: {kind: splice box}
          SB-3: {kind: splice box}
          SB-4: {kind: splice box}
          SB-5: {kind: splice box}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
        spares: {}
    """)
