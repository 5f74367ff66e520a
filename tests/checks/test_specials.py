"""Master valves and pump start relays."""

from __future__ import annotations

import pytest

from tests.checks.trench import assert_problems

CABLE = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, yellow, tan]
    run: [A, %s ft, VB-1, 60 ft, VB-2]
"""
NOTE = " # <- note master-valve @ MV-1"


TWO_ON_C = " & note several-commons @ K1 yellow"


@pytest.mark.parametrize("more", ["", ", return: K1 yellow"])
def test_a_master_valve_on_its_terminal(more: str) -> None:
    entry = "{controllers: A, box: VB-1, hot: K1 green" + more + "}"
    marks = NOTE + (TWO_ON_C if more else "")
    assert_problems(CABLE % 85 + f"master valves:\n  MV-1: {entry}{marks}\n")


CLOSED_BY_POWER = """
master valves:
  MV-1: # <- %s @ MV-1
    controllers: A
    box: VB-1
    hot: K1 green
    normally open: yes
"""


def test_a_master_valve_that_power_closes() -> None:
    found = assert_problems(
        CABLE % 85 + CLOSED_BY_POWER % "note normally-open" + "    live only to close: yes\n"
    )
    assert found[0].sentence == "MV-1 in 'VB-1' is normally open: power closes it"


@pytest.mark.parametrize("more", ["", "    terminal: MV\n"])
def test_it_is_asked_whether_the_terminal_of_one_that_power_closes_is_live_beside_stations(
    more: str,
) -> None:
    """That somebody wrote the terminal does not answer it."""
    found = assert_problems(CABLE % 85 + CLOSED_BY_POWER % "warning normally-open-on-mv" + more)
    assert found[0].sentence == (
        "MV-1 in 'VB-1' is normally open: is MV of A live while stations run? "
        "It would shut their water off"
    )


def test_a_master_valve_on_a_station_terminal() -> None:
    assert_problems(
        CABLE % 85
        + """
master valves:
  MV-1:
    controllers: A
    box: VB-1
    hot: K1 green
    terminal: 3 # <- error master-valve-on-station @ 3
"""
    )


def test_a_master_valve_listed_as_a_station() -> None:
    assert_problems("""
        stations:
          A1:
            area: master valve # <- error master-valve-on-station @ master valve
            box: VB-1
            hot: K1 red
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
    """)


def test_a_master_valve_on_a_terminal_that_is_not_there() -> None:
    assert_problems(
        CABLE % 85
        + """
master valves:
  MV-1: # <- note master-valve @ MV-1
    controllers: A
    box: VB-1
    hot: K1 green
    terminal: PUMP # <- error no-such-terminal @ PUMP
"""
    )


SHARED = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, tan, pink]
    run: [A, 9 ft, VB-1, 9 ft, VB-2]
  K2: {gauge: 18 AWG, colors: [gray, brown, black, orange], run: [B, 9 ft, VB-3, 90 ft, VB-2]}
master valves:
  MV-1:%s
    controllers:
      - A
      - B%s
    box: VB-1
    hot: K1 green
    return: K1 tan%s
"""


def test_a_master_valve_shared_by_two_controllers_without_isolators() -> None:
    found = assert_problems(
        SHARED % ("", " # <- error master-valve-tied @ B", " # <- note several-commons @ K1 tan"),
        "two controllers",
    )
    assert found[0].sentence == (
        "MV-1 is on A and B with no isolating relay for A and B: it ties the controllers together"
    )


def test_a_master_valve_shared_through_one_isolator_only() -> None:
    assert_problems(
        SHARED % ("\n    isolators: A", " # <- error master-valve-tied @ B", ""),
        "two controllers",
    )


def test_a_master_valve_shared_through_isolators() -> None:
    marks = " # <- note master-valve @ MV-1 & note master-valve-shared @ MV-1"
    assert_problems(SHARED % (f"{marks}\n    isolators: [A, B]", "", ""), "two controllers")


COILS = """
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A%s}
  relay: {supply: 24 V AC, resistance: 45 ohm, inrush: 0.60 A, holding: 0.35 A, minimum: 20 V}
"""
RELAY = """
relays:
  PUMP-1: # <- %s
    controller: A
    box: VB-1
    hot: K1 green
    coil: relay
"""
OWN_RETURN = "    return: K1 yellow # <- note several-commons @ K1 yellow\n"
STARTS = "note pump-relay @ PUMP-1"


def test_a_pump_relay_with_its_own_return() -> None:
    assert_problems(COILS % "" + CABLE % 85 + RELAY % STARTS + OWN_RETURN)


def test_a_pump_relay_on_the_common_of_the_valves() -> None:
    marks = STARTS + " & warning relay-shares-common @ PUMP-1"
    assert_problems(COILS % "" + CABLE % 85 + RELAY % marks)


def test_a_pump_relay_too_near_to_its_controller() -> None:
    marks = STARTS + " & warning relay-too-near @ PUMP-1"
    assert_problems(COILS % "" + CABLE % 10 + RELAY % marks + OWN_RETURN)


def test_a_pump_relay_is_near_below_fifteen_feet_of_wire() -> None:
    """Common practice, no source: 15 ft is far enough, however the meters of it are rounded."""
    near = " & warning relay-too-near @ PUMP-1"
    assert_problems(COILS % "" + CABLE % 15 + RELAY % STARTS + OWN_RETURN)
    for feet, told in ((14.99, "14.99"), (10.4, "10")):
        found = assert_problems(COILS % "" + CABLE % feet + RELAY % (STARTS + near) + OWN_RETURN)
        assert f"PUMP-1 is {told} ft of wire from A" in [p.sentence for p in found]


def test_a_pump_relay_on_a_long_thin_shared_common() -> None:
    marks = STARTS + " & error relay-chatter @ PUMP-1"
    found = assert_problems(COILS % "" + (CABLE % 900).replace("60 ft", "300 ft") + RELAY % marks)
    # 24 V - 0.6 A x 2 x 900 ft x 6.385 ohm/1000 ft = 17.1 V
    (problem,) = (p for p in found if p.code == "relay-chatter")
    assert problem.sentence.startswith("PUMP-1 has 17.1 V at inrush and needs 20 V")
