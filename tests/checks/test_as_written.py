"""What is written as a hot or a common against what the joints make of it."""

from __future__ import annotations

from textwrap import dedent

from cardgen.problems import Verdict
from tests.checks.bases import completed
from tests.checks.trench import assert_problems
from tests.jobs import examined

SPLICE = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, SB-1]}
  K2: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [SB-1, 60 ft, VB-1, 60 ft, VB-2]}
boxes:
  SB-1: {kind: splice box}
  VB-1: {place: front walk}
  VB-2: {place: front bed}
"""
JOINTS = """
joints:
  SB-1:
    - [K1 white, K2 white]
    - [K1 red, K2 red]
    - [K1 blue, K2 blue]
"""
VALVES = """\
  VB-1:
    - [K2 white in, K2 white out, A1]
    - [K2 red in, A1]
  VB-2:
    - [K2 white, A2]
    - [K2 blue, A2]
"""


def test_a_hot_that_names_all_or_only_the_first_of_its_conductors() -> None:
    assert_problems(
        SPLICE
        + JOINTS
        + """
stations:
  A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 red]}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""
    )


def test_a_hot_that_names_a_free_conductor() -> None:
    found = assert_problems(
        SPLICE
        + JOINTS
        + VALVES
        + """
stations:
  A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 tan]} # <- error not-as-joined @ K2 tan
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""
    )
    assert found[0].sentence == (
        "K2 tan, written as the hot of A1, is joined with nothing that is in use "
        "by the joints of 'SB-1'"
    )
    assert found[0].help == (
        "the circuit works: correct the record, 'hot: [K1 red, K2 red]' for A1, "
        "or correct the joints of 'SB-1'"
    )


def test_two_hots_that_name_the_second_conductor_of_each_other() -> None:
    found = assert_problems(
        SPLICE
        + """
stations:
  A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 blue]} # <- error not-as-joined @ K2 blue
  A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 red]}
"""
        + JOINTS
        + VALVES
    )
    assert found[0].sentence == (
        "K2 blue, written as the hot of A1, is that of A2, K2 red of A2 is that of A1 "
        "by the joints of 'SB-1'"
    )
    assert found[0].help == (
        "the circuits work: correct the record, 'hot: [K1 red, K2 red]' for A1 and "
        "'hot: [K1 blue, K2 blue]' for A2, or move both in 'SB-1'"
    )


def test_two_exchanges_that_cancel_each_other() -> None:
    """At the terminals and again at the valves: both open as they should."""
    found = assert_problems("""
        boxes: {VB-1: {place: walk}}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1]}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red} # <- error not-as-joined @ K1 red
          A2: {area: side lawn, box: VB-1, hot: K1 blue}
        joints:
          A:
            - [C, K1 white]
            - [1, K1 blue]
            - [2, K1 red]
          VB-1:
            - [K1 white, A1, A2]
            - [K1 blue, A1]
            - [K1 red, A2]
    """)
    assert found[0].sentence == (
        "K1 red, written as the hot of A1, is that of A2, K1 blue of A2 is that of A1 "
        "by the joints of 'A'"
    )
    assert found[0].help == (
        "the circuits work: correct the record, 'hot: K1 blue' for A1 and 'hot: K1 red' for A2, "
        "or move both in 'A'"
    )


def test_a_second_conductor_of_the_same_cable_that_nothing_takes() -> None:
    found = assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: lawn, box: VB-2, hot: [K1 blue, K1 green]} # <- error hot-unclear @ K1 green
    """)
    assert found[0].sentence == "K1 green runs beside K1 blue from 'A' on"
    assert found[0].help == "say from which box it takes over: 'K1 green from VB-1'"


def test_a_common_that_the_joints_do_not_join() -> None:
    found = assert_problems("""
        controllers:
          A:
            place: garage wall
            supply: 24 V AC
            stations: 8
            coil: usual
            common: [K1 white, K1 green] # <- error not-as-joined @ K1 green
        joints:
          A:
            - [C, K1 white]
            - [1, K1 red]
            - [2, K1 blue]
          VB-1:
            - [K1 white in, K1 white out, A1]
            - [K1 red in, A1]
          VB-2:
            - [K1 white, A2]
            - [K1 blue, A2]
    """)
    assert found[0].sentence == (
        "K1 green, written as the common of A, is joined with nothing that is in use by the joints"
    )


def test_the_return_of_a_master_valve_that_names_another_conductor() -> None:
    found = assert_problems("""
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, green, yellow, tan, pink]
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
        controllers:
          A: # <- note several-commons @ A
            {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
        master valves:
          MV-1: # <- note master-valve @ MV-1
            {controllers: A, box: VB-1, hot: K1 green,
            return: K1 tan} # <- error not-as-joined @ K1 tan
        joints:
          A:
            - [C, K1 white, K1 yellow]
            - [1, K1 red]
            - [2, K1 blue]
            - [MV, K1 green]
          VB-1:
            - [K1 white in, K1 white out, A1]
            - [K1 red in, A1]
            - [K1 green in, MV-1]
            - [K1 yellow in, MV-1]
    """)
    assert found[2].sentence.startswith("K1 tan, written as the return of MV-1, is joined with")
    assert "'return: K1 yellow' for MV-1" in found[2].help


def errors_of(snippet: str) -> list[str]:
    found = examined(completed(dedent(snippet).lstrip("\n"), "plain")).problems
    return [f"{p.code}: {p.sentence}" for p in found if p.verdict is Verdict.ERROR]


def test_a_return_that_goes_on_by_the_color_of_the_common() -> None:
    """The common ends in VB-1, where its color is free for the return: no leg serves both."""
    found = errors_of("""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
        master valves:
          MV-A: {controllers: A, box: VB-2, hot: K1 green, return: K1 yellow}
        joints:
          A:
            - [C, K1 white, K1 yellow]
            - [1, K1 red]
            - [MV, K1 green]
          VB-1:
            - [K1 white in, A1]
            - [K1 red in, A1]
            - [K1 yellow in, K1 white out]
          VB-2:
            - [K1 white, MV-A]
            - [K1 green, MV-A]
    """)
    assert found == []


def test_a_joint_left_out_where_colors_are_exchanged() -> None:
    """Blue beyond VB-1 is the hot of A1, by the joints; A2's is cut there, which is the fault."""
    found = errors_of("""
        stations:
          A1: {area: front lawn, box: VB-2, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        joints:
          A:
            - [C, K1 white]
            - [1, K1 red]
            - [2, K1 blue]
          VB-1:
            - [K1 red in, K1 blue out]
          VB-2:
            - [K1 white, A1, A2]
            - [K1 blue, A1]
            - [K1 red, A2]
    """)
    assert found == [
        "hot-stops: A2's hot leaves on K1 blue and stops in 'VB-1'; nothing carries it to 'VB-2'"
    ]


def test_a_lead_left_out_where_a_common_goes_on_by_another_color() -> None:
    """White beyond VB-1 is the hot of A2, by the joints, whatever else is open."""
    found = errors_of("""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        joints:
          A:
            - [C, K1 white]
            - [1, K1 red]
            - [2, K1 blue]
          VB-1:
            - [K1 white in, K1 green out]
            - [K1 red in, A1]
            - [K1 blue in, K1 white out]
          VB-2:
            - [K1 green, A2]
            - [K1 white, A2]
    """)
    assert found == ["lead-in-no-joint: the joints of 'VB-1' leave out a lead of A1"]


def test_what_is_the_common_by_the_joints_is_told_by_what_it_was_written_as() -> None:
    """As a hot it is the common; as a common it is one that its own valve does not return on."""
    yard = """
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1]}
          K2: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [VB-1, 60 ft, VB-2]}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue]%s}
        joints:
          VB-1:
            - [K1 white, A1, %s]
            - [K1 red, A1]
            - [K1 blue, %s]
          VB-2:
            - [%s, A2]
            - [%s, A2]
    """
    as_hot = yard % ("", "K2 blue", "K2 red", "K2 red", "K2 blue")
    as_common = yard % (", common: K2 red", "K2 red, K2 white", "K2 blue", "K2 blue", "K2 white")
    assert [*errors_of(as_hot), *errors_of(as_common)] == [
        (
            "not-as-joined: K2 blue, written as the hot of A2, is the common of A by the joints "
            "of 'VB-1'"
        ),
        "not-as-joined: K2 red, written as the common of A2, is not on the return of its valve",
    ]


def test_a_return_of_its_own_may_be_listed_as_a_common() -> None:
    """It lands on C as a common does, so nobody is told that it is none."""
    found = assert_problems("""
        controllers:
          A:
            place: hut
            supply: 24 V AC
            stations: 8
            coil: usual
            common:
              - K1 white
              - K1 green # <- note several-commons @ K1 green
        master valves:
          MV: # <- note master-valve @ MV
            {controllers: A, box: VB-2, hot: K1 yellow, return: K1 green}
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, green, yellow, tan]
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
    """)
    assert found[0].sentence.startswith("1 common and 1 return go to C of A")
