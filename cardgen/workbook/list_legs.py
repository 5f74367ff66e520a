"""Read of each row of a list where its box is on the cable: the place before it, and the length."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from cardgen.faults.sheet_faults import SHEET_BOX
from cardgen.job.quantities import LENGTH
from cardgen.problems import Also, Problem, Span
from cardgen.reading.nodes import short
from cardgen.reading.shapes import BadValue
from cardgen.results.cells import Cell
from cardgen.units import NOT_KNOWN
from cardgen.workbook.book_files import Book
from cardgen.workbook.cell_values import as_meant
from cardgen.workbook.heading_names import LEG_FROM, LEG_LENGTH
from cardgen.workbook.list_stations import ListedStation, box_said, controller_said
from cardgen.workbook.list_table import ListTable, one_text


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedLeg:
    """Attributes:
    start, box: by their names in the job.
    length: as a job has it; empty where the list does not say it.
    """

    span: Span
    start: str
    box: str
    length: str


def listed_legs(
    book: Book,
    table: ListTable,
    stations: Sequence[ListedStation],
    names: Mapping[str, str],
    known: Collection[str] = (),
) -> tuple[dict[str, ListedLeg], list[Problem]]:
    """By station the leg to its box, and what is unclear.

    Args:
        names: by what the list calls each box, its name in the job.
        known: boxes that the job has besides.
    """
    reader = _LegReader(book, table, names, known)
    found = {station.name: leg for station in stations if (leg := reader.leg(station)) is not None}
    return found, reader.problems


def run_of(
    controller: str, boxes: Iterable[str], legs: Mapping[str, ListedLeg]
) -> list[str] | None:
    """One run through the boxes with every leg, by box; None where they branch or go round.

    A length that no leg says is not known; boxes that no leg leads to come as they are listed.
    """
    after: dict[str, str] = {}
    for box, leg in legs.items():
        if after.setdefault(leg.start, box) != box:
            return None
    places = dict.fromkeys((controller, *boxes, *after, *legs))
    walked: list[str] = []
    for head in (place for place in places if place not in legs):
        at = head
        while at:
            walked.append(at)
            at = after.get(at, "")
    if len(walked) < len(places):
        return None
    run = [controller]
    for box in walked[1:]:
        run += [(legs[box].length if box in legs else "") or NOT_KNOWN, box]
    return run


class _LegReader:
    def __init__(
        self, book: Book, table: ListTable, names: Mapping[str, str], known: Collection[str]
    ) -> None:
        self._book, self._table = book, table
        self._names = {text.casefold(): name for text, name in names.items()}
        self._names |= {name.casefold(): name for name in (*known, *names.values())}
        self._by_box: dict[tuple[str, str], ListedLeg] = {}
        self.problems: list[Problem] = []

    def leg(self, station: ListedStation) -> ListedLeg | None:
        """None where the row says none, or after saying what is unclear."""
        before, length = (station.cells.get(column) for column in (LEG_FROM, LEG_LENGTH))
        cell = before or length
        if cell is None:
            return None
        if not station.box:
            self._tell(cell, "no box")
            return None
        box = self._names[station.box.casefold()]
        if before is None:
            self._tell(cell, "no place", box=short(station.box))
            return None
        start = self._place(station, before)
        if start is None or start == box:
            self._tell(before, "place" if start is None else "itself")
            return None
        said = self._length(length) if length is not None else ""
        if said is None:
            return None
        span = self._book.place(self._table.sheet, before)
        leg = ListedLeg(span=span, start=start, box=box, length=said)
        return self._agreed(station.controller, leg, length or before)

    def _place(self, station: ListedStation, cell: Cell) -> str | None:
        text = one_text(cell)
        if controller_said(text).casefold() in ("", station.controller.casefold()):
            return station.controller
        return self._names.get(text.casefold()) or self._names.get(box_said(text).casefold())

    def _length(self, cell: Cell) -> str | None:
        text = as_meant(one_text(cell), LENGTH)
        if text.casefold() == NOT_KNOWN:
            return NOT_KNOWN
        try:
            LENGTH.parse(text)
        except BadValue as bad:
            self._tell(cell, "", fault=bad.sentence, way_out=bad.help)
            return None
        return text

    def _agreed(self, controller: str, leg: ListedLeg, cell: Cell) -> ListedLeg | None:
        """Rows of one box say the same, or only some of them how long it is."""
        key = (controller, leg.box)
        before = self._by_box.setdefault(key, leg)
        if before.start == leg.start and (not leg.length or not before.length):
            leg = before if before.length else leg
            self._by_box[key] = leg
        elif (before.start, before.length) != (leg.start, leg.length):
            also = (Also(span=before.span, text="first written here"),)
            values = {"box": leg.box, "other": f"{before.start}, {before.length}"}
            said = f"{leg.start}, {leg.length}"
            self._tell(cell, "twice", said=said, also=also, **values)
            return None
        return leg

    def _tell(self, cell: Cell, variant: str, said: str = "", **values: Any) -> None:
        span = self._book.place(self._table.sheet, cell)
        text = short(said or one_text(cell))
        self.problems.append(SHEET_BOX.at(span, variant=variant, text=text, **values))
