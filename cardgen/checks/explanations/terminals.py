"""Codes of what hangs on each terminal."""

from __future__ import annotations

from cardgen.checks.explanations.model import error, note, warning

_STATIONS = """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""
_AT_A = """
joints:
  A:
    - [C, K1 white]
    - [1, K1 red]
    - [2, K1 blue]
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
_TWIN = """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, hot: K1 blue, valves: {A2a: {box: VB-2}, A2b: {box: VB-2}}}
"""
_FAR = """
cables:
  K1: {gauge: 18 AWG, colours: [white, red, blue, tan], run: [A, 500 ft, VB-1, 500 ft, VB-2]}
"""

ENTRIES = (
    error(
        "station-without-terminal",
        "a station's name does not say its terminal",
        "The legend could not say where it is landed.",
        "Name it after controller and terminal, 'A7', or add 'controller' and 'terminal'.",
        _STATIONS.replace("A2:", "Roses:"),
        _STATIONS.replace("A2: {", "Roses: {controller: A, terminal: 2, "),
    ),
    error(
        "no-such-terminal",
        "a terminal that the controller does not have",
        "Nothing can be landed there.",
        "Take one of the terminals that the message lists.",
        _STATIONS.replace("A2:", "A12:"),
        _STATIONS,
    ),
    error(
        "terminal-used-twice",
        "two stations are on one terminal",
        "They cannot run apart.",
        "Give each its own terminal, or describe them as one station with two valves.",
        _STATIONS.replace("K1 blue", "K1 blue, terminal: 1"),
        _STATIONS,
    ),
    error(
        "hot-on-wrong-terminal",
        "a hot is landed on another terminal than its station's",
        "The controller waters another area than its program says; ohms read well.",
        "Move it to its own terminal.",
        _AT_A.replace("[1, K1 red]", "[2, K1 red]").replace("[2, K1 blue]", "[1, K1 blue]"),
        _AT_A,
    ),
    error(
        "hot-not-landed",
        "a hot is on no terminal",
        "The station never runs.",
        "Land it on its terminal.",
        _AT_A.replace("    - [2, K1 blue]\n", ""),
        _AT_A,
    ),
    note(
        "jumper",
        "terminals are linked on purpose",
        "A pump may need it; whoever does not know takes it for a short.",
        "Nothing to mend; the legend shows it.",
        _A + "    jumpers: [[7, 8, 1]]\n",
        _A,
    ),
    warning(
        "jumper-undeclared",
        "terminals are linked and nothing says why",
        "Two stations run together, or a pump depends on it: nobody can tell.",
        "Declare it under the controller, or take it out.",
        _AT_A.replace("[1, K1 red]", "[1, 3, K1 red]"),
        _A + "    jumpers: [[1, 3]]\n" + _AT_A.replace("[1, K1 red]", "[1, 3, K1 red]"),
    ),
    error(
        "jumper-on-common",
        "a jumper links C with a switched terminal",
        "The terminal is shorted: the fuse goes as soon as it is switched on.",
        "Take C out of the jumper.",
        _A + "    jumpers: [[C, 1]]\n",
        _A,
    ),
    note(
        "twin",
        "two valves in one box are on one station",
        "It takes twice the current, loses twice the volts and reads about half the ohms.",
        "Nothing to mend; the tag says '1 of 2'.",
        _TWIN,
        _STATIONS,
    ),
    note(
        "twin-in-two-boxes",
        "two valves of one station are in two boxes",
        "Whoever caps the hot in the first box kills the second valve.",
        "Nothing to mend; each tag names the other box.",
        _TWIN.replace("A2a: {box: VB-2}", "A2a: {box: VB-1}"),
        _STATIONS,
    ),
    error(
        "too-many-valves",
        "a station has more valves than its controller allows",
        "The output is not made for it and fails in the first hot summer.",
        "Give each valve its own station.",
        _A + "    valves per station: 1\n" + _TWIN,
        _A + "    valves per station: 2\n" + _TWIN,
    ),
    note(
        "device-in-circuit",
        "a device sits between terminal and valve",
        "Ohms measured through it mean nothing, so none are printed.",
        "Nothing to mend; measure at the valve.",
        _STATIONS.replace("K1 red", "K1 red, device: doubling device"),
        _STATIONS,
    ),
    error(
        "terminal-overloaded",
        "the valves of a station take more current than its terminal gives",
        "The controller trips or burns its output.",
        "One valve to a station, or a relay.",
        _A + "    station limit: 0.5 A\n" + _TWIN,
        _A + "    station limit: 1.0 A\n" + _TWIN,
    ),
    error(
        "controller-overloaded",
        "all that runs at once takes more current than the controller gives",
        "The transformer drops its voltage, valves chatter or do not open.",
        "Fewer coils at once, or a relay for the pump start.",
        _A + "    total limit: 0.3 A\n",
        _A + "    total limit: 1.0 A\n",
    ),
    error(
        "transformer-overloaded",
        "the valves that run at once take more than the transformer gives",
        "Its voltage sinks, valves chatter or do not open, and it runs hot.",
        "Run fewer stations at once, or fit a larger transformer of the same kind.",
        _A + "    transformer: 8 VA\n",
        _A + "    transformer: 20 VA\n",
    ),
    error(
        "transformer-overloaded",
        "all that runs at once takes more than the transformer gives",
        "The voltage sags when the last valve starts, and none of them opens fully.",
        "Run fewer stations at once, or fit a larger transformer; its line side is for a licensed "
        "electrician.",
        _A + "    transformer: 8 VA\n",
        _A + "    transformer: 40 VA\n",
    ),
    error(
        "volts-too-low",
        "too few volts are left at a valve",
        "It opens in the morning and not in the heat, or never.",
        "A thicker conductor, a nearer controller, or one valve fewer on the station.",
        _FAR,
        _FAR.replace("18 AWG", "14 AWG"),
    ),
)
