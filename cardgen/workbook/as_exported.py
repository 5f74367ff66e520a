"""What a job said when its workbook was written, kept in the workbook: a hidden sheet."""

from __future__ import annotations

import base64
import binascii

from cardgen.results.xlsx_cells import BookSheet
from cardgen.workbook.book_files import Book

AS_EXPORTED = "as exported"
_HINT = "Leave this sheet as it is: it tells what the job said when this workbook was written."
_LETTERS = 1000  # in a cell; Excel takes 32,767


def as_exported_rows(text: str) -> list[list[str]]:
    """Coded, as a spreadsheet changes blanks and signs that nobody sees."""
    coded = base64.b64encode(text.encode()).decode()
    parts = [coded[at : at + _LETTERS] for at in range(0, len(coded), _LETTERS)]
    return [[_HINT], *([part] for part in parts)]


def text_as_exported(book: Book) -> str | None:
    """The text of the job then; None where the sheet is missing or was changed."""
    sheet = next((s for s in book.sheets if is_as_exported(s)), None)
    if sheet is None:
        return None
    coded = "".join(row[0].text for row in sheet.rows[1:] if row)
    try:
        return base64.b64decode(coded, validate=True).decode()
    except (binascii.Error, UnicodeDecodeError):
        return None


def is_as_exported(sheet: BookSheet) -> bool:
    return sheet.title.strip().lower() == AS_EXPORTED
