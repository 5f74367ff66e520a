"""Turn the sheets of a workbook into what they say of a job: nodes whose places are cells."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from cardgen.faults.file_faults import DUPLICATE_KEY
from cardgen.faults.sheet_faults import SHEET_HEADINGS, SHEET_LEG, SHEET_NAME, SHEET_UNKNOWN
from cardgen.problems import Also, Problem
from cardgen.reading import nodes
from cardgen.reading.nodes import KeyValue, Node, Scalar, short
from cardgen.reading.shapes import Shape, nearest
from cardgen.results.cells import Cell
from cardgen.results.xlsx_cells import BookSheet
from cardgen.workbook.as_exported import AS_EXPORTED
from cardgen.workbook.book_files import Book
from cardgen.workbook.cell_values import as_meant
from cardgen.workbook.heading_names import plain
from cardgen.workbook.partial_job import PartialEntry, PartialJob
from cardgen.workbook.sheet_plans import (
    EXTRA,
    JOB_HEADINGS,
    JOB_SHEET,
    SheetColumn,
    SheetKind,
    SheetPlan,
    job_rows,
    sheet_plans,
)
from cardgen.workbook.sheet_rows import Heads, known_heads, rows_below
from cardgen.workbook.sheet_values import cell_value
from cardgen.workbook.worked_out import WORKED_OUT

Row = Mapping[str, Cell]


def is_workbook(book: Book) -> bool:
    """Whether it has the sheets of `cardgen export`, and not a list of the user's own."""
    return any(sheet.title.strip().lower() == JOB_SHEET for sheet in book.sheets)


def read_sheets(book: Book) -> tuple[PartialJob, list[Problem]]:
    """What all sheets say; the entries of a job before the rows that belong to them."""
    reader = _SheetReader(book)
    titled = {sheet.title.strip().lower(): sheet for sheet in book.sheets}
    if JOB_SHEET in titled:
        reader.read_job(titled[JOB_SHEET])
    for plan in sorted(sheet_plans(), key=lambda plan: bool(plan.key)):
        if plan.title in titled:
            reader.read(titled[plan.title], plan)
    known = (JOB_SHEET, AS_EXPORTED, *(plan.title for plan in sheet_plans()))
    for title, sheet in titled.items():
        if title not in (*known, *WORKED_OUT) and any(c.text for row in sheet.rows for c in row):
            first = next((c for row in sheet.rows for c in row if c.text), Cell("", 1, 1))
            way = nearest(title, known) or "delete it, or move it to a file of its own"
            reader.problems.append(
                SHEET_UNKNOWN.at(book.place(sheet, first), sheet=short(sheet.title), way_out=way)
            )
    return reader.partial, reader.problems


@dataclass(slots=True)
class _SheetReader:
    book: Book
    partial: PartialJob = field(default_factory=PartialJob)
    problems: list[Problem] = field(default_factory=list)

    # ---- cells -----------------------------------------------------------------------------

    def scalar(self, sheet: BookSheet, cell: Cell, shape: Shape[Any]) -> Scalar:
        text = " ".join(cell.text.split())
        return Scalar(self.book.place(sheet, cell), as_meant(text, shape), quoted=False)

    def value(self, sheet: BookSheet, cell: Cell | None, column: SheetColumn) -> Node | None:
        """None where the cell is blank."""
        if cell is None or not cell.text.strip():
            return None
        return cell_value(cell, column, self.book.place(sheet, cell))

    def _has_all(self, sheet: BookSheet, heads: Heads, headings: Iterable[str]) -> bool:
        """Whether the columns are there without which a row says nothing."""
        missing = [h for h in headings if h not in heads.columns.values()]
        head = sheet.rows[heads.at]
        if any(cell.text.strip() and n not in heads.columns for n, cell in enumerate(head)):
            return not missing  # one that is misspelled has been told
        first = next(cell for cell in sheet.rows[heads.at] if cell.text.strip())
        self.problems += [
            SHEET_HEADINGS.at(self.book.place(sheet, first), variant="column", column=heading)
            for heading in missing
        ]
        return not missing

    # ---- the sheet of the job --------------------------------------------------------------

    def read_job(self, sheet: BookSheet) -> None:
        heads = known_heads(
            self.book, sheet, {h: h for h in JOB_HEADINGS}, self.problems, extra=False
        )
        if heads is None or not self._has_all(sheet, heads, JOB_HEADINGS):
            return
        rows = job_rows()
        for section, key in rows:  # what has no row is not said to be anything
            self.partial.values[section, *([key] if key else ())] = None
        for row in rows_below(self.book, sheet, heads, self.problems):
            section, key = (" ".join(row[h].text.split()) for h in JOB_HEADINGS[:2])
            column = rows.get((section, key))
            if column is None:
                self._no_job_row(sheet, row, section, key)
                continue
            path = (section, key) if key else (section,)
            self.partial.values[path] = self.value(sheet, row["value"], column)

    def _no_job_row(self, sheet: BookSheet, row: Row, section: str, key: str) -> None:
        known = [f"{s} {k}".strip() for s, k in job_rows()]
        said = f"{section} {key}".strip()
        cell = row["key"] if key else row["section"]
        way = nearest(said, known) or f"there are {', '.join(known)}"
        self.problems.append(
            SHEET_NAME.at(
                self.book.place(sheet, cell), variant="job", text=short(said), way_out=way
            )
        )

    # ---- the others ------------------------------------------------------------------------

    def read(self, sheet: BookSheet, plan: SheetPlan) -> None:
        headings = [*([plan.owner] if plan.owner else []), *(c.heading for c in plan.columns)]
        known = {plain(h): h for h in headings} | {plain(c.also): c.heading for c in plan.columns}
        known.pop("", None)
        heads = known_heads(self.book, sheet, known, self.problems, extra=plan.takes_extra)
        if heads is None:
            return
        there = set(heads.columns.values())
        count = {SheetKind.LEGS: 3, SheetKind.ENTRIES: 0}.get(plan.kind, 1)
        needed = [plan.owner] if plan.owner else []
        needed += [column.heading for column in plan.columns[:count]]
        if not self._has_all(sheet, heads, needed):
            return
        rows = list(rows_below(self.book, sheet, heads, self.problems))
        columns = [column for column in plan.columns if column.heading in there]
        if not plan.owner:
            found = tuple(self._block(sheet, row, columns) for row in rows)
            value = nodes.Sequence(self.book.place(sheet, sheet.rows[0][0]), found)
            self.partial.values[plan.section,] = value if rows else None
        elif plan.kind is SheetKind.ENTRIES:
            own = [h for h in heads.columns.values() if h not in headings]
            self._entries(sheet, plan, rows, columns, own)
        else:
            self._of_owners(sheet, plan, rows, columns)

    def _entries(
        self,
        sheet: BookSheet,
        plan: SheetPlan,
        rows: Iterable[Row],
        columns: list[SheetColumn],
        own: list[str],
    ) -> None:
        section = self.partial.section(plan.section)
        section.is_whole = True
        for row in rows:
            key = self._named(sheet, plan, row)
            if key is None:
                continue
            if key.text in section.entries:
                also = (Also(span=section.entries[key.text].key.span, text="first written here"),)
                self.problems.append(DUPLICATE_KEY.at(key.span, key=short(key.text), also=also))
                continue
            entry = section.entries[key.text] = PartialEntry(key=key)
            for column in columns:
                value = self.value(sheet, row[column.heading], column)
                if value is None and not column.path:
                    value = Scalar(key.span, "")
                entry.values[column.path] = value
            for heading in own:
                cell, name = row[heading], heading.removeprefix(f"{EXTRA}: ")
                text = " ".join(cell.text.split())
                said = Scalar(self.book.place(sheet, cell), text, quoted=True) if text else None
                entry.values[EXTRA, name] = said

    def _named(self, sheet: BookSheet, plan: SheetPlan, row: Row) -> Scalar | None:
        cell = row.get(plan.owner)
        if cell is None or not cell.text.strip():
            first = next(c for c in row.values() if c.text.strip())
            span = self.book.place(sheet, cell or first)
            self.problems.append(
                SHEET_NAME.at(span, variant="none", text=short(first.text), owner=plan.owner)
            )
            return None
        return Scalar(self.book.place(sheet, cell), " ".join(cell.text.split()))

    def _of_owners(
        self, sheet: BookSheet, plan: SheetPlan, rows: Iterable[Row], columns: list[SheetColumn]
    ) -> None:
        """Rows that belong to an entry: the legs of a cable, the joints of a box."""
        section = self.partial.section(plan.section)
        grouped: dict[str, list[Row]] = {}
        for row in rows:
            key = self._named(sheet, plan, row)
            if key is None:
                continue
            if not plan.key:
                section.is_whole = True
                section.entries.setdefault(key.text, PartialEntry(key=key))
            elif key.text not in section.entries:
                way = nearest(key.text, section.entries) or f"add it to the sheet '{plan.section}'"
                self.problems.append(
                    SHEET_NAME.at(key.span, text=short(key.text), owner=plan.owner, way_out=way)
                )
                continue
            grouped.setdefault(key.text, []).append(row)
        path = (plan.key,) if plan.key else ()
        for name, entry in section.entries.items():
            own = grouped.get(name, [])
            entry.values[path] = self._inner(sheet, plan, own, columns) if own else None

    def _inner(
        self, sheet: BookSheet, plan: SheetPlan, rows: list[Row], columns: list[SheetColumn]
    ) -> Node | None:
        span = self.book.place(sheet, rows[0][plan.owner])
        match plan.kind:
            case SheetKind.LEGS:
                return nodes.Sequence(span, tuple(self._legs(sheet, rows, columns)))
            case SheetKind.BLOCKS:
                return nodes.Sequence(span, tuple(self._block(sheet, row, columns) for row in rows))
            case SheetKind.PARTS:
                return nodes.Mapping(span, tuple(self._parts(sheet, rows, columns)))
        found = (self.value(sheet, row.get(c.heading), c) for row in rows for c in columns)
        return nodes.Sequence(span, tuple(node for node in found if node is not None))

    def _block(self, sheet: BookSheet, row: Row, columns: list[SheetColumn]) -> Node:
        first = next(iter(row.values()))
        entries = []
        for column in columns:
            value = self.value(sheet, row[column.heading], column)
            if value is not None:
                entries.append(KeyValue(Scalar(value.span, column.path[-1]), value))
        return nodes.Mapping(self.book.place(sheet, first), tuple(entries))

    def _parts(
        self, sheet: BookSheet, rows: list[Row], columns: list[SheetColumn]
    ) -> Iterator[KeyValue]:
        name, *rest = columns
        seen: dict[str, Scalar] = {}
        for row in rows:
            key = self.scalar(sheet, row[name.heading], name.shape)
            if key.text in seen:
                also = (Also(span=seen[key.text].span, text="first written here"),)
                self.problems.append(DUPLICATE_KEY.at(key.span, key=short(key.text), also=also))
                continue
            seen[key.text] = key
            yield KeyValue(key, self._block(sheet, row, rest))

    def _legs(
        self, sheet: BookSheet, rows: list[Row], columns: list[SheetColumn]
    ) -> Iterator[Node]:
        """`A`, `85 ft`, `VB-1`, `60 ft`, `VB-2`: each leg begins where the one before ends."""
        came: Scalar | None = None
        by_heading = {column.heading: column for column in columns}
        for row in rows:
            start, length, end = (
                self.scalar(sheet, row[heading], by_heading[heading].shape)
                for heading in ("from", "length", "to")
            )
            if came is None:
                yield start
            elif start.text not in ("", came.text):
                self.problems.append(
                    SHEET_LEG.at(start.span, start=short(start.text), before=short(came.text))
                )
            yield length
            yield end
            came = end
