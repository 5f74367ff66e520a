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
from cardgen.results import OL, Kind, KnownNames, Measured, read_results, results_csv, unknown_rows
from cardgen.results.cells import records
from cardgen.results.column_names import kind_named
from cardgen.results.csv_out import as_meant, harmless
from cardgen.trade.private_text import private
from cardgen.words import load_words
from tests.for_each import for_each
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
OHMS = 60_000_000
MOST = {
    Kind.VOLTS: 1_000,
    Kind.OPEN_VOLTS: 1_000,
    Kind.MILLIAMPERES: 10_000,
    Kind.HOT_MILLIAMPERES: 10_000,
    Kind.INSULATION: 100_000,
}
MARKS = (Kind.WALK_TEST, Kind.NOT_REACHED)  # what is no number of a meter
METERED = [kind for kind in Kind if kind not in MARKS]
NEVER_OL = (Kind.VOLTS, Kind.OPEN_VOLTS, Kind.MILLIAMPERES, Kind.HOT_MILLIAMPERES)
ohms = st.sampled_from([kind for kind in METERED if kind not in NEVER_OL])
kinds_and_values = st.sampled_from(METERED).flatmap(
    lambda kind: st.tuples(
        st.just(kind), st.integers(0, 1000 * MOST.get(kind, OHMS)).map(lambda n: n / 1000)
    )
) | st.tuples(ohms, st.just(OL))
walks = st.sampled_from([(Kind.WALK_TEST, 1.0), (Kind.WALK_TEST, 0.0), (Kind.NOT_REACHED, 0.0)])
conditions = st.sampled_from(["", "RS-1 bypassed; 22 C", "leads 0.3 ohm; terminals 26.8 V"])


@st.composite
def measured(draw: st.DrawFn) -> Measured:
    kind, value = draw(kinds_and_values | walks)
    name = names.filter(bool)
    return Measured(
        id=str(draw(st.uuids())),
        when=draw(
            st.datetimes().map(lambda d: f"{d:%Y-%m-%dT%H:%M}" if d.year > 999 else "2026-01-31")
        ),
        record_key=draw(names),
        box=draw(name),
        valve=draw(name),
        start=draw(name),
        to=draw(name),
        conditions=draw(conditions),
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


@for_each(
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
        (f"{HEAD}\n2026-02-30,A1,volts,22", [("reading-date", 2, 1)]),
        (f"{HEAD}\n2026-04-30T25:00,A1,volts,22", [("reading-date", 2, 1)]),
        (f"{HEAD}\n2026-04-30,,volts,22", [("reading-of-no-valve", 2, 12)]),
        (f"{HEAD}\n2026-04-30,A1,amps,22", [("reading-kind-unknown", 2, 15)]),
        (f"{HEAD}\n2026-04-30,A1,volts,", [("reading-value", 2, 21)]),
        (f"{HEAD}\n2026-04-30,A1,volts,-1", [("reading-value", 2, 21)]),
        (f"{HEAD}\n2026-04-30,A1,volts,1e3", [("reading-value", 2, 21)]),
        (f"{HEAD}\n2026-04-30,A1,volts,OL", [("reading-value", 2, 21)]),
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
    (problem,) = problems_of(f"{HEAD}\n2026-04-30,A1,volts,about 22")
    assert str(problem.span) == "readings.csv:2:21"
    assert problem.sentence == "'about 22' is not a value of a meter"
    assert problem.help == (
        "digits with a decimal point, 31.4, with a unit or without; OL where the meter shows OL"
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


@pytest.mark.parametrize("kind", METERED)
def test_what_is_far_too_much_is_a_slip_or_another_unit(kind: Kind) -> None:
    most = MOST.get(kind, OHMS)
    head, row = f"from,to,box,{HEAD}", f"A2,A3,VB-1,2026-04-30,A1,{kind}"
    assert codes(f"{head}\n{row},{most}") == []
    (problem,) = problems_of(f"{head}\n{row},{most}.1")
    assert (problem.code, problem.span.line) == ("reading-value", 2)
    assert problem.sentence == (f"'{most}.1' is more than is accepted, {most} {kind.unit} at most")
    assert problem.help == f"read the meter again and check the unit: {kind.unit}"


def test_sound_rows_are_kept_beside_faulty_ones() -> None:
    rows, problems = read_results(f"{HEAD}\n{ROW}\n{ROW}x\n".encode(), "readings.csv")
    assert (len(rows), len(problems)) == (1, 1)


def test_rows_of_another_job_or_of_no_valve() -> None:
    text = f"job,{HEAD}\nOTHER,{ROW}\n,{ROW}\nMINE,2026-04-30,A9,volts,22.1\n"
    rows, _ = read_results(text.encode(), "readings.csv")
    found = [well_said(p) for p in unknown_rows(rows, KnownNames(valves=frozenset({"A1"})), "MINE")]
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


# ---- as an office's own sheet may have it -----------------------------------------------------


def test_the_heads_and_kinds_in_spanish_and_in_another_order() -> None:
    text = "Valor;Válvula;Tipo;Fecha;Condiciones\n34,3;A1;Ohms en el controlador;28/11/2026;22 C\n"
    rows, problems = read_results(text.encode(), "l.csv")
    assert problems == ()
    said = rows[0].measured
    assert (said.valve, said.kind, said.value) == ("A1", Kind.CONTROLLER, 34.3)
    assert (said.when, said.under.celsius) == ("2026-11-28", 22)


@pytest.mark.parametrize("language", ["en", "es"])
def test_each_kind_is_known_by_what_the_pages_call_it(language: str) -> None:
    words, _ = load_words((language,))
    assert words is not None
    for kind in Kind:
        assert kind_named(words(f"measured.{kind}").printed) is kind


def test_trailing_blank_rows_are_none() -> None:
    rows, problems = read_results(f"{HEAD}\n{ROW}\n,,,\n , ,,\n\n".encode(), "r.csv")
    assert (len(rows), problems) == (1, ())


def test_a_comma_is_never_silently_a_point() -> None:
    (problem,) = problems_of(f'{HEAD}\n2026-04-30,A1,ohms at the controller,"1,234"')
    assert problem.sentence == "'1,234' can be two values"
    assert problem.help == (
        "write 1.234 with a decimal point, or 1234 where the comma marks thousands"
    )


def test_the_order_of_the_days_is_that_of_the_file() -> None:
    days = f"{HEAD}\n4/5/2026,A1,volts,22\n4/28/2026,A2,volts,22\n"
    rows, problems = read_results(days.encode(), "r.csv")
    assert problems == ()
    assert [row.measured.when for row in rows] == ["2026-04-05", "2026-04-28"]
    (problem,) = problems_of(f"{HEAD}\n4/5/2026,A1,volts,22\n")
    assert problem.sentence == "in '4/5/2026' nothing tells the month from the day"


def test_two_that_disagree_are_told_and_the_time_of_day_parts_them() -> None:
    text = f"{HEAD}\n2026-04-30,A1,volts,22.1\n2026-04-30,A1,volts,12\n"
    (problem,) = problems_of(text)
    assert problem.sentence == (
        "12 V here and 22.1 V in line 2 are of one thing, both of 2026-04-30"
    )
    times = text.replace("-30,A1,volts,22", "-30T08:00,A1,volts,22")
    assert problems_of(times) == []
    # A server's own rows have an order, and an id each.
    ids = [str(uuid.UUID(int=n)) for n in (1, 2)]
    assert codes(f"id,{HEAD}\n{ids[0]},{ROW}\n{ids[1]},{ROW[:-4]}12\n") == []
    # Neither they nor a withdrawn one speak against a row of a sheet; those behind them still do.
    text = f"id,withdrawn,{HEAD}\n{ids[0]},,{ROW}\n,by Ana,{ROW}\n,,{ROW[:-4]}12\n,,{ROW[:-4]}13\n"
    assert codes(text) == [("reading-disagrees", 5, 23)]


def test_a_row_of_yesterday_keeps_the_id_it_had() -> None:
    """By hand, RFC 9562 version 5: day, job, box, valve, by, notes, kind, value."""
    said = "2026-04-30\n\n\nA1\n\n\nvolts\n22.1"
    ours = uuid.uuid5(uuid.UUID("5f0c7d3e-3c3b-5d0e-9d53-6d5b3d2f9a41"), said)
    assert read_results(f"{HEAD}\n{ROW}\n".encode(), "a.csv")[0][0].measured.id == str(ours)


ENDS = f"from,to,box,conditions,{HEAD}"


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (f"{ENDS}\n,,,,2026-04-30,A1,ohms hot to hot,62.6", [("reading-ends", 2, 2)]),
        (f"{ENDS}\nA,,,,2026-04-30,,ohms common to common,OL", [("reading-ends", 2, 3)]),
        (f"{ENDS}\nSP1,SP2,,,2026-04-30,,ohms of a spare loop,9", [("reading-ends", 2, 9)]),
        (f"{ENDS}\n,,,,2026-04-30,,insulation,9", [("reading-of-no-valve", 2, 16)]),
        (f"{ENDS}\nCOM-A,,,,2026-04-30,,insulation,9", []),
        (f"{ENDS}\n,,,wet,2026-04-30,A1,volts,22", [("reading-conditions", 2, 4)]),
        (f"{HEAD}\n2026-04-30,A1,ohms hot to hot,62.6", [("reading-ends", 2, 15)]),
    ],
)
def test_between_what_and_what(text: str, found: list[tuple[str, int, int]]) -> None:
    assert codes(text) == found


def test_names_that_the_job_does_not_have() -> None:
    names_of_job = KnownNames(
        valves=frozenset({"A1", "A2"}),
        controllers=frozenset({"A", "B"}),
        conductors=frozenset({"COM-A", "SP1"}),
        places=frozenset({"A", "B", "VB-1"}),
        sensors=frozenset({"RS-1"}),
    )
    row = "2026-04-30"
    text = (
        f"{ENDS}\n,A9,,,{row},A1,ohms hot to hot,62.6\nA,C,,,{row},,ohms common to common,OL\n"
        f"COM-B,,,,{row},,insulation,9\nSP1,COM-A,VB-9,,{row},,ohms of a spare loop,9\n"
        f",A2,,,{row},A1,ohms hot to hot,62.6\n,,,RS-2 bypassed,{row},A1,volts,22\n"
    )
    rows, problems = read_results(text.encode(), "r.csv")
    assert problems == ()
    found = [well_said(p) for p in unknown_rows(rows, names_of_job)]
    assert [(p.code, p.span.line, p.span.column) for p in found] == [
        ("reading-name-unknown", 2, 2),
        ("reading-name-unknown", 3, 3),
        ("reading-name-unknown", 4, 1),
        ("reading-name-unknown", 5, 11),
        ("reading-name-unknown", 7, 4),
    ]
