"""Turn measured values into a CSV file: RFC 4180, UTF-8, no cell that a spreadsheet would run."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator

from cardgen.results.measured import COLUMNS, FIELD_OF, Measured, value_text

# A spreadsheet takes a cell that begins so for a formula; an apostrophe before it makes it text.
# One that splits at another separator than ours, or at each line end, begins cells where a text
# has that sign.  Apostrophes that stand there already count in, so that reading takes away what
# writing put.
_BEGINS = r"(?<![^;,|\t\r\n\"])"  # at the begin, or behind one of these
FORMULA = re.compile(_BEGINS + r"(?='*[=+\-@\t\r])")
_MADE_HARMLESS = re.compile(_BEGINS + r"'(?='*[=+\-@\t\r])")


def results_csv(results: Iterable[Measured]) -> bytes:
    """The header and one row for each value, in their order."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    writer.writerows([harmless(cell) for cell in _cells(result)] for result in results)
    return stream.getvalue().encode()


def _cells(result: Measured) -> Iterator[str]:
    for name in COLUMNS:
        value = getattr(result, FIELD_OF.get(name, name))
        yield value_text(value) if name == "value" else str(value)


def harmless(cell: str) -> str:
    """The cell, with an apostrophe before each part that would be a formula."""
    return FORMULA.sub("'", cell)


def as_meant(cell: str) -> str:
    """The cell without the apostrophes that `harmless` put there."""
    return _MADE_HARMLESS.sub("", cell)
