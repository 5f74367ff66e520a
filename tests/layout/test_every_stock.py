"""Every sample on every stock and face: what is printed keeps apart and inside, or is refused.

Judged by the items of the pages: letters by their ink, codes with their quiet zone, rules by their
lines, holes and safe areas as the stock has them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import numpy as np
import pytest
from numpy.typing import NDArray

from cardgen import fonts
from cardgen.cards import CardKind
from cardgen.layout.geometry import Frame, frame
from cardgen.layout.items import Item, Page, Strokes, Swatch, Symbol, TextLine
from cardgen.layout.stock import Stock
from tests.jobs import SAMPLES
from tests.layout.cards import cards_told, shipped, way_round
from tests.layout.samples import laid, sample_cards
from tests.layout.test_pages import extent

STOCKS = shipped().stocks
Boxes = NDArray[np.float64]  # left, top, right, bottom of each
TOUCH = 0.05  # mm; what touches does not overlap


# ---- geometry --------------------------------------------------------------------------------


def boxes(items: list[Frame]) -> Boxes:
    sides = [(at.x, at.y, at.right, at.bottom) for at in items]
    return np.array(sides, dtype=float).reshape(-1, 4)


def meeting(some: Boxes, others: Boxes) -> NDArray[np.bool_]:
    """Whether each of some shares more than an edge with each of the others."""
    one, other = some[:, None, :], others[None, :, :]
    apart = np.logical_or(
        one[..., :2] >= other[..., 2:] - TOUCH, other[..., :2] >= one[..., 2:] - TOUCH
    )
    return np.asarray(~np.any(apart, axis=2))


def inside(some: Boxes, areas: Boxes) -> NDArray[np.bool_]:
    """Whether each of some lies in any of the areas."""
    low = np.all(some[:, None, :2] >= areas[None, :, :2] - TOUCH, axis=2)
    high = np.all(some[:, None, 2:] <= areas[None, :, 2:] + TOUCH, axis=2)
    return np.asarray(np.any(np.logical_and(low, high), axis=1))


def lines(page: Page) -> Iterator[Frame]:
    """Level and upright rules; slanted ones are parts of joints and swatches."""
    for item in page.items:
        if isinstance(item, Strokes):
            for s in item.segments:
                left, top = min(s.x1, s.x2), min(s.y1, s.y2)
                wide, high, half = abs(s.x1 - s.x2), abs(s.y1 - s.y2), item.width / 2
                if high < 1e-6:  # ends are cut square, so a line is no longer than it is said
                    yield frame(left, top - half, wide, item.width)
                elif wide < 1e-6:
                    yield frame(left - half, top, item.width, high)


def named(item: Item) -> str:
    return item.text if isinstance(item, TextLine) else type(item).__name__.lower()


def words(item: Item) -> list[Frame]:
    """The ink of each word of a line: what hangs from one may reach beside one of the next line."""
    if not isinstance(item, TextLine):
        at = extent(item)
        return [at] if at else []
    found = []
    for word in re.finditer(r"\S+", item.text):
        left, right = (
            item.x + item.capital * fonts.width(item.text[:end], item.weight) for end in word.span()
        )
        low, high = (item.capital * reach for reach in fonts.ink(word[0], item.weight))
        found.append(frame(left, item.y - high, right - left, high - low))
    return found


def faults(page: Page, stock: Stock) -> list[str]:
    """What lies on something else, or where nothing may lie."""
    solid = [
        (item, at)
        for item in page.items
        if isinstance(item, TextLine | Swatch | Symbol) and (at := extent(item))
    ]
    whole = boxes([at for _, at in solid])
    found = []
    for pair in np.argwhere(np.triu(meeting(whole, whole), 1)):
        one, other = (solid[index][0] for index in pair)
        if meeting(boxes(words(one)), boxes(words(other))).any():
            found.append(f"{named(one)} on {named(other)}")
    rules = boxes(list(lines(page)))
    for one, _ in np.argwhere(meeting(whole, rules)):
        found.append(f"{named(solid[one][0])} on a rule")
    cards = [stock.position(index) for index in range(stock.per_sheet)]
    areas = [card.shrunk(stock.safe) for card in cards]
    if stock.footer is not None:
        areas.append(stock.footer.shrunk(-0.5))
    outside = np.flatnonzero(~inside(whole, boxes(areas)))
    found += [f"{named(solid[one][0])} outside the safe area" for one in outside]
    if stock.hole is not None:
        at = stock.hole.frame
        holes = boxes([at.moved(card.x, card.y) for card in cards])
        for one, _ in np.argwhere(meeting(whole, holes)):
            found.append(f"{named(solid[one][0])} on the hole")
    return found


def test_the_judge_sees_faults() -> None:
    stock = STOCKS["id-1-letter"]
    pages, _ = laid("larkspur", CardKind.VALVE_TAG, stock.name, "en")
    (page, *_) = pages
    assert faults(page, stock) == []
    text = next(item for item in page.items if isinstance(item, TextLine))
    symbol = next(item for item in page.items if isinstance(item, Symbol))
    assert stock.hole is not None
    hole = stock.hole.frame.moved(stock.left, stock.top)
    for x, y, fault in (
        (symbol.x, symbol.y + 5, f"{text.text} on symbol"),
        (stock.left + 0.5, stock.top + 50, f"{text.text} outside the safe area"),
        (hole.x, hole.bottom, f"{text.text} on the hole"),
    ):
        moved = TextLine(
            x=frame(x, y, 0, 0).x, y=frame(x, y, 0, 0).y, capital=text.capital,
            weight=text.weight, text=text.text, runs=text.runs,
        )  # fmt: skip
        rest = tuple(item for item in page.items if item is not text)
        spoilt = Page(width=page.width, height=page.height, own=(*rest, moved))
        assert any(f in (fault, f"symbol on {text.text}") for f in faults(spoilt, stock)), fault


# ---- every stock -----------------------------------------------------------------------------

# What has no room, and says so: by stock, kind and language, as the job has it.
REFUSED: dict[tuple[str, CardKind], str] = {
    ("shipping-tag-1", CardKind.VALVE_TAG): "en es en+es",
    ("shipping-tag-2", CardKind.VALVE_TAG): "en es en+es",
    ("shipping-tag-4", CardKind.VALVE_TAG): "en+es",
}
_REFUSING = {stock for (stock, _), languages in REFUSED.items() if "es" in languages.split()}
BOTH = "en+es"
_SMALL = ("larkspur", "sandpiper")


def _stands_for_its_cards(stock: Stock) -> bool:
    """Cards of one format and size are set alike wherever they are; coarse dots move most."""
    size = stock.format, stock.card_width, stock.card_height
    alike = [s for s in STOCKS.values() if (s.format, s.card_width, s.card_height) == size]
    return min(alike, key=lambda other: other.dots_per_inch) is stock


# Of quarry and heron, which have more cards, of the kinds that the others have, a stock of each
# size will do; so it will for Spanish, whose words are set on each size as the English ones are.
# Heron is in Spanish alone, whose words are longer, and on no stock that refuses tags and says of
# each one where there is room, as it does of the others'.
CASES = [
    *((name, stock, "en") for name in _SMALL for stock in STOCKS),
    *(
        (name, stock, language)
        for language in ("en", "es")
        for name in SAMPLES
        for stock in STOCKS
        if _stands_for_its_cards(STOCKS[stock])
        if name not in _SMALL or language != "en"
        if name != "heron" or (language == "es" and stock not in _REFUSING)
    ),
    *(
        (name, stock, BOTH)
        for name in _SMALL
        for stock in STOCKS
        if _stands_for_its_cards(STOCKS[stock])
    ),
]
WAY = re.compile(r"it fits on ('[-a-z0-9]+'(?:, '[-a-z0-9]+')*)")


@pytest.mark.parametrize(("name", "stock", "language"), CASES)
def test_what_is_printed_keeps_apart(name: str, stock: str, language: str) -> None:
    for kind, cards in sample_cards(name, *language.split("+")).items():
        if not cards or not shipped().face(kind, STOCKS[stock].format):
            continue
        pages, problems = laid(name, kind, stock, *language.split("+"))
        if language not in REFUSED.get((stock, kind), "").split():
            assert [each.sentence for each in problems] == []
        refused = sum(cards_told(problem) for problem in problems)
        assert sum(len(page.cards) for page in pages) >= len(cards) - refused
        for page in pages:
            assert faults(page, way_round(page, stock)) == []


@pytest.mark.parametrize(("stock", "kind"), REFUSED)
def test_what_has_no_room_is_refused_with_stock_that_has_it(stock: str, kind: CardKind) -> None:
    refused = 0
    for language in REFUSED[stock, kind].split():
        _, problems = laid("sandpiper", kind, stock, *language.split("+"))
        for problem in problems:
            refused += 1
            assert problem.code == "text-too-long"
            assert re.search(r"is \d+\.\d mm too (tall|wide|long)", problem.sentence)
            assert f"on '{stock}'" in problem.sentence
            found = WAY.search(problem.help)
            assert found, problem.help
            for other in found[1].replace("'", "").split(", "):
                _, still = laid("sandpiper", kind, other, *language.split("+"))
                assert problem.span not in [each.span for each in still]
    assert refused


def test_every_face_is_walked() -> None:
    formats = {stock.format for stock in STOCKS.values()}
    assert {face.format for face in shipped().faces} == formats
