"""What stage 3 says about cables, conductors, loads and written joints."""

from __future__ import annotations

import pytest

from tests.checks.trench import assert_problems


def stations(first: str) -> str:
    return f"""
stations:
  A1: {first}
  A2: {{area: side lawn, box: VB-2, hot: K1 blue}}
"""


def station(hot: str, mark: str) -> str:
    return f"""
stations:
  A1:
    area: front lawn
    box: VB-1
    hot: {hot} # <- {mark}
  A2: {{area: side lawn, box: VB-2, hot: K1 blue}}
"""


def test_a_color_that_the_cable_does_not_have() -> None:
    found = assert_problems(station("K1 brown", "error no-such-conductor @ K1 brown"))
    assert found[0].sentence == "K1 has no brown conductor"
    assert found[0].help == "K1 has 5: white, red, blue, green, yellow"


def test_a_word_that_is_no_color() -> None:
    assert_problems(station("K1 crimsn", "error no-such-conductor @ K1 crimsn"))


def test_a_cable_that_is_not_there() -> None:
    assert_problems(station("K3 red", "error unknown-name @ K3 red"))


def test_two_conductors_that_are_not_there() -> None:
    assert_problems(
        station("[K1 brown, K1 pink]", "error no-such-conductor @ K1 brown").replace(
            "@ K1 brown", "@ K1 brown & error no-such-conductor @ K1 pink"
        )
    )


def test_a_common_that_is_not_there_is_told_once() -> None:
    assert_problems("""
        controllers:
          A:
            place: garage
            supply: 24 V AC
            stations: 8
            coil: usual
            common: K1 brown # <- error no-such-conductor @ K1 brown
    """)


def test_a_station_whose_name_says_no_terminal() -> None:
    assert_problems(
        stations("{}").replace(
            "A1: {}",
            "Bed: {area: bed, box: VB-1, hot: K1 red} # <- error station-without-terminal @ Bed",
        )
    )


def test_a_station_of_another_name_with_controller_and_terminal() -> None:
    assert_problems(
        stations("{}").replace(
            "A1: {}",
            "Rose: {area: front, box: VB-1, hot: K1 red, controller: A, terminal: 5}",
        )
    )


def test_a_valve_in_no_box() -> None:
    assert_problems(
        stations("{}").replace(
            "A1: {}", "A1: {area: front lawn, hot: K1 red} # <- error valve-without-box @ A1"
        )
    )


def test_a_station_without_a_hot() -> None:
    assert_problems(
        stations("{}").replace(
            "A1: {}", "A1: {area: front lawn, box: VB-1} # <- error hot-missing @ A1"
        )
    )


def cable(lines: str) -> str:
    return f"""
cables:
  K1:{lines}
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
"""


@pytest.mark.parametrize(
    "lines",
    [
        " # <- error cable-makeup @ K1\n    gauge: 18 AWG",
        " # <- error cable-makeup @ K1\n    gauge: 18 AWG\n    colors: [white, red, red, blue]",
        " # <- error missing @ K1\n    colors: [white, red, blue, tan]",
        """ # <- error cable-makeup @ K1
    gauge: 18 AWG
    colors: [white, red, blue]
    singles: [{color: tan, gauge: 14 AWG}]""",
    ],
)
def test_a_cable_whose_conductors_are_not_clear_is_one_fault(lines: str) -> None:
    assert_problems(cable(lines))


def test_likes_that_nothing_tells_apart() -> None:
    text = """
    singles:
      - {color: red, gauge: 14 AWG, count: 3}
      - {color: white, gauge: 14 AWG}
      - {color: blue, gauge: 14 AWG}"""
    found = assert_problems(cable(text) + station("K1 red", "error singles-without-flags @ K1 red"))
    assert found[0].sentence == "K1 has 3 red conductors and nothing tells them apart"


def test_a_flag_that_is_not_there() -> None:
    text = """ # <- note told-apart-by-flags @ K1
    singles:
      - {color: red, gauge: 14 AWG, flags: [A1, A2, A4]}
      - {color: white, gauge: 14 AWG}
      - {color: blue, gauge: 14 AWG}"""
    found = assert_problems(
        cable(text.replace(" # <- note told-apart-by-flags @ K1", ""))
        + station("K1 red A3", "error no-such-conductor @ K1 red A3")
    )
    assert found[0].sentence == "in K1 no red conductor is flagged 'A3'"


def test_a_run_that_comes_back_to_a_box() -> None:
    assert_problems("""
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, tan]
            run:
              - A
              - 85 ft
              - VB-1
              - 60 ft
              - VB-2
              - 60 ft
              - VB-1 # <- error run-returns @ VB-1
    """)


def test_a_single_that_ends_in_a_box_off_the_run() -> None:
    assert_problems("""
        cables:
          K1:
            singles:
              - {color: red, gauge: 14 AWG}
              - {color: white, gauge: 14 AWG}
              - color: blue
                gauge: 14 AWG
                to: PB-1 # <- error run-misses-box @ PB-1
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
        boxes: {VB-1: {}, VB-2: {}, PB-1: {kind: pull box}}
    """)


TEE = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 5 ft, VB-1, 6 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [white, blue, gray], run: [A, 9 ft, VB-2]}
  K3: {gauge: 18 AWG, colors: [white, blue], run: [VB-2, 9 ft, VB-3]}
boxes: {VB-1: {}, VB-2: {kind: splice box}, VB-3: {}}
"""


def test_a_common_that_two_others_could_feed() -> None:
    found = assert_problems(
        """
controllers:
  A:
    place: garage
    supply: 24 V AC
    stations: 8
    coil: usual
    common:
      - K1 white
      - K2 white # <- note several-commons @ K2 white
      - K3 white # <- error common-unclear @ K3 white
"""
        + TEE
        + """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-3, hot: [K2 blue, K3 blue]}
"""
    )
    assert (
        found[1].sentence == "K3 white begins in 'VB-2', where K1 white or K2 white could feed it"
    )


def test_a_valve_that_could_go_to_two_commons() -> None:
    text = """
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
  K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 5 ft, VB-1, 6 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [white, gray, tan], band: blue tape, run: [A, 9 ft, VB-2]}
  K3: {gauge: 18 AWG, colors: [black, pink], run: [A, 9 ft, VB-2]}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
"""
    last = "  A2: {area: side lawn, box: VB-2, hot: K3 black%s}%s\n"
    apart = " # <- note ways-apart @ A2"
    assert_problems(text + last % ("", " # <- error common-unclear @ A2"))
    assert_problems(text + last % (", common: K2 white", apart))


def joints(*lines: str) -> str:
    return "joints:\n  VB-1:\n" + "".join(f"    - {line}\n" for line in lines)


def test_an_end_in_two_joints() -> None:
    assert_problems(
        joints("[K1 red in, A1]", "[K1 white, A1]", "")[:-6]
        + "\n    - [K1 red in, K1 green in]".replace("K1 red in", "K1 red in")
        + " # <- error end-in-two-joints @ K1 red in\n"
    )


@pytest.mark.parametrize(
    ("end", "sentence"),
    [
        ("K1 pink", "K1 has no pink conductor"),
        ("A2", "the valve of A2 is in 'VB-2', not in 'VB-1'"),
        ("A1 red", "'A1 red' is not a lead"),
        ("K9 red", "'K9 red' is neither a conductor nor a valve"),
        ("K2 red", "K2 red does not reach 'VB-1'"),
        ("K3 red out", "K3 red ends in 'VB-1': it has no 'out' here"),
    ],
)
def test_an_end_that_is_not_there_is_one_fault(end: str, sentence: str) -> None:
    code = "no-such-conductor" if end == "K1 pink" else "joint"
    found = assert_problems(
        """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, yellow]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
  K2: {gauge: 18 AWG, colors: [red, tan], run: [A, 85 ft, VB-2]}
  K3: {gauge: 18 AWG, colors: [red, gray], run: [A, 85 ft, VB-1]}
"""
        + joints(
            "[K1 red in, A1]",
            "[K1 white, A1]",
            f"[K1 green in, {end}] # <- error {code} @ {end}",
        )
    )
    assert found[0].sentence == sentence


def test_a_conductor_that_is_not_there_is_told_once_however_often_it_is_named() -> None:
    assert_problems(
        station("K1 brown", "error no-such-conductor @ K1 brown")
        + joints("[K1 brown in, A1]", "[K1 white, A1]")
    )


def test_a_valve_in_the_joints_of_a_wrong_box_is_told_once() -> None:
    assert_problems(
        joints("[K1 red in, A1]", "[K1 white, A1]")
        + "    - - K1 green in\n      - A2 # <- error joint @ A2\n    - [K1 blue, A2]\n"
    )


def test_a_coil_in_three_joints() -> None:
    assert_problems(
        joints("[K1 red in, A1]", "[K1 white, A1]")
        + "    - - K1 green in\n      - A1 # <- error joint @ A1\n"
    )
