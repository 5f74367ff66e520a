"""What a card says: words, numbers and colors by field name; no coordinates."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field
from enum import StrEnum
from typing import Self, TypeAlias

from cardgen.asbuilt import ConductorMark
from cardgen.light_dataclass import dataclass
from cardgen.problems import Span
from cardgen.words import Said, Text, all_printed, apart, printed


class CardKind(StrEnum):
    VALVE_TAG = "valve tag"
    BOX_TAG = "box tag"
    FLAG = "flag"
    LEGEND = "legend"
    SPLICE_CARD = "splice card"
    TEST_SHEET = "test sheet"
    SPARE_LIST = "spare list"
    MATERIALS = "materials"
    SCHEDULE = "schedule"
    SURVEY = "survey"
    COVER = "cover"
    CLOSING = "closing"
    FAULT_SHEET = "fault sheet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Code:
    """What the QR symbol holds (`address`, ISO/IEC 18004 alphanumeric set) and the text beneath."""

    address: str
    text: str


class OnFlag(str):
    """What is on a conductor's own flag, as it is printed: `flag A3`; `bare`, where room is scarce.

    No line ends between the word and what is on the flag.
    """

    __slots__ = ("bare",)
    bare: str

    def __new__(cls, word: str, bare: str) -> Self:
        made = super().__new__(cls, f"{word} {bare}")
        made.bare = bare
        return made


class Noted(str):
    """A cell with notes behind it, `lawn N; 2 valves`: `head` over `note` where room is scarce."""

    __slots__ = ("head", "note")
    head: str
    note: str

    def __new__(cls, whole: str, head: str, note: str) -> Self:
        made = super().__new__(cls, whole)
        made.head, made.note = head, note
        return made


Cell: TypeAlias = Said | ConductorMark
PrintedCell: TypeAlias = str | ConductorMark


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows under named columns; every row has one cell per column."""

    columns: tuple[str, ...]
    rows: tuple[tuple[PrintedCell, ...], ...]

    @classmethod
    def of(cls, columns: Iterable[Said], rows: Iterable[tuple[Cell, ...]]) -> Self:
        """With each text in all languages of the print."""
        printed_rows = (tuple(_printed_cell(cell) for cell in row) for row in rows)
        return cls(columns=all_printed(columns), rows=tuple(printed_rows))


def _printed_cell(cell: Cell) -> PrintedCell:
    return cell if isinstance(cell, ConductorMark) else printed(cell)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """One conductor end, or one lead of a coil, as it comes to a joint.

    Attributes:
        mark: how it looks; None for a lead whose color nobody says.
        name: what a lead belongs to; empty where the mark names the conductor.
        about: `from VB-1, 18 AWG`.
    """

    mark: ConductorMark | None
    name: str
    about: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Splice:
    """One joint: what comes in, what goes out, the leads between, all in one connector.

    Attributes:
        title: `1  HOT A7`.
        change: of color, in words; empty where there is none.
        counts: how many conductors of which gauge.
        connector: what takes them, with its label; empty where nothing can tell it.
    """

    title: str
    change: str
    counts: str
    connector: str
    arriving: tuple[Wire, ...]
    leaving: tuple[Wire, ...]
    leads: tuple[Wire, ...]

    @property
    def wires(self) -> tuple[Wire, ...]:
        return (*self.arriving, *self.leads, *self.leaving)

    @property
    def straight(self) -> bool:
        """One is joined with one, and nothing else."""
        return len(self.wires) == 2

    @property
    def about(self) -> str:
        return apart((self.change, self.counts, self.connector))


@dataclass(frozen=True, slots=True, kw_only=True)
class WayStop:
    """A controller or a box on a way, with the leg that leads to it, and what is marked there.

    Attributes:
        depth: how deep in the tree of cables; a cable that goes off is one deeper.
        begins: its leg is the first of a cable that goes off the stop before it.
        leg: cable and length; empty for the controller.
        wires: conductors that are suspected on the leg.
        on_leg, here: marks of what is suspected on the leg, and in the place itself.
        off, notes: readings of its valves that are off; what else there is to say.
    """

    depth: int
    begins: bool
    is_controller: bool
    title: str
    leg: str = ""
    wires: tuple[ConductorMark, ...] = ()
    on_leg: tuple[str, ...] = ()
    here: tuple[str, ...] = ()
    off: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


PrintedValue: TypeAlias = (
    str
    | tuple[str, ...]
    | ConductorMark
    | tuple[ConductorMark, ...]
    | Code
    | Table
    | tuple[Splice, ...]
    | tuple[WayStop, ...]
)
FieldValue: TypeAlias = PrintedValue | Text | tuple[Said, ...]
Fields: TypeAlias = Mapping[str, PrintedValue]


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One thing to print.

    Attributes:
        place: where the job file says the thing; a text that does not fit is reported there.
        id: unique within a print, in the trade's words, `A7`, `VB-3`, `A-K1 red at VB-1`.
        at: the box or controller where it hangs or lies; empty for a sheet.
        owner: the station, master valve or relay it serves; of flags also a common, a side of a
            path or a spare by the name on the flag; empty for all else.
        names: what a person asks for it by: stations and valves.
        controllers: whose it is.
        series: those of one series have letters of the same heights in a print; what is rare and
            says much more than the others (a pump relay) is a series by itself.
        fields: by the names that faces use, each text in all languages of the print; an absent
            field leaves its frame empty.
    """

    span: Span
    kind: CardKind
    id: str
    at: str = ""
    owner: str = ""
    names: tuple[str, ...] = ()
    controllers: tuple[str, ...] = ()
    series: str = ""
    fields: Fields = field(default_factory=dict)


def on_paper(fields: Mapping[str, FieldValue]) -> Fields:
    """What a card says, each text in all languages of the print: from here on, words are letters.

    ```
    {"area": Text(each=("drip", "goteo"))} -> {"area": "drip / goteo"}
    ```
    """
    return {name: _printed_value(value) for name, value in fields.items()}


def _printed_value(value: FieldValue) -> PrintedValue:
    if isinstance(value, Text):
        return value.printed
    if not isinstance(value, tuple):
        return value
    # A tuple has one kind of value; mypy cannot follow that through a comprehension.
    return tuple(p.printed if isinstance(p, Text) else p for p in value)  # type: ignore[return-value]
