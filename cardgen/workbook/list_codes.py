"""Find the code that a list says its job has."""

from __future__ import annotations

from cardgen.faults.sheet_faults import SHEET_NAME
from cardgen.problems import Also, Problem
from cardgen.reading.nodes import Scalar, short
from cardgen.reading.shapes import IDENTIFIER, BadValue
from cardgen.workbook.book_files import Book
from cardgen.workbook.heading_names import CODE
from cardgen.workbook.list_table import ListTable, one_text


def listed_code(book: Book, table: ListTable) -> tuple[Scalar | None, list[Problem]]:
    """With its place; None where no row says one, or after saying what is wrong with it."""
    cells = [row[CODE] for row in table.rows if CODE in row and one_text(row[CODE])]
    if not cells:
        return None, []
    first = cells[0]
    code = Scalar(book.place(table.sheet, first), one_text(first))
    try:
        IDENTIFIER.parse(code.text)
    except BadValue as bad:
        told = SHEET_NAME.at(code.span, variant="code", text=short(code.text), fault=bad.sentence)
        return None, [told]
    for cell in cells:
        text = one_text(cell)
        if text.casefold() != code.text.casefold():
            span = book.place(table.sheet, cell)
            also = (Also(span=code.span, text="first written here"),)
            values = {"text": short(text), "other": short(code.text)}
            return None, [SHEET_NAME.at(span, variant="two codes", also=also, **values)]
    return code, []
