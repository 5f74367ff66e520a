"""Readings out to CSV and in again: nothing lost, guessed or run by a spreadsheet."""

from __future__ import annotations

import csv
import io
import re
import string
import uuid

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.problems import Problem
from cardgen.results import OL, Kind, Measured, read_results, results_csv, unknown_rows
from cardgen.results.cells import records
from cardgen.results.csv_out import as_meant, harmless
from cardgen.trade.private_text import private
from tests.jobs import well_said

HEAD = "when,valve,kind,value"
ROW = "2026-04-30,A1,volts,22.1"

# No control characters, which a text file does not hold; blanks around a name are no part of it.
texts = st.text(
    st.characters(exclude_categories=("Cs", "Cc", "Cn")) | st.sampled_from("\n\t\"',;=+-@")
)
names = texts.map(str.strip)
open_texts = texts.filter(lambda text: private(text) is None)
# The most of each kind, by hand; assumed, as in the model.
OHMS, MOST = 60_000_000, {Kind.VOLTS: 1_000, Kind.MILLIAMPERES: 10_000, Kind.INSULATION: 100_000}
ohms = st.sampled_from([Kind.CONTROLLER, Kind.COIL, Kind.INSULATION])
kinds_and_values = st.sampled_from(Kind).flatmap(
    lambda kind: st.tuples(
        st.just(kind), st.integers(0, 1000 * MOST.get(kind, OHMS)).map(lambda n: n / 1000)
    )
) | st.tuples(ohms, st.just(OL))


@st.composite
def measured(draw: st.DrawFn) -> Measured:
    kind, value = draw(kinds_and_values)
    return Measured(
        id=str(draw(st.uuids())),
        when=draw(
            st.datetimes().map(lambda d: f"{d:%Y-%m-%dT%H:%M}" if d.year > 999 else "2026-01-31")
        ),
        record_key=draw(names),
        box=draw(names),
        valve=draw(names.filter(bool)),
        kind=kind,
        value=value,
        by=draw(open_texts),
        notes=draw(open_texts),
    )


@given(st.lists(measured(), max_size=6, unique_by=lambda m: m.id), st.booleans())
def test_what_goes_out_comes_in_again(results: list[Measured], mark: bool) -> None:
    data = b"\xef\xbb\xbf" * mark + results_csv(results)
    rows, problems = read_results(data, "readings.csv")
    assert problems == ()
    assert [row.measured for row in rows] == results


@given(st.lists(measured(), max_size=3, unique_by=lambda m: m.id))
def test_no_cell_is_a_formula(results: list[Measured]) -> None:
    # Read by Python's own csv module, which is not ours.
    for row in csv.reader(io.StringIO(results_csv(results).decode(), newline="")):
        assert not any(cell.startswith(tuple("=+-@\t\r")) for cell in row)


@given(st.lists(measured(), max_size=3, unique_by=lambda m: m.id))
def test_no_part_is_a_formula_for_whoever_splits_it_otherwise(results: list[Measured]) -> None:
    """At ';', tab or '|', and at each line end, in a program that takes no quotes for quotes."""
    for part in re.split("[;|\t\r\n]", results_csv(results).decode()):
        assert not part.lstrip('"').startswith(tuple("=+-@"))


@pytest.mark.parametrize(
    ("cell", "written"),
    [
        ("wet;=1+1", "wet;'=1+1"),
        ("wet\n@x", "wet\n'@x"),
        ("wet\t'-1", "wet\t''-1"),
        ('wet"+1', "wet\"'+1"),
        ("31-33 = fair", "31-33 = fair"),
    ],
)
def test_a_formula_behind_a_separator_is_made_text(cell: str, written: str) -> None:
    assert harmless(cell) == written
    assert as_meant(written) == cell


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@x", "'=1", "''@", "'", "'quoted'", "", "a"])
def test_the_apostrophe_comes_and_goes(cell: str) -> None:
    assert as_meant(harmless(cell)) == cell


@given(st.text(string.printable))
def test_reading_never_stumbles(text: str) -> None:
    for data in (text.encode(), f"{HEAD}\n{text}".encode()):
        _, problems = read_results(data, "readings.csv")
        assert all(well_said(problem) for problem in problems)


def problems_of(text: str) -> list[Problem]:
    return [well_said(problem) for problem in read_results(text.encode(), "readings.csv")[1]]


def codes(text: str) -> list[tuple[str, int, int]]:
    return [(p.code, p.span.line, p.span.column) for p in problems_of(text)]


@pytest.mark.parametrize("text", [f"{HEAD}\r\n{ROW}\r\n", f"{HEAD}\n{ROW}", f"{HEAD}\r{ROW}\r\r"])
def test_any_end_of_line_does(text: str) -> None:
    rows, problems = read_results(text.encode(), "readings.csv")
    assert problems == () and len(rows) == 1


def test_a_semicolon_does_where_the_first_line_has_no_comma() -> None:
    text = "When;Valve;Kind;Value\n2026-04-30;A1;ohms at the controller; ol \n"
    rows, problems = read_results(text.encode(), "readings.csv")
    assert problems == ()
    assert rows[0].measured.value == OL


def test_rows_without_a_mark_get_one_from_what_they_say() -> None:
    one = read_results(f"{HEAD}\n{ROW}\n".encode(), "a.csv")[0][0].measured
    again = read_results(b"value,kind,valve,when\n22.1,volts,A1,2026-04-30\n", "b.csv")[0]
    assert again[0].measured.id == one.id == str(uuid.UUID(one.id))


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("", [("file-empty", 1, 1)]),
        ("\n \n", [("file-empty", 1, 1)]),
        ("a\x00b", [("not-text", 1, 2)]),
        (f"{HEAD},color\n{ROW},red", [("csv-column-unknown", 1, 23)]),
        (f"{HEAD},value\n{ROW},1", [("csv-column-twice", 1, 23)]),
        (f"when,valve\n{ROW}", [("csv-column-missing", 1, 1)] * 2),
        (f"{HEAD}\n{ROW},", [("csv-row-uneven", 2, 1)]),
        (f"{HEAD}\n\n2026-04-30,A1,volts,22,1", [("csv-row-uneven", 3, 21)]),
        (f"{HEAD}\n2026-04-30,A1,volts,22,1,2", [("csv-row-uneven", 2, 1)]),
        (f"{HEAD}\n2026-04-30,A1,volts", [("csv-row-uneven", 2, 1)]),
        (f"{HEAD}\n2026-04-30,A1", [("csv-row-uneven", 2, 1)]),
        (f'{HEAD}\n2026-04-30,"A1,volts,22', [("csv-quotes", 2, 12)]),
        (f'{HEAD}\n2026-04-30,"A1"x,volts,22', [("csv-quotes", 2, 12)]),
        (f"{HEAD}\n30.04.2026,A1,volts,22", [("reading-date", 2, 1)]),
        (f"{HEAD}\n2026-02-30,A1,volts,22", [("reading-date", 2, 1)]),
        (f"{HEAD}\n2026-04-30T25:00,A1,volts,22", [("reading-date", 2, 1)]),
        (f"{HEAD}\n2026-04-30,,volts,22", [("reading-of-no-valve", 2, 12)]),
        (f"{HEAD}\n2026-04-30,A1,amps,22", [("reading-kind-unknown", 2, 15)]),
        (f"{HEAD}\n2026-04-30,A1,volts,22 V", [("reading-value", 2, 21)]),
        (f"{HEAD}\n2026-04-30,A1,volts,", [("reading-value", 2, 21)]),
        (f"{HEAD}\n2026-04-30,A1,volts,-1", [("reading-value", 2, 21)]),
        (f"{HEAD}\n2026-04-30,A1,volts,1e3", [("reading-value", 2, 21)]),
        (f"{HEAD}\n2026-04-30,A1,volts,OL", [("reading-value", 2, 21)]),
        ("when;valve;kind;value\n2026-04-30;A1;volts;22,1", [("reading-value", 2, 21)]),
        (f"{HEAD}\n{ROW}\n{ROW}", [("reading-twice", 3, 21)]),
        (f"id,{HEAD}\nx,{ROW}", [("reading-id", 2, 1)]),
        (f"{HEAD},notes\n{ROW},portón 4471", [("private-text", 2, 26)]),
        (f"by,{HEAD}\nMaria 619-555-0142,{ROW}", [("private-text", 2, 1)]),
        (f'notes,{HEAD}\n"wet\ngate 4471#",{ROW}', [("private-text", 2, 1)]),
        (f"{HEAD},notes\n{ROW},box by gate valve 4471", []),
        # Two lines of a note: what follows stands on the third.
        (f'notes,{HEAD}\n"one\ntwo",{ROW}x', [("reading-value", 3, 26)]),
    ],
)
def test_each_fault_stands_at_its_cell(text: str, found: list[tuple[str, int, int]]) -> None:
    assert codes(text) == found


def test_the_whole_text_of_a_fault() -> None:
    (problem,) = problems_of(f"{HEAD}\n2026-04-30,A1,volts,22 V")
    assert str(problem.span) == "readings.csv:2:21"
    assert problem.sentence == "'22 V' is not a value of a meter"
    assert problem.help == (
        "digits with a decimal point, 31.4, without the unit; OL where the meter shows OL"
    )


@pytest.mark.parametrize(
    ("row", "help_"),
    [
        ("31,2", "write 31.2 with a decimal point"),
        ("1,234", "write 1.234 with a decimal point, or 1234 where the comma marks thousands"),
        ("31,lid cracked", "a comma inside a cell needs quotes around the cell"),
    ],
)
@pytest.mark.parametrize("more", ["", ",notes"])
def test_a_decimal_comma_is_told_as_one(row: str, help_: str, more: str) -> None:
    (problem,) = problems_of(f"{HEAD}{more}\n2026-04-30,A1,volts,{row}{',' if more else ''}")
    assert problem.code == "csv-row-uneven"
    assert problem.help.startswith(help_)
    assert help_.startswith("a comma") or problem.help == help_


@pytest.mark.parametrize("kind", Kind)
def test_what_is_far_too_much_is_a_slip_or_another_unit(kind: Kind) -> None:
    most = MOST.get(kind, OHMS)
    assert codes(f"{HEAD}\n2026-04-30,A1,{kind},{most}") == []
    (problem,) = problems_of(f"{HEAD}\n2026-04-30,A1,{kind},{most}.1")
    assert (problem.code, problem.span.line) == ("reading-value", 2)
    assert problem.sentence == (f"'{most}.1' is more than is accepted, {most} {kind.unit} at most")
    assert problem.help == f"read the meter again and check the unit: {kind.unit}"


def test_sound_rows_are_kept_beside_faulty_ones() -> None:
    rows, problems = read_results(f"{HEAD}\n{ROW}\n{ROW}x\n".encode(), "readings.csv")
    assert (len(rows), len(problems)) == (1, 1)


def test_rows_of_another_job_or_of_no_valve() -> None:
    text = f"job,{HEAD}\nOTHER,{ROW}\n,{ROW}\nMINE,2026-04-30,A9,volts,22.1\n"
    rows, _ = read_results(text.encode(), "readings.csv")
    found = [well_said(p) for p in unknown_rows(rows, {"A1"}, "MINE")]
    assert [(p.code, p.span.line, p.span.column) for p in found] == [
        ("reading-of-another-job", 2, 1),
        ("reading-of-no-valve", 4, 17),
    ]


@given(st.lists(st.lists(texts, min_size=2, max_size=4), min_size=1, max_size=4))
def test_cells_are_those_that_another_reader_finds(table: list[list[str]]) -> None:
    # Python's own csv module writes and reads; where ours begins a cell, that cell stands.
    stream = io.StringIO(newline="")
    csv.writer(stream).writerows([["a", "b"], *table])
    text = stream.getvalue()
    found = list(records(text))
    assert [[cell.text for cell in record] for record in found] == list(
        csv.reader(io.StringIO(text, newline=""))
    )
    lines = re.split("\r\n|\r|\n", text)
    for cell in (cell for record in found for cell in record if cell.text.isalnum()):
        assert lines[cell.line - 1][cell.column - 1 :].lstrip('"').startswith(cell.text)
