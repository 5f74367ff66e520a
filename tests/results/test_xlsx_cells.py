"""Cells of a workbook as a spreadsheet shows them, and workbooks that are far too large.

What a cell shows follows from its number format (Office Open XML, ISO/IEC 29500-1, 18.8.31: a 0 is
a digit that stands also where the number has none there, % shows hundredths, text in quotes stands
as it is); the workbooks are made by openpyxl.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from datetime import date, datetime, time

import openpyxl
import pytest

from cardgen.results.xlsx_cells import NoSpreadsheet, book_sheets, spreadsheet_cells

LARGEST = 20_000_000  # bytes unpacked


def workbook(*cells: tuple[object, str]) -> bytes:
    """One row, each cell with its number format."""
    book = openpyxl.Workbook()
    for column, (value, shape) in enumerate(cells, 1):
        cell = book.active.cell(1, column, value)
        if shape:
            cell.number_format = shape
    data = io.BytesIO()
    book.save(data)
    return data.getvalue()


def unpacked(data: bytes, size: int) -> bytes:
    """With a picture more, which says that it makes the parts so many bytes together."""
    packed = io.BytesIO(data)
    with zipfile.ZipFile(packed, "a") as book:
        others = sum(part.file_size for part in book.infolist())
        book.writestr("xl/media/image1.png", b"")
        book.filelist[-1].file_size = size - others
    return packed.getvalue()


def test_a_cell_is_read_as_a_spreadsheet_shows_it() -> None:
    shown = [
        ((7, "000"), "007"),
        ((7, "0"), "7"),
        ((1234, "000"), "1234"),
        ((6.5, "000"), "6.5"),  # its digits are kept
        ((7, "General"), "7"),
        ((0.25, "0%"), "25 %"),
        ((85, '0" ft"'), "85 ft"),
        ((26.5, '0.0\\ "m"'), "26.5 m"),
        ((0.1 + 0.2, ""), "0.3"),
        ((1e-5, ""), "0.00001"),
        ((2_500_000.0, ""), "2500000"),
        ((True, ""), "yes"),
        ((False, ""), "no"),
        ((time(7, 5), ""), "07:05"),
        ((datetime.fromisoformat("2026-04-30T09:05"), ""), "2026-04-30T09:05"),
        ((date(2026, 4, 30), ""), "2026-04-30"),
        ((None, ""), ""),
        (("007", ""), "007"),
    ]
    (sheet,) = book_sheets(workbook(*(cell for cell, _ in shown)))
    assert [cell.text for cell in sheet.rows[0]] == [text for _, text in shown]


def test_lines_and_columns_count_from_one() -> None:
    (sheet,) = book_sheets(workbook(("a", ""), ("b", "")))
    assert [(cell.line, cell.column) for cell in sheet.rows[0]] == [(1, 1), (1, 2)]


@pytest.mark.parametrize("read", [spreadsheet_cells, book_sheets])
def test_a_workbook_that_unpacks_to_more_than_a_large_job_needs(
    read: Callable[[bytes], object],
) -> None:
    data = workbook(("A1", ""))
    assert read(unpacked(data, LARGEST)) == read(data)
    with pytest.raises(NoSpreadsheet):
        read(unpacked(data, LARGEST + 1))


def test_a_sheet_with_more_rows_or_columns_than_a_table_of_readings() -> None:
    for row, column in ((20_001, 1), (1, 51)):
        book = openpyxl.Workbook()
        book.active.cell(row, column, "x")
        data = io.BytesIO()
        book.save(data)
        with pytest.raises(NoSpreadsheet):
            spreadsheet_cells(data.getvalue())


def test_what_is_merged_hidden_or_without_a_value() -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    for line, value in enumerate(("box", "VB-1", None, "=1+1", "#REF!"), 1):
        sheet.cell(line, 1, value)
    sheet.cell(2, 2, "beside")
    sheet.merge_cells("A2:A3")
    sheet.row_dimensions[2].hidden = True
    book.create_sheet("old").sheet_state = "hidden"
    data = io.BytesIO()
    book.save(data)
    first, second = book_sheets(data.getvalue())
    assert [row[0].text for row in first.rows[:3]] == ["box", "VB-1", "VB-1"]
    assert first.hidden == {2}
    assert first.unread == {(4, 1): "formula", (5, 1): "#REF!"}
    assert (first.is_hidden, second.is_hidden) == (False, True)
