"""Faults of rain and flow sensors."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, NOTE, WARNING, Fault

_RAIN = "sensors:\n  RAIN: {kind: rain, controllers: A, contact: normally closed}\n"
_SERIES = """
sensors:
  RAIN: {kind: rain, controllers: A, contact: normally closed, in common: K1 white}
"""
_A = """
controllers:
  A:
    place: garage wall
    supply: 24 V AC
    stations: 8
    coil: usual
    common: K1 white
"""
_TWO = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 gray]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 85 ft, VB-1]}
  K2: {gauge: 18 AWG, colors: [gray, brown, black], run: [A, 85 ft, VB-2]}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K2 brown}
sensors:
  RAIN: {kind: rain, controllers: A, contact: normally closed, in common: [K1 white, K2 gray]}
"""
_FLOW = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, yellow, tan]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
  F1: {gauge: 18 AWG, colors: [black, orange], shielded: yes, run: [A, 85 ft, VB-1]}
sensors:
  FLOW: {kind: flow, controllers: A, conductors: [F1 black, F1 orange]}
"""
_FLOW_ON = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  F1: {gauge: 18 AWG, colors: [black, orange], shielded: yes, run: [A, 85 ft, PB-1]}
  F2: {gauge: 18 AWG, colors: [black, orange], shielded: yes, run: [PB-1, 20 ft, PB-2]}
boxes: {VB-1: {}, VB-2: {}, PB-1: {kind: pull box}, PB-2: {kind: pull box}}
sensors:
  FLOW:
    kind: flow
    controllers: A
    conductors: [F1 black, F1 orange, F2 black, F2 orange]
"""

_MASTER = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, yellow, tan]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
master valves:
  MV-1: {controllers: A, box: VB-1, hot: K1 green, return: K1 yellow}
"""

SENSOR_ON_TERMINALS = Fault(
    code="sensor-on-terminals",
    verdict=NOTE,
    title="a sensor is on the sensor terminals",
    sentence="{sensor} is on the SEN terminals of {controller}",
    way_out="if the sensor is open nothing runs, even though every valve reads good",
    why="With its contact open nothing runs, even though every valve reads good.",
    fix="Nothing to fix; the legend says so.",
    wrong=_RAIN,
    right=_A,
)

SENSOR_IN_COMMON = Fault(
    code="sensor-in-common",
    verdict=NOTE,
    thing="sensor",
    title="a sensor is in the common",
    sentence=(
        "{sensor} is in the common of {controller}{stations}: if all stations read open, "
        "look at it first"
    ),
    way_out="the legend says so",
    why="When it has tripped, every station reads open.",
    fix="Nothing to fix; look at the sensor first, as the legend says.",
    wrong=_SERIES,
    right=_RAIN,
)

SENSOR_PASSED_BY = Fault(
    code="sensor-passed-by",
    verdict=NOTE,
    thing="sensor",
    title="a sensor in the common does not stop a master valve or a relay",
    sentence=(
        "{sensor} in the common of {controller} does not stop {others}: their returns are separate"
    ),
    way_out="with the contact open no station runs, and what is named here still does",
    variants={
        "one": (
            "{sensor} in the common of {controller} does not stop {others}: its return is separate"
        ),
    },
    why="It has a separate return: in the rain the main stays under pressure, the pump runs.",
    fix="Nothing to fix if it is meant so; else bring its return behind the sensor.",
    wrong=_SERIES + _MASTER,
    right=_SERIES,
)

SENSOR_IN_ONE_COMMON = Fault(
    code="sensor-in-one-common",
    verdict=WARNING,
    thing="sensor",
    title="a sensor is in one of several commons",
    sentence="{sensor} is in one common only: {stations} will run in the rain",
    way_out="put it between C and the point where the commons branch",
    why="The stations on the other common run in the rain.",
    fix="Put it between C and the point where the commons branch.",
    wrong=_TWO.replace("[K1 white, K2 gray]}\n", "K1 white}\n").replace(
        "common: K1 white}\ncables", "common: [K1 white, K2 gray]}\ncables"
    ),
    right=_TWO,
)

SENSOR_NOT_IN_COMMON = Fault(
    code="sensor-not-in-common",
    verdict=ERROR,
    title="a sensor is to be in a conductor that is not a common",
    sentence="{sensor} is to be in {conductor}, which is not a common of {controller}",
    way_out="its common is {conductors}",
    variants={
        "no common": ("", "give it a 'common' first"),
    },
    why="There it stops nothing.",
    fix="Name the conductors of the common behind its contact.",
    wrong=_SERIES.replace("K1 white", "K1 green"),
    right=_SERIES,
)

SENSOR_CONTACT = Fault(
    code="sensor-contact",
    verdict=ERROR,
    title="the contact of a sensor is not the one that its place needs",
    sentence=(
        "{sensor} is {contact}, but {controller} is set to {expected}: it would block "
        "watering forever, or never block it"
    ),
    way_out="set {controller} to {contact}, or install one with the other contact",
    variants={
        "open in common": (
            "{sensor} is normally open and in the common: nothing would ever run",
            "a contact in the common is normally closed",
        ),
    },
    why="It blocks watering forever, or never blocks it.",
    fix="Set the controller to the sensor's contact, or install the other sensor.",
    wrong=_SERIES.replace("normally closed", "normally open"),
    right=_SERIES,
)

SENSOR_JUMPER = Fault(
    code="sensor-jumper",
    verdict=WARNING,
    thing="controller",
    title="sensor and sensor jumper do not go together",
    sentence="the sensor jumper of {controller} is in, so {sensor} is ignored",
    way_out="take the jumper out",
    variants={
        "no sensor": (
            "the sensor jumper of {controller} is out and no sensor is on SEN: nothing will run",
            "put the jumper in, or describe the sensor",
        ),
    },
    why="With the jumper in the sensor is ignored; with neither of them nothing runs.",
    fix="Take the jumper out where a sensor is, leave it in where none is.",
    wrong=_A + "    sensor jumper: fitted\n" + _RAIN,
    right=_A + "    sensor jumper: removed\n" + _RAIN,
)

SENSOR_SHARED = Fault(
    code="sensor-shared",
    verdict=ERROR,
    title="one sensor is on two controllers",
    sentence="{sensor} is on {controllers}: one contact ties their commons together",
    way_out=(
        "lock off {controllers} before you touch it, for a stopped controller can be fed backward "
        "through its transformer; then give each its own sensor, or a relay with a contact for each"
    ),
    why="Its contact ties their commons together.",
    fix=(
        "Lock off both controllers and prove dead with the meter before you touch. Give each "
        "controller its own sensor, or a relay with a contact for each."
    ),
    wrong=_RAIN.replace("controllers: A", "controllers: [A, B]"),
    right=_RAIN,
    base="two controllers",
)

SENSOR_IN_LATCHING_COMMON = Fault(
    code="sensor-in-latching-common",
    verdict=ERROR,
    title="a sensor is in the common of a latching controller",
    sentence=(
        "{sensor} is in the common of the latching controller {controller}: pulses would be lost"
    ),
    way_out="put it into the controller's sensor loop",
    why="Pulses are lost, and a valve stays open.",
    fix="Put it into the controller's sensor loop.",
    wrong=_SERIES.replace("controllers: A", "controllers: P"),
    right=_RAIN.replace("controllers: A", "controllers: P"),
    base="latching",
)

FLOW_SENSOR_IN_VALVE_CABLE = Fault(
    code="flow-sensor-in-valve-cable",
    verdict=WARNING,
    thing="sensor",
    title="a flow sensor runs beside valve conductors",
    sentence="the flow sensor {sensor} runs in {cable} beside valve conductors",
    way_out="give it a separate shielded cable; its polarity matters",
    why="The valves' AC disturbs its pulses.",
    fix="Give it a separate shielded cable; mind its polarity.",
    wrong=_FLOW.replace("[F1 black, F1 orange]", "[K1 green, K1 yellow]"),
    right=_FLOW,
)

SENSOR_WIRES_NOT_JOINED = Fault(
    code="sensor-wires-not-joined",
    verdict=WARNING,
    thing="box",
    title="wires of a sensor end in a box and are not joined with those that go on",
    sentence="in '{box}' the wires of {sensor} are not joined: {ends} end, and {begins} begin",
    way_out=(
        "under 'joints' write which goes on to which in '{box}', as [{one}, {two}], with all other "
        "joints of that box; left out, only like colors are joined"
    ),
    variants={
        "one side": (
            "in '{box}' nothing joins {wires} of {sensor} with the wires that go on",
            "under 'joints' write in '{box}' what it goes on to, or take it out of 'conductors'",
        ),
    },
    why="The controller gets nothing from the sensor, although every wire is named.",
    fix="Write the joints of the box, or lay a cable with the same colors.",
    wrong=_FLOW_ON.replace(
        "F2: {gauge: 18 AWG, colors: [black, orange]", "F2: {gauge: 18 AWG, colors: [black, brown]"
    ).replace("F2 orange", "F2 brown"),
    right=_FLOW_ON,
)
