"""Faults of readings in a CSV file."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, Fault

_RIGHT = """
when,valve,kind,value
2026-04-30,A1,ohms at the controller,31.4
2026-04-30,A2,ohms at the controller,OL
"""


CSV_COLUMN_UNKNOWN = Fault(
    code="csv-column-unknown",
    verdict=ERROR,
    title="a column of the readings has a name that none has",
    why="What stands in it would be left out silently.",
    fix="Name it as the others are, or take it out.",
    wrong="""
        when,valve,kind,value,colour
        2026-04-30,A1,ohms at the controller,31.4,red
        """,
    right=_RIGHT,
    base="results",
)

CSV_COLUMN_TWICE = Fault(
    code="csv-column-twice",
    verdict=ERROR,
    title="two columns of the readings have one name",
    why="Only one of the two could be believed.",
    fix="Keep one of them.",
    wrong="""
        when,valve,kind,value,value
        2026-04-30,A1,ohms at the controller,31.4,31.5
        """,
    right=_RIGHT,
    base="results",
)

CSV_COLUMN_MISSING = Fault(
    code="csv-column-missing",
    verdict=ERROR,
    title="a column that readings need is not there",
    why="Without the day, the valve, what was measured and its value, a number says nothing.",
    fix="Let the first line name the columns: when, valve, kind, value.",
    wrong="""
        valve,kind,value
        A1,ohms at the controller,31.4
        """,
    right=_RIGHT,
    base="results",
)

CSV_ROW_UNEVEN = Fault(
    code="csv-row-uneven",
    verdict=ERROR,
    title="a row of the readings has more or fewer cells than the first line",
    why="A value would slip under the name of another column.",
    fix=(
        "Write 31.4 with a decimal point; put a text that holds a comma in quotes, and keep the "
        "comma of an empty cell."
    ),
    wrong="""
        when,valve,kind,value
        2026-04-30,A1,ohms at the controller,31,4
        """,
    right=_RIGHT,
    base="results",
)

CSV_QUOTES = Fault(
    code="csv-quotes",
    verdict=ERROR,
    title="a quote in the readings opens and does not close",
    why="Everything after it would be one cell.",
    fix="Close the cell with a quote; a quote inside a cell stands twice.",
    wrong="""
        when,valve,kind,value
        2026-04-30,"A1,ohms at the controller,31.4
        """,
    right=_RIGHT,
    base="results",
)

READING_DATE = Fault(
    code="reading-date",
    verdict=ERROR,
    title="the day of a reading cannot be read",
    why="A day written 04/05 is April to one and May to another.",
    fix="Write year, month, day: 2026-04-30.",
    wrong="""
        when,valve,kind,value
        04/30/2026,A1,ohms at the controller,31.4
        """,
    right=_RIGHT,
    base="results",
)

READING_KIND_UNKNOWN = Fault(
    code="reading-kind-unknown",
    verdict=ERROR,
    title="a reading does not say what was measured in a known way",
    why="Each kind is judged by its own rule, so it must be one of the known ones.",
    fix=(
        "Write one of: ohms at the controller, ohms at the coil, volts, milliamperes, insulation."
    ),
    wrong="""
        when,valve,kind,value
        2026-04-30,A1,resistance,31.4
        """,
    right=_RIGHT,
    base="results",
)

READING_VALUE = Fault(
    code="reading-value",
    verdict=ERROR,
    title="a reading is no number and not OL, or far too much",
    why=(
        "A decimal comma, a unit or a word could be taken for another value than the one that "
        "was read; a value far above what is ever measured is a slip, or in another unit."
    ),
    fix=(
        "Write digits with a decimal point and no unit, or OL as the meter shows it; check the "
        "unit of a value that is too much."
    ),
    wrong="""
        when,valve,kind,value
        2026-04-30,A1,ohms at the controller,31.4 ohm
        """,
    right=_RIGHT,
    base="results",
)

READING_ID = Fault(
    code="reading-id",
    verdict=ERROR,
    title="the mark of a reading was typed by hand",
    why="The mark keeps one reading from being counted twice; a made-up one cannot.",
    fix="Leave the cell empty.",
    wrong="""
        id,when,valve,kind,value
        7,2026-04-30,A1,ohms at the controller,31.4
        """,
    right=_RIGHT,
    base="results",
)

READING_TWICE = Fault(
    code="reading-twice",
    verdict=ERROR,
    title="one reading stands in two rows",
    why="It would count as two.",
    fix="Take one of the rows out.",
    wrong="""
        when,valve,kind,value
        2026-04-30,A1,ohms at the controller,31.4
        2026-04-30,A1,ohms at the controller,31.4
        """,
    right=_RIGHT,
    base="results",
)

READING_CHANGED = Fault(
    code="reading-changed",
    verdict=ERROR,
    title="a row was changed after it came out of the server",
    why="What a crew has entered stays as it was entered, so that the history can be believed.",
    fix="Empty the cell of its id: it then comes in as another reading.",
    wrong="",
    right="",
    base="results",
)

READING_OF_NO_VALVE = Fault(
    code="reading-of-no-valve",
    verdict=ERROR,
    title="a reading names a valve that the job does not have",
    why="It would be kept under a name that no page shows.",
    fix="Write the valve as its tag does.",
    wrong="""
        when,valve,kind,value
        2026-04-30,A11,ohms at the controller,31.4
        """,
    right=_RIGHT,
    base="results",
)

READING_OF_ANOTHER_JOB = Fault(
    code="reading-of-another-job",
    verdict=ERROR,
    title="a reading belongs to another job",
    why="It would be judged against what another site expects.",
    fix="Give the file of this job, or take the row out.",
    wrong="""
        job,when,valve,kind,value
        K5T0VD83XB6Z,2026-04-30,A1,ohms at the controller,31.4
        """,
    right=_RIGHT,
    base="results",
)
