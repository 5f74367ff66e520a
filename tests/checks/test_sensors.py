"""Rain and flow sensors."""

from __future__ import annotations

import pytest

from tests.checks.bases import completed
from tests.checks.trench import assert_problems, marked
from tests.jobs import examined


def controller(extra: str = "station limit: 0.5 A") -> str:
    return f"""
controllers:
  A:
    place: garage
    supply: 24 V AC
    stations: 8
    coil: usual
    common: K1 white
    {extra}
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
      - K2 gray # <- note several-commons @ K2 gray
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1]}
  K2: {gauge: 18 AWG, colors: [gray, brown, black, orange], run: [A, 85 ft, VB-2]}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K2 brown}
sensors:
  RAIN:
    kind: rain
    controllers: A
    contact: normally closed
    in common:
"""


def test_a_sensor_on_its_terminals_is_a_note() -> None:
    assert_problems(
        controller("sensor jumper: removed")
        + """
sensors:
  RAIN: {kind: rain, controllers: A, contact: normally closed} # <- note sensor-on-terminals @ RAIN
"""
    )


def test_a_sensor_in_the_common_is_a_note() -> None:
    found = assert_problems(
        """
sensors:
  RAIN:
    kind: rain
    controllers: A
    contact: normally closed
    in common: K1 white # <- note sensor-in-common @ K1 white
"""
    )
    assert "if all stations read open, look at it first" in found[0].sentence


def test_a_sensor_in_both_commons_before_they_part() -> None:
    assert_problems(
        TWO_COMMONS
        + """
      - K1 white # <- note sensor-in-common @ K1 white
      - K2 gray
"""
    )


def test_a_sensor_in_one_of_two_commons() -> None:
    found = assert_problems(
        TWO_COMMONS
        + """
      - K1 white # <- warning sensor-in-one-common @ K1 white
"""
    )
    assert found[1].sentence == "RAIN is in one common only: A2 will run in the rain"


def test_a_sensor_in_a_conductor_that_is_no_common() -> None:
    assert_problems(
        TWO_COMMONS
        + """
      - K1 green # <- error sensor-not-in-common @ K1 green
"""
    )


def test_a_normally_open_sensor_in_the_common() -> None:
    assert_problems(
        """
sensors:
  RAIN:
    kind: rain
    controllers: A
    contact: normally open # <- error sensor-contact @ normally open
    in common: K1 white
"""
    )


def test_a_normally_open_sensor_where_the_controller_wants_the_other() -> None:
    assert_problems(
        controller("sensor contact: normally closed")
        + """
sensors:
  RAIN:
    kind: rain
    controllers: A
    contact: normally open # <- error sensor-contact @ normally open
"""
    )


def test_a_normally_closed_sensor_where_the_controller_wants_the_other() -> None:
    assert_problems(
        controller("sensor contact: normally open")
        + """
sensors:
  RAIN:
    kind: rain
    controllers: A
    contact: normally closed # <- error sensor-contact @ normally closed
"""
    )


def test_a_sensor_with_the_jumper_still_fitted() -> None:
    found = assert_problems(
        controller("sensor jumper: fitted # <- warning sensor-jumper @ fitted")
        + """
sensors:
  RAIN: {kind: rain, controllers: A, contact: normally closed}
"""
    )
    assert found[0].sentence == "the sensor jumper of A is in, so RAIN is ignored"


def test_a_jumper_taken_out_and_no_sensor() -> None:
    found = assert_problems(
        controller("sensor jumper: removed # <- warning sensor-jumper @ removed")
    )
    assert found[0].sentence.endswith("nothing will run")


def test_a_jumper_fitted_and_no_sensor() -> None:
    assert_problems(controller("sensor jumper: fitted"))


def test_one_sensor_for_two_controllers() -> None:
    found = assert_problems(
        """
        sensors:
          RAIN:
            kind: rain
            contact: normally closed
            controllers:
              - A
              - B # <- error sensor-shared @ B
    """,
        "two controllers",
    )
    assert found[0].sentence == "RAIN is on A and B: one contact ties their commons together"


CABLES = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, tan, pink]
    run: [A, 9 ft, VB-1, 9 ft, VB-2]
  K2: {gauge: 18 AWG, colors: [black, orange], shielded: yes, run: [A, 85 ft, VB-1]}
"""


def test_a_flow_sensor_in_the_valve_cable() -> None:
    assert_problems(
        CABLES
        + """
sensors:
  FLOW:
    kind: flow
    controllers: A
    conductors:
      - K1 green # <- warning flow-sensor-in-valve-cable @ K1 green
      - K1 tan
"""
    )


def test_a_flow_sensor_in_a_cable_of_its_own() -> None:
    assert_problems(
        CABLES + "sensors: {FLOW: {kind: flow, controllers: A, conductors: [K2 black, K2 orange]}}"
    )


def test_a_wire_of_a_flow_sensor_that_goes_on_in_another_color() -> None:
    found = assert_problems("""
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [black, orange], run: [A, 85 ft, VB-1]}
          K3: {gauge: 18 AWG, colors: [black, brown], run: [VB-1, 60 ft, FS-1]}
        boxes:
          VB-1: {place: front walk}
          VB-2: {place: front bed}
          FS-1: {place: main line, kind: splice box}
        sensors:
          FLOW:
            kind: flow
            controllers: A
            conductors: [K2 black, K3 black, K2 orange, K3 brown]
        joints:
          VB-1: # <- note color-change @ VB-1
            - [K1 red in, A1]
            - [K1 white in, A1, K1 white out]
            - [K2 black, K3 black]
            - [K2 orange, K3 brown]
    """)
    assert found[0].sentence == "colors change in 'VB-1': orange to brown (FLOW)"


GOES_ON = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [black, orange], run: [A, 85 ft, VB-1]}
  K3: {gauge: 18 AWG, colors: [black, brown, orange], run: [VB-1, 60 ft, FS-1]}
boxes:
  VB-1: {place: front walk}
  VB-2: {place: front bed}
  FS-1: {place: main line, kind: splice box}
sensors:
  FLOW:
    kind: flow
    controllers: A
    conductors:
"""


def test_wires_of_a_sensor_that_nothing_joins() -> None:
    found = assert_problems(
        GOES_ON
        + """
      - K2 black # <- warning sensor-wires-not-joined @ K2 black
      - K3 black
      - K2 orange
      - K3 brown
"""
    )
    assert found[0].sentence == (
        "in 'VB-1' the wires of FLOW are not joined: K2 black and K2 orange end, and K3 black and "
        "K3 brown begin"
    )
    assert "[K2 black, K3 black]" in found[0].help


def test_wires_of_a_sensor_that_like_colors_join() -> None:
    assert_problems(GOES_ON + "      [K2 black, K3 black, K2 orange, K3 orange]\n")


def test_one_wire_of_a_sensor_that_the_written_joints_leave_out() -> None:
    found = assert_problems(
        GOES_ON
        + """
      - K2 black
      - K3 black
      - K2 orange
      - K3 brown
joints:
  VB-1: # <- warning sensor-wires-not-joined @ VB-1
    - [K1 red in, A1]
    - [K1 white in, A1, K1 white out]
    - [K2 black, K3 black]
"""
    )
    assert found[0].sentence == (
        "in 'VB-1' the wires of FLOW are not joined: K2 orange end, and K3 brown begin"
    )


def test_a_wire_more_than_goes_on() -> None:
    found = assert_problems(
        GOES_ON
        + """
      - K2 black
      - K3 black
      - K2 orange
joints:
  VB-1: # <- warning sensor-wires-not-joined @ VB-1
    - [K1 red in, A1]
    - [K1 white in, A1, K1 white out]
    - [K2 black, K3 black]
"""
    )
    assert found[0].sentence == (
        "in 'VB-1' nothing joins K2 orange of FLOW with the wires that go on"
    )


def test_a_flow_sensor_on_a_hot() -> None:
    assert_problems(
        CABLES
        + """
sensors:
  FLOW:
    kind: flow
    controllers: A
    conductors: [K1 red, K1 tan]
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red} # <- error conductor-used-twice @ K1 red
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""
    )


def test_a_master_valve_that_the_sensor_in_the_common_does_not_stop() -> None:
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
        sensors:
          RAIN:
            kind: rain
            controllers: A
            contact: normally closed
            in common:
              - K1 white # <- note sensor-in-common @ K1 white & note sensor-passed-by @ K1 white
    """)
    assert [p.sentence for p in found[2:]] == [
        "RAIN is in the common of A (A1 and A2): if all stations read open, look at it first",
        "RAIN in the common of A does not stop MV-1: its return is separate",
    ]


def test_a_master_valve_on_the_common_with_the_sensor_is_stopped_with_the_stations() -> None:
    assert_problems("""
        master valves:
          MV-1: {controllers: A, box: VB-1, hot: K1 green} # <- note master-valve @ MV-1
        sensors:
          RAIN:
            kind: rain
            controllers: A
            contact: normally closed
            in common: K1 white # <- note sensor-in-common @ K1 white
    """)


@pytest.mark.parametrize(
    ("controllers", "in_common"),
    [
        ("A", "K1 tan # <- error no-such-conductor @ K1 tan"),
        ("Z # <- error unknown-name @ Z", "K1 white"),
    ],
)
def test_of_a_sensor_that_cannot_be_read_nothing_more_is_told_but_of_the_next(
    controllers: str, in_common: str
) -> None:
    assert_problems(f"""
        sensors:
          RAIN:
            kind: rain
            controllers: {controllers}
            contact: normally closed
            in common: {in_common}
          WIND:
            kind: other
            controllers: A
            contact: normally closed
            in common: K1 white # <- note sensor-in-common @ K1 white
    """)


def test_a_sensor_in_the_common_of_a_controller_that_has_none() -> None:
    found = assert_problems("""
        controllers:
          A: # <- error common-missing @ A
            place: garage
            supply: 24 V AC
            stations: 8
            coil: usual
        sensors:
          RAIN:
            kind: rain
            controllers: A
            contact: normally closed
            in common: K1 green # <- error sensor-not-in-common @ K1 green
    """)
    assert found[1].help == "give it a 'common' first"


@pytest.mark.parametrize(
    "elsewhere",
    [
        "",
        "controllers: B, contact: normally closed",  # on the terminals of the other
        "controllers: A, contact: normally closed, in common: K1 white",
    ],
)
def test_a_jumper_that_is_out_and_a_sensor_that_does_not_take_its_place(elsewhere: str) -> None:
    """The first controller says nothing of its jumper; the second has none in."""
    hut = "supply: 24 V AC, stations: 8, coil: usual"
    text = completed(
        f"""\
controllers:
  B: {{place: pump house, {hut}, common: K2 gray}}
  A: {{place: garage wall, {hut}, common: K1 white, sensor jumper: removed}}
sensors: {{{f"RAIN: {{kind: rain, {elsewhere}}}" if elsewhere else ""}}}
""",
        "two controllers",
    )
    found = [p for p in examined(text).problems if p.code == "sensor-jumper"]
    assert [marked(text, p) for p in found] == ["removed"]


def test_a_flow_sensor_takes_the_place_of_no_jumper() -> None:
    flow = "sensors: {FLOW: {kind: flow, controllers: A, conductors: [K2 black, K2 orange]}}"
    jumper = controller("sensor jumper: removed # <- warning sensor-jumper @ removed")
    assert_problems(jumper + CABLES + flow)
