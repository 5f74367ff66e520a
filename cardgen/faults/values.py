"""Faults of keys, values and names in a job file."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, Fault

_STATION = """
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


def _cable(old: str, new: str) -> str:
    return _CABLE.replace(old, new)


UNKNOWN_KEY = Fault(
    code="unknown-key",
    verdict=ERROR,
    title="a key that a job file does not have",
    why="What is written under it would be left out of the tags without a word.",
    fix="Mend the spelling; the message names the nearest key.",
    wrong="""
        stations:
          A1: {aera: front lawn, area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    right=_STATION,
)

MISSING = Fault(
    code="missing",
    verdict=ERROR,
    title="something that must be said is not",
    variants={
        "gauge": (
            "the gauge of {cable} is not given",
            "write 'gauge: 18 AWG' or 'gauge: 1.5 mm2'",
        ),
    },
    why="Without it nothing true can be printed.",
    fix="Add the line that the help shows.",
    wrong=_cable("    gauge: 18 AWG\n", ""),
    right=_CABLE,
)

WRONG_TYPE = Fault(
    code="wrong-type",
    verdict=ERROR,
    title="a list, a block or a text stands where something else belongs",
    why="The entry cannot be read as it is.",
    fix="Write it as in the example of the message.",
    wrong="""
        stations:
          A1: [front lawn, VB-1, K1 red]
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    right=_STATION,
)

VALUE = Fault(
    code="value",
    verdict=ERROR,
    title="a value that cannot be read",
    why="A date, a gauge or a supply has a fixed way to be written.",
    fix="Write it as in the example of the message.",
    wrong=_cable("18 AWG", "thin"),
    right=_CABLE,
)

UNKNOWN_WORD = Fault(
    code="unknown-word",
    verdict=ERROR,
    title="a word that is not one of those that may stand here",
    why="Only a few words have a meaning here.",
    fix="Choose one of the words that the message lists.",
    wrong="boxes:\n  VB-1: {place: walk, kind: manhole}\n  VB-2: {place: bed}\n",
    right="boxes:\n  VB-1: {place: walk, kind: valve box}\n  VB-2: {place: bed}\n",
)

UNKNOWN_NAME = Fault(
    code="unknown-name",
    verdict=ERROR,
    title="a name that nothing in the job has",
    variants={
        "cable": (
            "there is no cable '{name}'",
            "cables are {names}",
        ),
        "cable misspelt": (
            "there is no cable '{name}'",
            "{near}",
        ),
    },
    why="The tag would name a box or a cable that nobody can find.",
    fix="Mend the spelling, or describe what is missing.",
    wrong="""
        stations:
          A1: {area: front lawn, box: VB-11, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    right=_STATION,
)

NAME = Fault(
    code="name",
    verdict=ERROR,
    title="a name with signs that a name cannot have",
    why=(
        "Names go into addresses and on flags, so they keep to letters, digits, '-', '_' and '.'."
    ),
    fix="Write 'VB-1', not 'VB 1'.",
    wrong="boxes:\n  VB-1: {}\n  VB-2: {}\n  PB/3: {kind: pull box}\n",
    right="boxes:\n  VB-1: {}\n  VB-2: {}\n  PB-3: {kind: pull box}\n",
)

NAME_USED_TWICE = Fault(
    code="name-used-twice",
    verdict=ERROR,
    title="two things have one name",
    why="In a run or a joint nobody could tell which of them is meant.",
    fix="Give one of them another name.",
    wrong="boxes:\n  VB-1: {}\n  VB-2: {}\n  K1: {kind: pull box}\n",
    right="boxes:\n  VB-1: {}\n  VB-2: {}\n  PB-1: {kind: pull box}\n",
)

LISTED_TWICE = Fault(
    code="listed-twice",
    verdict=ERROR,
    title="one name stands twice in a list",
    why="One of the two was likely meant to be another.",
    fix="Keep one, or write the other name.",
    wrong="""
        sensors:
          RAIN: {kind: rain, controllers: [A, A], contact: normally closed}
        """,
    right="""
        sensors:
          RAIN: {kind: rain, controllers: A, contact: normally closed}
        """,
)

LOOK_ALIKE_CHARACTER = Fault(
    code="look-alike-character",
    verdict=ERROR,
    title="a letter of another alphabet that looks like one of ours",
    why="The two names look the same on paper, and are not the same to a search or an address.",
    fix="Type the letter again on your keyboard.",
    wrong="boxes:\n  VB-1: {}\n  VB-2: {}\n  P\u0412-3: {kind: pull box}\n",
    right="boxes:\n  VB-1: {}\n  VB-2: {}\n  PB-3: {kind: pull box}\n",
)

UNIT_MISSING = Fault(
    code="unit-missing",
    verdict=ERROR,
    title="a number without its unit",
    why="85 may be feet or metres, and the volts at the valve depend on it.",
    fix="Write '85 ft' or '26 m', '30 ohm', '0.4 A', '24 V'.",
    wrong=_cable("85 ft", "85"),
    right=_CABLE,
)

UNIT_UNKNOWN = Fault(
    code="unit-unknown",
    verdict=ERROR,
    title="a unit that does not belong here",
    why="A length is in ft or m, a resistance in ohm; anything else cannot be reckoned with.",
    fix="Write the unit that the message names.",
    wrong=_cable("85 ft", "85 yd"),
    right=_CABLE,
)

OUT_OF_RANGE = Fault(
    code="out-of-range",
    verdict=ERROR,
    title="a number that cannot be true",
    why="A leg of a hundred miles or a coil of no ohms is a slip of the pen.",
    fix="Look at the number and its unit again.",
    wrong=_cable("85 ft", "0 ft"),
    right=_CABLE,
)

COMMA = Fault(
    code="comma",
    verdict=ERROR,
    title="a comma in a number",
    why="In a list a comma parts two values, so '6,5' becomes 6 and 5.",
    fix="Write a point: '6.5 ft'.",
    wrong=_cable("18 AWG", "1,5 mm2"),
    right=_cable("18 AWG", "1.5 mm2"),
)

GAUGE_NOT_MADE = Fault(
    code="gauge-not-made",
    verdict=ERROR,
    title="a gauge that no wire has",
    why="Ohms are taken from the gauge, so a slip there makes every reading on the tags wrong.",
    fix="Read the gauge off the jacket.",
    wrong=_cable("18 AWG", "13.5 AWG"),
    right=_CABLE,
)

UNKNOWN_COLOUR = Fault(
    code="unknown-colour",
    verdict=ERROR,
    title="a colour that is not known here",
    why=(
        "A colour is printed as a word, a letter code and a swatch; an unknown one has no swatch."
    ),
    fix="Take the nearest of the known colours that the message names.",
    wrong=_cable("yellow", "mauve"),
    right=_CABLE,
)

RUN = Fault(
    code="run",
    verdict=ERROR,
    title="a run that does not go from place to place",
    why="A run names places and the length between each two, so that each leg can be reckoned.",
    fix="Write [A, 85 ft, VB-1, 60 ft, VB-2].",
    wrong=_cable(", 60 ft, VB-2", ", 60 ft"),
    right=_CABLE,
)

LENGTH_MISSING = Fault(
    code="length-missing",
    verdict=ERROR,
    title="two places of a run without a length between them",
    why="Without the length neither ohms nor volts can be said for what lies beyond.",
    fix="Measure along the trench and write the length between the two.",
    wrong=_cable("85 ft, VB-1, 60 ft, VB-2", "VB-1, VB-2"),
    right=_CABLE,
)

TERMINAL = Fault(
    code="terminal",
    verdict=ERROR,
    title="a terminal strip that cannot be so",
    why="The legend shows the strip as it is; a slip there sends people to a wrong wire.",
    fix="List the terminals in the order of the strip: [C, 1 to 8, MV, SEN, SEN].",
    wrong="""
        controllers:
          A:
            place: garage wall
            supply: 24 V AC
            stations: 8
            terminals: [C, 8 to 1, MV]
            coil: usual
            common: K1 white
        """,
    right="""
        controllers:
          A:
            place: garage wall
            supply: 24 V AC
            stations: 8
            terminals: [C, 1 to 8, MV]
            coil: usual
            common: K1 white
        """,
)

TOO_FEW = Fault(
    code="too-few",
    verdict=ERROR,
    title="a list with fewer entries than it needs",
    why="A jumper links two terminals or more, and an empty list says nothing.",
    fix="Write what is missing, or leave the whole line out.",
    wrong=_cable("[white, red, blue, green, yellow]", "[]"),
    right=_CABLE,
)

TOO_LONG = Fault(
    code="too-long",
    verdict=ERROR,
    title="a text that is longer than any card can hold",
    why="It would not fit on any tag, and letters must not be shrunk below what can be read.",
    fix="Say it in fewer words; put the rest under 'notes'.",
    wrong="stations:\n"
    f"  A1: {{area: {'lawn ' * 100}, box: VB-1, hot: K1 red}}\n"
    "  A2: {area: side lawn, box: VB-2, hot: K1 blue}\n",
    right=_STATION,
)
