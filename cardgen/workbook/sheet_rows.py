"""Find the headings of a sheet, and turn what is below them into rows of cells by column."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from cardgen.faults.sheet_faults import (
    SHEET_CELL_UNREAD,
    SHEET_COLUMN_TWICE,
    SHEET_COLUMN_UNKNOWN,
    SHEET_HEADINGS,
    SHEET_ROW,
)
from cardgen.problems import Problem, Span
from cardgen.reading.nodes import short
from cardgen.reading.shapes import nearest
from cardgen.results.cells import Cell
from cardgen.results.xlsx_cells import BookSheet
from cardgen.workbook.book_files import TOP_ROWS, Book
from cardgen.workbook.heading_names import plain

_UNIT = re.compile(r"(?:[(\[]|, )\s*(ft|feet|in|inches|m|meters)\.?\s*[)\]]?$", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Heads:
    """Attributes:
    at: the index of the row in which the headings are, or in which they end.
    columns: by the number of the cell, from 0, what its heading means.
    units: by what a heading means, the unit that it says.
    """

    at: int
    columns: Mapping[int, str]
    units: Mapping[str, str] = field(default_factory=dict)


def filled(row: Sequence[Cell]) -> list[Cell]:
    return [cell for cell in row if cell.text.strip()]


def known_heads(
    book: Book, sheet: BookSheet, known: Mapping[str, str], problems: list[Problem], *, extra: bool
) -> Heads | None:
    """The headings of a sheet of which they are known; None where there is no row of them.

    Args:
        known: what each heading means, in plain letters.
        extra: whether others are columns of the user's own, by their text.
    """
    best, at = 0, -1
    for number, row in enumerate(sheet.rows[:TOP_ROWS]):
        hits = len({plain(cell.text) for cell in row} & known.keys())
        if hits > best:
            best, at = hits, number
    if at < 0:
        names = ", ".join(dict.fromkeys(known.values()))
        first = next((c for row in sheet.rows for c in filled(row)), Cell("", 1, 1))
        problems.append(SHEET_HEADINGS.at(book.place(sheet, first), sheet=sheet.title, known=names))
        return None
    columns: dict[int, str] = {}
    for number, cell in enumerate(sheet.rows[at]):
        text = " ".join(cell.text.split())
        meant = known.get(plain(text), "") or (text if extra and text else "")
        if meant and meant in columns.values():
            problems.append(SHEET_COLUMN_TWICE.at(book.place(sheet, cell), column=short(text)))
        elif meant:
            columns[number] = meant
        elif text:
            way = nearest(text, known.values()) or f"it has {', '.join(known.values())}"
            problems.append(
                SHEET_COLUMN_UNKNOWN.at(
                    book.place(sheet, cell), sheet=sheet.title, column=short(text), way_out=way
                )
            )
    return Heads(at=at, columns=columns, units=units_said(sheet.rows[at], columns))


def units_said(row: Sequence[Cell], columns: Mapping[int, str]) -> dict[str, str]:
    """`length (ft)`: the unit of the numbers below."""
    found = ((columns.get(n), _UNIT.search(cell.text)) for n, cell in enumerate(row))
    return {column: match[1].lower() for column, match in found if column and match}


def rows_below(
    book: Book, sheet: BookSheet, heads: Heads, problems: list[Problem]
) -> Iterator[dict[str, Cell]]:
    """The cells of each row that is not blank, by column; one without a heading is told."""
    head = sheet.rows[heads.at]

    def headed(number: int) -> bool:
        return number in heads.columns or (number < len(head) and bool(head[number].text.strip()))

    for row in sheet.rows[heads.at + 1 :]:
        cells = filled(row)
        if not cells:
            continue
        problems += unread_cells(book, sheet, row)
        by_column = {
            column: row[n] if n < len(row) else _blank(row) for n, column in heads.columns.items()
        }
        stray = [c for n, c in enumerate(row) if not headed(n) and c.text.strip()]
        if stray:
            problems.append(SHEET_ROW.at(book.place(sheet, stray[0]), text=short(stray[0].text)))
            continue  # so its other cells may be in the wrong columns
        if any(cell.text.strip() for cell in by_column.values()):
            yield {c: _with_unit(cell, heads.units.get(c, "")) for c, cell in by_column.items()}


def unread_cells(book: Book, sheet: BookSheet, cells: Sequence[Cell]) -> Iterator[Problem]:
    """Those with an error of the spreadsheet, or a formula, in place of a value."""
    for cell in cells:
        unread = sheet.unread.get((cell.line, cell.column))
        if unread:
            variant = "formula" if unread == "formula" else ""
            yield SHEET_CELL_UNREAD.at(book.place(sheet, cell), variant=variant, text=unread)


def _blank(row: Sequence[Cell]) -> Cell:
    """A cell that a short row of a CSV file does not have."""
    return Cell("", row[-1].line, row[-1].column)


def _with_unit(cell: Cell, unit: str) -> Cell:
    bare = unit and re.fullmatch(r"\s*[0-9][0-9.,]*\s*", cell.text)
    return replace(cell, text=f"{cell.text.strip()} {unit}") if bare else cell


def by_cell(problem: Problem, book: Book) -> Problem:
    """In a spreadsheet the cell is known as `C5`."""
    if not book.in_cells or not problem.span.file.startswith(f"{book.name}:"):
        return problem
    return replace(problem, sentence=f"{letters(problem.span)}: {problem.sentence}")


def letters(span: Span) -> str:
    column, name = span.column, ""
    while column > 0:
        column, rest = divmod(column - 1, 26)
        name = chr(ord("A") + rest) + name
    return f"{name}{span.line}"
