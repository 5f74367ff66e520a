"""Turn measured values into a CSV file: RFC 4180, UTF-8, no cell that a spreadsheet would run."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator

from cardgen.results.measured import COLUMNS, FIELD_OF, Measured, value_text

# A spreadsheet takes a cell that begins so for a formula; an apostrophe before it makes it text.
# Apostrophes that stand there already count in, so that reading takes away what writing put.
FORMULA = re.compile(r"'*[=+\-@\t\r]")


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
    """The cell, with an apostrophe before what would be a formula."""
    return f"'{cell}" if FORMULA.match(cell) else cell


def as_meant(cell: str) -> str:
    """The cell without the apostrophe that `harmless` put there."""
    return cell[1:] if cell.startswith("'") and FORMULA.match(cell) else cell
