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
    title="a column of the readings has an unknown name",
    sentence="no column of readings is named '{column}'",
    way_out="columns: {known}",
    why="What is in it would be left out silently.",
    fix="Name it as the others are, or take it out.",
    wrong="""
        when,valve,kind,value,color
        2026-04-30,A1,ohms at the controller,31.4,red
        """,
    right=_RIGHT,
    base="results",
)

CSV_COLUMN_TWICE = Fault(
    code="csv-column-twice",
    verdict=ERROR,
    title="two columns of the readings have one name",
    sentence="the column '{column}' is there twice",
    way_out="keep one of them",
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
    sentence="the first line has no column '{column}'",
    way_out="the first line names the columns; these must be there: {required}",
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
    sentence="this row has {cells} cells, the first line {columns}",
    way_out=("a comma inside a cell needs quotes around the cell; an empty cell keeps its comma"),
    variants={
        "decimal comma": ("", "write {whole}.{part} with a decimal point"),
        "thousands": (
            "",
            (
                "write {whole}.{part} with a decimal point, or {whole}{part} where the comma "
                "marks thousands"
            ),
        ),
    },
    why="A value would end up in the wrong column.",
    fix=(
        "Write 31.4 with a decimal point; put a text with a comma in it in quotes, and "
        "keep the comma of an empty cell."
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
    sentence="the quotes of this cell do not match up",
    way_out="close the cell with a quote; write a quote inside a cell twice",
    why="Everything after it would be one cell.",
    fix="Close the cell with a quote; write a quote inside a cell twice.",
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
    sentence="'{text}' is not a date",
    way_out="write year, month, day: 2026-04-30, or with the time: 2026-04-30T14:05",
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
    title="a reading does not say what kind of reading it is",
    sentence="'{text}' is not a kind of reading",
    way_out="one of: {kinds}",
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
    title="a reading is not a number and not OL, or far too much",
    sentence="'{text}' is not a value of a meter",
    way_out=("digits with a decimal point, 31.4, without the unit; OL where the meter shows OL"),
    variants={
        "never OL": ("a meter never shows OL for {kind}", "write 0 where the meter shows nothing"),
        "too much": (
            "'{text}' is more than is accepted, {most} at most",
            "read the meter again and check the unit: {unit}",
        ),
    },
    why=(
        "A decimal comma, a unit or a word could be taken for another value than the "
        "one that was read; a value far above what is ever measured is a typing error, "
        "or in another unit."
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
    title="the ID of a reading was typed by hand",
    sentence="'{text}' is not the ID of a row",
    way_out="leave the cell empty: cardgen makes one; never type one",
    why="The ID keeps one reading from being counted twice; a made-up one cannot.",
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
    title="one reading is in two rows",
    sentence="this row has the ID of the row in line {line}",
    way_out="one reading is there once: take one of the two rows out",
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

_STORED = """
id,when,valve,kind,value
01JWPT6S3M,2026-06-01T09:30,A1,ohms at the controller,31.1
"""

READING_CHANGED = Fault(
    code="reading-changed",
    verdict=ERROR,
    title="a row was changed after it came out of the server",
    sentence="this row was stored before and said something else",
    way_out="what is stored stays: empty the cell of its ID, and it becomes another reading",
    why=("What a crew has entered stays as it was entered, so that the history can be believed."),
    fix="Empty the cell of its ID: it then becomes another reading.",
    wrong=_STORED.replace("31.1", "13.1"),
    right=_STORED,
    base="server",
)

READING_OF_NO_VALVE = Fault(
    code="reading-of-no-valve",
    verdict=ERROR,
    title="a reading names a valve that the job does not have",
    sentence="the job has no valve '{valve}'",
    way_out="write the valve as its tag does, 'A10a' for one of two; capitals matter",
    variants={
        "none": ("the row does not say of which valve it is", "write the valve as its tag does"),
    },
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
    sentence="this row is of job '{other}', not of '{job}'",
    way_out="take it out, or give the file of the other job",
    why="It would be judged against what another site expects.",
    fix="Give the file of this job, or take the row out.",
    wrong="""
        job,when,valve,kind,value
        K5T0VD83XB6Z,2026-04-30,A1,ohms at the controller,31.4
        """,
    right=_RIGHT,
    base="results",
)
