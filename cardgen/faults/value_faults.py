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
    colors: [white, red, blue, green, yellow]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
"""


def _cable(old: str, new: str) -> str:
    return _CABLE.replace(old, new)


UNKNOWN_KEY = Fault(
    code="unknown-key",
    verdict=ERROR,
    title="a key that a job file does not have",
    sentence="{what} has no key '{key}'",
    way_out="{suggestion}",
    variants={
        "merge": (
            "{what} has no key '<<'",
            "write the keys out; merging is not part of a job file",
        ),
        "words": "no text is called '{key}'",
        "no space": ("there is no colon with a space after '{key}'", "write '{meant}'"),
        "no spaces": ("there is no colon with a space after {keys}", "write {meant}"),
    },
    why="What is written under it would be left out of the tags without a word.",
    fix="Correct the spelling; the message names the nearest key.",
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
    sentence="{what} has no '{key}'",
    way_out="{example}",
    why="Without it nothing true can be printed.",
    fix="Add the line that the way out shows.",
    wrong=_cable("    gauge: 18 AWG\n", ""),
    right=_CABLE,
)

WRONG_TYPE = Fault(
    code="wrong-type",
    verdict=ERROR,
    title="a list, a block or a text is where something else belongs",
    sentence="{what} is expected, but {found} is here",
    way_out="{example}",
    variants={
        "same column": (
            "'{key}' begins in the column of '{owner}', to which it belongs",
            "begin it, and the lines of '{owner}' after it, two columns farther in",
        ),
        "brackets": ("{what} has brackets within brackets", "for example {example}"),
        "keys": (
            "{what} consists of 'key: value' lines, but {found} is here",
            "the keys are {keys}",
        ),
        "names": (
            "{what} consists of 'name: ...' lines, but {found} is here",
            "give each its own line, which starts with its name",
        ),
        "nothing": "'{key}:' is empty",
        "no text": ("a text is expected, but it is empty", "write something"),
    },
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
    sentence="'{text}' is not {what}",
    way_out="write {example}",
    variants={
        "no unit": ("{what} is a number with its unit, not '{text}'", "for example {example}"),
        "meant": ("{what} is a number with its unit, not '{text}'", "write '{meant}'"),
        "points": (
            "'{text}' has {count} points",
            "write the number with one decimal point",
        ),
        "not whole": (
            "{what} is a whole number, not '{text}'",
            "write a number from {least} to {most}, without a unit",
        ),
        "meant whole": ("{what} is a whole number, not '{text}'", "write '{meant}'"),
        "trailing sign": (
            "there is a sign too many at the end of '{text}'",
            "in lines of 'key: value' no comma follows: write '{meant}'",
        ),
        "three colors": (
            "'{text}' is more than a color and its stripe",
            "write one color, or two for a stripe: 'white/black'",
        ),
        "downward": ("'{text}' counts downward", "write '{upward}'"),
        "unknown": ("'{text}' is not a value", "where nobody knows it, write 'not known'"),
        "none": (
            "'{text}' names no conductor",
            "leave the key out where no wire is there yet; if nobody knows it, write 'not known'",
        ),
        "says nothing": (
            "'{text}' would be printed as if it were a text",
            "write what it is; where nobody knows it, leave it out",
        ),
        "two gaps": (
            "'{text}' is twice in one hot",
            (
                "write it once: before it what is known from the controller outward, after it what "
                "is known at the valve"
            ),
        ),
        "no such day": ("there is no day {text}", "write year-month-day, '2026-03-14'"),
        "more than a path": (
            "the record's address has more than host and path",
            "leave out '?', '#' and '@' and what follows them",
        ),
        "not in a code": (
            "the address has '{letter}' in it, which the printed code cannot keep",
            "use letters, digits and - . / : only",
        ),
        "no path": ("the path '{path}' has an empty or dotted part", "leave it out"),
        "small letters": (
            "the path '{path}' has small letters, which the printed code cannot keep",
            "serve the record at '{capitals}' and write it so",
        ),
        "not a key": (
            "the record key '{text}' is not 12 to 26 capitals and digits",
            "'cardgen new' makes one that nobody can guess",
        ),
        "plain key": (
            "the record key '{text}' is easy to guess",
            "'cardgen new' makes one that nobody can guess",
        ),
        "stretch": (
            "'{text}' names a stretch, but only a whole conductor can be here",
            "write '{words}'",
        ),
        "from and to": ("'{text}' does not say once from where and to where", "write '{example}'"),
        "no box": (
            "'{text}' names no box",
            "write the box where it begins to serve, or ends: '{example}'",
        ),
        "one box": ("'{text}' begins and ends in one place", "name two places: '{example}'"),
    },
    why="A date, a gauge or a supply has a fixed way to be written.",
    fix="Write it as in the example of the message.",
    wrong=_cable("18 AWG", "thin"),
    right=_CABLE,
)

UNKNOWN_WORD = Fault(
    code="unknown-word",
    verdict=ERROR,
    title="a word that is not one of those that can be here",
    sentence="{what} cannot be '{word}'",
    way_out="write {words}",
    why="Only a few words have a meaning here.",
    fix="Choose one of the words that the message lists.",
    wrong="boxes:\n  VB-1: {place: walk, kind: manhole}\n  VB-2: {place: bed}\n",
    right="boxes:\n  VB-1: {place: walk, kind: valve box}\n  VB-2: {place: bed}\n",
)

UNKNOWN_NAME = Fault(
    code="unknown-name",
    verdict=ERROR,
    title="a name that nothing in the job has",
    sentence="there is no {what} '{name}'",
    way_out="{suggestion}",
    why="The tag would name a box or a cable that nobody can find.",
    fix="Correct the spelling, or describe what is missing.",
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
    title="a name with characters that a name cannot have",
    sentence="'{text}' cannot be a name",
    way_out="write '{plain}': letters, digits, '-', '.' and '_' only",
    variants={
        "station": (
            "",
            "write the controller, too: 'A{number}' is terminal {number} of controller A",
        ),
        "no letters": (
            "",
            (
                "a name has up to 24 letters, digits, '-', '.' or '_' and starts with a letter "
                "or digit"
            ),
        ),
    },
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
    sentence="'{name}' is the name of a {kind} and of a {other}",
    way_out="give one of them another name",
    why="In a run or a joint nobody could tell which of them is meant.",
    fix="Give one of them another name.",
    wrong="boxes:\n  VB-1: {}\n  VB-2: {}\n  K1: {kind: pull box}\n",
    right="boxes:\n  VB-1: {}\n  VB-2: {}\n  PB-1: {kind: pull box}\n",
)

LISTED_TWICE = Fault(
    code="listed-twice",
    verdict=ERROR,
    title="one name is in a list twice",
    sentence="'{name}' is listed twice",
    way_out="keep one of them",
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
    sentence="the name '{text}' has '{character}' in it ({title})",
    way_out="it may look like a plain letter, space or hyphen: type it again",
    why=("The two names look the same on paper, and are not the same to a search or an address."),
    fix="Type the letter again on your keyboard.",
    wrong="boxes:\n  VB-1: {}\n  VB-2: {}\n  P\u0412-3: {kind: pull box}\n",
    right="boxes:\n  VB-1: {}\n  VB-2: {}\n  PB-3: {kind: pull box}\n",
)

UNIT_MISSING = Fault(
    code="unit-missing",
    verdict=ERROR,
    title="a number without its unit",
    sentence="{what} has no unit",
    way_out="write {examples}",
    why="85 may be feet or meters, and the volts at the valve depend on it.",
    fix="Write '85 ft' or '26 m', '30 ohm', '0.4 A', '24 V'.",
    wrong=_cable("85 ft", "85"),
    right=_CABLE,
)

UNIT_UNKNOWN = Fault(
    code="unit-unknown",
    verdict=ERROR,
    title="a unit that does not belong here",
    sentence="the unit in '{text}' is not known here",
    way_out="write {units}",
    variants={
        "meant": ("", "write '{meant}'"),
    },
    why=("A length is in ft or m, a resistance in ohm; anything else cannot be calculated."),
    fix="Write the unit that the message names.",
    wrong=_cable("85 ft", "85 yd"),
    right=_CABLE,
)

OUT_OF_RANGE = Fault(
    code="out-of-range",
    verdict=ERROR,
    title="a number that cannot be true",
    sentence="{what} of {text} is far out of range",
    way_out="write what was measured, or the best estimate",
    variants={
        "between": ("", "it is between {least:g} and {most:g} {unit}"),
        "negative": "{what} cannot be less than zero",
        "zero": "{what} is zero",
        "whole": (
            "{what} cannot be {text}",
            "write a number from {least} to {most}, without a unit",
        ),
        "pigtail": "a length of {text} is far out of range for a pigtail",
        "slack": "a length of {text} is far out of range for slack",
        "supply": (
            "{text} V is not a supply for valves",
            (
                "valve circuits run at {most:g} V or less; line voltage is for a licensed "
                "electrician"
            ),
        ),
        "tolerance": (
            "no supply is off by {text} %",
            "write how far it may be below and above, {most} % at most: '-10/+17 %'",
        ),
        "connector": (
            "no connector accepts {count} conductors of one gauge",
            "write the numbers on its label",
        ),
        "year": ("the year {text} is far out of range", "write year-month-day, '2026-03-14'"),
        "earth": (
            "'{text}' is not a place on the map",
            "latitude first, up to 90; longitude up to 180",
        ),
        "flags": ("'{text}' are {count} flags, more than {most}", "look at the numbers"),
    },
    why="A leg of a hundred miles or a coil of no ohms is a typing error.",
    fix="Look at the number and its unit again.",
    wrong=_cable("85 ft", "0 ft"),
    right=_CABLE,
)

COMMA = Fault(
    code="comma",
    verdict=ERROR,
    title="a comma in a number",
    sentence="'{number}' has a comma",
    way_out="write '{meant}'",
    variants={
        "unclear": ("", "write it without a comma, and a point before a fraction: '6.5'"),
        "split": "the comma splits '{number}' in two",
        "text": (
            "the comma after '{first}' splits the text",
            "put the whole value in quotes: '{first}, {last}'",
        ),
        "list": (
            "the comma after '{first}' splits the value",
            "put several in brackets: write '[{listed}]'",
        ),
        "conductor": ("the comma after '{first}' splits the value", "write '{meant}'"),
    },
    why="In a list a comma separates two values, so '6,5' becomes 6 and 5, and '1,050' 1 and 50.",
    fix="Write thousands without a comma and fractions with a point: '1050 ft', '6.5 ft'.",
    wrong=_cable("18 AWG", "1,5 mm2"),
    right=_cable("18 AWG", "1.5 mm2"),
)

GAUGE_NOT_MADE = Fault(
    code="gauge-not-made",
    verdict=ERROR,
    title="a gauge that no wire has",
    sentence="{text} is not a size of valve wiring",
    way_out="sizes in {system} are {sizes}{alike}",
    why=("Ohms are taken from the gauge, so an error there makes every reading on the tags wrong."),
    fix="Read the gauge off the jacket.",
    wrong=_cable("18 AWG", "13.5 AWG"),
    right=_CABLE,
)

UNKNOWN_COLOR = Fault(
    code="unknown-color",
    verdict=ERROR,
    title="a color that is not known here",
    sentence="'{text}' is not a color known here",
    way_out="{suggestion}",
    why=("A color is printed as a word, a letter code and a swatch; an unknown one has no swatch."),
    fix="Take the nearest of the known colors that the message names.",
    wrong=_cable("yellow", "mauve"),
    right=_CABLE,
)

BAD_RUN = Fault(
    code="run",
    verdict=ERROR,
    title="a run that does not go from place to place",
    sentence="a run starts and ends at a place and has a length between each two",
    way_out="for example [A, 85 ft, VB-1, 60 ft, VB-2]",
    variants={
        "meant": ("a run has a comma before and after each length", "write '{meant}'"),
        "place first": (
            "'{place}' is where the length of the way to it belongs",
            "write the length first, then the place: [A, 85 ft, VB-1, 60 ft, VB-2]",
        ),
    },
    why=("A run names places and the length between each two, so that each leg can be calculated."),
    fix="Write [A, 85 ft, VB-1, 60 ft, VB-2].",
    wrong=_cable(", 60 ft, VB-2", ", 60 ft"),
    right=_CABLE,
)

LENGTH_MISSING = Fault(
    code="length-missing",
    verdict=ERROR,
    title="two places of a run without a length between them",
    sentence="a length before {next} is expected, but {found} is here",
    way_out="write a length between each two places: '85 ft'; where nobody knows one, 'not known'",
    why="Without the length neither ohms nor volts can be given for what is beyond.",
    fix="Measure along the trench and write the length between the two, or 'not known'.",
    wrong=_cable("85 ft, VB-1, 60 ft, VB-2", "VB-1, VB-2"),
    right=_CABLE,
)

BAD_TERMINAL = Fault(
    code="terminal",
    verdict=ERROR,
    title="a terminal strip that cannot be so",
    sentence="a terminal is expected, but {found} is here",
    way_out="write C, a number from 1, '1 to 8', MV, SEN or another name in capitals",
    variants={
        "twice": ("terminal {number} is on the strip twice", "each number is there once"),
        "downward": ("'{text}' counts downward", "write '{upward}'"),
        "capitals": ("a terminal is named in capitals, not '{text}'", "write '{meant}'"),
        "hyphen": ("a range of terminals is written with 'to', not '{text}'", "write '{meant}'"),
    },
    why=("The legend shows the strip as it is; an error there sends people to a wrong wire."),
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
    sentence="{what} has {least} or more things in it, not {count}",
    way_out="for example {example}",
    why="A jumper links two terminals or more, and an empty list says nothing.",
    fix="Write what is missing, or leave the whole line out.",
    wrong=_cable("[white, red, blue, green, yellow]", "[]"),
    right=_CABLE,
)

TOO_LONG = Fault(
    code="too-long",
    verdict=ERROR,
    title="a text is longer than any card has room for",
    sentence="this text has {count} letters, more than {most}",
    way_out="say it in fewer words",
    variants={
        "address": (
            "the address has {count} characters, more than {most}",
            "a longer one makes a code too fine to scan: use a shorter host or path",
        ),
    },
    why="It would not fit on any tag, and letters must not be shrunk below what can be read.",
    fix="Say it in fewer words; put the rest under 'notes'.",
    wrong="stations:\n"
    f"  A1: {{area: {'lawn ' * 100}, box: VB-1, hot: K1 red}}\n"
    "  A2: {area: side lawn, box: VB-2, hot: K1 blue}\n",
    right=_STATION,
)
