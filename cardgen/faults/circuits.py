"""Faults of single circuits and of the joints that make them."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, WARNING, Fault

_JOINTS = """
stations:
  A1: {area: front lawn, box: VB-2, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
boxes: {VB-1: {kind: pull box}, VB-2: {place: bed}}
joints:
  VB-2:
    - [K1 red, A1]
    - [K1 blue, A2]
    - [K1 white, A1, A2]
"""


def _joints(*lines: str) -> str:
    head = _JOINTS[: _JOINTS.index("    - [")]
    return head + "".join(f"    - {line}\n" for line in lines)


_SPLICE = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: 18 AWG, colours: [white, red, blue, tan], run: [A, 85 ft, SB-1]}
  K2: {gauge: 18 AWG, colours: [white, red, blue], run: [SB-1, 60 ft, VB-1]}
boxes: {SB-1: {kind: splice box}, VB-1: {place: walk}}
stations:
  A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 red]}
  A2: {area: side lawn, box: VB-1, hot: [K1 blue, K2 blue]}
joints:
  SB-1:
    - [K1 white, K2 white]
    - [K1 red, K2 red]
    - [K1 blue, K2 blue]
"""
_NAMED = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: 18 AWG, colours: [white, red, tan], run: [A, 85 ft, SB-1]}
  K2: {gauge: 18 AWG, colours: [white, red, tan], run: [SB-1, 60 ft, VB-1]}
boxes: {SB-1: {kind: splice box}, VB-1: {place: walk}}
stations:
  A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 red]}
joints:
  SB-1:
    - [K1 white, K2 white]
    - [K1 red, K2 red]
  VB-1:
    - [K2 white, A1]
    - [K2 red, A1]
"""

HOT_MISSING = Fault(
    code="hot-missing",
    verdict=ERROR,
    title="a station names no conductor",
    why="Nothing carries the voltage to its valve.",
    fix="Name its hot, or let 'cardgen allot' give it a free conductor.",
    wrong="""
        stations:
          A1: {area: front lawn, box: VB-1}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    right="""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
)

HOT_STOPS = Fault(
    code="hot-stops",
    verdict=ERROR,
    title="a hot does not come to its valve",
    why=("The station reads open and never runs; the break is in the box that the message names."),
    fix="Name every conductor from the controller outward, or join it onward in that box.",
    wrong=_SPLICE.replace("    - [K1 red, K2 red]\n", ""),
    right=_SPLICE,
)

HOT_UNCLEAR = Fault(
    code="hot-unclear",
    verdict=ERROR,
    title="nothing says where the conductors of a hot take over from each other",
    why=(
        "Two conductors that lie side by side could change in any box, and what is not used "
        "would be flagged as live, or what is live sold as a spare."
    ),
    fix=(
        "Say from which box on a conductor serves, 'K1 blue from VB-1', or write out the joints "
        "of that box; strike a conductor that carries nothing."
    ),
    wrong="""
        stations:
          A1: {area: front lawn, box: VB-2, hot: [K1 red, K1 blue]}
        """,
    right="""
        stations:
          A1: {area: front lawn, box: VB-2, hot: [K1 red, K1 blue from VB-1]}
        boxes: {VB-1: {kind: splice box}, VB-2: {place: bed}}
        """,
)

HOT_CROSSED = Fault(
    code="hot-crossed",
    verdict=ERROR,
    title="hots are exchanged at a splice or at the valves",
    why="Each station waters the other's area; ohms read well, only a walk test shows it.",
    fix="Join each hot with its own going on, or correct which station is on which.",
    wrong=_SPLICE.replace(
        "K1 red, K2 red]\n    - [K1 blue, K2 blue", "K1 red, K2 blue]\n    - [K1 blue, K2 red"
    ),
    right=_SPLICE,
)

HOTS_JOINED = Fault(
    code="hots-joined",
    verdict=ERROR,
    title="the hots of two stations touch",
    why="Both valves open whenever one is called for, and both read too few ohms.",
    fix=(
        "Part them; if they touch in the trench, move one to a spare. Terminals that are to run "
        "together are declared as 'jumpers'."
    ),
    wrong=_SPLICE.replace(
        "K1 red, K2 red]\n    - [K1 blue, K2 blue", "K1 red, K2 red, K1 blue, K2 blue"
    ),
    right=_SPLICE,
)

HOT_ON_COMMON = Fault(
    code="hot-on-common",
    verdict=ERROR,
    title="a hot touches the common",
    why="The terminal is shorted: the controller trips or blows its fuse.",
    fix="Part them.",
    wrong=_SPLICE.replace("K2 white]\n    - [K1 red, K2 red", "K2 white, K1 red, K2 red"),
    right=_SPLICE,
)

NOT_AS_JOINED = Fault(
    code="not-as-joined",
    verdict=ERROR,
    title="the file names another conductor than the joints use",
    why=(
        "The circuit works, and flag, legend and record would name a wrong colour: the live one "
        "would be offered as free."
    ),
    fix="Write the conductors that the joints use; the message gives them in their order.",
    wrong=_NAMED.replace("hot: [K1 red, K2 red]", "hot: [K1 red, K2 tan]"),
    right=_NAMED,
)

LIVE_STUB = Fault(
    code="live-stub",
    verdict=WARNING,
    title="a conductor is joined with a hot and leads nowhere",
    why="Its far end looks free and is live whenever the station runs.",
    fix="Cap it by itself; a hot that is cut at its valve is written with 'in'.",
    wrong=_joints("[K1 red, K1 green, A1]", "[K1 blue, A2]", "[K1 white, A1, A2]"),
    right=_JOINTS,
)

JOINT_OF_ONE_END = Fault(
    code="joint-of-one-end",
    verdict=WARNING,
    title="a joint holds one conductor and nothing else",
    why="It is a cap, or something is missing in it: the trench cannot tell which.",
    fix="Write what it is joined with, or strike the joint: an end in no joint is capped.",
    wrong=_joints("[K1 red, A1]", "[K1 blue, A2]", "[K1 white, A1, A2]", "[K1 green]"),
    right=_JOINTS,
)

LEAD_IN_NO_JOINT = Fault(
    code="lead-in-no-joint",
    verdict=ERROR,
    title="the joints of a box leave out a lead of a valve",
    why="A lead that hangs free gives an open circuit.",
    fix="Write the valve into the joint with its hot and into the one with its common.",
    wrong=_joints("[K1 red, A1]", "[K1 blue, A2]", "[K1 white, A1]"),
    right=_JOINTS,
)

COIL_BRIDGED = Fault(
    code="coil-bridged",
    verdict=ERROR,
    title="both leads of a valve are joined with each other",
    why="No current flows through the coil.",
    fix="One lead goes to the hot, the other to the common.",
    wrong=_joints("[K1 red, A1, A1]", "[K1 blue, A2]", "[K1 white, A2]"),
    right=_JOINTS,
)

VALVE_BETWEEN_HOTS = Fault(
    code="valve-between-hots",
    verdict=ERROR,
    title="a valve hangs between two hots and has no common",
    why="It gets no voltage of its own, and running the other station feeds it backwards.",
    fix="Move the lead from the other hot to the common.",
    wrong=_joints("[K1 red, A1]", "[K1 blue, A2, A1]", "[K1 white, A2]"),
    right=_JOINTS,
)

COILS_IN_SERIES = Fault(
    code="coils-in-series",
    verdict=ERROR,
    title="valves are wired one behind the other",
    why="Each gets half the voltage: they hum and do not open.",
    fix="Side by side only: one lead of each on the hot, the other on the common.",
    wrong=_joints("[K1 red, A1]", "[A1, A2]", "[K1 white, A2]"),
    right=_JOINTS,
)

ON_OTHER_CIRCUIT = Fault(
    code="on-other-circuit",
    verdict=ERROR,
    title="a valve hangs on the conductors of another station",
    why="It runs with that station and never with its own.",
    fix="Join one lead with its own hot and the other with its common.",
    wrong=_joints("[K1 blue, A2, A1]", "[K1 green, A1]", "[K1 white, A2]"),
    right=_JOINTS,
)

JOINT = Fault(
    code="joint",
    verdict=ERROR,
    title="a joint names an end that is not in this box",
    why="The joints are the record as built; an end that is not there makes it worthless.",
    fix=("Name conductors by cable and colour, with 'in' or 'out' where they pass, and valves."),
    wrong=_joints("[K1 red, A1]", "[K1 blue, A2]", "[K1 white, A1, A2, A3]"),
    right=_JOINTS,
)

END_IN_TWO_JOINTS = Fault(
    code="end-in-two-joints",
    verdict=ERROR,
    title="one conductor end is in two connectors",
    why="An end can be in one connector only, so one of the two is a slip.",
    fix="Write all that is in one connector as one joint.",
    wrong=_joints("[K1 red, A1]", "[K1 blue, A2]", "[K1 white, A1, A2]", "[K1 red, K1 green]"),
    right=_JOINTS,
)

VALVE_WITHOUT_BOX = Fault(
    code="valve-without-box",
    verdict=ERROR,
    title="nothing says in which box a valve is",
    why="A valve that nobody can find is the dearest fault of all.",
    fix="Write the box.",
    wrong="""
        stations:
          A1: {area: front lawn, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    right="""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
)

RETURN_STOPS = Fault(
    code="return-stops",
    verdict=ERROR,
    title="the own return of a master valve or relay is interrupted",
    why="It reads open and never runs.",
    fix="Join it onward in the box that the message names.",
    wrong="""
        cables:
          K1:
            gauge: 18 AWG
            colours: [white, red, blue, green, yellow, tan]
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
        master valves:
          MV-1: {controllers: A, box: VB-2, hot: K1 green, return: K1 yellow}
        joints:
          VB-1:
            - [K1 red in, A1]
            - [K1 white, A1]
            - [K1 yellow in]
        """,
    right="""
        cables:
          K1:
            gauge: 18 AWG
            colours: [white, red, blue, green, yellow, tan]
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
        master valves:
          MV-1: {controllers: A, box: VB-2, hot: K1 green, return: K1 yellow}
        joints:
          VB-1:
            - [K1 red in, A1]
            - [K1 white, A1]
        """,
)
