"""Faults of readings in a CSV file."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, WARNING, Fault

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
    variants={
        "ambiguous": (
            "in '{text}' nothing tells the month from the day",
            "write year, month, day: 2026-04-30",
        ),
        "none": "the reading does not say on which day it was taken",
    },
    why=(
        "A day written 04/05 is April to one and May to another; 04/30/2026 can be one day only, "
        "and then the other days of the file are read in the same order."
    ),
    fix="Write year, month, day: 2026-04-30.",
    wrong="""
        when,valve,kind,value
        04/05/2026,A1,ohms at the controller,31.4
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
    fix=("Write one of those that the message lists: 'ohms at the controller', 'volts' ..."),
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
    way_out=(
        "digits with a decimal point, 31.4, with a unit or without; OL where the meter shows OL"
    ),
    variants={
        "never OL": ("a meter never shows OL for {kind}", "write 0 where the meter shows nothing"),
        "too much": (
            "'{text}' is more than is accepted, {most} at most",
            "read the meter again and check the unit: {unit}",
        ),
        "thousands": (
            "'{text}' can be two values",
            (
                "write {whole}.{part} with a decimal point, or {whole}{part} where the comma "
                "marks thousands"
            ),
        ),
        "other unit": ("'{text}' is not in {unit}", "write the value in {unit}"),
        "walk": (
            "'{text}' does not say whether its valve ran",
            "write yes or no; the valve that ran instead goes into the column 'to'",
        ),
    },
    why=(
        "A word, or a comma that may mark thousands, could be taken for another value than the "
        "one that was read; a value far above what is ever measured is a typing error, "
        "or in another unit."
    ),
    fix=(
        "Write digits with a decimal point, or OL as the meter shows it; check the "
        "unit of a value that is too much."
    ),
    wrong="""
        when,valve,kind,value
        2026-04-30,A1,ohms at the controller,31.4 or 32
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
    variants={
        "not yours": (
            "this reading is another crew's, and a crew can withdraw its own readings only",
            "empty this cell, or ask the office to send the table",
        ),
    },
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

READING_DISAGREES = Fault(
    code="reading-disagrees",
    verdict=ERROR,
    title="two readings of one thing at one time are not the same",
    sentence="{value} here and {other} in line {line} are of one thing, both of {when}",
    way_out="take the wrong one out, or give both the time of day: 2026-04-30T14:05",
    why="Nothing tells which of the two is the newer, and only that one counts.",
    fix="Take the wrong one out, or give both the time of day.",
    wrong="""
        when,valve,kind,value
        2026-04-30,A1,ohms at the controller,31.4
        2026-04-30,A1,ohms at the controller,34.1
        """,
    right="""
        when,valve,kind,value
        2026-04-30T09:10,A1,ohms at the controller,31.4
        2026-04-30T14:05,A1,ohms at the controller,34.1
        """,
    base="results",
)

READING_CONDITIONS = Fault(
    code="reading-conditions",
    verdict=ERROR,
    title="the conditions of a reading cannot be read",
    sentence="'{text}' is not a condition that is known",
    way_out=(
        "write for example: RS-1 bypassed; commons separated; 22 C; leads 0.3 ohm; terminals 26.8 V"
    ),
    why="The leads' ohms are taken off and a bypassed sensor is not suspected: each must be clear.",
    fix="Write them with semicolons between: RS-1 bypassed; 22 C; leads 0.3 ohm.",
    wrong="""
        when,valve,kind,value,conditions
        2026-04-30,A1,ohms at the controller,31.4,leads short
        """,
    right="""
        when,valve,kind,value,conditions
        2026-04-30,A1,ohms at the controller,31.4,leads 0.3 ohm; 22 C
        """,
    base="results",
)

READING_ENDS = Fault(
    code="reading-ends",
    verdict=ERROR,
    title="a reading does not say between what and what",
    sentence="'{kind}' needs the column '{column}'",
    way_out="fill in '{column}': a valve, a controller, a conductor or a box, as the job names it",
    why="Such a value is compared with the way between the two, which one valve does not give.",
    fix="Fill in from, to or box.",
    wrong="""
        when,valve,kind,to,value
        2026-04-30,A1,ohms hot to hot,,62.6
        """,
    right="""
        when,valve,kind,to,value
        2026-04-30,A1,ohms hot to hot,A2,62.6
        """,
    base="results",
)

READING_NAME_UNKNOWN = Fault(
    code="reading-name-unknown",
    verdict=ERROR,
    title="a reading names something that the job does not have",
    sentence="the job has no '{name}' for such a reading",
    way_out="write valves, controllers, boxes and conductors as the tags and flags do",
    why="It would be kept under a name that no page shows.",
    fix="Write the name as the tags and flags do.",
    wrong="""
        when,valve,kind,to,value
        2026-04-30,A1,ohms hot to hot,A11,62.6
        """,
    right="""
        when,valve,kind,to,value
        2026-04-30,A1,ohms hot to hot,A2,62.6
        """,
    base="results",
)

READING_OF_ANOTHER_REVISION = Fault(
    code="reading-of-another-revision",
    verdict=WARNING,
    title="a table of readings was printed for another revision",
    sentence="this table is of revision {other}, the job is at revision {revision}",
    way_out="compare what has changed since; a valve that was wired otherwise must be read again",
    why="A value is judged by what the job says on its day, and that may have changed.",
    fix="Print the table again, or correct its revision.",
    wrong="""
        revision,1,
        when,2026-04-30,
        valve,ohms,coil
        A1,31.4,30
        """,
    right="""
        revision,2,
        when,2026-04-30,
        valve,ohms,coil
        A1,31.4,30
        """,
    base="results",
)

XLSX_UNREADABLE = Fault(
    code="xlsx-unreadable",
    verdict=ERROR,
    title="a spreadsheet of readings cannot be read",
    sentence="this file is no spreadsheet that can be read",
    way_out="save the table as CSV, and give that",
    variants={"not installed": ("reading a spreadsheet needs openpyxl", "{install}")},
    why="What is in it would be left out silently.",
    fix="Save the table as CSV.",
    wrong="PK\x03\x04 cut off",
    right=_RIGHT,
    base="results",
)
