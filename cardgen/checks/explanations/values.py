"""Codes of keys, values and names in a job file."""

from __future__ import annotations

from cardgen.checks.explanations.model import error

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


ENTRIES = (
    error(
        "unknown-key",
        "a key that a job file does not have",
        "What is written under it would be left out of the tags without a word.",
        "Mend the spelling; the message names the nearest key.",
        """
        stations:
          A1: {aera: front lawn, area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
        _STATION,
    ),
    error(
        "missing",
        "something that must be said is not",
        "Without it nothing true can be printed.",
        "Add the line that the help shows.",
        _cable("    gauge: 18 AWG\n", ""),
        _CABLE,
    ),
    error(
        "wrong-type",
        "a list, a block or a text stands where something else belongs",
        "The entry cannot be read as it is.",
        "Write it as in the example of the message.",
        """
        stations:
          A1: [front lawn, VB-1, K1 red]
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
        _STATION,
    ),
    error(
        "value",
        "a value that cannot be read",
        "A date, a gauge or a supply has a fixed way to be written.",
        "Write it as in the example of the message.",
        _cable("18 AWG", "thin"),
        _CABLE,
    ),
    error(
        "unknown-word",
        "a word that is not one of those that may stand here",
        "Only a few words have a meaning here.",
        "Choose one of the words that the message lists.",
        "boxes:\n  VB-1: {place: walk, kind: manhole}\n  VB-2: {place: bed}\n",
        "boxes:\n  VB-1: {place: walk, kind: valve box}\n  VB-2: {place: bed}\n",
    ),
    error(
        "unknown-name",
        "a name that nothing in the job has",
        "The tag would name a box or a cable that nobody can find.",
        "Mend the spelling, or describe what is missing.",
        """
        stations:
          A1: {area: front lawn, box: VB-11, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
        _STATION,
    ),
    error(
        "name",
        "a name with signs that a name cannot have",
        "Names go into addresses and on flags, so they keep to letters, digits, '-', '_' and '.'.",
        "Write 'VB-1', not 'VB 1'.",
        "boxes:\n  VB-1: {}\n  VB-2: {}\n  PB/3: {kind: pull box}\n",
        "boxes:\n  VB-1: {}\n  VB-2: {}\n  PB-3: {kind: pull box}\n",
    ),
    error(
        "name-used-twice",
        "two things have one name",
        "In a run or a joint nobody could tell which of them is meant.",
        "Give one of them another name.",
        "boxes:\n  VB-1: {}\n  VB-2: {}\n  K1: {kind: pull box}\n",
        "boxes:\n  VB-1: {}\n  VB-2: {}\n  PB-1: {kind: pull box}\n",
    ),
    error(
        "listed-twice",
        "one name stands twice in a list",
        "One of the two was likely meant to be another.",
        "Keep one, or write the other name.",
        """
        sensors:
          RAIN: {kind: rain, controllers: [A, A], contact: normally closed}
        """,
        """
        sensors:
          RAIN: {kind: rain, controllers: A, contact: normally closed}
        """,
    ),
    error(
        "look-alike-character",
        "a letter of another alphabet that looks like one of ours",
        "The two names look the same on paper, and are not the same to a search or an address.",
        "Type the letter again on your keyboard.",
        "boxes:\n  VB-1: {}\n  VB-2: {}\n  P\u0412-3: {kind: pull box}\n",
        "boxes:\n  VB-1: {}\n  VB-2: {}\n  PB-3: {kind: pull box}\n",
    ),
    error(
        "unit-missing",
        "a number without its unit",
        "85 may be feet or metres, and the volts at the valve depend on it.",
        "Write '85 ft' or '26 m', '30 ohm', '0.4 A', '24 V'.",
        _cable("85 ft", "85"),
        _CABLE,
    ),
    error(
        "unit-unknown",
        "a unit that does not belong here",
        "A length is in ft or m, a resistance in ohm; anything else cannot be reckoned with.",
        "Write the unit that the message names.",
        _cable("85 ft", "85 yd"),
        _CABLE,
    ),
    error(
        "out-of-range",
        "a number that cannot be true",
        "A leg of a hundred miles or a coil of no ohms is a slip of the pen.",
        "Look at the number and its unit again.",
        _cable("85 ft", "0 ft"),
        _CABLE,
    ),
    error(
        "comma",
        "a comma in a number",
        "In a list a comma parts two values, so '6,5' becomes 6 and 5.",
        "Write a point: '6.5 ft'.",
        _cable("18 AWG", "1,5 mm2"),
        _cable("18 AWG", "1.5 mm2"),
    ),
    error(
        "gauge-not-made",
        "a gauge that no wire has",
        "Ohms are taken from the gauge, so a slip there makes every reading on the tags wrong.",
        "Read the gauge off the jacket.",
        _cable("18 AWG", "13.5 AWG"),
        _CABLE,
    ),
    error(
        "unknown-colour",
        "a colour that is not known here",
        "A colour is printed as a word, a letter code and a swatch; an unknown one has no swatch.",
        "Take the nearest of the known colours that the message names.",
        _cable("yellow", "mauve"),
        _CABLE,
    ),
    error(
        "run",
        "a run that does not go from place to place",
        "A run names places and the length between each two, so that each leg can be reckoned.",
        "Write [A, 85 ft, VB-1, 60 ft, VB-2].",
        _cable(", 60 ft, VB-2", ", 60 ft"),
        _CABLE,
    ),
    error(
        "length-missing",
        "two places of a run without a length between them",
        "Without the length neither ohms nor volts can be said for what lies beyond.",
        "Measure along the trench and write the length between the two.",
        _cable("85 ft, VB-1, 60 ft, VB-2", "VB-1, VB-2"),
        _CABLE,
    ),
    error(
        "terminal",
        "a terminal strip that cannot be so",
        "The legend shows the strip as it is; a slip there sends people to a wrong wire.",
        "List the terminals in the order of the strip: [C, 1 to 8, MV, SEN, SEN].",
        """
        controllers:
          A:
            place: garage wall
            supply: 24 V AC
            stations: 8
            terminals: [C, 8 to 1, MV]
            coil: usual
            common: K1 white
        """,
        """
        controllers:
          A:
            place: garage wall
            supply: 24 V AC
            stations: 8
            terminals: [C, 1 to 8, MV]
            coil: usual
            common: K1 white
        """,
    ),
    error(
        "too-few",
        "a list with fewer entries than it needs",
        "A jumper links two terminals or more, and an empty list says nothing.",
        "Write what is missing, or leave the whole line out.",
        _cable("[white, red, blue, green, yellow]", "[]"),
        _CABLE,
    ),
    error(
        "too-long",
        "a text that is longer than any card can hold",
        "It would not fit on any tag, and letters must not be shrunk below what can be read.",
        "Say it in fewer words; put the rest under 'notes'.",
        "stations:\n"
        f"  A1: {{area: {'lawn ' * 100}, box: VB-1, hot: K1 red}}\n"
        "  A2: {area: side lawn, box: VB-2, hot: K1 blue}\n",
        _STATION,
    ),
)
