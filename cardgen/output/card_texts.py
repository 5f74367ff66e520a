"""Turn a card into what it says in words, and whose it is: what prints compare.

```
card -> CardText: at VB-3, of A7, of controller A; "hot": "A-K1 red RD, 18 AWG", ...
```
Always in the usual language, without stock, layout and stamp: those change no fact.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from cardgen.asbuilt import ConductorMark
from cardgen.cards import Card, CardKind
from cardgen.cards.card import Code, Splice, Table, Wire
from cardgen.drawing import HomeRun, outline
from cardgen.light_dataclass import dataclass

DRAWING = "wiring drawing"
# What small stock says is what `boxed` says.
_LEFT_OUT = {"stamp", "boxed_short"}
CELL = "; "  # between the cells of a row
Words = str | tuple[str, ...]
Cards = Mapping[CardKind, Sequence[Card]]


@dataclass(frozen=True, slots=True, kw_only=True)
class CardEntry:
    """Which card it is, or which drawing of a home run, and whose: what selections choose by.

    Attributes:
        kind: of the card; DRAWING for a home run, whose id is its cable.
        at, owner: as of the card.
        names: what a person asks for it by: the station and, of a twin, the valve.
        controllers: whose it is.
    """

    kind: str
    id: str
    at: str = ""
    owner: str = ""
    names: tuple[str, ...] = ()
    controllers: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        return f"{self.kind} {self.id}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CardText(CardEntry):
    """What it says, too.

    Attributes:
        words: by field; a field of several lines or rows has them one by one.
    """

    words: Mapping[str, Words]


def entry_of(card: Card) -> CardEntry:
    return CardEntry(**_whose(card))


def card_text(card: Card) -> CardText:
    words = {name: _words(value) for name, value in card.fields.items() if name not in _LEFT_OUT}
    return CardText(**_whose(card), words=words)


def _whose(card: Card) -> dict[str, Any]:
    return {
        "kind": str(card.kind),
        "id": card.id,
        "at": card.at,
        "owner": card.owner,
        "names": card.names,
        "controllers": card.controllers,
    }


def home_text(home: HomeRun, controllers: Collection[str]) -> CardText:
    """`controllers` are all of the job."""
    of = (home.start,) if home.start in controllers else ()
    drawn = {"drawing": tuple(outline(home).splitlines())}
    return CardText(kind=DRAWING, id=home.run.cable, controllers=of, words=drawn)


# ---- values as words -----------------------------------------------------------------------


def _words(value: Any) -> Words:
    """All of a field; nothing that tells two values apart is left out."""
    match value:
        case str() | ConductorMark() | Code():
            return _line(value)
        case Table():
            return tuple(_row(value.columns, row) for row in value.rows)
        case _:
            return tuple(_line(each) for each in value)


def _row(columns: Sequence[str], row: Sequence[Any]) -> str:
    """`terminal 3; area front lawn`; cells without anything are left out."""
    cells = ((name, _line(cell)) for name, cell in zip(columns, row, strict=True))
    return CELL.join(f"{name} {cell}" for name, cell in cells if cell)


def _line(value: Any) -> str:
    match value:
        case str():
            return str(value)
        case ConductorMark():
            name = f"{value.cable} {value.word}"
            parts = (name, value.code, value.flag, value.band, value.gauge)
            return ", ".join(part for part in parts if part)
        case Code():
            return value.address
        case Wire():
            mark = _line(value.mark) if value.mark else ""
            return " ".join(part for part in (value.name, mark, value.about) if part)
        case Splice():
            sides = (value.arriving, value.leads, value.leaving)
            wires = " | ".join(", ".join(_line(wire) for wire in side) for side in sides)
            return f"{value.title} ({value.about}): {wires}"
        case _:
            raise AssertionError(f"a card has a {type(value).__name__}")
