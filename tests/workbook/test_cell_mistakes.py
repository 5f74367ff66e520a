"""Mistakes as they are typed into cells, with the message that each must get at its cell."""

from __future__ import annotations

import datetime
from typing import Any

import openpyxl
import pytest

from cardgen.problems import Problem
from cardgen.workbook.book_files import Book, book_of
from cardgen.workbook.exporting import exported
from cardgen.workbook.importing import update_of
from tests.jobs import sample, well_said
from tests.workbook.books import book_of_rows, csv_book, imported, sheets_of_text, xlsx

# Sheet, cell, what is typed; then the place, the code, and words of the sentence and the way out.
IN_A_WORKBOOK = [
    ("legs", "C2", "85", "legs:2:3", "unit-missing", "C2: a length has no unit", "'85 ft'"),
    ("legs", "C2", 85, "legs:2:3", "unit-missing", "no unit", "'85 ft' or '85 m'"),
    ("legs", "C2", "85 rods", "legs:2:3", "unit-unknown", "'85 rods'", "'ft' or 'm'"),
    ("legs", "C2", "85 in", "legs:2:3", "unit-unknown", "'85 in'", "7.0833 ft"),
    ("legs", "C2", "about 85 ft", "legs:2:3", "value", "'about 85 ft'", "85 ft"),
    ("legs", "C2", "-85 ft", "legs:2:3", "out-of-range", "a length", ""),
    ("legs", "C2", "10,50 ft", "legs:2:3", "comma", "10,50", "10.50"),
    ("legs", "C2", "eighty feet", "legs:2:3", "length-missing", "'eighty feet' is here", ""),
    ("legs", "C2", None, "legs:2:3", "length-missing", "nothing is here", "'not known'"),
    ("legs", "C2", "?", "legs:2:3", "length-missing", "'?' is here", "'not known'"),
    ("legs", "C2", datetime.date(2026, 3, 14), "legs:2:3", "value", "2026-03-14", ""),
    ("legs", "B3", "VB-3", "legs:3:2", "sheet-leg", "begins at 'VB-3'", "in their order"),
    ("legs", "D2", "VB-9", "legs:3:2", "sheet-leg", "ends at 'VB-9'", "correct one"),
    ("legs", "A2", "A-K9", "legs:2:1", "sheet-name", "no cable 'A-K9'", "'A-K1' or 'A-K2'"),
    ("legs", "C1", "long", "legs:1:3", "sheet-column-unknown", "no column 'long'", "length"),
    ("legs", "D1", None, "legs:1:1", "sheet-headings", "no column 'to'", "this heading"),
    ("stations", "A3", "A1", "stations:3:1", "duplicate-key", "'A1'", ""),
    (
        "stations",
        "A3",
        None,
        "stations:3:1",
        "sheet-name",
        "no name in the column",
        "empty the row",
    ),
    ("stations", "A3", "A 2", "stations:3:1", "name", "'A 2'", "A-2"),
    ("stations", "B3", None, "stations:3:1", "missing", "no 'area'", ""),
    ("stations", "B3", "#REF!", "stations:3:2", "sheet-cell-unread", "error #REF!", "formula"),
    ("stations", "B3", "=A1&B2", "stations:3:2", "sheet-cell-unread", "formula", "save it again"),
    ("stations", "C3", "VB 1", "stations:3:3", "unknown-name", "'VB 1'", "'VB-1'"),
    ("stations", "H3", "usuall", "stations:3:8", "unknown-name", "'usuall'", "'usual'"),
    ("stations", "G3", "two", "stations:3:7", "value", "'two'", "1 to 999"),
    ("boxes", "C2", "valvebox", "boxes:2:3", "unknown-word", "'valvebox'", "'valve box'"),
    ("boxes", "G2", 2.5, "boxes:2:7", "value", "whole number, not '2.5'", "0 to 99"),
    ("boxes", "J3", "stray", "boxes:3:10", "sheet-row", "'stray'", "heading"),
    ("cables", "B2", 18, "cables:2:2", "unit-missing", "a gauge has no unit", "'18 AWG'"),
    ("cables", "B2", "17 AWG", "cables:2:2", "gauge-not-made", "17 AWG", "18"),
    ("cables", "C2", "sevn", "cables:2:3", "unknown-name", "'sevn'", "'seven'"),
    ("palettes", "B2", "white, rde", "palettes:2:2", "unknown-color", "'rde'", "'red'"),
    ("palettes", "B2", None, "palettes:2:1", "wrong-type", "nothing is here", ""),
    ("coils", "C2", "30", "coils:2:3", "unit-missing", "a resistance has no unit", "'30 ohm'"),
    ("controllers", "C2", "24 volts", "controllers:2:3", "value", "'24 volts'", "'24 V AC'"),
    ("controllers", "F2", "C; 8 to 1", "controllers:2:6", "terminal", "'8 to 1'", "1 to 8"),
    ("job", "C5", "4/5/2026", "job:5:3", "value", "'4/5/2026'", "2026-04-05"),
    ("job", "C4", "one", "job:4:3", "value", "whole number, not 'one'", "1 to 9999"),
    ("job", "B2", "cod", "job:2:2", "sheet-name", "no row 'job cod'", "'job code'"),
    ("sensors", "B2", "rian", "sensors:2:2", "unknown-word", "'rian'", "'rain'"),
]


def told(problems: tuple[Problem, ...], code: str) -> Problem:
    """The one of that code, every one in words that are fit for a person."""
    found = [well_said(p) for p in problems if p.code == code]
    assert len(found) == 1, [(str(p.span), p.code, p.sentence) for p in problems]
    return found[0]


def typed_into(sheets: dict[str, list[list[str]]], title: str, cell: str, typed: Any) -> Book:
    """By a spreadsheet program where it is more than a text."""

    def fill(book: openpyxl.Workbook) -> None:
        book[title][cell].number_format = "General"
        book[title][cell] = typed

    if typed is not None and not (isinstance(typed, str) and typed[0] not in "=#"):
        return xlsx(fill, sheets)
    rows = [list(row) for row in sheets[title]]
    row, column = int(cell[1:]) - 1, "ABCDEFGHIJ".index(cell[0])
    rows[row] += [""] * (column + 1 - len(rows[row]))
    rows[row][column] = typed or ""
    return book_of_rows({**sheets, title: rows})


def test_each_mistake_in_a_workbook_is_told_at_its_cell() -> None:
    sheets = sheets_of_text(sample("larkspur"))
    for title, cell, typed, place, code, words, way in IN_A_WORKBOOK:
        update = update_of(typed_into(sheets, title, cell, typed), sample("larkspur"), "job.yaml")
        case = (title, cell, typed)
        assert update.changes is None, case
        problem = told(update.problems, code)
        assert str(problem.span) == f"book.xlsx:{place}", case
        column = "ABCDEFGHIJ"[problem.span.column - 1]
        assert problem.sentence.startswith(f"{column}{problem.span.line}: "), case
        assert words in problem.sentence, (case, problem.sentence)
        assert way in problem.help, (case, problem.help)
        others = {p.code for p in update.problems} - {code}
        assert others <= {"missing"}, (case, others)  # a row without its key lacks it, too


HEAD = "Station,Area,Box,Color\n"
IN_A_LIST = [
    ("A1,lawn,VB-1,red\n", "list.csv:1:1", "sheet-headings", "no row of headings", "Station"),
    ("Area,Box\nlawn,VB-1\n", "list.csv:1:1", "sheet-headings", "which station", "'Station'"),
    (HEAD, "list.csv:1:1", "sheet-headings", "nothing below", "a row"),
    (HEAD + "front,lawn,VB-1,red\n", "list.csv:2:1", "sheet-name", "'front' names no", "'A7'"),
    (HEAD + ",lawn,VB-1,red\n", "list.csv:2:1", "sheet-name", "no station, but 'lawn'", "empty"),
    (HEAD + "A1,x,V1,red\n2,y,V1,blue\n", "list.csv:3:1", "sheet-name", "'2' does not", "'A2'"),
    (HEAD + "A1,x,V1,red\nA-01,y,V1,blue\n", "list.csv:3:1", "duplicate-key", "'A1'", ""),
    (HEAD + "7a,x,V1,red\n", "list.csv:2:1", "sheet-name", "one of several valves", "A7a: {box"),
    (HEAD + "A1,x,V1,rde\n", "list.csv:2:9", "sheet-color", "'rde' is no color", "'red'"),
    (HEAD + "A1,lawn, west,VB-1,red\n", "list.csv:2:20", "sheet-row", "'red'", "quotes"),
    (HEAD + 'A1,"lawn,VB-1,red\n', "list.csv:2:4", "csv-quotes", "quote", ""),
    (HEAD + "A1,#N/A,VB-1,red\n", "list.csv:2:4", "sheet-cell-unread", "#N/A", "formula"),
    (
        "Station,Box,Valve box\nA1,1,2\n",
        "list.csv:1:13",
        "sheet-column-twice",
        "both mean the box",
        "heading",
    ),
    (
        "Station,Controller,Area\nA1,B,lawn\n",
        *("list.csv:2:1", "sheet-name", "not on controller 'B'", "correct one"),
    ),
]


def test_each_mistake_in_a_list_is_told_at_its_cell() -> None:
    for text, place, code, words, way in IN_A_LIST:
        if code == "csv-quotes":
            book, problems = book_of(text.encode(), "list.csv")
            assert book is None
        else:
            made = imported(csv_book(text))
            assert made.text is None, text
            problems = made.problems
        problem = told(problems, code)
        assert str(problem.span) == place, (text, str(problem.span))
        assert words in problem.sentence, (text, problem.sentence)
        assert way in problem.help, (text, problem.help)


def test_all_is_told_in_one_run() -> None:
    sheets = exported(sample("larkspur"), "job.yaml").sheets
    sheets["legs"][1][2] = "85"
    sheets["stations"][1][0] = ""
    sheets["boxes"][2][2] = "valvebox"
    update = update_of(book_of_rows(sheets), sample("larkspur"), "job.yaml")
    found = [(p.code, str(p.span)) for p in update.problems]
    assert found == [
        ("unknown-word", "book.xlsx:boxes:3:3"),
        ("unit-missing", "book.xlsx:legs:2:3"),
        ("sheet-name", "book.xlsx:stations:2:1"),
    ]


@pytest.mark.parametrize("data", [b"PK\x03\x04 cut off", b"\xd0\xcf\x11\xe0 old", b"{\\rtf1}"])
def test_what_is_no_table(data: bytes) -> None:
    book, problems = book_of(data, "list")
    assert book is None
    assert [p.code for p in problems] == ["not-text" if data[0] == 123 else "xlsx-unreadable"]
