"""Turn a list of stations into what it says of a job that is there already."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.faults.sheet_faults import SHEET_COLOR
from cardgen.job.job_parts import Cable, ConductorWords, Job, Station
from cardgen.problems import Problem, Span
from cardgen.reading.nodes import Node, Scalar, short
from cardgen.reading.shapes import either
from cardgen.trade.colors import insulation
from cardgen.units import NOT_KNOWN
from cardgen.workbook.book_files import Book
from cardgen.workbook.heading_names import COLOR, COMMON, LEG_FROM, LEG_LENGTH
from cardgen.workbook.legs_into import LegsInto
from cardgen.workbook.list_legs import listed_legs
from cardgen.workbook.list_stations import ListedStation, box_names, terminal_in
from cardgen.workbook.list_table import ListTable, one_text
from cardgen.workbook.partial_job import PartialEntry, PartialJob
from cardgen.workbook.sheet_plans import EXTRA, plan_named
from cardgen.workbook.sheet_values import cell_value

# Named by the row itself.
_LANDING = ("controller", "terminal")


def list_into(
    book: Book, table: ListTable, stations: Sequence[ListedStation], job: Job, root: Node
) -> tuple[PartialJob, list[Problem]]:
    """Its rows by the names that the job has for them; what the list does not say is no part.

    `root` is the job as it is written.
    """
    reader = _ListIntoJob(book, table, stations, job)
    for listed in stations:
        reader.station(listed)
    reader.put_legs(LegsInto(job, root), stations)
    return reader.partial, reader.problems


def stations_not_listed(stations: Sequence[ListedStation], job: Job) -> list[str]:
    """Those of the job that the list does not have; they stay."""
    listed = {(s.controller.casefold(), s.number) for s in stations}
    return [s.id for s in job.stations.values() if _landing(s) not in listed]


def _landing(station: Station) -> tuple[str, int]:
    """The controller, in small letters, and the terminal of a station of the job."""
    letters, number = terminal_in(station.id) or ("", 0)
    controller = station.controller.value if station.controller else letters
    return controller.casefold(), station.terminal.value if station.terminal else number


class _ListIntoJob:
    def __init__(
        self, book: Book, table: ListTable, stations: Sequence[ListedStation], job: Job
    ) -> None:
        self.book, self.table, self.job = book, table, job
        self.partial, self.problems = PartialJob(), list[Problem]()
        known = {box.where or name: name for name, box in job.boxes.items()}
        known |= {name: name for name in job.boxes}
        self._boxes = box_names((s.box for s in stations if s.box), known)
        self._names = {_landing(station): name for name, station in job.stations.items()}
        plan = plan_named("stations")
        assert plan is not None
        self._columns = [
            c for c in plan.columns if c.heading in table.columns and c.heading not in _LANDING
        ]

    def station(self, listed: ListedStation) -> None:
        name = self._names.get((listed.controller.casefold(), listed.number), listed.name)
        station = self.job.stations.get(name)
        entry = PartialEntry(key=Scalar(listed.key.span, name))
        self.partial.section("stations").entries[name] = entry
        for column in self._columns:
            cell = listed.cells.get(column.heading)
            if cell is None:
                entry.values[column.path] = None
                continue
            if column.heading == COMMON and listed.common:
                continue
            span = self.book.place(self.table.sheet, cell)
            if column.heading == "box":
                entry.values[column.path] = self._box(listed, span)
            else:
                entry.values[column.path] = cell_value(cell, column, span)
        for heading, text in listed.extra.items():
            entry.values[EXTRA, heading] = text
        if "area" not in listed.cells and ("area" in self.table.columns or station is None):
            entry.values["area",] = Scalar(listed.key.span, NOT_KNOWN)
        if listed.color and "hot" not in listed.cells:
            there = station.hot if station else None
            self._conductor(listed, entry, COLOR, listed.color, there or ())
        if listed.common:
            controller = self.job.controllers.get(listed.controller)
            commons = (station and station.common) or (controller and controller.common)
            self._conductor(listed, entry, COMMON, listed.common, commons or ())

    def _box(self, listed: ListedStation, span: Span) -> Scalar:
        """Its name; a new one is put among the boxes with the place that the list says."""
        name = self._boxes[listed.box]
        if name not in self.job.boxes:
            boxes = self.partial.section("boxes").entries
            box = boxes.setdefault(name, PartialEntry(key=Scalar(span, name)))
            if not name.casefold().endswith(listed.box.replace(" ", "-").casefold()):
                box.values["place",] = Scalar(span, listed.box)
        return Scalar(span, name)

    def put_legs(self, legs_into: LegsInto, stations: Sequence[ListedStation]) -> None:
        """The lengths into the runs of the cables; where the job has no cable yet, as they are."""
        legs, unclear = listed_legs(
            self.book, self.table, stations, self._boxes, known=self.job.boxes
        )
        self.problems += unclear
        entries = self.partial.section("stations").entries
        for listed in stations:
            leg = legs.get(listed.name)
            if leg is None:
                continue
            name = self._names.get((listed.controller.casefold(), listed.number), listed.name)
            station = self.job.stations.get(name)
            if legs_into.is_open(listed.controller, station, self.table.headings[LEG_FROM]):
                for column in (LEG_FROM, LEG_LENGTH):
                    if cell := listed.cells.get(column):
                        text = Scalar(leg.span, one_text(cell))
                        entries[name].values[EXTRA, self.table.headings[column]] = text
            else:
                self.problems += legs_into.put(leg, listed.controller, station, name)
        for cable, run in legs_into.changed.items():
            entry = PartialEntry(key=Scalar(run.span, cable))
            entry.values["run",] = run
            self.partial.section("cables").entries[cable] = entry

    # ---- the colors of its hot and its common ------------------------------------------------

    def _conductor(
        self,
        listed: ListedStation,
        entry: PartialEntry,
        column: str,
        color: str,
        there: Sequence[ConductorWords],
    ) -> None:
        """The conductor of that color, where one cable that reaches the box has just one.

        `there`: what the job has now.
        """
        cell, heading = listed.cells[column], self.table.headings[column]
        name, span = entry.key.text, self.book.place(self.table.sheet, cell)
        station = self.job.stations.get(name)
        has_gap = any(conductor.is_gap for conductor in there)
        words = there if column == COMMON or has_gap else there[-1:]
        if any(color in conductor.value.split() for conductor in words):
            return
        from_here = listed.controller.casefold()
        cables = [c for c in self.job.cables.values() if c.run[0].at.casefold() == from_here]
        if not cables or (station and heading in station.extra):
            entry.values[EXTRA, heading] = Scalar(span, one_text(cell))
            return
        box = self._boxes.get(listed.box, "") or (
            station.box.value if station and station.box else ""
        )
        found = [
            conductor
            for cable in cables
            if any(stop.at == box for stop in cable.run)
            for conductor in _conductors(cable, self.job, color, name)
        ]
        if len(found) == 1:
            key = "hot" if column == COLOR else COMMON
            entry.values[key,] = Scalar(span, found[0])
            return
        variant = "which" if found else "none"
        self.problems.append(
            SHEET_COLOR.at(
                span,
                variant=variant,
                count=len(found),
                box=short(box or "its box"),
                color=color,
                examples=either(found[:3]) if found else "",
            )
        )


def _conductors(cable: Cable, job: Job, color: str, station: str) -> Iterator[str]:
    """Those of a color, as a station names them; of singles the one that has its flag."""
    wanted = insulation(color)
    palette = job.palettes.get(cable.palette.value, ()) if cable.palette else ()
    for one in (*cable.colors, *palette):
        if one == wanted:
            yield f"{cable.id} {color}"
    for single in cable.singles:
        flags = [flag for flags in single.flags for flag in flags.value]
        if single.color.value == wanted and station in flags:
            yield f"{cable.id} {color} {station}"
