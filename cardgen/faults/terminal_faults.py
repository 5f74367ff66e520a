"""Faults of what is on each terminal."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, NOTE, WARNING, Fault

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
  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 500 ft, VB-1, 500 ft, VB-2]}
"""

STATION_WITHOUT_TERMINAL = Fault(
    code="station-without-terminal",
    verdict=ERROR,
    title="a station's name does not say its terminal",
    sentence="the name '{station}' does not say controller and terminal",
    way_out="name it after them, 'A7' or 'A-07', or add 'controller' and 'terminal'",
    variants={
        "meant": ("", "write '{meant}', or add 'controller' and 'terminal'"),
    },
    why="The legend could not say where it is landed.",
    fix="Name it after controller and terminal, 'A7', or add 'controller' and 'terminal'.",
    wrong=_STATIONS.replace("A2:", "Roses:"),
    right=_STATIONS.replace("A2: {", "Roses: {controller: A, terminal: 2, "),
)

NO_SUCH_TERMINAL = Fault(
    code="no-such-terminal",
    verdict=ERROR,
    title="a terminal that the controller does not have",
    sentence="{owner} is on terminal {terminal}, which {controller} does not have",
    way_out="{controller} has {terminals}",
    variants={
        "jumper": "the jumper names terminal {terminal}, which {controller} does not have",
    },
    why="Nothing can be landed there.",
    fix="Take one of the terminals that the message lists.",
    wrong=_STATIONS.replace("A2:", "A12:"),
    right=_STATIONS,
)

TERMINAL_USED_TWICE = Fault(
    code="terminal-used-twice",
    verdict=ERROR,
    title="two stations are on one terminal",
    sentence="{first} and {second} are both on terminal {terminal} of {controller}",
    way_out="give each its own terminal, or describe them as one station with 'valves'",
    why="They cannot run separately.",
    fix="Give each its own terminal, or describe them as one station with two valves.",
    wrong=_STATIONS.replace("K1 blue", "K1 blue, terminal: 1"),
    right=_STATIONS,
)

HOT_ON_WRONG_TERMINAL = Fault(
    code="hot-on-wrong-terminal",
    verdict=ERROR,
    title="a hot is landed on another terminal than its station's",
    sentence="{conductor} of {station} is on terminal {terminal} of {controller}, not on {own}",
    way_out="land it on {own}",
    variants={
        "exchanged": (
            (
                "{conductor} of {station} is on terminal {terminal} of {controller}, not on "
                "{own}{others}"
            ),
            "swap them",
        ),
    },
    why="The controller waters another area than its program says; ohms read right.",
    fix="Move it to its own terminal.",
    wrong=_AT_A.replace("[1, K1 red]", "[2, K1 red]").replace("[2, K1 blue]", "[1, K1 blue]"),
    right=_AT_A,
)

HOT_NOT_LANDED = Fault(
    code="hot-not-landed",
    verdict=ERROR,
    title="a hot is on no terminal",
    sentence="the joints of '{controller}' land no hot for {stations}",
    way_out="land {landings}",
    why="The station never runs.",
    fix="Land it on its terminal.",
    wrong=_AT_A.replace("    - [2, K1 blue]\n", ""),
    right=_AT_A,
)

JUMPER = Fault(
    code="jumper",
    verdict=NOTE,
    thing="controller",
    title="terminals are linked on purpose",
    sentence="the terminals {terminals} of {controller} are linked: {stations} {run}",
    way_out="the legend shows it, so that nobody hunts for a short",
    variants={
        "no station": "the terminals {terminals} of {controller} are linked",
    },
    why="A pump may need it; whoever does not know takes it for a short.",
    fix="Nothing to fix; the legend shows it.",
    wrong=_A + "    jumpers: [[7, 8, 1]]\n",
    right=_A,
)

JUMPER_UNDECLARED = Fault(
    code="jumper-undeclared",
    verdict=WARNING,
    thing="controller",
    title="terminals are linked and nothing says why",
    sentence="the terminals {terminals} of {controller} are linked and nothing says why",
    way_out="declare it under {controller}: 'jumpers: [[...]]', or take it out",
    why="Two stations run together, or a pump depends on it: nobody can tell.",
    fix="Declare it under the controller, or take it out.",
    wrong=_AT_A.replace("[1, K1 red]", "[1, 3, K1 red]"),
    right=_A + "    jumpers: [[1, 3]]\n" + _AT_A.replace("[1, K1 red]", "[1, 3, K1 red]"),
)

JUMPER_ON_COMMON = Fault(
    code="jumper-on-common",
    verdict=ERROR,
    title="a jumper links C with a switched terminal",
    sentence="the jumper links C of {controller} with {terminals}: a short",
    way_out="take C out of it; the fuse goes as soon as the terminal is switched on",
    why="The terminal is shorted: the fuse goes as soon as it is switched on.",
    fix="Take C out of the jumper.",
    wrong=_A + "    jumpers: [[C, 1]]\n",
    right=_A,
)

TWIN = Fault(
    code="twin",
    verdict=NOTE,
    title="two valves in one box are on one station",
    sentence="{station} has {count} valves ({valves}) in '{box}'",
    way_out="it takes the current of both, and reads about half the ohms of one",
    why="It takes twice the current, loses twice the volts and reads about half the ohms.",
    fix="Nothing to fix; the tag says '1 of 2'.",
    wrong=_TWIN,
    right=_STATIONS,
)

TWIN_IN_TWO_BOXES = Fault(
    code="twin-in-two-boxes",
    verdict=NOTE,
    thing="station",
    title="two valves of one station are in two boxes",
    sentence="{station} has {count} valves ({valves}) in {boxes}; its hot goes on",
    way_out="do not cap the hot in the first box",
    why="Whoever caps the hot in the first box kills the second valve.",
    fix="Nothing to fix; each tag names the other box.",
    wrong=_TWIN.replace("A2a: {box: VB-2}", "A2a: {box: VB-1}"),
    right=_STATIONS,
)

TOO_MANY_VALVES = Fault(
    code="too-many-valves",
    verdict=ERROR,
    title="a station has more valves than its controller allows",
    sentence="{station} has {count} valves ({valves}); {controller} allows {limit}",
    way_out="give each its own station, or write what the maker allows: 'valves per station'",
    variants={
        "latching": (
            "{station} has {count} valves ({valves}); a latching controller drives one "
            "unless its maker says more"
        ),
        "linked": (
            (
                "{station} are linked and have {count} valves ({valves}); {controller} allows "
                "{limit}"
            ),
            "take the jumper out, or write what the maker allows: 'valves per station'",
        ),
        "linked latching": (
            (
                "{station} are linked and have {count} valves ({valves}); a latching controller "
                "drives one unless its maker says more"
            ),
            "take the jumper out, or write what the maker allows: 'valves per station'",
        ),
    },
    why="The output is not made for it and fails in the first hot summer.",
    fix="Give each valve its own station.",
    wrong=_A + "    valves per station: 1\n" + _TWIN,
    right=_A + "    valves per station: 2\n" + _TWIN,
)

DEVICE_IN_CIRCUIT = Fault(
    code="device-in-circuit",
    verdict=NOTE,
    thing="station",
    title="a device is between terminal and valve",
    sentence="a {device} is in the circuit of {station}: ohms measured through it mean nothing",
    way_out="its tag and the legend give no ohms",
    why="Ohms measured through it mean nothing, so none are printed.",
    fix="Nothing to fix; measure at the valve.",
    wrong=_STATIONS.replace("K1 red", "K1 red, device: doubling device"),
    right=_STATIONS,
)

TERMINAL_OVERLOADED = Fault(
    code="terminal-overloaded",
    verdict=ERROR,
    title="the valves of a station take more current than its terminal gives",
    sentence="{who} {amperes} A when {they}; a terminal of {controller} gives {limit} A",
    way_out="put one valve on a station, or use a relay",
    variants={
        "linked": ("", "take the jumper out, put one valve on a station, or use a relay"),
    },
    why="The controller trips or burns its output.",
    fix="Put one valve on a station, or use a relay.",
    wrong=_A + "    station limit: 0.5 A\n" + _TWIN,
    right=_A + "    station limit: 1.0 A\n" + _TWIN,
)

CONTROLLER_OVERLOADED = Fault(
    code="controller-overloaded",
    verdict=ERROR,
    title="all that runs at once takes more current than the controller gives",
    sentence=(
        "{who} with what runs beside it takes {amperes} A; {controller} gives {limit} A in all"
    ),
    way_out="run fewer coils at once, or use a relay for the pump start",
    variants={
        "pulling in": (
            (
                "{who} takes {own} A when it pulls in, with the coils that hold then {amperes} "
                "A; {controller} gives {limit} A in all"
            ),
            (
                "use a relay that takes less, fewer stations at once, or a controller that gives "
                "more"
            ),
        ),
    },
    why="The transformer's voltage drops, valves chatter or do not open.",
    fix="Run fewer coils at once, or use a relay for the pump start.",
    wrong=_A + "    total limit: 0.3 A\n",
    right=_A + "    total limit: 1.0 A\n",
)

TRANSFORMER_OVERLOADED = Fault(
    code="transformer-overloaded",
    verdict=ERROR,
    title="all that runs at once takes more than the transformer gives",
    sentence="{controller} takes {load} VA when {when}; its transformer gives {limit} VA",
    way_out=(
        "run fewer stations at once, or install a larger transformer of the same kind (line "
        "side: a licensed electrician)"
    ),
    why="The voltage sags when the last valve starts, and none of them opens fully.",
    fix=(
        "Run fewer stations at once, or install a larger transformer; its line side is for a "
        "licensed electrician."
    ),
    wrong=_A + "    transformer: 8 VA\n",
    right=_A + "    transformer: 40 VA\n",
)

VOLTS_TOO_LOW = Fault(
    code="volts-too-low",
    verdict=ERROR,
    title="too few volts are left at a valve",
    sentence=(
        "{coil}{beside} has {volts} V at inrush and needs {least} V; {stations} may not open"
    ),
    way_out=(
        "most is lost in {conductor} from '{start}' to '{end}' ({gauge}, {length}); "
        "{ways} would do; one such coil alone: {reach}"
    ),
    variants={
        "no gauge": (
            "",
            (
                "most is lost in {conductor} from '{start}' to '{end}' ({gauge}, {length}); no "
                "gauge that is made would do: bring the controller nearer, or use a relay; one "
                "such coil alone: {reach}"
            ),
        ),
    },
    why="It opens in the morning and not in the heat, or never.",
    fix="Use a thicker conductor, a nearer controller, or one valve fewer on the station.",
    wrong=_FAR,
    right=_FAR.replace("18 AWG", "14 AWG"),
)
