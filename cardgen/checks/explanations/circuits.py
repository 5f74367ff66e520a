"""Codes of single circuits and of the joints that make them."""

from __future__ import annotations

from cardgen.checks.explanations.model import error, warning

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

ENTRIES = (
    error(
        "hot-missing",
        "a station names no conductor",
        "Nothing carries the voltage to its valve.",
        "Name its hot, or let 'cardgen allot' give it a free conductor.",
        """
        stations:
          A1: {area: front lawn, box: VB-1}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
        """
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    ),
    error(
        "hot-stops",
        "a hot does not come to its valve",
        "The station reads open and never runs; the break is in the box that the message names.",
        "Name every conductor from the controller outward, or join it onward in that box.",
        _SPLICE.replace("    - [K1 red, K2 red]\n", ""),
        _SPLICE,
    ),
    error(
        "hot-unclear",
        "nothing says where the conductors of a hot take over from each other",
        "Two conductors that lie side by side could change in any box, and what is not used "
        "would be flagged as live, or what is live sold as a spare.",
        "Say from which box on a conductor serves, 'K1 blue from VB-1', or write out the joints "
        "of that box; strike a conductor that carries nothing.",
        """
        stations:
          A1: {area: front lawn, box: VB-2, hot: [K1 red, K1 blue]}
        """,
        """
        stations:
          A1: {area: front lawn, box: VB-2, hot: [K1 red, K1 blue from VB-1]}
        boxes: {VB-1: {kind: splice box}, VB-2: {place: bed}}
        """,
    ),
    error(
        "hot-crossed",
        "hots are exchanged at a splice or at the valves",
        "Each station waters the other's area; ohms read well, only a walk test shows it.",
        "Join each hot with its own going on, or correct which station is on which.",
        _SPLICE.replace(
            "K1 red, K2 red]\n    - [K1 blue, K2 blue", "K1 red, K2 blue]\n    - [K1 blue, K2 red"
        ),
        _SPLICE,
    ),
    error(
        "hots-joined",
        "the hots of two stations touch",
        "Both valves open whenever one is called for, and both read too few ohms.",
        """Part them; if they touch in the trench, move one to a spare. Terminals that are to run
        together are declared as 'jumpers'.""",
        _SPLICE.replace(
            "K1 red, K2 red]\n    - [K1 blue, K2 blue", "K1 red, K2 red, K1 blue, K2 blue"
        ),
        _SPLICE,
    ),
    error(
        "hot-on-common",
        "a hot touches the common",
        "The terminal is shorted: the controller trips or blows its fuse.",
        "Part them.",
        _SPLICE.replace("K2 white]\n    - [K1 red, K2 red", "K2 white, K1 red, K2 red"),
        _SPLICE,
    ),
    error(
        "not-as-joined",
        "the file names another conductor than the joints use",
        """The circuit works, and flag, legend and record would name a wrong colour: the live one
        would be offered as free.""",
        "Write the conductors that the joints use; the message gives them in their order.",
        _NAMED.replace("hot: [K1 red, K2 red]", "hot: [K1 red, K2 tan]"),
        _NAMED,
    ),
    warning(
        "live-stub",
        "a conductor is joined with a hot and leads nowhere",
        "Its far end looks free and is live whenever the station runs.",
        "Cap it by itself; a hot that is cut at its valve is written with 'in'.",
        _joints("[K1 red, K1 green, A1]", "[K1 blue, A2]", "[K1 white, A1, A2]"),
        _JOINTS,
    ),
    warning(
        "joint-of-one-end",
        "a joint holds one conductor and nothing else",
        "It is a cap, or something is missing in it: the trench cannot tell which.",
        "Write what it is joined with, or strike the joint: an end in no joint is capped.",
        _joints("[K1 red, A1]", "[K1 blue, A2]", "[K1 white, A1, A2]", "[K1 green]"),
        _JOINTS,
    ),
    error(
        "lead-in-no-joint",
        "the joints of a box leave out a lead of a valve",
        "A lead that hangs free gives an open circuit.",
        "Write the valve into the joint with its hot and into the one with its common.",
        _joints("[K1 red, A1]", "[K1 blue, A2]", "[K1 white, A1]"),
        _JOINTS,
    ),
    error(
        "coil-bridged",
        "both leads of a valve are joined with each other",
        "No current flows through the coil.",
        "One lead goes to the hot, the other to the common.",
        _joints("[K1 red, A1, A1]", "[K1 blue, A2]", "[K1 white, A2]"),
        _JOINTS,
    ),
    error(
        "valve-between-hots",
        "a valve hangs between two hots and has no common",
        "It gets no voltage of its own, and running the other station feeds it backwards.",
        "Move the lead from the other hot to the common.",
        _joints("[K1 red, A1]", "[K1 blue, A2, A1]", "[K1 white, A2]"),
        _JOINTS,
    ),
    error(
        "coils-in-series",
        "valves are wired one behind the other",
        "Each gets half the voltage: they hum and do not open.",
        "Side by side only: one lead of each on the hot, the other on the common.",
        _joints("[K1 red, A1]", "[A1, A2]", "[K1 white, A2]"),
        _JOINTS,
    ),
    error(
        "on-other-circuit",
        "a valve hangs on the conductors of another station",
        "It runs with that station and never with its own.",
        "Join one lead with its own hot and the other with its common.",
        _joints("[K1 blue, A2, A1]", "[K1 green, A1]", "[K1 white, A2]"),
        _JOINTS,
    ),
    error(
        "joint",
        "a joint names an end that is not in this box",
        "The joints are the record as built; an end that is not there makes it worthless.",
        "Name conductors by cable and colour, with 'in' or 'out' where they pass, and valves.",
        _joints("[K1 red, A1]", "[K1 blue, A2]", "[K1 white, A1, A2, A3]"),
        _JOINTS,
    ),
    error(
        "end-in-two-joints",
        "one conductor end is in two connectors",
        "An end can be in one connector only, so one of the two is a slip.",
        "Write all that is in one connector as one joint.",
        _joints("[K1 red, A1]", "[K1 blue, A2]", "[K1 white, A1, A2]", "[K1 red, K1 green]"),
        _JOINTS,
    ),
    error(
        "valve-without-box",
        "nothing says in which box a valve is",
        "A valve that nobody can find is the dearest fault of all.",
        "Write the box.",
        """
        stations:
          A1: {area: front lawn, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
        """
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    ),
    error(
        "return-stops",
        "the own return of a master valve or relay is interrupted",
        "It reads open and never runs.",
        "Join it onward in the box that the message names.",
        """
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
        """
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
    ),
)
