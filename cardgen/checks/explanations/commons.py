"""Codes of commons."""

from __future__ import annotations

from cardgen.checks.explanations.model import error, note

_JOINTS = """
joints:
  VB-1:
    - [K1 red in, A1]
    - [K1 white in, K1 white out, A1]
"""
_AT_A = """
joints:
  A:
    - [C, K1 white]
    - [1, K1 red]
    - [2, K1 blue]
"""
_SHARED = """
joints:
  VB-2:
    - [K1 blue, A2]
    - [K1 white, A2]
"""
_TWO = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 gray]}
cables:
  K1: {gauge: 18 AWG, colours: [white, red, blue, green], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  K2: {gauge: 18 AWG, colours: [gray, brown, tan], run: [A, 140 ft, VB-2]}
"""
_ONE = (
    "controllers:\n  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}\n"
)
_UNCLEAR = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 gray]}
cables:
  K1: {gauge: 18 AWG, colours: [white, red, tan], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  K2: {gauge: 18 AWG, colours: [gray, brown, tan], run: [A, 140 ft, VB-2]}
  K3: {gauge: 18 AWG, colours: [black, pink], run: [A, 140 ft, VB-2]}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K3 black}
"""
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

ENTRIES = (
    error(
        "common-missing",
        "a controller has valves and no common",
        "Without a way back nothing runs.",
        "List all conductors of the common under the controller.",
        "controllers:\n  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual}\n",
        _ONE,
    ),
    error(
        "common-stops",
        "a common is interrupted",
        "All stations beyond the box read open, though each hot is well.",
        "Join the common coming in with the one going on and the valve leads.",
        _JOINTS.replace("K1 white out, ", ""),
        _JOINTS,
    ),
    error(
        "common-unclear",
        "two commons come to a box and nothing says which one serves",
        "The tag must not guess on which common a valve is.",
        "Write 'common' for the station, or write out the joints of the box.",
        _UNCLEAR,
        _UNCLEAR.replace("hot: K3 black", "hot: K3 black, common: K2 gray"),
    ),
    error(
        "common-not-landed",
        "a common is not on C",
        "Every station of that home run reads open.",
        "Land it on C; where two meet there, with a pigtail.",
        _AT_A.replace("    - [C, K1 white]\n", ""),
        _AT_A,
    ),
    error(
        "common-on-wrong-terminal",
        "a common is landed on a terminal that is not C",
        "On MV every station reads open; exchanged with a hot all but that one read double.",
        "Land it on C.",
        _AT_A.replace("[C, K1 white]", "[MV, K1 white]"),
        _AT_A,
    ),
    error(
        "common-on-hot",
        "the common going on is joined with a hot",
        "All valves beyond hang between two hots and do not open.",
        "Join the common going on with the common coming in.",
        _SPLICE.replace(
            "[K1 white, K2 white]\n    - [K1 red, K2 red]",
            "[K1 red, K2 white]\n    - [K1 white, K2 red]",
        ),
        _SPLICE,
    ),
    error(
        "commons-joined",
        "the commons of two controllers touch",
        "Each controller feeds through the other; both can be damaged, and faults wander.",
        "Part them: each controller has its own common in its own connector.",
        _SHARED.replace("[K1 white, A2]", "[K1 white, K2 gray, A2]"),
        _SHARED,
        base="two controllers",
    ),
    error(
        "return-on-other-common",
        "a valve returns on the common of another controller",
        "It runs only while the two commons happen to touch, which they must not.",
        "Join its lead with its own controller's common.",
        _SHARED.replace("[K1 white, A2]", "[K2 gray, A2]"),
        _SHARED,
        base="two controllers",
    ),
    note(
        "several-commons",
        "more conductors land on C than it has screws",
        """One terminal holds one wire; two under one screw work loose. The returns of master valve
        and relay count.""",
        "Join them in a connector with a pigtail to C; the message says what is on which.",
        _TWO,
        _ONE,
    ),
    note(
        "common-ring",
        "a common is fed from more than one side",
        "A single break shows on no meter, and the second one then stops half the site.",
        "Nothing to mend; know where to open the ring for a test.",
        _TWO + "joints:\n  VB-2:\n    - [K1 blue, A2]\n    - [K1 white, K2 gray, A2]\n",
        _TWO,
    ),
    note(
        "dead-stretch",
        "a part of a conductor is dead, and no valve is the reason",
        """It has the colour of the live part: who takes it for the common, or offers it as a hot,
        finds nothing on it.""",
        "Cap both of its ends and flag them as dead.",
        """
        joints:
          VB-1:
            - [K1 red in, A1]
            - [K1 white in, K1 white out, A1]
            - [K1 blue in, K1 green out]
          VB-2:
            - [K1 green, A2]
            - [K1 white, A2]
        """,
        _SHARED,
    ),
    note(
        "ways-apart",
        "hot and common of a station lie in different cables",
        "Either cable cut and it is dead; who looks only along its hot misses the break.",
        "Nothing to mend; look at both cables before digging.",
        """
        cables:
          K1: {gauge: 18 AWG, colours: [white, red, tan], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
          K2: {gauge: 18 AWG, colours: [black, blue], run: [A, 140 ft, VB-2]}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K2 blue}
        """,
        _SHARED,
    ),
    note(
        "common-on-spare",
        "a spare carries the common on from some box",
        "It was a repair; whoever does not know it takes the conductor for a free one.",
        "Strike it off the spares, flag it anew in every box and revise the tags.",
        """
        controllers:
          A:
            place: hut
            supply: 24 V AC
            stations: 8
            coil: usual
            common: [K1 white, K1 green from VB-1]
        """,
        _ONE,
    ),
)
