"""Turn the bytes of a spreadsheet (Office Open XML, ISO/IEC 29500) into cells, or cells into one.

openpyxl comes with the extra `xlsx`; without it, a spreadsheet is neither read nor written.
"""

from __future__ import annotations

import importlib.util
import io
import re
import zipfile
from collections.abc import Iterable, Sequence
from datetime import date, datetime

from cardgen.results.cells import Cell
from cardgen.results.measured import value_text

MAGIC = b"PK\x03\x04"  # of a ZIP file, which a text file never begins with
INSTALL = "pip install 'cardgen[xlsx]'"
_EPOCH = datetime(1980, 1, 1)  # noqa: DTZ001  # no clock: the same table, the same bytes
_UNPACKED = 20_000_000  # bytes; assumed, a hundred times what a large job needs
_ROWS, _COLUMNS = 20_000, 50  # more is no table of readings


class NoSpreadsheet(Exception):
    """The bytes are no spreadsheet, or a table far too large."""


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


def spreadsheet(rows: Iterable[Sequence[str]]) -> bytes:
    """Each cell is text, so that nothing typed into it is taken for a date or a formula."""
    import openpyxl  # noqa: PLC0415  # an extra

    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for line, row in enumerate(rows, 1):
        for column, text in enumerate(row, 1):
            cell = sheet.cell(line, column, text or None)
            cell.number_format = "@"
    book.properties.created = book.properties.modified = _EPOCH
    stream = io.BytesIO()
    book.save(stream)
    return _without_clock(stream.getvalue())


def _fixed_times(content: bytes) -> bytes:
    """Of the properties, in which saving writes the time of day."""
    shown = f"{_EPOCH:%Y-%m-%dT%H:%M:%SZ}".encode()
    return re.sub(
        rb"(<dcterms:(\w+)[^>]*>)[^<]*(</dcterms:\2>)", rb"\g<1>" + shown + rb"\g<3>", content
    )


def _without_clock(data: bytes) -> bytes:
    """The same parts, none with the time of day at which they were packed."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(stream, "w") as new:
        for part in old.infolist():
            content = old.read(part)
            if part.filename == "docProps/core.xml":
                content = _fixed_times(content)
            info = zipfile.ZipInfo(part.filename, _EPOCH.timetuple()[:6])
            new.writestr(info, content, zipfile.ZIP_DEFLATED)
    return stream.getvalue()
