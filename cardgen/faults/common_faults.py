"""Faults of commons."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, NOTE, Fault

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
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [gray, brown, tan], run: [A, 140 ft, VB-2]}
"""
_ONE = (
    "controllers:\n  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}\n"
)
_UNCLEAR = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 gray]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [gray, brown, tan], run: [A, 140 ft, VB-2]}
  K3: {gauge: 18 AWG, colors: [black, pink], run: [A, 140 ft, VB-2]}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K3 black}
"""
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
COMMON_MISSING = Fault(
    code="common-missing",
    verdict=ERROR,
    title="a controller has valves and no common",
    sentence="no common is written for {controller}, so {valves} have no return",
    way_out="name all conductors of its common: 'common: [{example}]'",
    why="Without a return nothing runs.",
    fix="List all conductors of the common under the controller.",
    wrong="controllers:\n  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual}\n",
    right=_ONE,
)

COMMON_STOPS = Fault(
    code="common-stops",
    verdict=ERROR,
    title="a common is interrupted",
    sentence="the common of {controller} stops in '{at}': {owners} {have} no return",
    way_out="join the common of {controller} coming in with the one going on and the valve leads",
    variants={
        "absent": (
            ("no conductor of the common of {controller} reaches {box}: {owners} {have} no return"),
            "list the one that carries it there under {controller}: 'common: [...]'",
        ),
        "not fed": (
            "nothing feeds {what} in '{at}': {owners} {have} no return",
            "join it with the common in '{at}'",
        ),
        "lead off": (
            (
                "in '{at}' a lead of {what} is not on the common of {controller}: {owners} "
                "{have} no return"
            ),
            "move it to the joint of the common",
        ),
    },
    why="All stations beyond the box read open, although every hot is good.",
    fix="Join the common coming in with the one going on and the valve leads.",
    wrong=_JOINTS.replace("K1 white out, ", ""),
    right=_JOINTS,
)

COMMON_UNCLEAR = Fault(
    code="common-unclear",
    verdict=ERROR,
    title="two commons reach a box and nothing says which one serves",
    sentence="in '{box}' the lead of {valve} could go to {commons}",
    way_out="write 'common: {first}' for {valve}, or write out the joints of '{box}'",
    variants={
        "begins": (
            "{conductor} begins in '{box}', where {commons} could feed it",
            "write out the joints of '{box}'",
        ),
    },
    why="The tag must not guess on which common a valve is.",
    fix="Write 'common' for the station, or write out the joints of the box.",
    wrong=_UNCLEAR,
    right=_UNCLEAR.replace("hot: K3 black", "hot: K3 black, common: K2 gray"),
)

COMMON_NOT_LANDED = Fault(
    code="common-not-landed",
    verdict=ERROR,
    title="a common is not on C",
    sentence="{what} is not on C of {controller}: {owners} {have} no return",
    way_out="land {what} on C",
    why="Every station of that home run reads open.",
    fix="Land it on C; where two meet there, with a pigtail.",
    wrong=_AT_A.replace("    - [C, K1 white]\n", ""),
    right=_AT_A,
)

COMMON_ON_WRONG_TERMINAL = Fault(
    code="common-on-wrong-terminal",
    verdict=ERROR,
    title="a common is landed on a terminal that is not C",
    sentence="the common {conductors} is on terminal {terminal} of {controller}, not on C",
    way_out="land it on C; only the common belongs there",
    variants={
        "exchanged": ("", "{others} is on C in its place: swap them"),
    },
    why="On MV every station reads open; swapped with a hot, all but that one read double.",
    fix="Land it on C.",
    wrong=_AT_A.replace("[C, K1 white]", "[MV, K1 white]"),
    right=_AT_A,
)

COMMON_ON_HOT = Fault(
    code="common-on-hot",
    verdict=ERROR,
    title="the common to the next box is spliced to a hot",
    sentence=(
        "{where}the common of {controller} going on is joined with {other}: {stations} "
        "{do} not return to C of {controller}"
    ),
    way_out="join it with the common of {controller} coming in",
    why="All valves beyond it are between two hots and do not open.",
    fix="Join the common going on with the common coming in.",
    wrong=_SPLICE.replace(
        "[K1 white, K2 white]\n    - [K1 red, K2 red]",
        "[K1 red, K2 white]\n    - [K1 white, K2 red]",
    ),
    right=_SPLICE,
)

# A stopped controller fed backward: common practice, no source, here and in other families.
COMMONS_JOINED = Fault(
    code="commons-joined",
    verdict=ERROR,
    title="the commons of two controllers touch",
    sentence="the commons of {one} and {two} are joined{where}",
    way_out=(
        "lock off {one} and {two} and prove dead with the meter first, for a stopped controller "
        "can be fed backward through its transformer; then separate them: each controller keeps "
        "its own common, in its own connector"
    ),
    variants={
        "one needs it": (
            "",
            (
                "lock off {one} and {two} and prove dead with the meter first, for a stopped "
                "controller can be fed backward through its transformer; then separate them: each "
                "controller keeps its own common, in its own connector; first move the "
                "lead of {valves} in {boxes}, or it goes dead "
                "when they are separated"
            ),
        ),
        "several need it": (
            "",
            (
                "lock off {one} and {two} and prove dead with the meter first, for a stopped "
                "controller can be fed backward through its transformer; then separate them: each "
                "controller keeps its own common, in its own connector; first move the "
                "leads of {valves} in {boxes}, or they go dead "
                "when they are separated"
            ),
        ),
    },
    why=(
        "Each controller feeds through the other; both can be damaged, and faults show up "
        "in odd places. A stopped controller can be fed backward through its transformer."
    ),
    fix=(
        "Lock off both controllers and prove dead with the meter before you touch. Separate the "
        "commons: each controller has its own common in its own connector."
    ),
    wrong=_SHARED.replace("[K1 white, A2]", "[K1 white, K2 gray, A2]"),
    right=_SHARED,
    base="two controllers",
)

RETURN_ON_OTHER_COMMON = Fault(
    code="return-on-other-common",
    verdict=ERROR,
    title="a valve returns on the common of another controller",
    sentence="{valve} returns on a common that is not that of {controller}",
    way_out="join its lead with the common of {controller} in '{box}'",
    variants={
        "in a box": (
            "in '{box}' {valves} {returns} on the common of {other}",
            "join with the common of {controller} in '{box}'",
        ),
        "going on": (
            (
                "{where}the common of {controller} going on is joined with {other}: {stations} "
                "{do} not return to C of {controller}"
            ),
            "join it with the common of {controller} coming in",
        ),
    },
    why="It runs only while the two commons happen to touch, which they must not.",
    fix=(
        "Lock off both controllers and prove dead with the meter before you touch. Join its lead "
        "with its own controller's common."
    ),
    wrong=_SHARED.replace("[K1 white, A2]", "[K2 gray, A2]"),
    right=_SHARED,
    base="two controllers",
)

SEVERAL_COMMONS = Fault(
    code="several-commons",
    verdict=NOTE,
    title="more conductors go to C than it has screws",
    sentence="{wires} go to C of {controller}: {served}",
    way_out=(
        "only one wire fits a terminal: join them in a connector with a pigtail, "
        "{pigtail} and under 'joints' '{controller}: [[C, PT-1], [PT-1, {conductors}]]'"
    ),
    variants={
        "several screws": (
            "{wires} go to C of {controller}, which has {screws} terminals C: {served}"
        ),
    },
    why=(
        "Only one wire fits a terminal; two under one screw work loose. The returns of master "
        "valve and relay count."
    ),
    fix="Join them in a connector with a pigtail to C; the message says what is on which.",
    wrong=_TWO,
    right=_ONE,
)

COMMON_RING = Fault(
    code="common-ring",
    verdict=NOTE,
    thing="controller",
    title="a common is fed from more than one side",
    sentence="the common of {controller} is a ring over {boxes}",
    way_out="a break in it is found only by opening the ring",
    variants={
        "feeding": (
            "the common of {controller} is a ring over {boxes}: more than one way feeds {stations}"
        ),
    },
    why="A single break shows on no meter, and the second one then stops half the site.",
    fix="Nothing to fix; know where to open the ring for a test.",
    wrong=_TWO + "joints:\n  VB-2:\n    - [K1 blue, A2]\n    - [K1 white, K2 gray, A2]\n",
    right=_TWO,
)

DEAD_STRETCH = Fault(
    code="dead-stretch",
    verdict=NOTE,
    title="a stretch of a conductor is dead, and no valve is the reason",
    sentence="{conductors}, elsewhere {what}, {are} dead from '{first}' to '{last}'",
    way_out="cap both ends and flag them as dead, so that nobody takes them for live",
    why=(
        "It has the color of the live stretch: whoever takes it for the common, or offers it as "
        "a hot, finds nothing on it."
    ),
    fix="Cap both of its ends and flag them as dead.",
    wrong="""
        joints:
          VB-1:
            - [K1 red in, A1]
            - [K1 white in, K1 white out, A1]
            - [K1 blue in, K1 green out]
          VB-2:
            - [K1 green, A2]
            - [K1 white, A2]
        """,
    right=_SHARED,
)

WAYS_APART = Fault(
    code="ways-apart",
    verdict=NOTE,
    title="hot and common of a station are in different cables",
    sentence="{stations} {have} in {cables} and {return_} over {others}",
    way_out="cut {others} and {they} dead too: look at both before digging",
    why="If either cable is cut it is dead; whoever looks only along its hot misses the break.",
    fix="Nothing to fix; look at both cables before digging.",
    wrong="""
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
          K2: {gauge: 18 AWG, colors: [black, blue], run: [A, 140 ft, VB-2]}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K2 blue}
        """,
    right=_SHARED,
)

COMMON_ON_SPARE = Fault(
    code="common-on-spare",
    verdict=NOTE,
    thing="box",
    title="a spare carries the common on from some box",
    sentence="from '{box}' on, {conductor} carries the common of {controller}",
    way_out=(
        "it is no longer a spare from there on: flag it again in every box and revise the tags"
    ),
    variants={
        "feeding": (
            "from '{box}' on, {conductor} carries the common of {controller} for {stations}"
        ),
    },
    why="It was a repair; whoever does not know it takes it for a free conductor.",
    fix="Take it off the spare list, flag it again in every box and revise the tags.",
    wrong="""
        controllers:
          A:
            place: hut
            supply: 24 V AC
            stations: 8
            coil: usual
            common: [K1 white, K1 green from VB-1]
        """,
    right=_ONE,
)
