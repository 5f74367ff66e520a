"""The shipped stock as numbers: paper, cards, holes, and that every card lies on the sheet."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from cardgen.layout.stock import Stock
from tests.layout.cards import shipped

LETTER = (8.5 * 25.4, 11 * 25.4)  # ANSI/ASME Y14.1 size A, from memory
A4 = (210.0, 297.0)  # ISO 216
ID_1 = (53.98, 85.60)  # ISO/IEC 7810 ID-1, upright


def shipping_tag(number: int) -> tuple[float, float]:
    """Width and length in mm of numbers 1 to 8; table of a paper trade's sizes."""
    return (1.375 + 0.25 * (number - 1)) * 25.4, (2.75 + 0.5 * (number - 1)) * 25.4


PAPER = {
    "id-1-letter": LETTER,
    "id-1-a4": A4,
    "flag-letter": LETTER[::-1],
    "flag-a4": A4[::-1],
    "legend-letter": LETTER[::-1],
    "legend-a4": A4[::-1],
    "sheet-letter": LETTER[::-1],
    "sheet-a4": A4[::-1],
    "half-letter": LETTER,
    "half-a4": A4,
    "roll-50x75": (50.0, 75.0),
    "shipping-tag-5": shipping_tag(5)[::-1],
}
STOCKS = tuple(shipped().stocks.values())
named = pytest.mark.parametrize("stock", STOCKS, ids=lambda stock: stock.name)


def test_these_are_shipped() -> None:
    assert set(shipped().stocks) == set(PAPER)


@named
def test_the_paper_has_its_standard_size(stock: Stock) -> None:
    assert (stock.paper_width, stock.paper_height) == pytest.approx(PAPER[stock.name], abs=0.01)


def test_cards_are_id_1() -> None:
    for name in ("id-1-letter", "id-1-a4"):
        stock = shipped().stocks[name]
        assert (stock.card_width, stock.card_height) == pytest.approx(ID_1)


@named
def test_cards_lie_on_the_paper_and_not_on_each_other(stock: Stock) -> None:
    cards = [stock.position(index) for index in range(stock.per_sheet)]
    assert all(stock.paper.holds(card) for card in cards)
    assert not any(one.meets(other) for one, other in combinations(cards, 2))


@named
def test_what_is_printed_at_the_edge_of_the_paper_can_be_printed(stock: Stock) -> None:
    # 4 mm: the widest margin of usual office printers (common practice, no source).
    if stock.footer is not None:
        assert stock.paper.shrunk(3.8).holds(stock.footer)
        reach = 4.0 if stock.cut else 0.0  # a cut mark of 3 mm, 1 mm off the card
        first, last = stock.position(0), stock.position(stock.per_sheet - 1)
        assert min(first.x, first.y) - reach >= 3.4
        assert stock.paper_width - last.right - reach >= 3.4


@named
def test_a_hole_that_is_punched_leaves_4_mm(stock: Stock) -> None:
    if stock.hole is None or not stock.hole.marked:
        return
    hole = stock.hole
    assert hole.diameter == 5.0
    gaps = (hole.x, hole.y, stock.card_width - hole.x, stock.card_height - hole.y)
    assert min(gaps) - hole.diameter / 2 >= 4.0 - 1e-9


def test_the_hole_of_the_shipping_tag_is_in_its_narrow_end() -> None:
    stock = shipped().stocks["shipping-tag-5"]
    assert stock.hole is not None
    assert stock.hole.y == pytest.approx(stock.card_height / 2)
    assert stock.hole.x < stock.card_width / 4


def test_the_roll_has_whole_dots_and_black_only() -> None:
    stock = shipped().stocks["roll-50x75"]
    assert stock.dot == pytest.approx(0.125)  # 8 dots a millimetre
    assert stock.card_width / stock.dot == pytest.approx(400)
    assert stock.card_height / stock.dot == pytest.approx(600)
    assert not stock.coloured


def test_positions_go_row_by_row() -> None:
    stock = shipped().stocks["id-1-letter"]
    assert [stock.position(i).x for i in (0, 1, 2, 3)] == pytest.approx(
        [26.98, 26.98 + 53.98, 26.98 + 2 * 53.98, 26.98]
    )
    assert math.isclose(stock.position(3).y, 7.5 + 85.6)
