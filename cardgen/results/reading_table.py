"""Turn the cells of a file into rows that name one value each, whichever way the table is laid out.

```
long   when, valve, kind, value, ...        a row for each value
wide   conditions, 22 C; leads 0.3 ohm      what is said once, above or below
       valve, ohms, coil, volts, ...        a row for each valve; a blank was not measured
```
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from cardgen.faults.result_faults import (
    CSV_COLUMN_MISSING,
    CSV_COLUMN_TWICE,
    CSV_COLUMN_UNKNOWN,
    CSV_ROW_UNEVEN,
)
from cardgen.light_dataclass import dataclass, replace
from cardgen.problems import Problem, Span
from cardgen.results.cells import Cell
from cardgen.results.column_names import ONCE, WIDE, column_named, kind_named
from cardgen.results.measured import COLUMNS, REQUIRED, Kind
from cardgen.results.reading_value import is_yes_or_no

Row = Mapping[str, Cell]
_DIGITS = re.compile("[0-9]+")
_TOP = 12  # so many rows may stand above the head of a wide table
_BESIDE = ("valve", "box", "notes", "withdrawn", *ONCE)  # columns of a wide table that are no kind
LONG = (*COLUMNS, "revision")


@dataclass(frozen=True, slots=True)
class ReadingTable:
    """Rows of one value each, by the columns of a long table, and what is wrong with the others."""

    rows: tuple[Row, ...] = ()
    problems: tuple[Problem, ...] = ()


def table_of(records: Sequence[Sequence[Cell]], name: str) -> ReadingTable:
    """Rows without a letter are none."""
    records = [record for record in records if any(cell.text.strip() for cell in record)]
    for at, record in enumerate(records[:_TOP]):
        columns = {column_named(cell.text) for cell in record}
        if {"kind", "value"} <= columns:
            break  # what stands below it is no head, whatever a valve is called
        if "valve" in columns and not {"kind", "value"} & columns and columns & set(WIDE):
            return _wide(records, at, name)
    return _long(records, name)


def place(name: str, cell: Cell) -> Span:
    return Span(name, cell.line, cell.column, max(len(cell.text), 1))


# ---- long ----------------------------------------------------------------------------------


def _long(records: Sequence[Sequence[Cell]], name: str) -> ReadingTable:
    head, *rest = records
    columns = [column_named(cell.text) for cell in head]
    faults = tuple(_faults_of_head(name, head, columns, LONG, REQUIRED))
    if faults:
        return ReadingTable((), faults)
    rows: list[Row] = []
    problems: list[Problem] = []
    for record in rest:
        if len(record) == len(columns):
            rows.append(dict(zip(columns, record, strict=True)))
        else:
            problems.append(_uneven(name, record, columns))
    return ReadingTable(tuple(rows), tuple(problems))


def _faults_of_head(
    name: str,
    head: Sequence[Cell],
    columns: Sequence[str],
    known: Sequence[str],
    required: Sequence[str],
) -> Iterator[Problem]:
    seen: set[str] = set()
    for cell, column in zip(head, columns, strict=True):
        if column not in known:
            yield CSV_COLUMN_UNKNOWN.at(place(name, cell), column=column, known=", ".join(known))
        elif column in seen:
            yield CSV_COLUMN_TWICE.at(place(name, cell), column=column)
        seen.add(column)
    for column in required:
        if column not in seen:
            needed = ", ".join(required)
            yield CSV_COLUMN_MISSING.at(place(name, head[0]), column=column, required=needed)


def _uneven(name: str, record: Sequence[Cell], columns: Sequence[str]) -> Problem:
    if len(record) == len(columns) + 1 and "value" in columns:  # so a cell is behind the value
        index = columns.index("value")
        value, part = (cell.text for cell in record[index : index + 2])
        if _DIGITS.fullmatch(value) and _DIGITS.fullmatch(part):
            return CSV_ROW_UNEVEN.at(
                place(name, record[index]),
                variant="thousands" if len(part) == 3 else "decimal comma",
                cells=len(record),
                columns=len(columns),
                whole=value,
                part=part,
            )
    return CSV_ROW_UNEVEN.at(place(name, record[0]), cells=len(record), columns=len(columns))


# ---- wide ----------------------------------------------------------------------------------


def _wide(records: Sequence[Sequence[Cell]], at: int, name: str) -> ReadingTable:
    head = _without_blanks_behind(records[at])
    columns = [column_named(cell.text) for cell in head]
    problems = list(_faults_of_head(name, head, columns, (*_BESIDE, *WIDE), ("valve",)))
    once: dict[str, Cell] = {}
    body: list[Row] = []
    for number, record in enumerate(records):
        said = _said_once(record)
        if number == at:
            continue
        if said is not None:
            once.update([said])
        elif number < at:
            known = ", ".join(ONCE)
            cell = next(cell for cell in record if cell.text.strip())
            problems.append(
                CSV_COLUMN_UNKNOWN.at(place(name, cell), column=cell.text.strip(), known=known)
            )
        elif len(record) != len(records[at]) or any(c.text.strip() for c in record[len(head) :]):
            problems.append(_uneven(name, record, columns))
        else:
            body.append(dict(zip(columns, record, strict=False)))
    if problems:
        return ReadingTable((), tuple(problems))
    return ReadingTable(tuple(long for row in body for long in _values(row, once, columns)))


def _without_blanks_behind(record: Sequence[Cell]) -> Sequence[Cell]:
    last = max(number for number, cell in enumerate(record) if cell.text.strip())
    return record[: last + 1]


def _said_once(record: Sequence[Cell]) -> tuple[str, Cell] | None:
    """`conditions, 22 C`: a name of what is said once, and its value in the next cell filled."""
    column = column_named(record[0].text)
    if column not in ONCE:
        return None
    filled = [cell for cell in record[1:] if cell.text.strip()]
    if len(filled) > 1:
        return None
    return column, filled[0] if filled else replace(record[0], text="")


def _values(row: Row, once: Mapping[str, Cell], columns: Sequence[str]) -> Iterator[Row]:
    """One for each cell that is filled."""
    shared = {column: cell for column, cell in row.items() if column in _BESIDE}
    shared = {**once, **{column: cell for column, cell in shared.items() if cell.text.strip()}}
    for column in columns:
        if column in WIDE and row[column].text.strip():
            value = row[column]
            yield {"valve": row["valve"], **shared, **_cells(WIDE[column], value)}


def _cells(kind: Kind, value: Cell) -> dict[str, Cell]:
    if kind_named(value.text) is Kind.NOT_REACHED:
        kind = Kind.NOT_REACHED
    if kind is Kind.WALK_TEST and not is_yes_or_no(value.text):  # the valve that ran instead
        return {"kind": replace(value, text=kind), "value": replace(value, text="1"), "to": value}
    return {"kind": replace(value, text=str(kind)), "value": value}
