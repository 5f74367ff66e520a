"""Turn the bytes of a table of readings, CSV or spreadsheet, into measured values.

What can mean one thing only is understood; each other fault is told at its cell.  A value that is
guessed would be believed.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from cardgen.faults.file_faults import FILE_EMPTY
from cardgen.faults.paper_faults import PRIVATE_TEXT
from cardgen.faults.result_faults import (
    CSV_QUOTES,
    READING_CONDITIONS,
    READING_DATE,
    READING_DISAGREES,
    READING_ENDS,
    READING_ID,
    READING_KIND_UNKNOWN,
    READING_OF_NO_VALVE,
    READING_TWICE,
    READING_VALUE,
    XLSX_UNREADABLE,
)
from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem, Span, in_order
from cardgen.reading.files import UTF8_MARK, decode, untyped_characters
from cardgen.reading.nodes import short
from cardgen.results import xlsx_cells
from cardgen.results.cells import Cell, Unclosed, records
from cardgen.results.column_names import kind_named
from cardgen.results.conditions import UnknownCondition, conditions_of
from cardgen.results.csv_out import as_meant
from cardgen.results.measured import COLUMNS, Kind, Measured
from cardgen.results.reading_date import DayOrder, NotADay, day_order, when_read
from cardgen.results.reading_ends import needed_columns, needs_valve, which_ran
from cardgen.results.reading_table import Row, place, table_of
from cardgen.results.reading_value import NotAValue, value_read
from cardgen.trade.private_text import private

# Rows without an id of their own get one from what they say: the same row, the same id.
_ROWS = uuid.UUID("5f0c7d3e-3c3b-5d0e-9d53-6d5b3d2f9a41")
_ALWAYS = ("when", "job", "box", "valve", "by", "notes")  # of the id; others where they are said
_LATER = ("from", "to", "conditions")
_OF_PEOPLE = ("by", "notes", "withdrawn")  # what a person wrote as it came


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingRow:
    """A measured value, and where its cells are by their columns.

    Attributes:
        revision: of the job, for which the table was printed; empty where nothing says it.
        has_id: whether the file gives its id, as one that comes from a server does.
    """

    measured: Measured
    places: Mapping[str, Span]
    revision: str
    has_id: bool


def read_results(data: bytes, name: str) -> tuple[tuple[ReadingRow, ...], tuple[Problem, ...]]:
    """All rows that are right, in the order of the file, and what is wrong with the others."""
    found, unread = _records(data, name)
    if not found:
        return (), unread
    table = table_of(found, name)
    order = day_order(_text(cells, "when") for cells in table.rows)
    rows: list[ReadingRow] = []
    problems = list(table.problems)
    for cells in table.rows:
        wrong = tuple(_faults_of_row(name, cells, order))
        problems += wrong
        if not wrong:
            rows.append(_row(name, cells, order))
    problems = list(dict.fromkeys(problems))  # what is said once for many rows
    return tuple(rows), in_order((*problems, *_ids_used_twice(rows), *_disagreeing(rows)))


# ---- the file ------------------------------------------------------------------------------


def _records(data: bytes, name: str) -> tuple[Sequence[Sequence[Cell]], tuple[Problem, ...]]:
    """The cells of the file; none, with the problem, if it is no such file."""
    if data.startswith(xlsx_cells.MAGIC):
        return _of_spreadsheet(data, name)
    data = data.removeprefix(UTF8_MARK)
    if not data.strip():
        return [], (_empty(name),)
    text, problems = decode(data, name)
    if text is None:
        return [], problems
    problems = tuple(p for p in untyped_characters(text, name) if p.code == "not-text")
    if problems:
        return [], problems
    try:
        found = [r for r in records(text) if any(cell.text.strip() for cell in r)]
    except Unclosed as fault:
        return [], (CSV_QUOTES.at(place(name, fault.at)),)
    return found, () if found else (_empty(name),)


def _of_spreadsheet(data: bytes, name: str) -> tuple[Sequence[Sequence[Cell]], tuple[Problem, ...]]:
    start = Span(name, 1, 1)
    if not xlsx_cells.is_installed():
        fault = XLSX_UNREADABLE.at(start, variant="not installed", install=xlsx_cells.INSTALL)
        return [], (fault,)
    try:
        found = xlsx_cells.spreadsheet_cells(data)
    except xlsx_cells.NoSpreadsheet:
        return [], (XLSX_UNREADABLE.at(start),)
    return found, () if found else (_empty(name),)


def _empty(name: str) -> Problem:
    return FILE_EMPTY.at(Span(name, 1, 1), variant="no readings", columns=", ".join(COLUMNS))


# ---- a row ---------------------------------------------------------------------------------


def _faults_of_row(name: str, cells: Row, order: DayOrder | None) -> Iterator[Problem]:
    kind = kind_named(_text(cells, "kind"))
    if kind is None:
        text, kinds = _text(cells, "kind"), ", ".join(Kind)
        yield READING_KIND_UNKNOWN.at(place(name, cells["kind"]), text=text, kinds=kinds)
    else:
        yield from _faults_of_value(name, cells, kind)
        yield from _faults_of_ends(name, cells, kind)
    yield from _faults_of_when(name, cells, order)
    id_ = _text(cells, "id")
    if id_ and not is_id(id_):
        yield READING_ID.at(place(name, cells["id"]), text=id_)
    try:
        conditions_of(_text(cells, "conditions"))
    except UnknownCondition as fault:
        yield READING_CONDITIONS.at(place(name, cells["conditions"]), text=short(fault.text))
    for column in _OF_PEOPLE:
        found = private(_text(cells, column))
        if found:
            span, words = place(name, cells[column]), short(found.words)
            yield PRIVATE_TEXT.at(span, variant="readings", words=words, what=found.what)


def _faults_of_value(name: str, cells: Row, kind: Kind) -> Iterator[Problem]:
    try:
        value_read(_text(cells, "value"), kind)
    except NotAValue as fault:
        values: dict[str, Any] = {"text": _text(cells, "value"), **fault.values}
        yield READING_VALUE.at(place(name, cells["value"]), variant=fault.variant, **values)


def _faults_of_ends(name: str, cells: Row, kind: Kind) -> Iterator[Problem]:
    """The valve, or the conductors where the kind is of conductors."""
    if not _text(cells, "valve") and needs_valve(kind, _text(cells, "from")):
        yield READING_OF_NO_VALVE.at(place(name, cells["valve"]), variant="none")
    for column in needed_columns(kind):
        if not _text(cells, column):
            cell = cells.get(column, cells["kind"])
            yield READING_ENDS.at(place(name, cell), kind=kind, column=column)


def _faults_of_when(name: str, cells: Row, order: DayOrder | None) -> Iterator[Problem]:
    text = _text(cells, "when")
    try:
        when_read(text, order)
    except NotADay as fault:
        variant = "ambiguous" if fault.is_ambiguous else "" if text else "none"
        span = place(name, cells.get("when", cells["value"]))
        yield READING_DATE.at(span, variant=variant, text=text)


def is_id(text: str) -> bool:
    """A UUID as it is usually written, RFC 9562."""
    try:
        return str(uuid.UUID(text)) == text.lower()
    except ValueError:
        return False


def _row(name: str, cells: Row, order: DayOrder | None) -> ReadingRow:
    said = {column: _text(cells, column) for column in COLUMNS}
    kind = kind_named(said["kind"])
    assert kind is not None  # else the row had a fault
    value, when = value_read(said["value"], kind), when_read(said["when"], order)
    to = said["to"]
    if kind is Kind.WALK_TEST:
        to = which_ran(to, said["valve"], value)
    parts = [*({**said, "when": when}[column] for column in _ALWAYS), kind, str(value)]
    parts += [f"{column}={said[column]}" for column in _LATER if said[column]]
    return ReadingRow(
        measured=Measured(
            id=said["id"].lower() or str(uuid.uuid5(_ROWS, "\n".join(parts))),
            when=when,
            record_key=said["job"],
            box=said["box"],
            valve=said["valve"],
            kind=kind,
            value=value,
            by=said["by"],
            notes=said["notes"],
            start=said["from"],
            to=to,
            conditions=said["conditions"],
            withdrawn=said["withdrawn"].strip(),
        ),
        places={column: place(name, cell) for column, cell in cells.items()},
        revision=_text(cells, "revision"),
        has_id=bool(said["id"]),
    )


def _ids_used_twice(rows: Iterable[ReadingRow]) -> Iterator[Problem]:
    seen: dict[str, ReadingRow] = {}
    for row in rows:
        first = seen.setdefault(row.measured.id, row)
        if first is not row:
            span = row.places.get("id", row.places["value"])
            line = first.places["value"].line
            yield READING_TWICE.at(span, line=line)


def _disagreeing(rows: Iterable[ReadingRow]) -> Iterator[Problem]:
    """Two values of one thing at one time that count; rows from a server have an order, and ids."""
    seen: dict[tuple[str, ...], ReadingRow] = {}
    for row in rows:
        said = row.measured
        if row.has_id or said.withdrawn:
            continue
        first = seen.setdefault((*said.subject, said.when), row)
        if (first.measured.value, first.measured.to) != (said.value, said.to):
            line, other = first.places["value"].line, first.measured.shown
            yield READING_DISAGREES.at(
                row.places["value"], value=said.shown, other=other, line=line, when=said.when
            )


def _text(cells: Row, column: str) -> str:
    """Empty where there is no such column; blanks around what is not a text of a person go."""
    cell = cells.get(column)
    text = as_meant(cell.text) if cell else ""
    return text if column in _OF_PEOPLE else text.strip()
