"""A table of one row for each valve: printed empty, filled in, read again."""

from __future__ import annotations

import csv
import io
import zipfile
from datetime import date

import openpyxl
import pytest

from cardgen.examine import examine_text
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.selection import Selection
from cardgen.results import OL, Kind, KnownNames, read_results, unknown_rows
from tests.jobs import sample, well_said

TOP = (
    "job,7Q2F9KX4M3T8,,,,,\nrevision,1,,,,,\nwhen,2026-11-28,,,,,\nconditions,leads 0.3 ohm,,,,,\n"
)
HEAD = "valve,ohms,coil,volts,mA,insulation,walk\n"


def printed() -> dict[str, bytes]:
    request = PrintRequest(selection=Selection(only=("test-sheet",)))
    made, _ = make_print(examine_text(sample("larkspur")), request)
    assert made is not None
    return dict(made.files)


def test_the_empty_table_is_in_the_order_walked() -> None:
    """Larkspur, by hand from its file: K1 goes to VB-1 (A1, A2) and VB-2 (A3, A6), then K2."""
    rows = list(csv.reader(io.StringIO(printed()["test-sheet.csv"].decode())))
    assert rows[5] == ["valve", "ohms", "coil", "volts", "mA", "insulation", "walk"]
    assert [row[0] for row in rows[6:]] == ["A1", "A2", "A3", "A6", "A4", "A5"]
    assert not any(cell for row in rows[6:] for cell in row[1:])
    assert {len(row) for row in rows} == {7}


@pytest.mark.parametrize("name", ["test-sheet.csv", "test-sheet.xlsx"])
def test_it_comes_back_as_it_is(name: str) -> None:
    assert read_results(printed()[name], name) == ((), ())


def test_the_same_job_the_same_spreadsheet() -> None:
    assert printed()["test-sheet.xlsx"] == printed()["test-sheet.xlsx"]


def filled(cells: dict[str, str | float | date]) -> bytes:
    """The printed spreadsheet, as openpyxl, which is not ours, fills it in."""
    book = openpyxl.load_workbook(io.BytesIO(printed()["test-sheet.xlsx"]))
    for place, value in cells.items():
        book.worksheets[0][place] = value
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def test_a_spreadsheet_filled_in() -> None:
    data = filled(
        {"B3": "2026-11-28", "B5": "22 C; RAIN bypassed", "B7": 31.4, "C7": "30", "B8": "OL"}
    )
    rows, problems = read_results(data, "walk.xlsx")
    assert problems == ()
    names = KnownNames(valves=frozenset({"A1", "A2"}), sensors=frozenset({"RAIN"}), revision=1)
    assert list(unknown_rows(rows, names, "7Q2F9KX4M3T8")) == []
    said = [(row.measured.valve, row.measured.kind, row.measured.value) for row in rows]
    assert said == [
        ("A1", Kind.CONTROLLER, 31.4),
        ("A1", Kind.COIL, 30.0),
        ("A2", Kind.CONTROLLER, OL),
    ]
    assert {row.measured.when for row in rows} == {"2026-11-28"}
    assert all(row.measured.under.celsius == 22 for row in rows)
    assert all(row.measured.under.is_bypassed("RAIN") for row in rows)


def test_what_is_wrong_in_a_spreadsheet_is_told_by_row_and_column() -> None:
    rows, problems = read_results(filled({"B3": "2026-11-28", "D8": "1,234"}), "walk.xlsx")
    assert rows == ()
    (problem,) = (well_said(problem) for problem in problems)
    assert (problem.code, problem.span.line, problem.span.column) == ("reading-value", 8, 4)


def read(body: str, top: str = TOP) -> list[tuple[str, str, float, str]]:
    rows, problems = read_results(f"{top}{HEAD}{body}".encode(), "w.csv")
    assert problems == ()
    return [(m.valve, m.kind, m.value, m.to) for m in (row.measured for row in rows)]


def test_a_blank_is_not_measured_and_each_cell_is_a_value() -> None:
    assert read("A1,34.3,30,23.4,230,200,yes\nA2,OL,,,,,\nA3,,,,,,\n,,,,,,\n") == [
        ("A1", Kind.CONTROLLER, 34.3, ""),
        ("A1", Kind.COIL, 30.0, ""),
        ("A1", Kind.VOLTS, 23.4, ""),
        ("A1", Kind.MILLIAMPERES, 230.0, ""),
        ("A1", Kind.INSULATION, 200.0, ""),
        ("A1", Kind.WALK_TEST, 1.0, "A1"),
        ("A2", Kind.CONTROLLER, OL, ""),
    ]


def test_a_row_that_is_withdrawn_is_read_and_its_values_disagree_with_none() -> None:
    table = f"{TOP}valve,ohms,coil,withdrawn\nA1,3.1,3.0,Ana: slip\nA1,31.4,30,\n"
    found, problems = read_results(table.encode(), "w.csv")
    assert problems == ()
    assert [(row.measured.value, row.measured.withdrawn) for row in found] == [
        *((3.1, "Ana: slip"), (3.0, "Ana: slip"), (31.4, ""), (30.0, ""))
    ]
    spanish = f"{TOP}válvula,ohms,anulada\nA1,3.1,Ana: un cero de menos\n"
    found, _ = read_results(spanish.encode(), "w.csv")
    assert found[0].measured.withdrawn == "Ana: un cero de menos"


def test_which_area_got_wet_and_what_nobody_reached() -> None:
    assert read("A1,,,,,,A5\nA2,,,,,,no\nA3,not reached,,,,,\nA4,sin acceso,,,,,\n") == [
        ("A1", Kind.WALK_TEST, 1.0, "A5"),
        ("A2", Kind.WALK_TEST, 0.0, "none"),
        ("A3", Kind.NOT_REACHED, 0.0, ""),
        ("A4", Kind.NOT_REACHED, 0.0, ""),
    ]


def test_what_is_said_once_may_stand_below_or_in_columns() -> None:
    below = "A1,34.3,,,,,\nfecha,11/28/2026,,,,,\ncondiciones,puntas 0.3 ohm,,,,,\n"
    rows, problems = read_results(f"{HEAD}{below}".encode(), "w.csv")
    assert problems == ()
    said = rows[0].measured
    assert said.when == "2026-11-28"
    assert said.net == pytest.approx(34.0)
    beside = b"fecha;valvula;ohms;solenoide\n28/11/2026;A1;34,3;30\n"
    rows, problems = read_results(beside, "w.csv")
    assert problems == ()
    assert [(r.measured.when, r.measured.value) for r in rows] == [
        ("2026-11-28", 34.3),
        ("2026-11-28", 30.0),
    ]


def problems_of(text: str) -> list[tuple[str, int, int]]:
    _, problems = read_results(text.encode(), "w.csv")
    return [(p.code, p.span.line, p.span.column) for p in map(well_said, problems)]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        # Without a day, told once where it belongs.
        (f"when,,,,,,\n{HEAD}A1,34,30,,,,\n", [("reading-date", 1, 1)]),
        # A decimal comma without quotes would push the values on.
        (f"{TOP}{HEAD}A1,31,4,,,,,\n", [("csv-row-uneven", 6, 1)]),
        (f"{TOP}{HEAD}A1,31,4\n", [("csv-row-uneven", 6, 1)]),
        (f"{TOP}{HEAD}A1,31,4,,,,,x\n", [("csv-row-uneven", 6, 1)]),
        (f"weather,dry,,,,,\n{HEAD}A1,31,,,,,\n", [("csv-column-unknown", 1, 1)]),
        (f"{TOP}valve,ohms,color\nA1,31,red\n", [("csv-column-unknown", 5, 12)]),
        (f"{TOP}valve,ohms,ohm\nA1,31,31\n", [("csv-column-twice", 5, 12)]),
        (f"{TOP}{HEAD},31,,,,,\n", [("reading-of-no-valve", 6, 1)]),
        (f"{TOP}{HEAD}A1,31,,,,,\nA1,35,,,,,\n", [("reading-disagrees", 7, 4)]),
        (f"{TOP.replace('leads', 'lids')}{HEAD}A1,31,,,,,\n", [("reading-conditions", 4, 12)]),
    ],
)
def test_each_fault_of_a_wide_table_is_told(text: str, found: list[tuple[str, int, int]]) -> None:
    assert problems_of(text) == found


def test_another_revision_is_told_once() -> None:
    rows, _ = read_results(f"{TOP}{HEAD}A1,31,30,,,,\nA2,31,,,,,\n".encode(), "w.csv")
    names = KnownNames(valves=frozenset({"A1", "A2"}), revision=3)
    (problem,) = unknown_rows(rows, names, "7Q2F9KX4M3T8")
    assert well_said(problem).code == "reading-of-another-revision"
    assert (problem.span.line, problem.span.column) == (2, 10)


def test_what_is_no_spreadsheet_is_told() -> None:
    assert [p.code for p in read_results(b"PK\x03\x04 cut off", "w.xlsx")[1]] == ["xlsx-unreadable"]


def test_a_file_that_unpacks_without_end_is_none() -> None:
    stream = io.BytesIO(printed()["test-sheet.xlsx"])
    with zipfile.ZipFile(stream, "a", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/more.xml", bytes(30_000_000))
    assert len(stream.getvalue()) < 100_000
    assert [p.code for p in read_results(stream.getvalue(), "w.xlsx")[1]] == ["xlsx-unreadable"]


def test_without_openpyxl_a_spreadsheet_is_not_read(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    data = printed()["test-sheet.xlsx"]
    monkeypatch.setattr("cardgen.results.xlsx_cells.is_installed", lambda: False)
    (problem,) = read_results(data, "w.xlsx")[1]
    assert problem.help == "'cardgen manual install' says how to add it"


def test_a_table_without_a_day_says_that_it_has_none() -> None:
    _, problems = read_results(f"{HEAD}A1,34,,,,,\n".encode(), "r.csv")
    assert [well_said(problem).sentence for problem in problems] == [
        "the reading does not say on which day it was taken"
    ]


def test_the_head_is_one_of_the_first_twelve_rows() -> None:
    """What is farther down is no head: somebody lists valves there."""
    for above, is_found in ((11, True), (12, False)):
        text = "a note,,,,,,\n" * above + f"{HEAD}A1,34,,,,,\n"
        sentences = [problem.sentence for problem in read_results(text.encode(), "r.csv")[1]]
        assert ("the first line has no column 'kind'" in sentences) is not is_found
