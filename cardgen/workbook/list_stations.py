"""Turn the rows of a list into stations: which controller and terminal, which box, which color."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import count
from typing import Any

from cardgen.faults.file_faults import DUPLICATE_KEY
from cardgen.faults.sheet_faults import SHEET_COLOR, SHEET_NAME
from cardgen.problems import Also, Problem, Span
from cardgen.reading.nodes import Scalar, short
from cardgen.reading.shapes import IDENTIFIER, BadValue, nearest_one
from cardgen.results.cells import Cell
from cardgen.trade.colors import color_words
from cardgen.workbook.book_files import Book
from cardgen.workbook.heading_names import COLOR, COMMON, color_meant
from cardgen.workbook.list_table import ListTable, one_text, own_heading

USUAL_CONTROLLER = "A"
_KIND = r"station|sta|stn|estaci[oó]n|est|valve|v[aá]lvula|zone|zona|num|no|nr"
_STATION = re.compile(
    rf"(?:(?:{_KIND})(?![a-z])[\s.:#-]*)?#?\s*(?P<letters>[A-Za-z]{{1,8}})?[\s._-]*0*"
    r"(?P<number>[1-9][0-9]{0,2})[\s-]*(?P<valve>[A-Za-z])?",
    re.IGNORECASE,
)
_CONTROLLER = re.compile(r"(?:controller|controlador|programador|ctrl)[\s.:#-]*", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedStation:
    """A row of a list.

    Attributes:
        controller, number: its terminal.
        box: as the list calls it; empty where it does not say one.
        color, common: of its hot and its common, in the words of a job; empty where the list
            says none.
        cells: by column, those that are not blank.
        extra: by heading what else the list says; all of its own columns, blank ones too.
    """

    key: Scalar
    controller: str
    number: int
    box: str
    color: str
    common: str
    cells: Mapping[str, Cell]
    extra: Mapping[str, Scalar | None] = field(default_factory=dict)

    @property
    def name(self) -> str:
        return station_name(self.controller, self.number)


def controller_said(text: str) -> str:
    """The name of a controller, as a job can have it; empty for the word alone."""
    name = _CONTROLLER.sub("", text)
    return re.sub("[^A-Za-z0-9._-]+", "-", name).strip("-._")[:12]


def station_name(controller: str, number: int) -> str:
    """`A7`; with a hyphen where the name of the controller ends in a digit."""
    return f"{controller}-{number}" if controller[-1:].isdigit() else f"{controller}{number}"


def terminal_in(name: str) -> tuple[str, int] | None:
    """The letters and the number of `A-07`, in capitals; None where it has another shape."""
    match = _STATION.fullmatch(name)
    if match is None or match["valve"]:
        return None
    return (match["letters"] or "").upper(), int(match["number"])


def listed_stations(book: Book, table: ListTable) -> tuple[list[ListedStation], list[Problem]]:
    """All rows that name a station, and what is wrong with the others."""
    reader = _ListReader(book, table)
    stations = [s for row in table.rows for s in [reader.station(row)] if s is not None]
    return stations, reader.problems


class _ListReader:
    def __init__(self, book: Book, table: ListTable) -> None:
        self.book, self.table = book, table
        self.problems: list[Problem] = []
        self._seen: dict[tuple[str, int], Span] = {}
        named = [_STATION.fullmatch(one_text(row["name"])) for row in table.rows]
        self._lettered = next((m["letters"] for m in named if m and m["letters"]), "")

    def place(self, cell: Cell) -> Span:
        return self.book.place(self.table.sheet, cell)

    def station(self, row: Mapping[str, Cell]) -> ListedStation | None:
        cells = {column: cell for column, cell in row.items() if cell.text.strip()}
        landing = self._landing(row, cells)
        if landing is None:
            return None
        controller, number = landing
        span = self.place(row["name"])
        if landing in self._seen:
            also = (Also(span=self._seen[landing], text="first written here"),)
            name = station_name(*landing)
            self.problems.append(DUPLICATE_KEY.at(span, key=name, also=also))
            return None
        self._seen[landing] = span
        return ListedStation(
            key=Scalar(span, station_name(controller, number)),
            controller=controller,
            number=number,
            box=one_text(cells.get("box")),
            color=self._color(cells),
            common=color_meant(one_text(cells[COMMON])) if COMMON in cells else "",
            cells=cells,
            extra=self._extra(row),
        )

    def _landing(
        self, row: Mapping[str, Cell], cells: Mapping[str, Cell]
    ) -> tuple[str, int] | None:
        """Its controller and terminal; None after saying what is unclear."""
        cell, text = row["name"], one_text(row["name"])
        if not text:
            other = next(iter(cells.values()))
            self._tell(cell, "no station", short(one_text(other)))
            return None
        match = _STATION.fullmatch(text)
        if match is None:
            self._tell(cell, "station", short(text))
            return None
        letters, number = match["letters"] or "", int(match["number"])
        controller = self._controller(cells.get("controller"))
        if match["valve"]:
            station = station_name(letters or controller or USUAL_CONTROLLER, number)
            valves = f"valves: {{{station}a: {{box: VB-1}}, {station}b: {{box: VB-1}}}}"
            self._tell(cell, "twin", short(text), station=station, valves=valves)
            return None
        if controller and letters and letters.casefold() != controller.casefold():
            self._tell(cell, "elsewhere", short(text), controller=short(controller))
            return None
        if not controller and not letters and self._lettered:
            example = station_name(self._lettered.upper(), number)
            self._tell(cell, "no controller", short(text), example=example)
            return None
        return controller or letters.upper() or USUAL_CONTROLLER, number

    def _controller(self, cell: Cell | None) -> str:
        """Its name, as a job can have it."""
        return controller_said(one_text(cell))

    def _color(self, cells: Mapping[str, Cell]) -> str:
        cell = cells.get(COLOR)
        if cell is None:
            return ""
        text = one_text(cell)
        color = color_meant(text)
        if not color:
            known = ", ".join(color_words())
            near = nearest_one(text, color_words())
            suggestion = (
                f"did you mean '{near}'?"
                if near
                else f"known are {known}; under another heading it is a column of your own"
            )
            self.problems.append(
                SHEET_COLOR.at(self.place(cell), text=short(text), suggestion=suggestion)
            )
        return color

    def _extra(self, row: Mapping[str, Cell]) -> dict[str, Scalar | None]:
        found: dict[str, Scalar | None] = {}
        for column, cell in row.items():
            heading = own_heading(column)
            if heading:
                text = one_text(cell)
                found[heading] = Scalar(self.place(cell), text) if text else None
        return found

    def _tell(self, cell: Cell, variant: str, text: str, **values: Any) -> None:
        span = self.place(cell)
        self.problems.append(SHEET_NAME.at(span, variant=variant, text=text, **values))


def box_names(texts: Iterable[str], known: Mapping[str, str]) -> dict[str, str]:
    """By what the list calls each box, its name in the job; `known` has those of the job by place.

    A short name with a number in it stays, with hyphens for blanks.  A bare number gets `VB-`
    before it, for a terminal has such a name; whatever else is a place, and its box gets a number.
    """
    texts = list(dict.fromkeys(texts))
    used = {name.casefold(): name for name in known.values()}
    places = {place.casefold(): name for place, name in known.items()}
    short_names = {text: name for text in texts if _is_name(name := box_said(text))}
    taken = {*used, *(name.casefold() for name in short_names.values())}
    free = (f"VB-{n}" for n in count(1) if f"vb-{n}" not in taken)
    found: dict[str, str] = {}
    for text in texts:
        name = short_names.get(text, "") or places.get(text.casefold(), "")
        if name:
            name = used.setdefault(name.casefold(), name)
        else:
            name = places[text.casefold()] = next(free)
        found[text] = name
    return found


def box_said(text: str) -> str:
    """As a short name is written: `VB-1` of `VB 1`, and of a bare number."""
    return f"VB-{text}" if text.isdigit() else re.sub(r"[\s#]+", "-", text).strip("-._")


_LONGEST_BOX = 12  # letters of a name that is no sentence (assumed)


def _is_name(text: str) -> bool:
    try:
        IDENTIFIER.parse(text)
    except BadValue:
        return False
    return len(text) <= _LONGEST_BOX and any(letter.isdigit() for letter in text)
