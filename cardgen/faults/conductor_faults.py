"""Faults of cables, conductors and spares."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, NOTE, WARNING, Fault

_STATIONS = """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""
_CABLE = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, yellow]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
"""
_SINGLES = """
cables:
  K1:
    singles:
      - {color: red, gauge: 14 AWG, flags: [A1, A2, SP]}
      - {color: white, gauge: 14 AWG}
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red A1}
  A2: {area: side lawn, box: VB-2, hot: K1 red A2}
"""
_SPLICE = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 85 ft, SB-1]}
  K2: {gauge: 18 AWG, colors: [white, green, gray], run: [SB-1, 60 ft, VB-1]}
boxes: {SB-1: {kind: splice box}, VB-1: {place: walk}}
stations:
  A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 green]}
"""
_TO_ALLOT = """
stations:
  A1: {area: front lawn, box: VB-1}
  A2: {area: side lawn, box: VB-2}
"""

CABLE_MAKEUP = Fault(
    code="cable-makeup",
    verdict=ERROR,
    title="it is not clear which conductors a cable has",
    sentence="{cable} has singles and a palette",
    way_out="describe them as two cables",
    variants={
        "no colors": (
            "the colors in {cable} are not given",
            "give it a 'palette', 'colors' or 'singles'",
        ),
        "alike": (
            "{cable} has more than one conductor '{conductor}'",
            "list conductors of one color as 'singles' and give each its own flag",
        ),
    },
    why="Without the colors no station can be given a conductor.",
    fix=(
        "Give a cable a palette or its colors, a bundle its singles; conductors of the same "
        "color need flags."
    ),
    wrong=_CABLE.replace("yellow", "red"),
    right=_CABLE,
)

RUN_RETURNS = Fault(
    code="run-returns",
    verdict=ERROR,
    title="a run goes through one box twice",
    sentence="the run of {cable} goes through '{box}' twice",
    way_out="write the return as a second cable",
    why="A color would be in the box twice, and nobody could tell its ends apart.",
    fix="Write the return as a second cable with its own name.",
    wrong=_CABLE.replace("VB-2]", "VB-2, 60 ft, VB-1]"),
    right=_CABLE,
)

RUN_MISSES_BOX = Fault(
    code="run-misses-box",
    verdict=ERROR,
    title="a conductor is to begin or end in a box that it does not reach",
    sentence="{what} does not reach '{box}'",
    way_out="it reaches {places}",
    variants={
        "no stretch": (
            "{what} is given from '{box}' to '{box}', which is not a stretch of it",
            "say another place; it reaches {places}",
        ),
    },
    why="The flag would send the crew to a box in which the conductor is not.",
    fix="Correct the box, or the run.",
    wrong=_SINGLES.replace("white, gauge: 14 AWG", "white, gauge: 14 AWG, to: PB-1")
    + "boxes: {VB-1: {}, VB-2: {}, PB-1: {kind: pull box}}\n",
    right=_SINGLES,
)

RUN_TOWARD_CONTROLLER = Fault(
    code="run-toward-controller",
    verdict=ERROR,
    title="a run is written from the far end toward the controller",
    sentence="the run of {cable} is written from '{first}' toward '{last}', where it is fed",
    way_out="write it from the controller outward: 'run: {run}'",
    why=(
        "On splice cards 'from' and 'to' would be exchanged, and with them 'in' and 'out' in "
        "written joints."
    ),
    fix="Turn the run around, with its lengths; then look at its joints.",
    wrong=_CABLE.replace("[A, 85 ft, VB-1, 60 ft, VB-2]", "[VB-2, 60 ft, VB-1, 85 ft, A]"),
    right=_CABLE,
)

NO_SUCH_CONDUCTOR = Fault(
    code="no-such-conductor",
    verdict=ERROR,
    title="a cable does not have this conductor",
    sentence="{cable} has no {color} conductor",
    way_out="{cable} has {count}: {conductors}",
    variants={
        "not read": ("'{words}' names no conductor", "write cable and color: '{example}'"),
        "misspelt": ("'{words}' names no conductor", "{near}"),
        "terminal": (
            "'{words}' is a terminal, and a wire is expected",
            "name the wire by its cable and color: '{example}'",
        ),
        "parted": (
            "'{words}' and '{color}' are one conductor",
            "write '{meant}' without the comma",
        ),
        "color alone": ("'{words}' names no conductor", "name its cable, too: {near}"),
        "several": ("'{words}' names no conductor", "several are a list: '[{near}]'"),
        "no flag named": ("in {cable} no flag is named", "flags are {flags}"),
        "no such flag": (
            "in {cable} no {color} conductor is flagged '{flag}'",
            "flags are {flags}",
        ),
        "misspelt flag": ("in {cable} no {color} conductor is flagged '{flag}'", "{near}"),
    },
    why="The tag would name a color that nobody finds in the box.",
    fix="Take one of the conductors that the message lists.",
    wrong=_STATIONS.replace("K1 blue", "K1 brown"),
    right=_STATIONS,
)

SINGLES_WITHOUT_FLAGS = Fault(
    code="singles-without-flags",
    verdict=ERROR,
    title="several conductors of one color and nothing to tell them apart",
    sentence="{cable} has {count} {color} conductors and nothing tells them apart",
    way_out="flag each one at both ends and write the flags under 'singles'",
    why="In the next box nobody knows which red belongs to which valve.",
    fix="Flag each one at both ends and write the flags under 'singles'.",
    wrong="""
        cables:
          K1:
            singles:
              - {color: red, gauge: 14 AWG, count: 3}
              - {color: white, gauge: 14 AWG}
              - {color: blue, gauge: 14 AWG}
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
        """,
    right=_SINGLES,
)

CONDUCTOR_USED_TWICE = Fault(
    code="conductor-used-twice",
    verdict=ERROR,
    title="one conductor is given to two things",
    sentence="conductor '{conductor}' is given to {first} and to {second}",
    way_out="spare in this cable: {free}",
    variants={
        "none free": ("", "{cable} has no free conductor"),
        "in one list": (
            "conductor '{conductor}' is given to {owner} twice",
            "name each conductor once, in the order from the controller outward",
        ),
    },
    why="Both valves would open together, or the hot would be on the common.",
    fix="Give one of them a conductor that is free; the message lists those of the cable.",
    wrong=_STATIONS.replace("K1 blue", "K1 red"),
    right=_STATIONS,
)

CABLE_CUT_OFF = Fault(
    code="cable-cut-off",
    verdict=ERROR,
    title="no controller feeds this cable",
    sentence="no cable from a controller reaches '{box}' or any other place of {cable}",
    way_out="extend the run of a cable to '{box}', or correct the run of {cable}",
    why="Everything on it is dead.",
    fix="Extend the run of another cable to its start, or correct its run.",
    wrong="""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1]}
          K2: {gauge: 18 AWG, colors: [white, blue], run: [SB-1, 60 ft, VB-2]}
        boxes: {VB-1: {}, VB-2: {}, SB-1: {kind: splice box}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue]}
        """,
    right="""
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1, 9 ft, SB-1]}
          K2: {gauge: 18 AWG, colors: [white, blue], run: [SB-1, 60 ft, VB-2]}
        boxes: {VB-1: {}, VB-2: {}, SB-1: {kind: splice box}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue]}
        """,
)

COLOR_CHANGE = Fault(
    code="color-change",
    verdict=NOTE,
    title="a conductor goes on in another color",
    sentence="colors change in '{box}': {changes}",
    way_out=(
        "flag both sides of each; the legend shows the color at the controller, the tag "
        "the one at the valve"
    ),
    why=(
        "In the box the color alone misleads. The legend shows the color at the controller, "
        "the tag the one at the valve."
    ),
    fix="Flag both sides of each change; there is nothing to fix.",
    wrong=_SPLICE,
    right=_SPLICE.replace("green", "red"),
)

TOLD_APART_BY_FLAGS = Fault(
    code="told-apart-by-flags",
    verdict=NOTE,
    thing="cable",
    title="several hots have one color, and only flags tell them apart",
    sentence=(
        "in {cable} the hots of {stations} are all {color}: only their flags tell them apart"
    ),
    way_out="flag every one of them in every box",
    why="A flag that is lost costs an hour with the meter.",
    fix="Print the wire flags and put one on every conductor in every box.",
    wrong=_SINGLES,
    right=_STATIONS,
)

SPARE_IN_USE = Fault(
    code="spare-in-use",
    verdict=ERROR,
    title="a conductor listed as spare serves something",
    sentence="{spare} is no longer spare: '{conductor}' serves {what}",
    way_out="take {spare} off the spare list, or free the conductor",
    variants={
        "further on": (
            "",
            "take {spare} off the spare list, or free the conductor, or reserve it only to '{box}'",
        ),
    },
    why="The next crew would cut into a live circuit, or count on a spare that is gone.",
    fix="Take it off the spare list, or free the conductor.",
    wrong="spares: {SP-1: {conductor: K1 red, to: VB-2}}",
    right="spares: {SP-1: {conductor: K1 green, to: VB-2}}",
)

SPARE_LISTED_TWICE = Fault(
    code="spare-listed-twice",
    verdict=WARNING,
    thing="first",
    title="one conductor is listed as two spares",
    sentence="'{conductor}' is listed as {first} and as {second}",
    way_out="one conductor is one spare: keep one of the two",
    why="Two repairs would be reserved on one and the same wire.",
    fix="Keep one of the two entries.",
    wrong="""
        spares:
          SP-1: {conductor: K1 green, to: VB-2}
          SP-2: {conductor: K1 green, to: VB-1}
        """,
    right="""
        spares:
          SP-1: {conductor: K1 green, to: VB-2}
          SP-2: {conductor: K1 yellow, to: VB-1}
        """,
)

SPARE_STOPS_SHORT = Fault(
    code="spare-stops-short",
    verdict=WARNING,
    thing="spare",
    title="a spare does not reach the box that it is reserved for",
    sentence="{spare} is reserved as far as '{box}' but ends in '{last}'",
    way_out="name the conductor that carries it on, or reserve it only as far as it goes",
    variants={
        "does not begin": (
            "{spare} is reserved from '{box}' on, where {conductor} does not come",
            "name the conductor that is free there, or reserve it from where it is",
        ),
        "not joined": (
            "{spare} stops: {one} and {two} are not joined in '{box}'",
            "join them in '{box}'",
        ),
        "never meets": (
            "{spare} stops: {one} and {two} are not joined anywhere",
            "name conductors that meet in a box",
        ),
        "cut": (
            "{spare} stops: {conductor} is cut in '{box}'",
            "join its two ends in '{box}', or reserve it only to '{box}'",
        ),
    },
    why="Whoever opens that box for a repair finds no wire.",
    fix=(
        "Name the conductors that carry it on and join them, or reserve it only as far as it goes."
    ),
    wrong="""
        boxes: {VB-1: {}, VB-2: {}, PB-3: {kind: pull box}}
        spares: {SP-1: {conductor: K1 green, to: PB-3}}
        """,
    right="""
        boxes: {VB-1: {}, VB-2: {}, PB-3: {kind: pull box}}
        spares: {SP-1: {conductor: K1 green, to: VB-2}}
        """,
)

SPARES_TIED = Fault(
    code="spares-tied",
    verdict=WARNING,
    thing="at",
    title="two spares are joined with each other",
    sentence="the spares {spares} are joined in '{at}'",
    way_out="cap each separately, or describe them as one",
    why="Neither can be used without the other; a test between them shows only wire.",
    fix="Cap each separately, or describe them as one spare of two conductors.",
    wrong="""
        spares:
          SP-1: {conductor: K1 green}
          SP-2: {conductor: K1 yellow}
        joints:
          VB-2:
            - [K1 blue, A2]
            - [K1 white, A2]
            - [K1 green, K1 yellow]
        """,
    right="""
        spares:
          SP-1: {conductor: K1 green}
          SP-2: {conductor: K1 yellow}
        joints:
          VB-2:
            - [K1 blue, A2]
            - [K1 white, A2]
        """,
)

NO_SPARE = Fault(
    code="no-spare",
    verdict=WARNING,
    thing="cable",
    title="a home run has no spare conductor",
    sentence="all {count} conductors of {cable} are in use: no spare on this home run",
    way_out="the first broken conductor will need a new cable; pull one more at the next dig",
    why="The first broken conductor will need a new trench.",
    fix="Nothing to fix now; pull one more at the next dig.",
    wrong=_CABLE.replace(", green, yellow", ""),
    right=_CABLE,
)

SPARES_TOO_FEW = Fault(
    code="spares-too-few",
    verdict=WARNING,
    thing="box",
    title="fewer spares reach a box than are asked for",
    sentence="'{box}' asks for {spares} and {have} from a controller",
    way_out="{left}: lay a cable with more conductors, or ask for fewer",
    variants={
        "no cable": ("", "no cable reaches it: look at the runs, or ask for fewer"),
    },
    why="What the specification promises is not in the ground.",
    fix="Use a cable with more conductors, or ask for fewer.",
    wrong="boxes:\n  VB-1: {place: walk}\n  VB-2: {place: bed, spares: 3}\n",
    right="boxes:\n  VB-1: {place: walk}\n  VB-2: {place: bed, spares: 2}\n",
)

CONDUCTORS_SHORT = Fault(
    code="conductors-short",
    verdict=ERROR,
    title="a leg has fewer conductors than its stations need",
    sentence=(
        "{cable} between '{start}' and '{end}' needs {needs} conductors ({makeup}), it has {has}"
    ),
    way_out="lay a cable with {needs} or more, or another one beside it{or_fewer}{or_take_out}",
    why="Some stations can get no hot, however the conductors are assigned.",
    fix="Lay a cable with more conductors, or another one beside it.",
    wrong=_TO_ALLOT + _CABLE.replace("[white, red, blue, green, yellow]", "[white, red]"),
    right=_TO_ALLOT + _CABLE,
    base="allot",
)

HOT_WITHOUT_WAY = Fault(
    code="hot-without-way",
    verdict=ERROR,
    title="no free conductor leads to a station's box",
    sentence="no free conductor leads from {controller} to {boxes} for {station}",
    way_out=(
        "what is free may have no flag, be reserved as a spare, or serve something in "
        "another leg: lay another cable, or name a hot yourself"
    ),
    variants={
        "no cable": (
            "no cable leads from {controller} to {boxes}, so {station} gets no hot",
            "add the cable that comes there, or look at the names in the runs",
        ),
        "spares promised": (
            "a hot for {station} would leave a box fewer spares than it asks for",
            "lay a cable with more conductors, or ask for fewer spares",
        ),
        "all taken": (
            "other stations take every conductor that could lead to {boxes} for {station}",
            "lay a cable with more conductors, or another one beside it{or_take_out}",
        ),
        "joints written": (
            "the joints written out leave no free conductor for {station}",
            "write {station} into its joints ({joints}), or name its hot yourself",
        ),
        "several boxes": (
            "no way of free conductors passes {boxes} one after the other for {station}",
            "name its hot yourself and write out the joints where it branches",
        ),
    },
    why="It cannot be given a hot.",
    fix="Lay a cable to the box, or free a conductor on the way.",
    wrong=_TO_ALLOT.replace("box: VB-2", "box: VB-3") + "boxes: {VB-1: {}, VB-2: {}, VB-3: {}}\n",
    right=_TO_ALLOT,
    base="allot",
)

HOT_NOT_WRITTEN = Fault(
    code="hot-not-written",
    verdict=ERROR,
    title="an entry is laid out so that no hot can be written into it",
    sentence="the entry of {station} is laid out so that no hot can be written into it",
    way_out="write it out in one separate line: '{station}: {{area: ..., box: ...}}'",
    why="The file keeps its comments and its order, so only plain entries are added to.",
    fix="Write the station on a separate line.",
    wrong="""
        stations:
          A1: &front {area: front lawn, box: VB-1}
          A2: *front
        """,
    right=_TO_ALLOT,
    base="allot",
)
