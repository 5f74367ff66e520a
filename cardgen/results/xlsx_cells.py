"""Turn the bytes of a workbook (Office Open XML, ISO/IEC 29500) into cells.

openpyxl comes with the extra `xlsx`; without it, a workbook is not read.
"""

from __future__ import annotations

import importlib.util
import io
import re
import zipfile
from collections.abc import Mapping
from dataclasses import field
from datetime import date, datetime, time
from typing import Any

from cardgen.light_dataclass import dataclass
from cardgen.results.cells import Cell
from cardgen.results.measured import value_text

MAGIC = b"PK\x03\x04"  # of a ZIP file, which a text file never begins with
INSTALL = "'cardgen manual install' says how to add it"
_UNPACKED = 20_000_000  # bytes; assumed, a hundred times what a large job needs
_ROWS, _COLUMNS = 20_000, 50  # more is no table of readings


class NoSpreadsheet(Exception):
    """The bytes are no spreadsheet, or a table far too large."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BookSheet:
    """A sheet of a workbook.

    Attributes:
        rows: all of them, also blank ones, as wide as the widest.
        hidden: the lines that are hidden, by a filter or by hand.
        unread: by line and column the cells that have no value: `formula`, or an error, `#REF!`.
    """

    title: str
    rows: list[list[Cell]]
    hidden: frozenset[int] = frozenset()
    is_hidden: bool = False
    unread: Mapping[tuple[int, int], str] = field(default_factory=dict)


def is_installed() -> bool:
    return importlib.util.find_spec("openpyxl") is not None


def spreadsheet_cells(data: bytes) -> list[list[Cell]]:
    """The rows of its first sheet; a column that is empty behind all others is none.

    Raises:
        NoSpreadsheet: if it is none.
    """
    import openpyxl  # noqa: PLC0415  # an extra

    try:
        _refuse_bomb(data)
        book = openpyxl.load_workbook(io.BytesIO(data), data_only=True)
        sheet = book.worksheets[0]
    except Exception as fault:  # whatever is wrong in a file of many parts
        raise NoSpreadsheet from fault
    if sheet.max_row > _ROWS or sheet.max_column > _COLUMNS:
        raise NoSpreadsheet
    rows = [
        [Cell(_text(value), line, column) for column, value in enumerate(row, 1)]
        for line, row in enumerate(sheet.iter_rows(values_only=True), 1)
    ]
    width = max((c.column for row in rows for c in row if c.text.strip()), default=0)
    return [row[:width] for row in rows if any(c.text.strip() for c in row)]


def _refuse_bomb(data: bytes) -> None:
    """Packed small, some files are far larger than memory."""
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        if sum(part.file_size for part in packed.infolist()) > _UNPACKED:
            raise NoSpreadsheet


def _text(value: object) -> str:
    """As it would stand in a CSV file."""
    if value is None:
        return ""
    if isinstance(value, datetime):
        shown = f"{value:%Y-%m-%dT%H:%M}"
        return shown.removesuffix("T00:00")
    if isinstance(value, date):
        return f"{value:%Y-%m-%d}"
    if isinstance(value, float):
        return value_text(value) if value >= 0 else str(value)
    return str(value)


def book_sheets(data: bytes) -> list[BookSheet]:
    """All sheets of a workbook that have cells.

    Raises:
        NoSpreadsheet: if it is none.
    """
    import openpyxl  # noqa: PLC0415  # an extra

    try:
        _refuse_bomb(data)
        book = openpyxl.load_workbook(io.BytesIO(data), data_only=True)
        formulas = openpyxl.load_workbook(io.BytesIO(data)) if _has_formulas(data) else None
    except Exception as fault:  # whatever is wrong in a file of many parts
        raise NoSpreadsheet from fault
    if any(sheet.max_row > _ROWS for sheet in book.worksheets):
        raise NoSpreadsheet
    return [_book_sheet(s, formulas[s.title] if formulas else None) for s in book.worksheets]


def _has_formulas(data: bytes) -> bool:
    """What they gave when the file was saved may be missing: then they are told."""
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        parts = [name for name in packed.namelist() if name.startswith("xl/worksheets/")]
        return any(re.search(rb"<f[ />]", packed.read(name)) for name in parts)


def _book_sheet(sheet: Any, formulas: Any) -> BookSheet:
    unread: dict[tuple[int, int], str] = {}
    rows: list[list[Cell]] = []
    for line, row in enumerate(sheet.iter_rows(), 1):
        rows.append([Cell(_shown(cell), line, column) for column, cell in enumerate(row, 1)])
        for column, cell in enumerate(row, 1):
            if cell.data_type == "e":
                unread[line, column] = str(cell.value)
            elif formulas and cell.value is None and formulas.cell(line, column).value is not None:
                unread[line, column] = "formula"
    for merged in sheet.merged_cells.ranges:  # what is said once for several rows
        first = rows[merged.min_row - 1][merged.min_col - 1]
        for line in range(merged.min_row + 1, merged.max_row + 1):
            rows[line - 1][merged.min_col - 1] = Cell(first.text, line, merged.min_col)
    return BookSheet(
        title=sheet.title,
        rows=rows,
        hidden=frozenset(line for line, of in sheet.row_dimensions.items() if of.hidden),
        is_hidden=sheet.sheet_state != "visible",
        unread=unread,
    )


_UNIT = re.compile(r'(?:[0#?]|\\ |_.)\s*"\s*([^"]+?)\s*"\s*$')


def _shown(cell: Any) -> str:
    """As a person sees it, where that says more than the value: a unit, zeros in front, percent."""
    value, shape = cell.value, str(cell.number_format)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, time):
        return f"{value:%H:%M}"
    if isinstance(value, (int, float)):
        if shape.endswith("%"):
            return f"{_number(value * 100)} %"
        unit = _UNIT.search(shape.split(";", maxsplit=1)[0])
        text = _number(value)
        if re.fullmatch("0+", shape) and text.isdigit():
            text = text.zfill(len(shape))
        return f"{text} {unit[1]}" if unit else text
    return _text(value)


def _number(value: float) -> str:
    """`7` and `6.5`, without the last digits that a computer makes up, and never with an E."""
    text = f"{value:.10f}" if abs(value) < 1e15 else str(value)
    return text.rstrip("0").rstrip(".") if "." in text else text
