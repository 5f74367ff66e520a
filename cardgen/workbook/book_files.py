"""Turn a file, or a folder of CSV files, into the sheets of a book, and sheets into such files."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from cardgen.faults.file_faults import FILE_EMPTY, NOT_TEXT
from cardgen.faults.result_faults import CSV_QUOTES, XLSX_UNREADABLE
from cardgen.problems import Problem, Span, UserError
from cardgen.results import xlsx_cells
from cardgen.results.cells import SEPARATORS, Cell, Unclosed, records
from cardgen.results.csv_out import as_meant, harmless
from cardgen.results.reading_table import place
from cardgen.results.xlsx_cells import BookSheet
from cardgen.workbook.cell_values import cleaned
from cardgen.workbook.heading_names import columns_meant

LARGEST = 20_000_000  # bytes; assumed, ten times what a large job needs
TOP_ROWS = 12  # so many may stand above the headings
_SEP = "sep="  # a first line by which some programs say the separator


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """The sheets of a file, each cell cleaned of what nobody sees.

    Attributes:
        name: of the file, as problems call it.
        in_cells: whether people know its cells by letter and number, `C5`.
    """

    name: str
    sheets: tuple[BookSheet, ...]
    in_cells: bool = False

    def file_of(self, sheet: BookSheet) -> str:
        """What problems call the file, with its sheet."""
        return f"{self.name}:{sheet.title}" if sheet.title else self.name

    def place(self, sheet: BookSheet, cell: Cell) -> Span:
        return place(self.file_of(sheet), cell)


def read_book(path: Path) -> tuple[Book | None, tuple[Problem, ...]]:
    """The sheets, or None with what keeps them from being read.

    Raises:
        UserError: if there is no such file.
    """
    try:
        if path.is_dir():
            return _of_folder(path)
        data = path.read_bytes()
    except OSError as fault:
        sentence = f"'{path}' cannot be read: {(fault.strerror or str(fault)).lower()}"
        raise UserError(sentence, "name a spreadsheet (.xlsx) or a CSV file") from fault
    return book_of(data, str(path))


def book_of(data: bytes, name: str) -> tuple[Book | None, tuple[Problem, ...]]:
    """The same of bytes that are there already."""
    start = Span(name, 1, 1)
    is_book = data.startswith(xlsx_cells.MAGIC)
    if is_book and not xlsx_cells.is_installed():
        install = xlsx_cells.INSTALL
        return None, (XLSX_UNREADABLE.at(start, variant="not installed", install=install),)
    if len(data) > LARGEST or data.startswith(b"\xd0\xcf\x11\xe0"):  # the format before .xlsx
        return None, (XLSX_UNREADABLE.at(start),)
    if not is_book:
        sheet, problems = _of_csv(data, name)
        return (None if sheet is None else Book(name=name, sheets=(sheet,))), problems
    try:
        sheets = tuple(_cleaned(sheet) for sheet in xlsx_cells.book_sheets(data))
    except xlsx_cells.NoSpreadsheet:
        return None, (XLSX_UNREADABLE.at(start),)
    if not any(cell.text.strip() for sheet in sheets for row in sheet.rows for cell in row):
        return None, (FILE_EMPTY.at(start, variant="no list"),)
    return Book(name=name, sheets=sheets, in_cells=True), ()


def _of_folder(folder: Path) -> tuple[Book | None, tuple[Problem, ...]]:
    """Each CSV file is a sheet of its name."""
    sheets: list[BookSheet] = []
    problems: list[Problem] = []
    for file in sorted(folder.glob("*.csv")):
        sheet, more = _of_csv(file.read_bytes(), f"{folder}:{file.stem}")
        problems += more
        sheets += [replace(sheet, title=file.stem)] if sheet else []
    if not sheets and not problems:
        raise UserError(f"'{folder}' has no CSV file in it", "name a spreadsheet or a CSV file")
    return (None if problems else Book(name=str(folder), sheets=tuple(sheets))), tuple(problems)


# As spreadsheet programs write it into a file.
_ERROR = re.compile(r"#(?:REF!|N/A|VALUE!|NAME\?|DIV/0!|NUM!|NULL!|SPILL!|CALC!)")


def _cleaned(sheet: BookSheet) -> BookSheet:
    rows = [[replace(cell, text=cleaned(cell.text)) for cell in row] for row in sheet.rows]
    errors = (cell for row in rows for cell in row if _ERROR.fullmatch(cell.text.strip()))
    unread = {(cell.line, cell.column): cell.text.strip() for cell in errors}
    return replace(sheet, rows=rows, unread={**unread, **sheet.unread})


# ---- CSV -----------------------------------------------------------------------------------


def _of_csv(data: bytes, name: str) -> tuple[BookSheet | None, tuple[Problem, ...]]:
    text = _decoded(data)
    start = Span(name, 1, 1)
    if text is None:
        return None, (NOT_TEXT.at(start),)
    if not text.strip():
        return None, (FILE_EMPTY.at(start, variant="no list"),)
    separators, skipped = SEPARATORS, 0
    first = text.split("\n", 1)[0].strip()
    if first.lower().startswith(_SEP) and len(first) == len(_SEP) + 1:
        separators, skipped = first[-1], 1
    splits = [_split(text, s) for s in separators if s in SEPARATORS]
    split = max(splits, key=lambda each: each.sense)
    if split.unclosed is not None:
        return None, (CSV_QUOTES.at(place(name, split.unclosed)),)
    rows = split.rows
    return _cleaned(BookSheet(title="", rows=rows[skipped:])), ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CsvSplit:
    """A text split at one separator.

    Attributes:
        unclosed: the cell whose quotes do not match up; then there are no rows.
        sense: how much the headings say when it is split like this.
    """

    rows: list[list[Cell]]
    unclosed: Cell | None
    sense: tuple[int, int]


def _split(text: str, separator: str) -> CsvSplit:
    unclosed: Cell | None = None
    rows: list[list[Cell]] = []
    try:
        rows += (
            [replace(cell, text=as_meant(cell.text)) for cell in record]
            for record in records(text, separator)
        )
        heads = [[cell.text for cell in row] for row in rows[:TOP_ROWS]]
    except Unclosed as fault:
        unclosed = fault.at
        heads = [line.split(separator) for line in text.splitlines()[:TOP_ROWS]]
    hits = max((len({*columns_meant(head)} - {""}) for head in heads), default=0)
    return CsvSplit(rows=rows, unclosed=unclosed, sense=(hits, sum(len(r) > 1 for r in rows)))


def _decoded(data: bytes) -> str | None:
    """UTF-8, UTF-16 or the old character set of Windows, which each spreadsheet may write."""
    if data.startswith((b"{\\rtf", b"%PDF")):
        return None
    sample = data[:200]
    wide = data.startswith((b"\xff\xfe", b"\xfe\xff"))
    if not wide and len(sample) > 3 and sample.count(0) * 3 > len(sample):
        return _text(data, "utf-16-le" if sample[1] == 0 else "utf-16-be")
    encodings = ("utf-16",) if wide else ("utf-8-sig", "cp1252")
    return next((t for t in (_text(data, encoding) for encoding in encodings) if t), None)


def _text(data: bytes, encoding: str) -> str | None:
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        return None
    return None if "\0" in text else text or " "


# ---- out -----------------------------------------------------------------------------------


def csv_files(sheets: Mapping[str, Sequence[Sequence[str]]]) -> Iterator[tuple[str, bytes]]:
    """A file for each sheet: UTF-8 with the mark by which spreadsheets know it, no formulas."""
    for title, rows in sheets.items():
        yield f"{title}.csv", csv_file(rows)


def csv_file(rows: Sequence[Sequence[str]]) -> bytes:
    lines = (",".join(_quoted(harmless(cell)) for cell in row) for row in rows)
    return ("\ufeff" + "".join(f"{line}\r\n" for line in lines)).encode()


def _quoted(cell: str) -> str:
    """RFC 4180; also where a space at an end, or a separator of another dialect, could be lost."""
    if any(sign in cell for sign in ',;\t|"\r\n') or cell != cell.strip():
        return '"' + cell.replace('"', '""') + '"'
    return cell
