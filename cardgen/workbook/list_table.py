"""Find the list of stations in a book, whatever stands around it, and its rows by column."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from cardgen.faults.sheet_faults import SHEET_COLUMN_TWICE, SHEET_HEADINGS, SHEET_LEFT_OUT
from cardgen.problems import Problem, has_errors
from cardgen.reading.nodes import short
from cardgen.results.cells import Cell
from cardgen.results.xlsx_cells import BookSheet
from cardgen.workbook.book_files import TOP_ROWS, Book
from cardgen.workbook.heading_names import (
    LEG_LENGTH,
    column_meant,
    columns_meant,
    plain,
    unit_meant,
)
from cardgen.workbook.sheet_plans import EXTRA
from cardgen.workbook.sheet_rows import Heads, filled, rows_below, units_said

_SUMS = re.compile(r"(sub ?)?(total(es)?|sum|suma|count|cuenta)\b.*", re.IGNORECASE)
# Columns of the user's own are kept by their heading behind this sign, as no key has it.
OWN = "\0"


@dataclass(frozen=True, slots=True, kw_only=True)
class ListTable:
    """Attributes:
    title: what stands above the headings, if it is one text.
    columns: what the list says: `name`, `area`, ...; behind `OWN` those of the user.
    rows: by column the cells of each row with a station.
    headings: by column, as the user writes it.
    """

    sheet: BookSheet
    title: str
    columns: tuple[str, ...]
    rows: tuple[dict[str, Cell], ...]
    headings: Mapping[str, str] = field(default_factory=dict)


def list_table(book: Book) -> tuple[ListTable | None, list[Problem]]:
    """The list, or None where there is no row of headings with the stations."""
    problems: list[Problem] = []
    found = [(sheet, *list_heads(sheet)) for sheet in book.sheets if not sheet.is_hidden]
    sheet, heads, texts = max(found, key=lambda each: len({*each[1].columns.values()} - _own(each)))
    start = next((c for row in sheet.rows for c in filled(row)), Cell("", 1, 1))
    if heads.at < 0:
        problems.append(SHEET_HEADINGS.at(book.place(sheet, start), variant="list"))
        return None, problems
    for other in book.sheets:
        first = next((c for row in other.rows for c in filled(row)), None)
        if other is not sheet and first is not None:
            problems.append(
                SHEET_LEFT_OUT.at(
                    book.place(other, first),
                    variant="sheet",
                    sheet=short(other.title),
                    other=short(sheet.title),
                )
            )
    problems += _headings_twice(book, sheet, heads, texts)
    if "name" not in heads.columns.values():
        row = filled(sheet.rows[heads.at])
        problems.append(SHEET_HEADINGS.at(book.place(sheet, row[0]), variant="no station"))
        return None, problems
    rows = tuple(_rows(book, sheet, heads, texts, problems))
    if not rows and has_errors(problems):
        return None, problems
    if not rows:
        span = book.place(sheet, filled(sheet.rows[heads.at])[0])
        problems.append(SHEET_HEADINGS.at(span, variant="nothing"))
        return None, problems
    problems += _hidden(book, sheet, rows)
    table = ListTable(
        sheet=sheet,
        title=_title(sheet, heads),
        columns=tuple(heads.columns.values()),
        rows=rows,
        headings={column: texts[n] for n, column in heads.columns.items()},
    )
    return table, problems


def _own(each: tuple[BookSheet, Heads, Sequence[str]]) -> set[str]:
    return {column for column in each[1].columns.values() if column.startswith(OWN)}


# ---- headings ------------------------------------------------------------------------------


def list_heads(sheet: BookSheet) -> tuple[Heads, list[str]]:
    """The row, or two rows, in which most headings are known; the first of equal ones."""
    best: tuple[int, int, list[str], list[str]] = (0, -1, [], [])
    for at, row in enumerate(sheet.rows[:TOP_ROWS]):
        single = [" ".join(cell.text.split()) for cell in row]
        for texts in (single, _with_above(sheet, at, single)):
            columns = columns_meant(texts)
            hits = len({*columns} - {""})
            score = 2 * hits + 3 * ("name" in columns)
            if hits > 1 and score > best[0]:  # a title or a group of columns is no heading
                best = (score, at, texts, columns)
    _, at, texts, columns = best
    heads = {n: column or OWN + texts[n] for n, column in enumerate(columns) if texts[n]}
    if "name" not in heads.values() and "terminal" in heads.values():
        heads = {n: "name" if column == "terminal" else column for n, column in heads.items()}
    units = {column: unit_meant(texts[n]) for n, column in heads.items() if column == LEG_LENGTH}
    units |= units_said(sheet.rows[at], heads) if at >= 0 else {}
    return Heads(at=at, columns=heads, units=units), texts


def _with_above(sheet: BookSheet, at: int, below: list[str]) -> list[str]:
    """Two rows of headings as one: `Wire` above `color` is `Wire color`."""
    above = [" ".join(cell.text.split()) for cell in sheet.rows[at - 1]] if at else []
    texts, group = [], ""
    for number, text in enumerate(below):
        top = above[number] if number < len(above) else ""
        group = top or (group if text else "")
        texts.append(" ".join(part for part in (group, text) if part))
    known = columns_meant(below)
    return [
        below[n] if known[n] and not columns_meant([text])[0] else text
        for n, text in enumerate(texts)
    ]


def _headings_twice(
    book: Book, sheet: BookSheet, heads: Heads, texts: Sequence[str]
) -> Iterator[Problem]:
    seen: dict[str, str] = {}
    for number, column in heads.columns.items():
        if column in seen:
            cell = sheet.rows[heads.at][number]
            meant = {"name": "station"}.get(column, column.removeprefix(OWN))
            yield SHEET_COLUMN_TWICE.at(
                book.place(sheet, cell),
                variant="list",
                column=short(texts[number]),
                other=short(seen[column]),
                meant=short(meant),
            )
        seen.setdefault(column, texts[number])


def _title(sheet: BookSheet, heads: Heads) -> str:
    """The first text above the headings that stands alone in its row."""
    for row in sheet.rows[: heads.at]:
        said = {cell.text.strip() for cell in filled(row)}
        if len(said) == 1:
            return " ".join(said.pop().split())
    return ""


# ---- rows ----------------------------------------------------------------------------------


def _rows(
    book: Book, sheet: BookSheet, heads: Heads, texts: Sequence[str], problems: list[Problem]
) -> Iterator[dict[str, Cell]]:
    names = {plain(text) for text in texts if text}
    for row in rows_below(book, sheet, heads, problems):
        said = {column: cell for column, cell in row.items() if cell.text.strip()}
        again = column_meant(row["name"].text) == "name"
        if again or {plain(cell.text) for cell in said.values()} <= names:
            continue  # the headings once more, as at the top of each printed page
        first = next(iter(said.values()))
        if is_sum(first):
            span = book.place(sheet, first)
            problems.append(SHEET_LEFT_OUT.at(span, text=short(first.text)))
            continue
        yield row


def _hidden(book: Book, sheet: BookSheet, rows: Sequence[dict[str, Cell]]) -> Iterator[Problem]:
    hidden = [row["name"] for row in rows if row["name"].line in sheet.hidden]
    if hidden:
        lines = ", ".join(str(cell.line) for cell in hidden)
        span = book.place(sheet, hidden[0])
        yield SHEET_LEFT_OUT.at(span, variant="hidden", rows=short(lines))


def ends_in_sum(cell: Cell) -> bool:
    """`Alder Park Total`, as spreadsheet programs write it below a group."""
    return _SUMS.fullmatch(cell.text.split()[-1]) is not None if cell.text.strip() else False


def is_sum(cell: Cell) -> bool:
    """`Total`, `Suma de ...`: a row below the list."""
    return _SUMS.fullmatch(cell.text.strip()) is not None


def own_heading(column: str) -> str:
    """The heading of a column of the user's own; empty for any other."""
    return column[len(OWN) :].removeprefix(f"{EXTRA}: ") if column.startswith(OWN) else ""


def one_text(cell: Cell | None) -> str:
    return " ".join(cell.text.split()) if cell else ""
