"""Sample jobs as the cards see them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from cardgen.asbuilt import ConductorMark
from cardgen.cards import Card, CardKind, Printable, cards_of
from cardgen.cards.card import PrintedValue, Table
from cardgen.cards.materials import materials
from cardgen.examine import examine_text
from cardgen.facts import Facts
from cardgen.output.as_printable import as_printable
from cardgen.units import Length
from cardgen.words import printed
from tests.jobs import sample


def printable(text: str) -> Printable:
    found = examine_text(text)
    printable = as_printable(found)
    assert printable is not None, found.problems
    return printable


@cache
def facts_of(name: str) -> Facts:
    """What stages 1 to 5 found out of a sample job: nothing that is printed comes from there."""
    facts = examine_text(sample(name)).facts
    assert facts is not None
    return facts


@cache
def cards(name: str, kind: CardKind) -> dict[str, Card]:
    return {card.id: card for card in cards_of(printable(sample(name)))[kind]}


def read(value: object) -> str:
    """A cell as one would read it aloud."""
    if isinstance(value, ConductorMark):
        flag = f"({value.flag})" if value.flag else ""
        band = f"+ {value.band}" if value.band else ""
        return " ".join(part for part in (value.cable, value.word, band, flag) if part)
    return str(value).replace("\u00a0", " ")


def rows(value: PrintedValue) -> list[dict[str, str]]:
    """By column; of a table that has its columns several times, each part of a row by itself."""
    assert isinstance(value, Table)
    width = len(dict.fromkeys(value.columns))
    parts = [row[at : at + width] for row in value.rows for at in range(0, len(row), width)]
    said = [part for part in parts if set(part) != {"–"}]
    return [dict(zip(value.columns[:width], map(read, part), strict=True)) for part in said]


def plain_rows(value: PrintedValue) -> list[tuple[str, ...]]:
    assert isinstance(value, Table)
    return [tuple(read(cell) for cell in row) for row in value.rows]


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A line of the materials as it is printed."""

    group: str
    what: str
    amount: str
    basis: str
    quantity: Length | int
    counted: int


def listed(printable: Printable) -> list[Listed]:
    return [
        Listed(
            group=line.group,
            what=printed(line.what),
            amount=line.amount,
            basis=printed(line.basis),
            quantity=line.quantity,
            counted=line.counted,
        )
        for line in materials(printable)
    ]
