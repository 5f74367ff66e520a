"""Battery controllers with latching coils, and coils on the wrong supply."""

from __future__ import annotations

from tests.checks.trench import assert_problems


def controller(coil: str = "latching", extra: str = "polarity: {hot: red, common: black}") -> str:
    return f"""
controllers:
  P:
    place: in the first box
    supply: 9 V DC latching
    stations: 4
    coil: {coil}
    common: K1 white
    {extra}
"""


def test_an_alternating_current_coil_on_a_battery_controller() -> None:
    found = assert_problems(controller("usual # <- error coil-on-wrong-supply @ usual"), "latching")
    assert found[0].sentence == (
        "the coil 'usual' of P1 and P2 is for 24 V AC, but P gives 9 V DC latching"
    )


def test_a_supply_tolerance_where_no_volts_are_expected() -> None:
    extra = "polarity: {hot: red, common: black}"
    unused = "supply tolerance: +/-10 % # <- warning tolerance-unused @ +/-10 %"
    found = assert_problems(controller(extra=f"{extra}\n    {unused}"), "latching")
    assert found[0].sentence == (
        "P has a supply tolerance, but 9 V DC latching gives no steady AC volts to compare"
    )


def test_one_station_with_the_wrong_coil() -> None:
    assert_problems(
        """
        stations:
          P1:
            area: front planters
            box: VB-1
            hot: K1 red
            coil: usual # <- error coil-on-wrong-supply @ usual
          P2: {area: side planters, box: VB-2, hot: K1 blue}
    """,
        "latching",
    )


def test_a_latching_coil_on_alternating_current() -> None:
    assert_problems("""
        coils: {bistable: {supply: DC latching, resistance: 5 ohm}}
        controllers:
          A:
            place: garage
            supply: 24 V AC
            stations: 8
            coil: bistable # <- error coil-on-wrong-supply @ bistable
            common: K1 white
    """)


def test_no_coil_is_named() -> None:
    found = assert_problems("""
        controllers:
          A: {place: garage, supply: 24 V AC, stations: 8, common: K1 white}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red} # <- warning coil-unknown @ A1
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
          A3: {area: back lawn, box: VB-2, hot: K1 green}
    """)
    assert found[0].sentence == "no coil is named for A1 to A3, so their tags give no ohms"
    assert found[0].help == "describe it under 'coils' and name it in A: 'coil: usual'"


def test_leads_as_the_controller_wants_them() -> None:
    assert_problems("joints: {VB-2: [[K1 blue, P2 red], [K1 white, P2 black]]}", "latching")


def test_leads_exchanged() -> None:
    found = assert_problems(
        """
        joints:
          VB-2:
            - [K1 blue, P2 black]
            - [K1 white, P2 red] # <- error polarity-reversed @ [
    """,
        "latching",
    )
    assert found[0].sentence == (
        "P2 has its latching leads swapped: it would close when told to open"
    )


def test_leads_of_two_valves_exchanged() -> None:
    assert_problems(
        """
        joints:
          VB-1:
            - [K1 red in, P1 black]
            - [K1 white, P1 red] # <- error polarity-reversed @ [
          VB-2:
            - [K1 blue, P2 black]
            - [K1 white, P2 red] # <- error polarity-reversed @ [
    """,
        "latching",
    )


def test_no_rule_for_the_leads() -> None:
    assert_problems(
        controller(extra="wire limit: 100 ft").replace(
            "  P:", "  P: # <- error polarity-missing @ P"
        ),
        "latching",
    )


def test_a_controller_that_wants_the_leads_the_other_way() -> None:
    assert_problems(
        controller(
            extra="polarity: {hot: black, common: red} # <- note polarity-unusual @ polarity"
        ),
        "latching",
    )


def test_a_valve_farther_away_than_the_controller_allows() -> None:
    found = assert_problems(
        """
        cables:
          K1: {gauge: 14 AWG, colors: [white, red, blue], run: [P, 20 ft, VB-1, 100 ft, VB-2]}
        stations:
          P1: {area: front planters, box: VB-1, hot: K1 red}
          P2: {area: side planters, box: VB-2, hot: K1 blue} # <- warning run-too-long @ P2
    """,
        "latching",
    )
    assert found[0].sentence == "P2 is 120 ft of wire from P; its limit is 100 ft"


def test_a_valve_just_as_far_away_as_the_controller_allows() -> None:
    """20 + 80 = 100 ft of wire."""
    assert_problems(
        """
        cables:
          K1: {gauge: 14 AWG, colors: [white, red, blue, tan], run: [P, 20 ft, VB-1, 80 ft, VB-2]}
    """,
        "latching",
    )


def test_a_sensor_in_the_common_of_a_latching_controller() -> None:
    assert_problems(
        """
        sensors:
          RAIN:
            kind: rain
            controllers: P
            contact: normally closed
            in common: K1 white # <- error sensor-in-latching-common @ K1 white
    """,
        "latching",
    )


TWIN = """
stations:
  P1: # <- %s @ P1
    area: front planters
    hot: K1 red
    valves: {P1a: {box: VB-1}, P1b: {box: VB-1}}
  P2: {area: side planters, box: VB-2, hot: K1 blue}
"""


def test_two_latching_valves_on_one_station() -> None:
    found = assert_problems(TWIN % "error too-many-valves", "latching")
    assert "a latching controller drives one" in found[0].sentence


def test_two_latching_valves_where_the_maker_allows_it() -> None:
    extra = "polarity: {hot: red, common: black}\n    valves per station: 2"
    assert_problems(controller(extra=extra) + TWIN % "note twin", "latching")


def test_steady_alternating_current_on_a_latching_coil() -> None:
    found = assert_problems("""
        coils:
          usual: {supply: 24 V AC, resistance: 30 ohm}
          pulse: {supply: DC latching, resistance: 5 ohm}
        stations:
          A1:
            area: front lawn
            box: VB-1
            hot: K1 red
            coil: pulse # <- error coil-on-wrong-supply @ pulse
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
    """)
    assert found[0].sentence == (
        "the coil 'pulse' of A1 is for DC latching, but A gives 24 V AC, which destroys it"
    )
    assert found[0].help.startswith("do not switch it on")


def test_the_jumper_is_out_and_there_is_no_sensor_at_all() -> None:
    out = "sensor jumper: removed # <- warning sensor-jumper @ removed"
    found = assert_problems(
        controller(extra=f"polarity: {{hot: red, common: black}}\n    {out}"), "latching"
    )
    assert found[0].sentence.endswith("is out and no sensor is on SEN: nothing will run")
