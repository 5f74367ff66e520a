"""Write spreadsheets (Office Open XML, ISO/IEC 29500) in which each cell is text.

So nothing that is in them, or is typed into them, is taken for a date or a formula.
"""

from __future__ import annotations

import io
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import xlsxwriter

_EPOCH = datetime(1980, 1, 1)  # noqa: DTZ001  # no clock: the same table, the same bytes
_AS_TEXT = {"num_format": "@"}
_WIDEST = 60  # letters of a column; assumed: two of them fit on a screen


def spreadsheet(rows: Iterable[Sequence[str]]) -> bytes:
    """One sheet of these rows."""
    stream = io.BytesIO()
    with _book(stream) as book:
        sheet, as_text = book.add_worksheet(), book.add_format(_AS_TEXT)
        for line, row in enumerate(rows):
            for column, text in enumerate(row):
                _write(sheet, line, column, text, as_text)
    return stream.getvalue()


def workbook(
    sheets: Mapping[str, Sequence[Sequence[str]]], *, hidden: Collection[str] = ()
) -> bytes:
    """Sheets by their names, the first row of each with the headings."""
    stream = io.BytesIO()
    with _book(stream) as book:
        heading = book.add_format({**_AS_TEXT, "bold": True})
        in_lines = book.add_format({**_AS_TEXT, "text_wrap": True, "valign": "top"})
        as_text = book.add_format(_AS_TEXT)
        for title, rows in sheets.items():
            sheet = book.add_worksheet(title)
            sheet.freeze_panes(1, 1)
            if title in hidden:
                sheet.hide()
            for column, width in enumerate(_widths(rows)):
                sheet.set_column(column, column, width, as_text)  # also for rows added below
            for line, row in enumerate(rows):
                for column, text in enumerate(row):
                    shape = in_lines if "\n" in text else as_text if line else heading
                    _write(sheet, line, column, text, shape)
    return stream.getvalue()


@contextmanager
def _book(stream: io.BytesIO) -> Iterator[xlsxwriter.Workbook]:
    import xlsxwriter  # noqa: PLC0415  # most commands write none

    with xlsxwriter.Workbook(stream, {"in_memory": True}) as book:
        book.set_properties({"created": _EPOCH})
        yield book


def _write(
    sheet: xlsxwriter.worksheet.Worksheet,
    line: int,
    column: int,
    text: str,
    shape: xlsxwriter.format.Format,
) -> None:
    if text:
        refused = sheet.write_string(line, column, text, shape)
    else:
        refused = sheet.write_blank(line, column, None, shape)
    assert not refused, "a text longer than a cell takes, or a row below the last"


def _widths(rows: Sequence[Sequence[str]]) -> Iterator[int]:
    for column in range(len(rows[0])):
        longest = max(len(part) for row in rows for part in row[column].split("\n"))
        yield min(longest, _WIDEST) + 2
