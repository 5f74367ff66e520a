"""Parts bound into a packet: pages numbered, and the cover true even where it takes two pages."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest

from cardgen.layout import Mm, Page
from cardgen.layout.items import TextLine
from cardgen.output.packet import Part, bind
from cardgen.words import english

Cover = Callable[[Sequence[tuple[str, int]]], tuple[Page, ...]]


def page(*cards: str) -> Page:
    return Page(width=Mm(215.9), height=Mm(279.4), items=(), cards=cards)


def covers(count: int) -> tuple[list[list[tuple[str, int]]], Cover]:
    """A cover of so many pages, and what it was asked to list."""
    asked: list[list[tuple[str, int]]] = []

    def cover(documents: Sequence[tuple[str, int]]) -> tuple[Page, ...]:
        asked.append(list(documents))
        return tuple(page(f"cover {n}") for n in range(count))

    return asked, cover


PARTS = [
    Part(title="Splice register", pages=(page("a"), page("b"))),
    Part(title="Spare list", pages=(page("c"),)),
]


@pytest.mark.parametrize("count", [1, 2, 3])
def test_the_cover_knows_where_each_part_begins(count: int) -> None:
    asked, cover = covers(count)
    packet = bind(PARTS, cover, english())
    assert asked[-1] == [("Splice register", count + 1), ("Spare list", count + 3)]
    assert packet.outline == (
        ("Cover", 0),
        ("Splice register", count),
        ("Spare list", count + 2),
    )
    assert [p.cards for p in packet.pages[count:]] == [("a",), ("b",), ("c",)]


def test_each_page_says_which_of_how_many_it_is() -> None:
    _, cover = covers(1)
    packet = bind(PARTS, cover, english())
    said = [item for p in packet.pages for item in p.items if isinstance(item, TextLine)]
    assert [text.text for text in said] == [f"packet page {n} of 4" for n in range(1, 5)]
    assert all(text.capital >= 2.5 and text.y >= 6 for text in said)  # within printers' reach
