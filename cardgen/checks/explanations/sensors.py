"""Codes of rain and flow sensors."""

from __future__ import annotations

from cardgen.checks.explanations.model import error, note, warning

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
  K1: {gauge: 18 AWG, colours: [white, red, tan], run: [A, 85 ft, VB-1]}
  K2: {gauge: 18 AWG, colours: [gray, brown, black], run: [A, 85 ft, VB-2]}
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
    colours: [white, red, blue, green, yellow, tan]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
  F1: {gauge: 18 AWG, colours: [black, orange], shielded: yes, run: [A, 85 ft, VB-1]}
sensors:
  FLOW: {kind: flow, controllers: A, conductors: [F1 black, F1 orange]}
"""

_MASTER = """
cables:
  K1:
    gauge: 18 AWG
    colours: [white, red, blue, green, yellow, tan]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
master valves:
  MV-1: {controllers: A, box: VB-1, hot: K1 green, return: K1 yellow}
"""

ENTRIES = (
    note(
        "sensor-on-terminals",
        "a sensor is on the sensor terminals",
        "With its contact open nothing runs, though every valve reads well.",
        "Nothing to mend; the legend says so.",
        _RAIN,
        _A,
    ),
    note(
        "sensor-in-common",
        "a sensor is in the common",
        "When it has tripped, every station reads open.",
        "Nothing to mend; look at the sensor first, as the legend says.",
        _SERIES,
        _RAIN,
    ),
    note(
        "sensor-passed-by",
        "a sensor in the common does not stop a master valve or a relay",
        "It has a return of its own: in the rain the main stays under pressure, the pump runs.",
        "Nothing to mend if it is meant so; else bring its return behind the sensor.",
        _SERIES + _MASTER,
        _SERIES,
    ),
    warning(
        "sensor-in-one-common",
        "a sensor is in one of several commons",
        "The stations on the other common run in the rain.",
        "Put it between C and the point where the commons part.",
        _TWO.replace("[K1 white, K2 gray]}\n", "K1 white}\n").replace(
            "common: K1 white}\ncables", "common: [K1 white, K2 gray]}\ncables"
        ),
        _TWO,
    ),
    error(
        "sensor-not-in-common",
        "a sensor is to be in a conductor that is no common",
        "There it stops nothing.",
        "Name the conductors of the common behind its contact.",
        _SERIES.replace("K1 white", "K1 green"),
        _SERIES,
    ),
    error(
        "sensor-contact",
        "the contact of a sensor is not the one that its place needs",
        "It holds back watering for good, or never.",
        "Set the controller to the sensor's contact, or fit the other sensor.",
        _SERIES.replace("normally closed", "normally open"),
        _SERIES,
    ),
    warning(
        "sensor-jumper",
        "sensor and sensor jumper do not go together",
        "With the jumper in the sensor is ignored; with neither of them nothing runs.",
        "Take the jumper out where a sensor is, leave it in where none is.",
        _A + "    sensor jumper: fitted\n" + _RAIN,
        _A + "    sensor jumper: removed\n" + _RAIN,
    ),
    error(
        "sensor-shared",
        "one sensor is on two controllers",
        "Its contact ties their commons together.",
        "Give each controller its own sensor, or a relay with a contact for each.",
        _RAIN.replace("controllers: A", "controllers: [A, B]"),
        _RAIN,
        base="two controllers",
    ),
    error(
        "sensor-in-latching-common",
        "a sensor is in the common of a latching controller",
        "Pulses are lost, and a valve stays open.",
        "Put it into the controller's sensor loop.",
        _SERIES.replace("controllers: A", "controllers: P"),
        _RAIN.replace("controllers: A", "controllers: P"),
        base="latching",
    ),
    warning(
        "flow-sensor-in-valve-cable",
        "a flow sensor runs beside valve conductors",
        "The valves' alternating current falsifies its pulses.",
        "Give it a shielded cable of its own; mind its polarity.",
        _FLOW.replace("[F1 black, F1 orange]", "[K1 green, K1 yellow]"),
        _FLOW,
    ),
)
