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
  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, SB-1]}
  K2: {gauge: 18 AWG, colors: [white, red, blue], run: [SB-1, 60 ft, VB-1]}
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
  K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 85 ft, SB-1]}
  K2: {gauge: 18 AWG, colors: [white, red, tan], run: [SB-1, 60 ft, VB-1]}
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
    title="a station has no conductor named",
    sentence="{station} has no hot wire yet",
    way_out=(
        "add it, 'hot: A-K1 red', or run 'cardgen allot' to have one picked; of a wire in use that "
        "nobody can name write 'hot: not known'"
    ),
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
    title="a hot does not reach its valve",
    sentence="{hot} leaves on {conductor} and stops in '{at}'; nothing carries it to {boxes}",
    way_out=(
        "name all conductors of {hot} from the controller outward, or write out the "
        "joints of the box where it goes on"
    ),
    variants={
        "does not come": "{conductor} does not reach '{at}'",
        "not brought": "nothing brings {hot} to '{at}', where {conductor} takes over",
        "both ways": "{hot} goes both ways on {conductor} from '{at}'",
        "never meet": "{conductor} and {following} never meet in one box",
        "in a box": ("", "join it with what goes on from '{at}'"),
        "in a box with common": (
            (
                "{hot} leaves on {conductor}; it and the common of {controllers} stop in '{at}'; "
                "nothing carries them to {boxes}"
            ),
            "join each with what goes on from '{at}'",
        ),
        "several": (
            "the hots of {stations} stop in '{at}'; nothing carries them to {boxes}",
            "join each with what goes on from '{at}'",
        ),
        "several with common": (
            (
                "the hots of {stations} and the common of {controllers} stop in '{at}'; nothing "
                "carries them to {boxes}"
            ),
            "join each with what goes on from '{at}'",
        ),
        "not joined": (
            "{station}'s hot {conductor} reaches '{at}' and is not joined with {valves}",
            "join {conductor} with a lead of {valves} in '{at}'",
        ),
        "nor the common": (
            (
                "{station}'s hot {conductor} reaches '{at}' and is not joined with {valves}, "
                "nor is the common"
            ),
            "join {conductor} with a lead of {valves} in '{at}'",
        ),
    },
    why="The station reads open and never runs; the break is in the box that the message names.",
    fix="Name every conductor from the controller outward, or join it onward in that box.",
    wrong=_SPLICE.replace("    - [K1 red, K2 red]\n", ""),
    right=_SPLICE,
)

HOT_UNCLEAR = Fault(
    code="hot-unclear",
    verdict=ERROR,
    title="nothing says where the conductors of a hot take over from each other",
    sentence="{following} runs beside {conductor} from '{at}' on",
    way_out="say from which box it takes over: '{following} from {example}'",
    variants={
        "arrived": (
            "{hot} has arrived in '{at}' on {last}: {conductor} carries nothing",
            "delete it, or say how far: '{conductor} to {far}'",
        ),
        "two boxes": (
            "{conductor} ends in '{at}', and {following} begins in '{other}'",
            "say one box for both",
        ),
        "at once": (
            "{conductor} carries nothing: in '{at}' {following} takes over at once",
            "delete it, or say from which box {following} is used",
        ),
        "no gap": (
            "{conductor} leads from the terminal to the valve, so nothing of this hot is not known",
            "leave 'not known' out, or say how far each side is known: '{conductor} to SB-1'",
        ),
    },
    why=(
        "Two conductors that run side by side could change places in any box, and what is not used "
        "would be flagged as live, or what is live sold as a spare."
    ),
    fix=(
        "Say from which box on a conductor serves, 'K1 blue from VB-1', or write out the joints "
        "of that box; delete a conductor that carries nothing."
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
    title="hots are swapped at a splice or at the valves",
    sentence="{station}'s valve is on {hot}{others}",
    way_out="join each hot with its own going on, or correct which station is on which",
    variants={
        "in a box": "{station}'s valve is on {hot}{others}: crossed in '{at}'",
    },
    why="Each station waters the other's area; ohms read right, only a walk test shows it.",
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
    sentence="the hots of {stations} are joined{where}",
    way_out="each station needs its own hot: separate them",
    variants={
        "on terminals": (
            "",
            (
                "each station needs its own terminal: separate them; if they are to run "
                "together, declare it under {controller}: 'jumpers: [[{terminals}]]'"
            ),
        ),
    },
    why="Both valves open whenever one is called for, and both read too few ohms.",
    fix=(
        "Lock off every controller that they belong to. Separate them; if they touch in the "
        "trench, move one to a spare. Terminals that are to run together are declared as 'jumpers'."
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
    sentence="the {hots} of {stations} and the common of {controller} are joined{where}",
    way_out="lock the power off and separate them: the terminal is shorted, and the fuse may go",
    why="The terminal is shorted: the controller trips or blows its fuse.",
    fix="Lock the power off. Separate them.",
    wrong=_SPLICE.replace("K2 white]\n    - [K1 red, K2 red", "K2 white, K1 red, K2 red"),
    right=_SPLICE,
)

NOT_AS_JOINED = Fault(
    code="not-as-joined",
    verdict=ERROR,
    title="the file names another conductor than the joints use",
    sentence="{conductor}, written as the {role} of {owner}, is {truth}",
    way_out="the circuit works: correct the record, {records}",
    variants={
        "in a box": (
            "{conductor}, written as the {role} of {owner}, is {truth} by the joints of {boxes}",
            "the circuit works: correct the record, {records}, or correct the joints of {boxes}",
        ),
        "several": (
            "{conductor}, written as the {role} of {owner}, is {truth}{others}",
            "the circuits work: correct the record, {records}",
        ),
        "several in a box": (
            (
                "{conductor}, written as the {role} of {owner}, is {truth}{others} by the joints "
                "of {boxes}"
            ),
            "the circuits work: correct the record, {records}, or move {both} in {boxes}",
        ),
        "common": (
            "{conductor}, written as the common of {controller}, is {truth} by the joints",
            "delete it from the 'common' of {controller}, or join it with the common",
        ),
        "jumper": (
            (
                "a jumper is written for the terminals {terminals} of {controller}, and the "
                "joints of '{controller}' do not link them"
            ),
            "put these terminals into one joint, or delete the jumper",
        ),
    },
    why=(
        "The circuit works, and flag, legend and record would name a wrong color: the live one "
        "would be offered as free."
    ),
    fix="Write the conductors that the joints use; the message gives them in their order.",
    wrong=_NAMED.replace("hot: [K1 red, K2 red]", "hot: [K1 red, K2 tan]"),
    right=_NAMED,
)

LIVE_STUB = Fault(
    code="live-stub",
    verdict=WARNING,
    thing="at",
    title="a conductor is joined with a hot and leads nowhere",
    sentence=(
        "{conductor} is joined with {hot} in '{at}' and leads nowhere: it is live up to {tips}"
    ),
    way_out="cap it separately, or say what it serves",
    variants={
        "goes on": (
            "{hot} {conductor} goes on beyond '{at}' and leads nowhere: it is live up to {tips}",
            (
                "if it is cut in '{at}', write '{conductor} {side}' in that joint; else cut it "
                "there and cap the end"
            ),
        ),
    },
    why="Its far end looks free and is live whenever the station runs.",
    fix="Cap it separately; a hot that is cut at its valve is written with 'in'.",
    wrong=_joints("[K1 red, K1 green, A1]", "[K1 blue, A2]", "[K1 white, A1, A2]"),
    right=_JOINTS,
)

JOINT_OF_ONE_END = Fault(
    code="joint-of-one-end",
    verdict=WARNING,
    thing="at",
    title="there is one conductor in a joint and nothing else",
    sentence="in '{at}' {conductor}{serving} is alone in its joint",
    way_out=(
        "write what it is joined with; if nothing is, delete the joint: an end in no "
        "joint is capped"
    ),
    why="It is a cap, or something is missing in it: nobody can tell which.",
    fix="Write what it is joined with, or delete the joint: an end in no joint is capped.",
    wrong=_joints("[K1 red, A1]", "[K1 blue, A2]", "[K1 white, A1, A2]", "[K1 green]"),
    right=_JOINTS,
)

LEAD_IN_NO_JOINT = Fault(
    code="lead-in-no-joint",
    verdict=ERROR,
    title="the joints of a box leave out a lead of a valve",
    sentence="the joints of '{box}' leave out {leads}",
    way_out="write {valves} into the joint with the hot and into the one with the common",
    why="A lead that is loose gives an open circuit.",
    fix="Write the valve into the joint with its hot and into the one with its common.",
    wrong=_joints("[K1 red, A1]", "[K1 blue, A2]", "[K1 white, A1]"),
    right=_JOINTS,
)

COIL_BRIDGED = Fault(
    code="coil-bridged",
    verdict=ERROR,
    title="both leads of a valve are joined with each other",
    sentence="both leads of {valve} are joined with each other in '{box}'",
    way_out="one lead goes to the hot, the other to the common",
    why="No current flows through the coil.",
    fix="One lead goes to the hot, the other to the common.",
    wrong=_joints("[K1 red, A1, A1]", "[K1 blue, A2]", "[K1 white, A2]"),
    right=_JOINTS,
)

VALVE_BETWEEN_HOTS = Fault(
    code="valve-between-hots",
    verdict=ERROR,
    title="a valve is between two hots and has no common",
    sentence="{valve} is between its own hot and {hot}: it has no common",
    way_out="move that lead to the common in '{box}'",
    why="It gets no voltage from its station, and running the other station feeds it backward.",
    fix="Move the lead from the other hot to the common.",
    wrong=_joints("[K1 red, A1]", "[K1 blue, A2, A1]", "[K1 white, A2]"),
    right=_JOINTS,
)

COILS_IN_SERIES = Fault(
    code="coils-in-series",
    verdict=ERROR,
    title="valves are wired in series",
    sentence="{valves} are wired in series",
    way_out="in parallel only: one lead of each on the hot, the other on the common",
    why="Each gets half the voltage: they hum and do not open.",
    fix="Wire them in parallel: one lead of each on the hot, the other on the common.",
    wrong=_joints("[K1 red, A1]", "[A1, A2]", "[K1 white, A2]"),
    right=_JOINTS,
)

ON_OTHER_CIRCUIT = Fault(
    code="on-other-circuit",
    verdict=ERROR,
    title="a valve is on the conductors of another station",
    sentence="{valve} is on the conductors of {other}, not on its own",
    way_out="join one lead with the hot of {valve} and the other with its common in '{box}'",
    why="It runs with that station and never with its own.",
    fix="Join one lead with its own hot and the other with its common.",
    wrong=_joints("[K1 blue, A2, A1]", "[K1 green, A1]", "[K1 white, A2]"),
    right=_JOINTS,
)

JOINT = Fault(
    code="joint",
    verdict=ERROR,
    title="a joint names an end that is not in this box",
    sentence="'{words}' is neither a conductor nor a valve",
    way_out="write a conductor by cable and color, '{example}', or a valve by name",
    variants={
        "perhaps": ("", "{near}"),
        "no cable": ("", "no cable reaches '{at}'"),
        "two terminals": (
            "two terminals are in one joint",
            "write a joint for each: a pigtail can link them",
        ),
        "pigtail on itself": (
            "both ends of {pigtail} are in one joint",
            "leave one there, and write the other into the joint that it links",
        ),
        "pigtail in one joint": (
            "{pigtail} is in one joint of '{at}'",
            "write '{pigtail}' in the two joints that it links",
        ),
        "pigtail in no joint": (
            "{pigtail} is in no joint of '{at}'",
            "write '{pigtail}' in the two joints that it links",
        ),
        "pigtail without joints": (
            "the joints of '{at}' are not written, so nothing says what {pigtail} links",
            "write them out, with '{pigtail}' in two of them",
        ),
        "pigtail end": (
            "'{words}' is not an end of a pigtail",
            "write '{pigtail}' once for each of its two ends",
        ),
        "pigtail too often": (
            "{pigtail} is in more than two joints: a pigtail has two ends",
            "describe each short wire as a separate pigtail",
        ),
        "no such C": (
            "the strip of {at} has {count} C, so there is no '{words}'",
            "write 'C', or correct its 'terminals'",
        ),
        "several valves": ("'{station}' has several valves", "name one of {valves}"),
        "which lead": ("'{words}' does not say which lead", "write {ways}"),
        "elsewhere": (
            "{what} is in '{box}', not in '{at}'",
            "write it into the joints of '{box}', or correct where it is",
        ),
        "no lead": ("'{words}' is not a lead", "write '{valve}' once for each of its two leads"),
        "lead too often": (
            "{valve} is in more than two joints: a coil has two leads",
            "leave '{valve}' in the joint with its hot and in the one with its common",
        ),
        "does not come": ("{conductor} does not reach '{at}'", "it runs {places}"),
        "begins": (
            "{conductor} begins in '{at}': it has no 'in' here",
            "write '{conductor}' without 'in'",
        ),
        "ends": (
            "{conductor} ends in '{at}': it has no 'out' here",
            "write '{conductor}' without 'out'",
        ),
    },
    why="The joints are the record as built; an end that is not there makes it worthless.",
    fix="Name conductors by cable and color, with 'in' or 'out' where they pass, and valves.",
    wrong=_joints("[K1 red, A1]", "[K1 blue, A2]", "[K1 white, A1, A2, A3]"),
    right=_JOINTS,
)

END_IN_TWO_JOINTS = Fault(
    code="end-in-two-joints",
    verdict=ERROR,
    title="one conductor end is in two connectors",
    sentence="'{words}' is in two joints of '{at}'",
    way_out=(
        "one conductor end can be in one connector only: write all that is in it as one joint"
    ),
    why="An end can be in one connector only, so one of the two is a mistake.",
    fix="Write all that is in one connector as one joint.",
    wrong=_joints("[K1 red, A1]", "[K1 blue, A2]", "[K1 white, A1, A2]", "[K1 red, K1 green]"),
    right=_JOINTS,
)

VALVE_WITHOUT_BOX = Fault(
    code="valve-without-box",
    verdict=ERROR,
    title="nothing says in which box a valve is",
    sentence="the valve of {station} is in no box",
    way_out="say which: 'box: VB-1'",
    why="A valve that nobody can find is the costliest fault of all.",
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
    title="the separate return of a master valve or relay is interrupted",
    sentence="the return of {what} stops in '{at}': {owners} {have} no return",
    way_out="join it onward to '{box}', or name all of its conductors",
    why="It reads open and never runs.",
    fix="Join it onward in the box that the message names.",
    wrong="""
        cables:
          K1:
            gauge: 18 AWG
            colors: [white, red, blue, green, yellow, tan]
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
            colors: [white, red, blue, green, yellow, tan]
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
        master valves:
          MV-1: {controllers: A, box: VB-2, hot: K1 green, return: K1 yellow}
        joints:
          VB-1:
            - [K1 red in, A1]
            - [K1 white, A1]
        """,
)
