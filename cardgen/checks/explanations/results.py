"""Codes of readings in a CSV file."""

from __future__ import annotations

from cardgen.checks.explanations.model import Explanation, error

_RIGHT = """
when,valve,kind,value
2026-04-30,A1,ohms at the controller,31.4
2026-04-30,A2,ohms at the controller,OL
"""


def _shown(code: str, title: str, why: str, mend: str, wrong: str) -> Explanation:
    return error(code, title, why, mend, wrong, _RIGHT, base="results")


ENTRIES = (
    _shown(
        "csv-column-unknown",
        "a column of the readings has a name that none has",
        "What stands in it would be left out silently.",
        "Name it as the others are, or take it out.",
        """
        when,valve,kind,value,colour
        2026-04-30,A1,ohms at the controller,31.4,red
        """,
    ),
    _shown(
        "csv-column-twice",
        "two columns of the readings have one name",
        "Only one of the two could be believed.",
        "Keep one of them.",
        """
        when,valve,kind,value,value
        2026-04-30,A1,ohms at the controller,31.4,31.5
        """,
    ),
    _shown(
        "csv-column-missing",
        "a column that readings need is not there",
        "Without the day, the valve, what was measured and its value, a number says nothing.",
        "Let the first line name the columns: when, valve, kind, value.",
        """
        valve,kind,value
        A1,ohms at the controller,31.4
        """,
    ),
    _shown(
        "csv-row-uneven",
        "a row of the readings has more or fewer cells than the first line",
        "A value would slip under the name of another column.",
        """Write 31.4 with a decimal point; put a text that holds a comma in quotes, and keep the
        comma of an empty cell.""",
        """
        when,valve,kind,value
        2026-04-30,A1,ohms at the controller,31,4
        """,
    ),
    _shown(
        "csv-quotes",
        "a quote in the readings opens and does not close",
        "Everything after it would be one cell.",
        "Close the cell with a quote; a quote inside a cell stands twice.",
        """
        when,valve,kind,value
        2026-04-30,"A1,ohms at the controller,31.4
        """,
    ),
    _shown(
        "reading-date",
        "the day of a reading cannot be read",
        "A day written 04/05 is April to one and May to another.",
        "Write year, month, day: 2026-04-30.",
        """
        when,valve,kind,value
        04/30/2026,A1,ohms at the controller,31.4
        """,
    ),
    _shown(
        "reading-kind-unknown",
        "a reading does not say what was measured in a known way",
        "Each kind is judged by its own rule, so it must be one of the known ones.",
        """Write one of: ohms at the controller, ohms at the coil, volts, milliamperes,
        insulation.""",
        """
        when,valve,kind,value
        2026-04-30,A1,resistance,31.4
        """,
    ),
    _shown(
        "reading-value",
        "a reading is no number and not OL, or far too much",
        """A decimal comma, a unit or a word could be taken for another value than the one that was
        read; a value far above what is ever measured is a slip, or in another unit.""",
        """Write digits with a decimal point and no unit, or OL as the meter shows it; check the
        unit of a value that is too much.""",
        """
        when,valve,kind,value
        2026-04-30,A1,ohms at the controller,31.4 ohm
        """,
    ),
    _shown(
        "reading-id",
        "the mark of a reading was typed by hand",
        "The mark keeps one reading from being counted twice; a made-up one cannot.",
        "Leave the cell empty.",
        """
        id,when,valve,kind,value
        7,2026-04-30,A1,ohms at the controller,31.4
        """,
    ),
    _shown(
        "reading-twice",
        "one reading stands in two rows",
        "It would count as two.",
        "Take one of the rows out.",
        """
        when,valve,kind,value
        2026-04-30,A1,ohms at the controller,31.4
        2026-04-30,A1,ohms at the controller,31.4
        """,
    ),
    error(
        "reading-changed",
        "a row was changed after it came out of the server",
        "What a crew has entered stays as it was entered, so that the history can be believed.",
        "Empty the cell of its id: it then comes in as another reading.",
        base="results",
    ),
    _shown(
        "reading-of-no-valve",
        "a reading names a valve that the job does not have",
        "It would be kept under a name that no page shows.",
        "Write the valve as its tag does.",
        """
        when,valve,kind,value
        2026-04-30,A11,ohms at the controller,31.4
        """,
    ),
    _shown(
        "reading-of-another-job",
        "a reading belongs to another job",
        "It would be judged against what another site expects.",
        "Give the file of this job, or take the row out.",
        """
        job,when,valve,kind,value
        K5T0VD83XB6Z,2026-04-30,A1,ohms at the controller,31.4
        """,
    ),
)
