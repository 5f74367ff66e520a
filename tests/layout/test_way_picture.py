"""The picture of a way: where its trunks go on, seen on the strokes of the laid-out card."""

from __future__ import annotations

from itertools import pairwise

import pytest

from cardgen.cards.card import Card, CardKind, WayStop
from cardgen.layout.items import Outline, Page, Strokes, TextLine
from cardgen.layout.way_picture import BOX, TRUNK
from tests.layout.cards import PLACE, pages


def stop(title: str, depth: int, leg: str = "A-K1 · 60 ft", *, begins: bool = False) -> WayStop:
    return WayStop(depth=depth, begins=begins, is_controller=not leg, title=title, leg=leg)


# A to VB-1 to VB-2 is one cable; in VB-1 another one goes off, to VB-3 and VB-4.
WAY = (
    stop("A", 0, ""),
    stop("VB-1", 0),
    stop("VB-3", 1, begins=True),
    stop("VB-4", 1),
    stop("VB-2", 0),
)


def trunks(page: Page) -> list[list[tuple[float, float]]]:
    """Of each trunk from the left, its pieces from top to bottom."""
    found: dict[float, list[tuple[float, float]]] = {}
    for item in page.items:
        if isinstance(item, Strokes) and item.width == TRUNK:
            for line in item.segments:
                if line.x1 == line.x2:
                    found.setdefault(round(line.x1, 3), []).append((line.y1, line.y2))
    return [sorted(pieces) for _, pieces in sorted(found.items())]


def test_a_trunk_is_broken_by_the_squares_of_its_places_and_by_nothing_else() -> None:
    card = Card(span=PLACE, kind=CardKind.FAULT_SHEET, id="A", fields={"way": WAY})
    (page,) = pages(card, stock="sheet-letter")
    names = {item.text: item.y for item in page.items if isinstance(item, TextLine)}
    first, second = trunks(page)
    for pieces, begins, ends in ((first, "A", "VB-2"), (second, "VB-1", "VB-4")):
        assert all(later[0] - earlier[1] <= BOX / 2 for earlier, later in pairwise(pieces))
        assert pieces[0][0] == pytest.approx(names[begins], abs=BOX)
        assert pieces[-1][1] == pytest.approx(names[ends], abs=1.2 * BOX)
        assert pieces[-1][1] < names[ends]


def test_a_place_is_named_level_with_its_square() -> None:
    card = Card(span=PLACE, kind=CardKind.FAULT_SHEET, id="A", fields={"way": WAY})
    (page,) = pages(card, stock="sheet-letter")
    names = {item.text: item for item in page.items if isinstance(item, TextLine)}
    squares = [i.frame for i in page.items if isinstance(i, Outline) and i.frame.width == BOX]
    assert len(squares) == 4
    for square, name in zip(squares, ("VB-1", "VB-3", "VB-4", "VB-2"), strict=True):
        middle = names[name].y - names[name].capital / 2
        assert middle == pytest.approx(square.y + BOX / 2, abs=0.3)
        assert names[name].x > square.right
