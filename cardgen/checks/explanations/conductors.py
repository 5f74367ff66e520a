"""Codes of cables, conductors and spares."""

from __future__ import annotations

from cardgen.checks.explanations.model import error, note, warning

_STATIONS = """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""
_CABLE = """
cables:
  K1:
    gauge: 18 AWG
    colours: [white, red, blue, green, yellow]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
"""
_SINGLES = """
cables:
  K1:
    singles:
      - {colour: red, gauge: 14 AWG, flags: [A1, A2, SP]}
      - {colour: white, gauge: 14 AWG}
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red A1}
  A2: {area: side lawn, box: VB-2, hot: K1 red A2}
"""
_SPLICE = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: 18 AWG, colours: [white, red, tan], run: [A, 85 ft, SB-1]}
  K2: {gauge: 18 AWG, colours: [white, green, gray], run: [SB-1, 60 ft, VB-1]}
boxes: {SB-1: {kind: splice box}, VB-1: {place: walk}}
stations:
  A1: {area: front lawn, box: VB-1, hot: [K1 red, K2 green]}
"""
_TO_ALLOT = """
stations:
  A1: {area: front lawn, box: VB-1}
  A2: {area: side lawn, box: VB-2}
"""

ENTRIES = (
    error(
        "cable-makeup",
        "it is not clear which conductors a cable holds",
        "Without the colours no station can be given a conductor.",
        "Give a cable a palette or its colours, a bundle its singles; likes need flags.",
        _CABLE.replace("yellow", "red"),
        _CABLE,
    ),
    error(
        "run-returns",
        "a run comes to one box twice",
        "A colour would lie in the box twice, and nobody could tell its ends apart.",
        "Write the way back as a second cable with its own name.",
        _CABLE.replace("VB-2]", "VB-2, 60 ft, VB-1]"),
        _CABLE,
    ),
    error(
        "run-misses-box",
        "a conductor is to begin or end in a box where it does not come",
        "The flag would send the crew to a box in which the conductor is not.",
        "Correct the box, or the run.",
        _SINGLES.replace("white, gauge: 14 AWG", "white, gauge: 14 AWG, to: PB-1")
        + "boxes: {VB-1: {}, VB-2: {}, PB-1: {kind: pull box}}\n",
        _SINGLES,
    ),
    error(
        "no-such-conductor",
        "a cable does not have this conductor",
        "The tag would name a colour that nobody finds in the box.",
        "Take one of the conductors that the message lists.",
        _STATIONS.replace("K1 blue", "K1 brown"),
        _STATIONS,
    ),
    error(
        "singles-without-flags",
        "several conductors of one colour and nothing to tell them apart",
        "In the next box nobody knows which red belongs to which valve.",
        "Flag each one at both ends and write the flags under 'singles'.",
        """
        cables:
          K1:
            singles:
              - {colour: red, gauge: 14 AWG, count: 3}
              - {colour: white, gauge: 14 AWG}
              - {colour: blue, gauge: 14 AWG}
            run: [A, 85 ft, VB-1, 60 ft, VB-2]
        """,
        _SINGLES,
    ),
    error(
        "conductor-used-twice",
        "one conductor is given to two things",
        "Both valves would open together, or the hot would lie on the common.",
        "Give one of them a conductor that is free; the message lists those of the cable.",
        _STATIONS.replace("K1 blue", "K1 red"),
        _STATIONS,
    ),
    error(
        "cable-cut-off",
        "no wire from a controller comes to this cable",
        "Everything on it is dead.",
        "Extend the run of another cable to its start, or correct its run.",
        """
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1: {gauge: 18 AWG, colours: [white, red, blue, tan], run: [A, 85 ft, VB-1]}
          K2: {gauge: 18 AWG, colours: [white, blue], run: [SB-1, 60 ft, VB-2]}
        boxes: {VB-1: {}, VB-2: {}, SB-1: {kind: splice box}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue]}
        """,
        """
        controllers:
          A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
        cables:
          K1: {gauge: 18 AWG, colours: [white, red, blue, tan], run: [A, 85 ft, VB-1, 9 ft, SB-1]}
          K2: {gauge: 18 AWG, colours: [white, blue], run: [SB-1, 60 ft, VB-2]}
        boxes: {VB-1: {}, VB-2: {}, SB-1: {kind: splice box}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: [K1 blue, K2 blue]}
        """,
    ),
    note(
        "colour-change",
        "a conductor goes on in another colour",
        """In the box the colour alone misleads. The legend shows the colour at the controller, the
        tag the one at the valve.""",
        "Flag both sides of each change; nothing is to be mended.",
        _SPLICE,
        _SPLICE.replace("green", "red"),
    ),
    note(
        "told-apart-by-flags",
        "several hots have one colour, and only flags tell them apart",
        "A flag that is lost costs an hour with the meter.",
        "Print the wire flags and put one on every conductor in every box.",
        _SINGLES,
        _STATIONS,
    ),
    error(
        "spare-in-use",
        "a conductor listed as spare serves something",
        "The next crew would cut into a live circuit, or count on a spare that is gone.",
        "Strike it off the spares, or free the conductor.",
        "spares: {SP-1: {conductor: K1 red, to: VB-2}}",
        "spares: {SP-1: {conductor: K1 green, to: VB-2}}",
    ),
    warning(
        "spare-listed-twice",
        "one conductor is listed as two spares",
        "Two repairs would be promised one and the same wire.",
        "Keep one of the two entries.",
        """
        spares:
          SP-1: {conductor: K1 green, to: VB-2}
          SP-2: {conductor: K1 green, to: VB-1}
        """,
        """
        spares:
          SP-1: {conductor: K1 green, to: VB-2}
          SP-2: {conductor: K1 yellow, to: VB-1}
        """,
    ),
    warning(
        "spare-stops-short",
        "a spare does not reach the box where it is promised",
        "Whoever opens that box for a repair finds no wire.",
        "Name the conductors that carry it on and join them, or promise it only as far as it goes.",
        """
        boxes: {VB-1: {}, VB-2: {}, PB-3: {kind: pull box}}
        spares: {SP-1: {conductor: K1 green, to: PB-3}}
        """,
        """
        boxes: {VB-1: {}, VB-2: {}, PB-3: {kind: pull box}}
        spares: {SP-1: {conductor: K1 green, to: VB-2}}
        """,
    ),
    warning(
        "spares-tied",
        "two spares are joined with each other",
        "Neither can be used without the other; a test between them shows only wire.",
        "Cap each by itself, or describe them as one spare of two conductors.",
        """
        spares:
          SP-1: {conductor: K1 green}
          SP-2: {conductor: K1 yellow}
        joints:
          VB-2:
            - [K1 blue, A2]
            - [K1 white, A2]
            - [K1 green, K1 yellow]
        """,
        """
        spares:
          SP-1: {conductor: K1 green}
          SP-2: {conductor: K1 yellow}
        joints:
          VB-2:
            - [K1 blue, A2]
            - [K1 white, A2]
        """,
    ),
    warning(
        "no-spare",
        "a home run has no spare conductor",
        "The first broken conductor will need a new trench.",
        "Nothing to mend now; pull one more at the next dig.",
        _CABLE.replace(", green, yellow", ""),
        _CABLE,
    ),
    warning(
        "spares-too-few",
        "fewer spares reach a box than are asked for",
        "What the specification promises is not in the ground.",
        "Use a cable with more conductors, or ask for fewer.",
        "boxes:\n  VB-1: {place: walk}\n  VB-2: {place: bed, spares: 3}\n",
        "boxes:\n  VB-1: {place: walk}\n  VB-2: {place: bed, spares: 2}\n",
    ),
    error(
        "conductors-short",
        "a leg has fewer conductors than its stations need",
        "Some stations can get no hot, however the conductors are given out.",
        "Lay a cable with more conductors, or another one beside it.",
        _TO_ALLOT + _CABLE.replace("[white, red, blue, green, yellow]", "[white, red]"),
        _TO_ALLOT + _CABLE,
        base="allot",
    ),
    error(
        "hot-without-way",
        "no free conductor leads to a station's box",
        "It cannot be given a hot.",
        "Lay a cable to the box, or free a conductor on the way.",
        _TO_ALLOT.replace("box: VB-2", "box: VB-3") + "boxes: {VB-1: {}, VB-2: {}, VB-3: {}}\n",
        _TO_ALLOT,
        base="allot",
    ),
    error(
        "hot-not-written",
        "an entry is laid out so that no hot can be written into it",
        "The file keeps its comments and its order, so only plain entries are added to.",
        "Write the station on a line of its own.",
        """
        stations:
          A1: &front {area: front lawn, box: VB-1}
          A2: *front
        """,
        _TO_ALLOT,
        base="allot",
    ),
)
