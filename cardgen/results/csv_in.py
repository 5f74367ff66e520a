"""Turn the bytes of a CSV file into measured values, each fault at its cell.

Strict on purpose: a header, known columns, a decimal point, ISO dates.  A value that is guessed
would be believed.
"""

from __future__ import annotations

import re
import uuid
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from cardgen.faults.file_faults import FILE_EMPTY
from cardgen.faults.paper_faults import PRIVATE_TEXT
from cardgen.faults.result_faults import (
    CSV_COLUMN_MISSING,
    CSV_COLUMN_TWICE,
    CSV_COLUMN_UNKNOWN,
    CSV_QUOTES,
    CSV_ROW_UNEVEN,
    READING_DATE,
    READING_ID,
    READING_KIND_UNKNOWN,
    READING_OF_ANOTHER_JOB,
    READING_OF_NO_VALVE,
    READING_TWICE,
    READING_VALUE,
)
from cardgen.problems import Problem, Span, has_errors, in_order
from cardgen.reading.files import UTF8_MARK, decode, untyped_characters
from cardgen.reading.nodes import short
from cardgen.results.cells import Cell, Unclosed, records
from cardgen.results.csv_out import as_meant
from cardgen.results.measured import COLUMNS, OL, REQUIRED, Kind, Measured, value_of
from cardgen.trade.private_text import private

_DIGITS = re.compile("[0-9]+")
_WHEN = re.compile(r"\d{4}-\d{2}-\d{2}([T ]\d{2}:\d{2}(:\d{2})?(Z|[+-]\d{2}:\d{2})?)?")
# Rows without an id of their own get one from what they say: the same row, the same id.
_ROWS = uuid.UUID("5f0c7d3e-3c3b-5d0e-9d53-6d5b3d2f9a41")


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingRow:
    """A measured value, and where its cells are by their columns."""

    measured: Measured
    places: Mapping[str, Span]


def read_results(data: bytes, name: str) -> tuple[tuple[ReadingRow, ...], tuple[Problem, ...]]:
    """All rows that are right, in the order of the file, and what is wrong with the others."""
    found, unread = _records(data, name)
    if not found:
        return (), unread
    header, *rest = found
    of_header = tuple(_faults_of_header(name, header))
    if has_errors(of_header):
        return (), in_order(of_header)
    columns = [cell.text.strip().lower() for cell in header]
    rows: list[ReadingRow] = []
    problems: list[Problem] = []
    for record in rest:
        if len(record) != len(columns):
            problems.append(_uneven(name, record, columns))
            continue
        cells = dict(zip(columns, record, strict=True))
        wrong = list(_faults_of_row(name, cells))
        problems += wrong
        if not wrong:
            rows.append(_row(name, cells))
    return tuple(rows), in_order((*problems, *_ids_used_twice(rows)))


def _records(data: bytes, name: str) -> tuple[list[list[Cell]], tuple[Problem, ...]]:
    """The cells of the file; none, with the problem, if it is no such file."""
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
        found = list(records(text))
    except Unclosed as fault:
        return [], (CSV_QUOTES.at(_place(name, fault.at)),)
    return found, () if found else (_empty(name),)


def unknown_rows(
    rows: Iterable[ReadingRow], valves: Collection[str], key: str = ""
) -> Iterator[Problem]:
    """Rows of a valve or a job that is not the one asked for."""
    for row in rows:
        said = row.measured
        if said.valve not in valves:
            yield READING_OF_NO_VALVE.at(row.places["valve"], valve=said.valve)
        elif key and said.record_key and said.record_key != key:
            yield READING_OF_ANOTHER_JOB.at(row.places["job"], other=said.record_key, job=key)


# ---- the header ----------------------------------------------------------------------------


def _empty(name: str) -> Problem:
    return FILE_EMPTY.at(Span(name, 1, 1), variant="no readings", columns=", ".join(COLUMNS))


def _faults_of_header(name: str, header: Sequence[Cell]) -> Iterator[Problem]:
    seen: set[str] = set()
    known = ", ".join(COLUMNS)
    for cell in header:
        column = cell.text.strip().lower()
        if column not in COLUMNS:
            yield CSV_COLUMN_UNKNOWN.at(_place(name, cell), column=column, known=known)
        elif column in seen:
            yield CSV_COLUMN_TWICE.at(_place(name, cell), column=column)
        seen.add(column)
    required = ", ".join(REQUIRED)
    for column in REQUIRED:
        if column not in seen:
            place = _place(name, header[0])
            yield CSV_COLUMN_MISSING.at(place, column=column, required=required)


# ---- a row ---------------------------------------------------------------------------------


def _uneven(name: str, record: Sequence[Cell], columns: Sequence[str]) -> Problem:
    if len(record) == len(columns) + 1:  # so there is a cell behind the value
        index = columns.index("value")
        value, part = (cell.text for cell in record[index : index + 2])
        if _DIGITS.fullmatch(value) and _DIGITS.fullmatch(part):
            return CSV_ROW_UNEVEN.at(
                _place(name, record[index]),
                variant="thousands" if len(part) == 3 else "decimal comma",
                cells=len(record),
                columns=len(columns),
                whole=value,
                part=part,
            )
    return CSV_ROW_UNEVEN.at(_place(name, record[0]), cells=len(record), columns=len(columns))


def _faults_of_row(name: str, cells: Mapping[str, Cell]) -> Iterator[Problem]:
    for column in ("valve", "when", "kind", "value", "id"):
        if column in cells:
            yield from _FAULTS[column](_place(name, cells[column]), cells)
    for column in ("notes", "by", "withdrawn"):
        found = private(_text(cells, column))
        if found:
            place, words = _place(name, cells[column]), short(found.words)
            yield PRIVATE_TEXT.at(place, variant="readings", words=words, what=found.what)


def _of_valve(span: Span, cells: Mapping[str, Cell]) -> Iterator[Problem]:
    if not _text(cells, "valve"):
        yield READING_OF_NO_VALVE.at(span, variant="none")


def _of_when(span: Span, cells: Mapping[str, Cell]) -> Iterator[Problem]:
    text = _text(cells, "when")
    if not is_when(text):
        yield READING_DATE.at(span, text=text)


def _of_kind(span: Span, cells: Mapping[str, Cell]) -> Iterator[Problem]:
    text = _text(cells, "kind")
    if text not in set(Kind):
        yield READING_KIND_UNKNOWN.at(span, text=text, kinds=", ".join(Kind))


def _of_value(span: Span, cells: Mapping[str, Cell]) -> Iterator[Problem]:
    text, kind = _text(cells, "value"), _text(cells, "kind")
    value = value_of(text)
    if value is None:
        yield READING_VALUE.at(span, text=text)
    elif value == OL and kind in set(Kind) and not Kind(kind).may_be_ol:
        yield READING_VALUE.at(span, variant="never OL", kind=kind)
    elif kind in set(Kind) and Kind(kind).is_too_much(value):
        most, unit = Kind(kind).most_text, Kind(kind).unit
        yield READING_VALUE.at(span, variant="too much", text=text, most=most, unit=unit)


def _of_id(span: Span, cells: Mapping[str, Cell]) -> Iterator[Problem]:
    text = _text(cells, "id")
    if text and not is_id(text):
        yield READING_ID.at(span, text=text)


_FAULTS = {
    "valve": _of_valve,
    "when": _of_when,
    "kind": _of_kind,
    "value": _of_value,
    "id": _of_id,
}


def is_when(text: str) -> bool:
    """ISO 8601: a day of the calendar, with a time of day or without."""
    if not _WHEN.fullmatch(text):
        return False
    try:
        datetime.fromisoformat(text)
    except ValueError:
        return False
    return True


def is_id(text: str) -> bool:
    """A UUID as it is usually written, RFC 9562."""
    try:
        return str(uuid.UUID(text)) == text.lower()
    except ValueError:
        return False


def _row(name: str, cells: Mapping[str, Cell]) -> ReadingRow:
    said = {column: _text(cells, column) for column in COLUMNS}
    value = value_of(said.pop("value"))
    assert value is not None  # else the row had a fault
    kind = Kind(said.pop("kind"))
    withdrawn = said.pop("withdrawn")  # a row that is withdrawn is still that row
    ours = said.pop("id").lower() or str(
        uuid.uuid5(_ROWS, "\n".join((*said.values(), kind, str(value))))
    )
    return ReadingRow(
        measured=Measured(
            id=ours,
            kind=kind,
            value=value,
            record_key=said.pop("job"),
            withdrawn=withdrawn,
            **said,
        ),
        places={column: _place(name, cell) for column, cell in cells.items()},
    )


def _ids_used_twice(rows: Iterable[ReadingRow]) -> Iterator[Problem]:
    seen: dict[str, ReadingRow] = {}
    for row in rows:
        first = seen.setdefault(row.measured.id, row)
        if first is not row:
            place = row.places.get("id", row.places["value"])
            line = first.places["value"].line
            yield READING_TWICE.at(place, line=line)


def _text(cells: Mapping[str, Cell], column: str) -> str:
    """Empty where there is no such column; blanks around what is not a text of a person go."""
    cell = cells.get(column)
    text = as_meant(cell.text) if cell else ""
    return text if column in ("by", "notes", "withdrawn") else text.strip()


def _place(name: str, cell: Cell) -> Span:
    return Span(name, cell.line, cell.column, max(len(cell.text), 1))
