"""What hangs on each terminal."""

from __future__ import annotations

import re

from tests.checks.trench import assert_problems
from tests.for_each import for_each


def controller(extra: str, mark: str = "") -> str:
    return f"""
controllers:
  A:
    place: garage wall
    supply: 24 V AC
    stations: 8
    coil: usual
    common: K1 white
    {extra}{mark}
"""


TWIN = """
stations:
  A2: # <- %s
    area: side lawn
    hot: K1 blue
    valves: {A2a: {box: VB-1}, A2b: {box: VB-%s}}
"""
IN_ONE = "note twin @ A2"
IN_TWO = "note twin-in-two-boxes @ A2"


def test_a_terminal_beyond_the_last() -> None:
    found = assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A9: {area: side lawn, box: VB-2, hot: K1 blue} # <- error no-such-terminal @ A9
    """)
    assert found[0].help == "A has C, 1 to 8, MV and SEN"


def test_two_terminals_beyond_the_last() -> None:
    assert_problems("""
        stations:
          A9: {area: front lawn, box: VB-1, hot: K1 red} # <- error no-such-terminal @ A9
          A2:
            area: side lawn
            box: VB-2
            hot: K1 blue
            terminal: 12 # <- error no-such-terminal @ 12
    """)


def test_two_stations_on_one_terminal() -> None:
    assert_problems("""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A-1: {area: side lawn, box: VB-2, hot: K1 blue} # <- error terminal-used-twice @ A-1
    """)


def test_unused_terminals_linked_with_a_used_one_on_purpose() -> None:
    found = assert_problems(controller("jumpers: [[7, 8, 1]]", " # <- note jumper @ ["))
    assert (
        found[0].sentence == "the terminals 7, 8 and 1 of A are linked: A1 runs with each of them"
    )


def test_a_link_that_nobody_declared() -> None:
    assert_problems("""
        joints:
          A:
            - [C, K1 white]
            - [1, 3, K1 red] # <- warning jumper-undeclared @ [
            - [2, K1 blue]
    """)


LINKED = """
joints:
  A:
    - [C, K1 white]
    - [1, 2, K1 red, K1 blue]%s
"""


def test_two_stations_on_one_connector_at_the_strip() -> None:
    found = assert_problems(LINKED % " # <- error hots-joined @ [")
    assert found[0].sentence == "the hots of A1 and A2 are joined in 'A'"
    assert found[0].help == (
        "each station needs its own terminal: separate them; if they are to run together, "
        "declare it under A: 'jumpers: [[1, 2]]'"
    )


def test_two_stations_linked_on_purpose_take_the_current_of_both() -> None:
    found = assert_problems(
        controller("jumpers: [[1, 2]]\n    station limit: 0.5 A", " # none").replace(
            "[[1, 2]]", "[[1, 2]] # <- note jumper @ ["
        )
        + """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red} # <- error terminal-overloaded @ A1
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""
    )
    assert found[0].sentence == "the terminals 1 and 2 of A are linked: A1 and A2 run together"
    assert found[1].sentence == (
        "A1 and A2 together take 0.8 A when they start; a terminal of A gives 0.5 A"
    )


def test_the_volts_of_linked_stations_are_those_of_both_at_once() -> None:
    """Two coils of 0.40 A on one common of 900 ft: 0.8 A x 5.75 ohm + 0.4 A x 5.75 ohm, by hand."""
    text = (
        controller("jumpers: [[1, 2]] # <- note jumper @ [")
        + """
boxes: {VB-1: {place: walk}}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 900 ft, VB-1]}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red} # <- error volts-too-low @ A1
  A2: {area: side lawn, box: VB-1, hot: K1 blue}
"""
    )
    found = assert_problems(text)
    assert found[1].sentence == (
        "A1 together with A2 has 17.1 V at inrush and needs 20 V; A1 and A2 may not open"
    )


def test_more_linked_valves_than_the_maker_allows() -> None:
    found = assert_problems(
        controller("jumpers: [[1, 2]] # <- note jumper @ [\n    valves per station: 1")
        + """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red} # <- error too-many-valves @ A1
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""
    )
    assert found[1].sentence == "A1 and A2 are linked and have 2 valves (A1 and A2); A allows 1"


def test_a_jumper_that_the_joints_of_the_strip_do_not_show() -> None:
    found = assert_problems(
        controller("jumpers: [[1, 3]] # <- error not-as-joined @ [")
        + """
joints:
  A:
    - [C, K1 white]
    - [1, K1 red]
    - [2, K1 blue]
"""
    )
    assert found[0].sentence == (
        "a jumper is written for the terminals 1 and 3 of A, and the joints of 'A' do not link them"
    )


def test_a_figure_has_the_digit_that_tells_it_from_its_limit() -> None:
    """0.36 A x 2 x 878 ft x 6.385 ohm/1000 ft = 4.036 V of 24 V, by hand: 19.96 V, not 20.0 V."""
    found = assert_problems("""
        coils:
          usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.36 A, minimum: 20 V}
        boxes: {VB-1: {place: walk}}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 878 ft, VB-1]}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red} # <- error volts-too-low @ A1
    """)
    assert found[0].sentence.startswith("A1 has 19.96 V at inrush and needs 20 V")


RELAY = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, tan, pink]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A}
  relay: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.60 A, holding: 0.1 A}
relays:
  PUMP: # <- note pump-relay @ PUMP%s
    controller: A
    box: VB-2
    hot: K1 green
    return: K1 tan # <- note several-commons @ K1 tan
    coil: relay
"""


def test_a_relay_that_pulls_in_while_a_valve_holds() -> None:
    """0.60 A + 0.23 A, by hand; a valve that starts while the relay holds takes 0.50 A."""
    found = assert_problems(
        controller("total limit: 0.8 A") + RELAY % " & error controller-overloaded @ PUMP"
    )
    assert found[0].sentence == (
        "PUMP takes 0.6 A when it pulls in, with the coils that hold then 0.83 A; "
        "A gives 0.8 A in all"
    )
    assert_problems(controller("total limit: 0.83 A") + RELAY % "")


def test_a_relay_is_none_of_the_stations_at_once() -> None:
    """By hand, at 24 V and two at once: a valve that starts beside valve and relay takes
    0.40 + 0.23 + 0.35 = 0.98 A, 23.5 VA; the relay beside two valves 0.60 + 0.46 = 1.06 A, 25.4 VA.

    Were the relay one of the two, a valve would start beside it twice: 1.10 A, 26.4 VA.
    """
    relay = RELAY.replace("holding: 0.1 A", "holding: 0.35 A")
    limits = "stations at once: 2\n    transformer: %s VA"
    assert_problems(controller(limits % 26) + relay % "")
    found = assert_problems(
        controller(limits % 25).replace("  A:\n", "  A: # <- error transformer-overloaded @ A\n")
        + relay % ""
    )
    assert "25.4" in found[0].sentence and "PUMP pulls in" in found[0].sentence


def test_a_transformer_that_gives_just_what_a_station_takes() -> None:
    """0.40 A at 24 V are 9.6 VA."""
    assert_problems(controller("stations at once: 1\n    transformer: 9.6 VA"))


def test_a_transformer_that_gives_a_little_less_than_a_station_takes() -> None:
    limits = "stations at once: 1\n    transformer: 9.5 VA"
    overloaded = "  A: # <- error transformer-overloaded @ A\n"
    assert_problems(controller(limits).replace("  A:\n", overloaded))


def test_a_declared_link_that_is_written_as_a_joint() -> None:
    assert_problems(
        controller("jumpers: [[1, 3]]", " # <- note jumper @ [")
        + """
joints:
  A:
    - [C, K1 white]
    - [1, 3, K1 red]
    - [2, K1 blue]
"""
    )


def test_of_two_declared_links_the_one_that_the_joints_leave_out_is_told() -> None:
    marks = " # <- error not-as-joined @ [ & note jumper @ ["
    assert_problems(
        controller("jumpers: [[1, 3], [2, 4]]", marks)
        + """
joints:
  A:
    - [C, K1 white]
    - [1, K1 red]
    - [2, 4, K1 blue]
"""
    )


def test_a_jumper_to_a_terminal_that_is_not_there() -> None:
    assert_problems(
        controller("jumpers: [[12, 1], [7, 1, MV]]", " # <- note jumper @ [").replace(
            " # <- note jumper @ [", " # <- note jumper @ [ & error no-such-terminal @ 12"
        )
    )


def test_a_jumper_that_shorts_a_terminal() -> None:
    assert_problems(controller("jumpers: [[C, 1]]", " # <- error jumper-on-common @ ["))


def test_a_twin_in_one_box() -> None:
    assert_problems("boxes: {VB-1: {place: walk}, VB-2: {kind: pull box}}" + TWIN % (IN_ONE, 1))


def test_a_twin_in_two_boxes() -> None:
    found = assert_problems(TWIN % (IN_TWO, 2))
    assert (
        found[0].sentence == "A2 has 2 valves (A2a and A2b) in 'VB-1' and 'VB-2'; its hot goes on"
    )


def test_a_twin_whose_hot_is_capped_in_the_first_box() -> None:
    assert_problems(
        TWIN % (IN_TWO, 2)
        + """
joints:
  VB-1: # <- error hot-stops @ VB-1
    - [K1 blue in, A2a]
    - [K1 white in, K1 white out, A2a]
"""
    )


def test_more_valves_than_the_maker_allows() -> None:
    assert_problems(
        controller("valves per station: 1\n    station limit: 0.5 A")
        + TWIN % ("error too-many-valves @ A2", 2)
    )


def test_more_amperes_than_a_terminal_gives() -> None:
    assert_problems(
        controller("station limit: 0.5 A\n    total limit: 0.6 A")
        + TWIN % (IN_TWO + " & error terminal-overloaded @ A2", 2)
    )


def test_as_many_amperes_as_a_terminal_gives() -> None:
    assert_problems(controller("station limit: 0.8 A") + TWIN % (IN_TWO, 2))


def test_more_amperes_than_the_controller_gives() -> None:
    found = assert_problems(
        controller("total limit: 0.6 A")
        + """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green, tan], run: [A, 8 ft, VB-1, 6 ft, VB-2]}
master valves:
  MV-1: {controllers: A, box: VB-1, hot: K1 green} # <- note master-valve @ MV-1
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red} # <- error controller-overloaded @ A1
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""
    )
    assert found[1].sentence == (
        "each of A1 and A2 with what runs beside it takes 0.63 A; A gives 0.6 A in all"
    )


def test_a_device_between_terminal_and_valves() -> None:
    assert_problems("""
        stations:
          A1:
            area: front lawn
            hot: K1 red
            device: doubling device # <- note device-in-circuit @ doubling device
            valves: {A1a: {box: VB-1}, A1b: {box: VB-1}}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
    """)


FAR = """
boxes: {VB-1: {place: walk}}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, %s ft, VB-1]}
"""


def test_a_twin_farther_out_than_one_valve_could_be() -> None:
    found = assert_problems(
        FAR % 700
        + """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: # <- note twin @ A2 & error volts-too-low @ A2
    area: side lawn
    hot: K1 blue
    valves: {A2a: {box: VB-1}, A2b: {box: VB-1}}
"""
    )
    # 24 V - 0.8 A x 2 x 700 ft x 6.385 ohm/1000 ft = 16.8 V
    assert found[1].sentence == (
        "A2a with 2 valves has 16.8 V at inrush and needs 20 V; it may not open"
    )


def test_stations_of_one_cable_that_lack_volts_are_told_at_once() -> None:
    found = assert_problems(
        FAR % 1000
        + """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red} # <- error volts-too-low @ A1
  A2: {area: side lawn, box: VB-1, hot: K1 blue}
"""
    )
    # 24 V - 0.4 A x 2 x 1000 ft x 6.385 ohm/1000 ft = 18.9 V
    assert found[0].sentence == "A1 has 18.9 V at inrush and needs 20 V; A1 and A2 may not open"


SHARED = """
boxes: {VB-1: {place: walk}}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 750 ft, VB-1]}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red} # <- error volts-too-low @ A1
"""


def test_the_way_out_names_segment_gauges_commons_and_how_far_the_coil_reaches() -> None:
    master = "master valves:\n  MV-1: {controllers: A, box: VB-1, hot: K1 blue} # <- note "
    found = assert_problems(SHARED + master + "master-valve @ MV-1")
    (problem,) = (p for p in found if p.code == "volts-too-low")
    # 24 V - (0.40 A + 0.63 A) x 750 ft x 6.385 ohm/1000 ft = 19.1 V; alone on it 20.2 V
    assert "A1 has 19.1 V at inrush" in problem.sentence
    segment, ways, reach = problem.help.split("; ")
    assert segment == "most is lost in K1 white from 'A' to 'VB-1' (18 AWG, 750 ft)"
    # hot of 14 AWG: 0.76 V, with 3.02 V 3.8 V; of 16 AWG 1.20 V, with it 4.2 V
    # common of 16 AWG: 1.90 V, with 1.92 V 3.8 V
    assert ways == (
        "14 AWG for its hot, 16 AWG for its common or a separate common (18 AWG) would do"
    )
    # 4 V / 0.40 A / (2 x 6.385 ohm/1000 ft) = 783 ft
    assert "18 AWG up to 783 ft" in reach and "14 AWG up to 1979 ft" in reach


def test_a_common_of_its_own_is_no_way_out_where_nothing_shares_it() -> None:
    (problem,) = assert_problems(SHARED.replace("750 ft", "800 ft"))
    assert "of its own" not in problem.help


TWO_GAUGES = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: %s, colors: [white, red, tan], run: [A, 500 ft, SB-1]}
  K2: {gauge: %s, colors: [white, red, tan], run: [SB-1, 400 ft, VB-1]}
boxes: {SB-1: {kind: splice box}, VB-1: {place: walk}}
stations:
  A1: {area: lawn, box: VB-1, hot: [K1 red, K2 red]} # <- error volts-too-low @ A1
"""


@for_each(
    ("gauges", "way_out", "far"),
    [
        # 0.40 A x (500 ft x 6.385 + 400 ft x 24.5 x 0.3048 ohm/1000 ft) = 2.47 V on one side;
        # 900 ft of 14 AWG (2.525 ohm/1000 ft) lose 0.91 V, of 16 AWG (4.016) 1.45 V; 1.53 V may go.
        (("18 AWG", "0.75 mm2"), "16 AWG for its hot or 16 AWG for its common", None),
        # The same the other way: 500 x 24.5 x 0.3048 + 400 x 6.385 make 2.52 V; 1.48 V may go.
        # 900 ft of 1.5 mm2 (12.1 ohm/km) lose 1.33 V, of 1 mm2 (18.1) 1.99 V.
        # 4 V / 0.40 A / 2 = 5 ohm: 5000 m / 36.0, 24.5, 18.1, 12.1, 7.41, 4.61 ohm/km (IEC 60228).
        (
            ("0.75 mm2", "18 AWG"),
            "1.5 mm2 for its hot or 1.5 mm2 for its common",
            {"0.5": 138, "0.75": 204, "1": 276, "1.5": 413, "2.5": 674, "4": 1084},
        ),
    ],
)
def test_the_way_out_is_in_gauges_like_the_one_at_the_controller(
    gauges: tuple[str, str], way_out: str, far: dict[str, int] | None
) -> None:
    (problem,) = assert_problems(TWO_GAUGES % gauges)
    _, ways, reach = problem.help.split("; ")
    assert ways == f"{way_out} would do"
    if far is not None:
        feet = {size: int(meters / 0.3048) for size, meters in far.items()}
        told = re.findall(r"([0-9.]+) mm2 up to (\d+) ft", reach)
        assert [size for size, _ in told] == list(far)
        assert all(abs(int(amount) - feet[size]) <= 4 for size, amount in told)  # 1 m is 3.3 ft
