"""Turn nodes into values by small typed readers, which also state themselves as JSON Schema.

A loader is a table of fields; the schema that editors use comes from the very same table.
"""

from cardgen.reading.shapes.lists import ListOf
from cardgen.reading.shapes.meant_days import is_a_day, meant_days
from cardgen.reading.shapes.meant_numbers import meant_number
from cardgen.reading.shapes.records import BlockShape, Field, TableOf, TextsByHeading
from cardgen.reading.shapes.report import BadValue, Report, Written, expected
from cardgen.reading.shapes.spelling import either, nearest, nearest_one
from cardgen.reading.shapes.values import (
    IDENTIFIER,
    LONGEST_TEXT,
    MENTIONED_NAME,
    ONE_VALUE,
    PRINTED_TEXT,
    TEXT,
    YES_NO,
    OneOf,
    OrNotKnown,
    Parsed,
    PrintedText,
    SaidShape,
    Schema,
    Shape,
    Whole,
    means_not_known,
    says_not_known,
)

__all__ = [
    "IDENTIFIER",
    "LONGEST_TEXT",
    "MENTIONED_NAME",
    "ONE_VALUE",
    "PRINTED_TEXT",
    "TEXT",
    "YES_NO",
    "BadValue",
    "BlockShape",
    "Field",
    "ListOf",
    "OneOf",
    "OrNotKnown",
    "Parsed",
    "PrintedText",
    "Report",
    "SaidShape",
    "Schema",
    "Shape",
    "TableOf",
    "TextsByHeading",
    "Whole",
    "Written",
    "either",
    "expected",
    "is_a_day",
    "means_not_known",
    "meant_days",
    "meant_number",
    "nearest",
    "nearest_one",
    "says_not_known",
]
