"""The shipped stock as numbers: paper, cards, holes, and that every card lies on the sheet."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from itertools import combinations

import pytest

from cardgen.cards import Card, CardKind, cards_of
from cardgen.layout import lay_out
from cardgen.layout.stock import Stock
from cardgen.problems import Problem
from tests.cards.printables import printable
from tests.for_each import for_each
from tests.jobs import sample
from tests.layout.cards import STAMP, cards_told, shipped
from tests.outside.tables import rows

SIZES = {row["name"]: (float(row["width"]), float(row["height"])) for row in rows("tag_sizes")}
A4, A5, A7 = SIZES["A4"], SIZES["A5"], SIZES["A7"]  # ISO 216
ID_1 = SIZES["ID-1"][::-1]  # ISO/IEC 7810, upright
LETTER = SIZES["ANSI A (Letter)"]  # from memory
HALF_LETTER = (LETTER[1] / 2, LETTER[0])
INCH = 25.4


def shipping_tag(number: int) -> tuple[float, float]:
    """Length and width, as it is fed; the list of a paper trade's sizes."""
    return SIZES[f"shipping tag #{number}"][::-1]


def test_the_list_of_shipping_tags_follows_its_rule() -> None:
    for n in range(1, 9):
        rule = ((2.75 + 0.5 * (n - 1)) * INCH, (1.375 + 0.25 * (n - 1)) * INCH)
        assert shipping_tag(n) == pytest.approx(rule)


PAPER = {
    **{f"{kind}-letter": LETTER for kind in ("id-1", "half", "a7")},
    **{f"{kind}-a4": A4 for kind in ("id-1", "half", "a7")},
    **{f"{kind}-letter": LETTER[::-1] for kind in ("flag", "legend", "sheet")},
    **{f"{kind}-a4": A4[::-1] for kind in ("flag", "legend", "sheet")},
    "id-1-a5": A5,
    "id-1-card": ID_1,
    "legend-letter-upright": LETTER,
    "legend-a4-upright": A4,
    "legend-a5-upright": A5,
    "legend-half-upright": HALF_LETTER,
    "legend-a5": A5[::-1],
    "legend-half-letter": HALF_LETTER[::-1],
    "roll-50x75": (50.0, 75.0),  # by its name, as the further rolls
    **{f"roll-50x75-{dpi}": (50.0, 75.0) for dpi in (300, 600)},
    **{f"roll-2x3in-{dpi}": (2 * INCH, 3 * INCH) for dpi in (203, 300, 600)},
    **{f"roll-3x4in-{dpi}": (3 * INCH, 4 * INCH) for dpi in (203, 300, 600)},
    **{f"flag-roll-{dpi}": (130.0, 13.5) for dpi in (203, 300, 600)},
    "flag-roll-1x3in": (3 * INCH, 1 * INCH),
    "sleeve-roll-20x50": (50.0, round(math.pi * 12.7 / 2, 1)),  # half the girth of its bore
    **{f"shipping-tag-{n}": shipping_tag(n) for n in (1, 2, 3, 4, 5, 6, 7, 8)},
}
STOCKS = tuple(shipped().stocks.values())
named = for_each("stock", STOCKS)


def test_these_are_shipped() -> None:
    assert set(shipped().stocks) == set(PAPER)


@named
def test_the_paper_has_its_standard_size(stock: Stock) -> None:
    assert (stock.paper_width, stock.paper_height) == pytest.approx(PAPER[stock.name], abs=0.01)


def test_cards_are_id_1() -> None:
    for stock in STOCKS:
        if stock.format == "ID-1":
            assert (stock.card_width, stock.card_height) == pytest.approx(ID_1), stock.name


def test_cards_are_a7() -> None:
    for name in ("a7-letter", "a7-a4"):
        stock = shipped().stocks[name]
        assert (stock.card_width, stock.card_height) == pytest.approx(A7)


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


@for_each("number", range(1, 9))
def test_the_hole_of_a_shipping_tag_is_in_its_narrow_end(number: int) -> None:
    stock = shipped().stocks[f"shipping-tag-{number}"]
    assert stock.hole is not None
    assert stock.hole.y == pytest.approx(stock.card_height / 2)
    assert stock.hole.x < stock.card_width / 4


ROLLS = [stock for stock in STOCKS if "roll" in stock.name]


@for_each("stock", ROLLS)
def test_a_roll_has_the_dots_of_its_head_and_black_only(stock: Stock) -> None:
    # Heads have 8, 12 or 24 dots a millimeter, which is sold as 203, 300 and 600 dpi.
    assert 1 / stock.dot == pytest.approx(round(1 / stock.dot))
    assert round(1 / stock.dot) in (8, 12, 24)
    assert not stock.colored
    assert stock.is_single


@named
def test_each_stock_has_a_face(stock: Stock) -> None:
    assert any(face.format == stock.format for face in shipped().faces)


@cache
def cards(name: str) -> dict[CardKind, Sequence[Card]]:
    kinds = (CardKind.VALVE_TAG, CardKind.BOX_TAG, CardKind.FLAG, CardKind.LEGEND)
    return dict(cards_of(printable(sample(name)), kinds))


def test_the_smallest_tags_take_what_fits_and_name_what_takes_the_rest() -> None:
    layouts = shipped()

    def laid(name: str, tag: int) -> tuple[set[str], tuple[Problem, ...]]:
        stock = layouts.stocks[f"shipping-tag-{tag}"]
        some = cards(name)[CardKind.VALVE_TAG]
        pages, problems = lay_out(some, layouts=layouts, stock=stock, stamp=STAMP)
        return {id for page in pages for id in page.cards}, problems

    assert laid("larkspur", 2)[1] == ()
    printed, problems = laid("quarry", 2)
    assert len(printed) == 25 and "MV-1" not in printed  # its cautions need a larger tag
    printed, problems = laid("heron", 2)
    assert len(printed) == 105  # the others have long areas and run with the pump
    assert all("it fits on" in problem.help for problem in problems)
    printed, problems = laid("heron", 1)
    assert printed == {f"D{n}" for n in range(1, 9)}  # what needs neither hot nor common
    assert len(problems) < 10  # of 110 tags: what is wrong with many is told once
    assert sum(cards_told(problem) for problem in problems) == 110
    for problem in problems:
        assert problem.code == "text-too-long"
        assert "it fits on 'a7-a4', 'id-1-a4'" in problem.help


def test_positions_go_row_by_row() -> None:
    stock = shipped().stocks["id-1-letter"]
    assert [stock.position(i).x for i in (0, 1, 2, 3)] == pytest.approx(
        [26.98, 26.98 + 53.98, 26.98 + 2 * 53.98, 26.98]
    )
    assert math.isclose(stock.position(3).y, 7.5 + 85.6)
