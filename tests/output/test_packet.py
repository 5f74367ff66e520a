"""Parts bound into a packet: pages numbered, and the cover true even where it takes two pages."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from cardgen.draw import Bookmark
from cardgen.layout import Mm, Page
from cardgen.layout.items import TextLine
from cardgen.output.packet import Annex, CoverMaker, Part, bind
from cardgen.words import english

Begins = tuple[list[int], list[int]]


def page(*cards: str) -> Page:
    return Page(width=Mm(215.9), height=Mm(279.4), own=(), cards=cards)


def covers(count: int) -> tuple[list[Begins], CoverMaker]:
    """A cover of so many pages, and where it was told that documents and annexes begin."""
    asked: list[Begins] = []

    def cover(begins: Sequence[int], annex_begins: Sequence[int]) -> tuple[Page, ...]:
        asked.append(([*begins], [*annex_begins]))
        return tuple(page(f"cover {n}") for n in range(count))

    return asked, cover


PARTS = [
    Part(title="Station schedule A", pages=(page("a"), page("b"))),
    Part(title="Spare list", pages=(page("c"),)),
]
DRAWING = Part(title="Wiring drawing", pages=(page("e"), page("f")))
ANNEXES = [
    Annex(
        title="Annex A",
        controller="A",
        parts=(Part(title="Test sheet", pages=(page("d"),)), DRAWING),
    ),
    Annex(title="Annex B", controller="B", parts=(DRAWING,)),
]


@pytest.mark.parametrize("count", [1, 2, 3])
def test_the_cover_knows_where_each_part_begins(count: int) -> None:
    asked, cover = covers(count)
    packet = bind(PARTS, ANNEXES, cover, english())
    assert asked[-1] == ([count + 1, count + 3], [count + 4, count + 7])
    assert packet.outline == (
        Bookmark("Cover", 0),
        Bookmark("Station schedule A", count),
        Bookmark("Spare list", count + 2),
        Bookmark("Annex A", count + 3),
        Bookmark("Test sheet", count + 3, level=1),
        Bookmark("Wiring drawing", count + 4, level=1),
        Bookmark("Annex B", count + 6),
        Bookmark("Wiring drawing", count + 6, level=1),
    )
    assert [p.cards[0] for p in packet.pages[count:]] == [*"abcdefef"]
    assert packet.owners == count + 3
    assert packet.documents == 6


def test_each_page_says_which_of_how_many_it_is_and_of_which_annex() -> None:
    _, cover = covers(1)
    packet = bind(PARTS, ANNEXES, cover, english())
    said = [item for p in packet.pages for item in p.items if isinstance(item, TextLine)]
    annex = ["", "", "", "", *["Annex A · "] * 3, *["Annex B · "] * 2]
    assert [text.text for text in said] == [
        f"{of}packet page {n} of 9" for n, of in enumerate(annex, 1)
    ]
    assert all(text.capital >= 2.5 and text.y >= 6 for text in said)  # within printers' reach
