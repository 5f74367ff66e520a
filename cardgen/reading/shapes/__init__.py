"""Turn nodes into values by small typed readers, which also state themselves as JSON Schema.

A loader is a table of fields; the schema that editors use comes from the very same table.
"""

from cardgen.reading.shapes.lists import ListOf
from cardgen.reading.shapes.records import Field, Record, TableOf
from cardgen.reading.shapes.report import BadValue, Report, Said, expected
from cardgen.reading.shapes.spelling import either, nearest, nearest_one
from cardgen.reading.shapes.values import (
    IDENTIFIER,
    LONGEST_TEXT,
    ONE_VALUE,
    PRINTED_TEXT,
    TEXT,
    YES_NO,
    Choice,
    Parsed,
    Printed,
    SaidShape,
    Schema,
    Shape,
    Whole,
)

__all__ = [
    "IDENTIFIER",
    "LONGEST_TEXT",
    "ONE_VALUE",
    "PRINTED_TEXT",
    "TEXT",
    "YES_NO",
    "BadValue",
    "Choice",
    "Field",
    "ListOf",
    "Parsed",
    "Printed",
    "Record",
    "Report",
    "Said",
    "SaidShape",
    "Schema",
    "Shape",
    "TableOf",
    "Whole",
    "either",
    "expected",
    "nearest",
    "nearest_one",
]
