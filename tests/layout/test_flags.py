"""Wire flags of the sample jobs: what is on them, and how far it keeps from cut, fold, neighbor."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import pytest

from cardgen import fonts
from cardgen.cards import CardKind
from cardgen.fonts import Weight
from cardgen.layout.geometry import Frame, frame
from cardgen.layout.items import Item, Page, Swatch, TextLine
from cardgen.layout.stock import Stock
from tests.jobs import SAMPLES
from tests.layout.samples import laid, layouts_in

FROM_CUT = 1.5  # mm; a cut by hand misses its mark by a millimeter (assumed)
APART = 2.0  # mm; between the name and what stands beside it (ours)
ON_DOT = 0.07  # mm; half a dot of 203 dpi, to which rolls round
STOCKS = ("flag-letter", "flag-a4", "flag-roll-203", "flag-roll-1x3in", "sleeve-roll-20x50")
LANGUAGES = (("en",), ("es",), ("en", "es"))
# All of them in all languages; of the largest job, 300 flags, one print.
CASES = [
    (name, stock, languages)
    for name in SAMPLES
    for stock in STOCKS
    for languages in LANGUAGES
    if name != "heron" or (stock, languages) == ("flag-letter", ("en", "es"))
]
case = pytest.mark.parametrize(("name", "stock", "languages"), CASES)


def sides(stock: Stock, page: Page) -> Iterator[tuple[Frame, list[tuple[Item, Frame]]]]:
    """Each side of each flag between cut and fold, with what lies on it."""
    found = [(item, at) for item in page.items if (at := _extent(item)) is not None]
    for number in range(len(page.cards)):
        card = stock.position(number)
        edges = (0.0, *stock.folds, card.width)
        pairs = list(zip(edges[::2], edges[1::2], strict=True)) if stock.folds else [edges]
        for left, right in pairs:
            side = frame(card.x + left, card.y, right - left, card.height)
            yield side, [(item, at) for item, at in found if side.meets(at)]


def _extent(item: Item) -> Frame | None:
    match item:
        case TextLine():
            low, high = fonts.ink(item.text, item.weight)
            wide = fonts.width(item.text, item.weight) * item.capital
            top = item.y - high * item.capital
            return frame(item.x, top, wide, (high - low) * item.capital)
        case Swatch():
            return item.frame
        case _:
            return None


@cache
def pages_of(name: str, stock: str, languages: tuple[str, ...]) -> tuple[Stock, tuple[Page, ...]]:
    done, problems = laid(name, CardKind.FLAG, stock, *languages)
    assert problems == ()
    return layouts_in(*languages).stocks[stock], done


@case
def test_nothing_is_near_a_cut_or_over_a_fold(
    name: str, stock: str, languages: tuple[str, ...]
) -> None:
    used, done = pages_of(name, stock, languages)
    for page in done:
        for side, items in sides(used, page):
            room = side.shrunk(FROM_CUT - ON_DOT)
            assert len(items) >= 3  # name, conductor, way
            for item, at in items:
                assert room.holds(at), (item, room)


@case
def test_the_name_stands_once_and_apart(name: str, stock: str, languages: tuple[str, ...]) -> None:
    used, done = pages_of(name, stock, languages)
    for page in done:
        for _, items in sides(used, page):
            heads = [at for item, at in items if _is_name(item)]
            assert 1 <= len(heads) <= 2  # a long one takes two lines
            beside = [at for item, at in items if isinstance(item, Swatch)]
            for one in heads:
                for other in beside:
                    under = one.bottom <= other.y + ON_DOT
                    assert under or one.right + APART - ON_DOT <= other.x, (one, other)


def _is_name(item: Item) -> bool:
    return isinstance(item, TextLine) and item.weight is Weight.HEAVY


def test_what_a_flag_says() -> None:
    """The first of larkspur by hand: station 1 of controller A is A-K1 red from there to VB-1."""
    used, (page, *_) = pages_of("larkspur", "flag-letter", ("en",))
    texts = [
        [item.text.replace("\u00a0", " ") for item, _ in items if isinstance(item, TextLine)]
        for _, items in sides(used, page)
    ]
    assert texts[0] == texts[1] == ["A1", "A-K1 red RD", "contr. A → VB-1"]
