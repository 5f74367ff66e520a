"""Spreadsheets are read by openpyxl, which did not write them, as the text that went in."""

from __future__ import annotations

import io

import openpyxl
import pytest

from cardgen.results.workbook_file import spreadsheet, workbook

ROWS = [
    ["valve", "ohms", "note"],
    ["A1", "", " <wet> & 'low'  "],
    ["-A2", "007", "=1+1"],
    ["Ñ-1", "", "two\nlines"],
]


@pytest.mark.parametrize("data", [spreadsheet(ROWS), workbook({"valves": ROWS})])
def test_each_cell_is_there_as_text(data: bytes) -> None:
    (sheet,) = openpyxl.load_workbook(io.BytesIO(data)).worksheets
    found = [[cell.value for cell in row] for row in sheet.iter_rows()]
    assert found == [[text or None for text in row] for row in ROWS]
    shapes = {cell.number_format for row in sheet.iter_rows() for cell in row}
    assert shapes == {"@"}, "also of blank cells: what is typed there stays as it is"
    assert {c.data_type for row in sheet.iter_rows() for c in row if c.value} == {"s"}


def test_the_looks_of_a_workbook() -> None:
    data = workbook({"valves": ROWS, "more": [["a"], ["x" * 100]]}, hidden=("more",))
    book = openpyxl.load_workbook(io.BytesIO(data))
    sheet, more = book.worksheets
    assert (sheet.freeze_panes, sheet.sheet_state, more.sheet_state) == ("B2", "visible", "hidden")
    assert [cell.font.b for cell in sheet["A"]] == [True, False, False, False]
    assert sheet["C4"].alignment.wrap_text
    # One letter is about one unit wide (ISO/IEC 29500-1, 18.3.1.13); some room beside it.
    assert 17 < sheet.column_dimensions["C"].width < 20
    assert more.column_dimensions["A"].width < 65
    assert sheet.column_dimensions["A"].number_format == "@"


def test_the_same_rows_are_the_same_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    before = spreadsheet(ROWS), workbook({"valves": ROWS})
    monkeypatch.setattr("time.time", lambda: 2e9)
    monkeypatch.setattr("time.localtime", lambda *_: (2033, 5, 18, 3, 33, 20, 2, 138, 0))
    assert (spreadsheet(ROWS), workbook({"valves": ROWS})) == before


def test_nothing_is_left_out_silently() -> None:
    """A cell takes 32,767 characters, as Excel's specifications say."""
    spreadsheet([["x" * 32_767]])
    with pytest.raises(AssertionError, match="longer than a cell takes"):
        spreadsheet([["x" * 32_768]])
