"""Sample jobs as the cards see them."""

from __future__ import annotations

from functools import cache

from cardgen.asbuilt import ConductorMark
from cardgen.cards import Card, CardKind, Printable, cards_of
from cardgen.cards.card import PrintedValue, Table
from cardgen.examine import examine_text
from cardgen.facts import Facts
from cardgen.output.as_printable import as_printable
from tests.jobs import sample


def printable(text: str) -> Printable:
    found = examine_text(text)
    job = as_printable(found)
    assert job is not None, found.problems
    return job


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
        parts = (value.cable, value.word, value.flag, value.band)
        return " ".join(part for part in parts if part)
    return str(value).replace("\u00a0", " ")


def rows(value: PrintedValue) -> list[dict[str, str]]:
    assert isinstance(value, Table)
    return [dict(zip(value.columns, map(read, row), strict=True)) for row in value.rows]


def plain_rows(value: PrintedValue) -> list[tuple[str, ...]]:
    assert isinstance(value, Table)
    return [tuple(read(cell) for cell in row) for row in value.rows]
