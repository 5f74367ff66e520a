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

from cardgen.problems import Problem, Span, Verdict, has_errors, in_order
from cardgen.reading.files import UTF8_MARK, decode, untyped_characters
from cardgen.reading.nodes import short
from cardgen.results.cells import Cell, Unclosed, records
from cardgen.results.csv_out import as_meant
from cardgen.results.model import COLUMNS, OL, REQUIRED, Kind, Measured, value_of
from cardgen.trade.private_text import Private, private

_DIGITS = re.compile("[0-9]+")
_WHEN = re.compile(r"\d{4}-\d{2}-\d{2}([T ]\d{2}:\d{2}(:\d{2})?(Z|[+-]\d{2}:\d{2})?)?")
# Rows without an id of their own get one from what they say: the same row, the same id.
_ROWS = uuid.UUID("5f0c7d3e-3c3b-5d0e-9d53-6d5b3d2f9a41")


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingRow:
    """A measured value, and where its cells stand by their columns."""

    measured: Measured
    places: Mapping[str, Span]


def read_results(data: bytes, name: str) -> tuple[tuple[ReadingRow, ...], tuple[Problem, ...]]:
    """All rows that are sound, in the order of the file, and what is wrong with the others."""
    found, problems = _records(data, name)
    if not found:
        return (), problems
    header, *rest = found
    told = tuple(_faults_of_header(name, header))
    if has_errors(told):
        return (), in_order(told)
    columns = [cell.text.strip().lower() for cell in header]
    rows: list[ReadingRow] = []
    faults: list[Problem] = []
    for record in rest:
        if len(record) != len(columns):
            faults.append(_uneven(name, record, columns))
            continue
        cells = dict(zip(columns, record, strict=True))
        wrong = list(_faults_of_row(name, cells))
        faults += wrong
        if not wrong:
            rows.append(_row(name, cells))
    return tuple(rows), in_order((*faults, *_ids_used_twice(rows)))


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
        return [], (_error("csv-quotes", _place(name, fault.at), *_QUOTES),)
    return found, () if found else (_empty(name),)


def strangers(
    rows: Iterable[ReadingRow], valves: Collection[str], key: str = ""
) -> Iterator[Problem]:
    """Rows of a valve or a job that is not the one asked for."""
    for row in rows:
        said = row.measured
        if said.valve not in valves:
            yield _error(
                "reading-of-no-valve",
                row.places["valve"],
                f"the job has no valve '{said.valve}'",
                "write the valve as its tag does, 'A10a' for one of two; case counts",
            )
        elif key and said.job and said.job != key:
            yield _error(
                "reading-of-another-job",
                row.places["job"],
                f"this row is of job '{said.job}', not of '{key}'",
                "take it out, or give the file of the other job",
            )


# ---- the header ----------------------------------------------------------------------------

_QUOTES = (
    "the quotes of this cell do not fit together",
    "close the cell with a quote; a quote inside a cell stands twice",
)


def _empty(name: str) -> Problem:
    help_ = f"the first line names the columns: {', '.join(COLUMNS)}"
    return _error("file-empty", Span(name, 1, 1), "the file is empty", help_)


def _faults_of_header(name: str, header: Sequence[Cell]) -> Iterator[Problem]:
    seen: set[str] = set()
    known = ", ".join(COLUMNS)
    for cell in header:
        column = cell.text.strip().lower()
        if column not in COLUMNS:
            sentence = f"no column of readings is named '{column}'"
            yield _error("csv-column-unknown", _place(name, cell), sentence, f"columns: {known}")
        elif column in seen:
            sentence = f"the column '{column}' stands twice"
            help_ = "keep one of them"
            yield _error("csv-column-twice", _place(name, cell), sentence, help_)
        seen.add(column)
    for column in REQUIRED:
        if column not in seen:
            sentence = f"the first line has no column '{column}'"
            help_ = f"the first line names the columns; these must be there: {', '.join(REQUIRED)}"
            yield _error("csv-column-missing", _place(name, header[0]), sentence, help_)


# ---- a row ---------------------------------------------------------------------------------


def _uneven(name: str, record: Sequence[Cell], columns: Sequence[str]) -> Problem:
    at, help_ = (
        record[0],
        "a comma inside a cell needs quotes around the cell; an empty cell keeps its comma",
    )
    if len(record) == len(columns) + 1:  # so there is a cell behind the value
        index = columns.index("value")
        value, part = record[index : index + 2]
        if _DIGITS.fullmatch(value.text) and _DIGITS.fullmatch(part.text):
            at, help_ = value, _pointed(value.text, part.text)
    sentence = f"this row has {len(record)} cells, the first line {len(columns)}"
    return _error("csv-row-uneven", _place(name, at), sentence, help_)


def _pointed(whole: str, part: str) -> str:
    """The way out where a comma parted a value; three digits after it may be thousands."""
    thousands = f", or {whole}{part} where the comma marks thousands" if len(part) == 3 else ""
    return f"write {whole}.{part} with a decimal point{thousands}"


def _faults_of_row(name: str, cells: Mapping[str, Cell]) -> Iterator[Problem]:
    for column in ("valve", "when", "kind", "value", "id"):
        if column in cells:
            yield from _FAULTS[column](_place(name, cells[column]), cells)
    for column in ("notes", "by"):
        found = private(_text(cells, column))
        if found:
            yield _private(_place(name, cells[column]), found)


def _of_valve(span: Span, cells: Mapping[str, Cell]) -> Iterator[Problem]:
    if not _text(cells, "valve"):
        sentence = "the row does not say of which valve it is"
        yield _error("reading-of-no-valve", span, sentence, "write the valve as its tag does")


def _of_when(span: Span, cells: Mapping[str, Cell]) -> Iterator[Problem]:
    if not is_when(_text(cells, "when")):
        sentence = f"'{_text(cells, 'when')}' is no date"
        help_ = "write year, month, day: 2026-04-30, or with the time: 2026-04-30T14:05"
        yield _error("reading-date", span, sentence, help_)


def _of_kind(span: Span, cells: Mapping[str, Cell]) -> Iterator[Problem]:
    if _text(cells, "kind") not in set(Kind):
        sentence = f"'{_text(cells, 'kind')}' is nothing that is measured"
        yield _error("reading-kind-unknown", span, sentence, f"one of: {', '.join(Kind)}")


def _of_value(span: Span, cells: Mapping[str, Cell]) -> Iterator[Problem]:
    text, kind = _text(cells, "value"), _text(cells, "kind")
    value = value_of(text)
    if value is None:
        sentence = f"'{text}' is no value of a meter"
        help_ = "digits with a decimal point, 31.4, without the unit; OL where the meter shows OL"
        yield _error("reading-value", span, sentence, help_)
    elif value == OL and kind in set(Kind) and not Kind(kind).may_be_ol:
        sentence = f"a meter never shows OL for {kind}"
        yield _error("reading-value", span, sentence, "write 0 where the meter shows nothing")
    elif kind in set(Kind) and Kind(kind).is_too_much(value):
        sentence = f"'{text}' is more than is taken, {Kind(kind).most_text} at most"
        help_ = f"read the meter again and check the unit: {Kind(kind).unit}"
        yield _error("reading-value", span, sentence, help_)


def _of_id(span: Span, cells: Mapping[str, Cell]) -> Iterator[Problem]:
    text = _text(cells, "id")
    if text and not is_id(text):
        sentence = f"'{text}' is no mark of a row"
        help_ = "leave the cell empty: cardgen makes one; never type one"
        yield _error("reading-id", span, sentence, help_)


def _private(span: Span, found: Private) -> Problem:
    said = f"'{short(found.words)}' reads like {found.what}; the sheet goes from hand to hand"
    help_ = "take it out; if it is something else, say what: 'box 4471', 'valve code 12'"
    return _error("private-text", span, said, help_)


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
    ours = said.pop("id").lower() or str(
        uuid.uuid5(_ROWS, "\n".join((*said.values(), kind, str(value))))
    )
    return ReadingRow(
        measured=Measured(id=ours, kind=kind, value=value, **said),
        places={column: _place(name, cell) for column, cell in cells.items()},
    )


def _ids_used_twice(rows: Iterable[ReadingRow]) -> Iterator[Problem]:
    seen: dict[str, ReadingRow] = {}
    for row in rows:
        first = seen.setdefault(row.measured.id, row)
        if first is not row:
            place = row.places.get("id", row.places["value"])
            line = first.places["value"].line
            sentence = f"this row has the mark of the row in line {line}"
            help_ = "one reading stands once: take one of the two rows out"
            yield _error("reading-twice", place, sentence, help_)


def _text(cells: Mapping[str, Cell], column: str) -> str:
    """Empty where there is no such column; blanks around what is not a text of a person go."""
    cell = cells.get(column)
    text = as_meant(cell.text) if cell else ""
    return text if column in ("by", "notes") else text.strip()


def _place(name: str, cell: Cell) -> Span:
    return Span(name, cell.line, cell.column, max(len(cell.text), 1))


def _error(code: str, span: Span, sentence: str, help_: str) -> Problem:
    return Problem(code=code, verdict=Verdict.ERROR, span=span, sentence=sentence, help=help_)
