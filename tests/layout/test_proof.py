"""The alignment sheet: true to size by a renderer not ours, moved by the offset, on every stock."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from cardgen.draw.pdf import pdf
from cardgen.layout.geometry import Frame, Mm
from cardgen.layout.items import BLACK, Fill, Outline, Page, Ring, Strokes, TextLine
from cardgen.layout.proof import instructions, measured_at, proof, rulers
from cardgen.layout.stock import Offset, Stock
from cardgen.words import english
from tests.for_each import for_each
from tests.layout.cards import PLACE, shipped
from tests.outside.pages import by_poppler

named = for_each("stock", shipped().stocks.values())


@named
def test_each_stock_has_a_proof_with_the_outline_of_every_card(stock: Stock) -> None:
    page = proof(stock)
    frames = [item.frame for item in page.items if isinstance(item, Outline)]
    assert all(stock.position(index) in frames for index in range(stock.per_sheet))
    across, down = rulers(stock)
    assert across >= 10
    assert down >= 0
    x, y = measured_at(stock)
    lines = [s for item in page.items if isinstance(item, Strokes) for s in item.segments]
    assert any(s.x1 == s.x2 == x for s in lines)
    assert any(s.y1 == s.y2 == y for s in lines)


@named
def test_the_hole_of_every_card_is_where_it_will_be_cut(stock: Stock) -> None:
    found = {(round(r.x, 6), round(r.y, 6)) for r in proof(stock).items if isinstance(r, Ring)}
    hole, places = stock.hole, [stock.position(index) for index in range(stock.per_sheet)]
    assert found == {(round(at.x + hole.x, 6), round(at.y + hole.y, 6)) for at in places if hole}


@named
def test_a_ruler_ends_where_its_last_centimeter_does(stock: Stock) -> None:
    """A tick for every millimeter and one at 0; the longest at each centimeter."""
    (x, y), (across, down) = measured_at(stock), rulers(stock)
    strokes = [item for item in proof(stock).items if isinstance(item, Strokes)]
    lines = max(strokes, key=lambda item: len(item.segments)).segments
    right = [s.x1 - x for s in lines if s.x1 == s.x2 and s.y1 == y and s.y2 < y + 4]
    below = [s.y1 - y for s in lines if s.y1 == s.y2 and s.x1 == x and s.x2 < x + 4]
    assert sorted(right) == pytest.approx(list(range(int(across) + 1)))
    assert sorted(below) == pytest.approx(list(range(int(down) + 1)))


@named
def test_the_number_of_a_card_is_in_a_corner_of_its_safe_area(stock: Stock) -> None:
    """A millimeter from its edge, where it is neither cut off nor far from the corner."""
    texts = [item for item in proof(stock).items if isinstance(item, TextLine)]
    for index in range(stock.per_sheet):
        at = stock.position(index).shrunk(stock.safe)
        (number,) = (
            t
            for t in texts
            if t.text == str(index + 1) and at.x < t.x < at.right and at.y < t.y < at.bottom
        )
        wide = sum(run.width for run in number.runs) * number.capital
        aside = min(number.x - at.x, at.right - number.x - wide)
        above = min(number.y - number.capital - at.y, at.bottom - number.y)
        assert (aside, above) == pytest.approx((1, 1))


@named
def test_the_number_of_a_card_is_at_its_lower_right_where_that_is_empty(stock: Stock) -> None:
    """Else at the upper right, else at the left, too; what is empty is seen in the picture."""
    page = proof(stock)
    cards = [stock.position(index).shrunk(stock.safe + 1) for index in range(stock.per_sheet)]
    numbers = [_number_on(page, at, str(index + 1)) for index, at in enumerate(cards)]
    dark = (replace(i, ink=BLACK) if isinstance(i, Fill) else i for i in page.items)
    rest = replace(page, own=tuple(i for i in dark if i not in numbers), placed=())
    picture = np.asarray(by_poppler(pdf([rest], title="", subject=""), dpi=127).convert("L"))
    for at, number in zip(cards, numbers, strict=True):
        wide = sum(run.width for run in number.runs) * number.capital
        tops = at.bottom - number.capital, at.y
        corners = [(x, y) for x in (at.right - wide, at.x) for y in tops]
        place = corners.index(min(corners, key=lambda c: _apart(c, number)))
        for x, y in corners[:place]:
            left, top = int(5 * (x - 0.5)), int(5 * (y - 0.5))  # 127 dpi: 5 pixels a millimeter
            right, bottom = int(5 * (x + wide + 0.5)), int(5 * (y + number.capital + 0.5))
            assert picture[top:bottom, left:right].min() < 200, (number.text, x, y)


def _number_on(page: Page, at: Frame, words: str) -> TextLine:
    texts = (item for item in page.items if isinstance(item, TextLine) and item.text == words)
    return next(
        t for t in texts if at.x - 0.1 <= t.x <= at.right and at.y <= t.y <= at.bottom + 0.1
    )


def _apart(corner: tuple[float, float], number: TextLine) -> float:
    return abs(corner[0] - number.x) + abs(corner[1] + number.capital - number.y)


@named
def test_no_line_runs_through_a_label(stock: Stock) -> None:
    page = proof(stock)
    texts = [item for item in page.items if isinstance(item, TextLine)]
    rest = replace(page, own=tuple(item for item in page.own if item not in texts))
    picture = np.asarray(by_poppler(pdf([rest], title="", subject=""), dpi=254).convert("L"))
    assert texts
    for text in texts:  # 254 dpi: 10 pixels a millimeter; so much of the ink as is surely inside
        wide = sum(run.width for run in text.runs) * text.capital
        top, left = round(10 * (text.y - text.capital)) + 1, round(10 * text.x) + 1
        behind = picture[top : round(10 * text.y), left : round(10 * (text.x + wide))]
        assert behind.size
        assert behind.min() > 200, text.text


def test_the_name_of_b_is_as_large_as_the_room_left_of_a_lets_it_be() -> None:
    """3 mm, a quarter of what is above it, or up to 0.8 mm before A: all our choice."""
    for stock in shipped().stocks.values():
        x, y = measured_at(stock)
        (name,) = (i for i in proof(stock).items if isinstance(i, TextLine) and i.text[:2] == "B ")
        free = x - name.x - name.capital * sum(run.width for run in name.runs)
        assert free >= 0.8 - 1e-6, stock.name
        assert name.capital == pytest.approx(min(3.0, y / 4)) or free == pytest.approx(0.8)


def _middle(shades: NDArray[np.float64]) -> float:
    """The middle of what is dark, in millimeters."""
    return float(np.flatnonzero(shades < 100).mean() + 0.5) / 10


@pytest.mark.parametrize(("dx", "dy"), [(0.0, 0.0), (0.5, -1.0)])
def test_the_lines_are_where_they_say(dx: float, dy: float) -> None:
    stock = replace(shipped().stocks["id-1-a4"], offset=Offset(span=PLACE, x=Mm(dx), y=Mm(dy)))
    picture = np.asarray(
        by_poppler(pdf([proof(stock)], title="", subject=""), dpi=254).convert("L")
    )
    # 254 dpi: 10 pixels a millimeter. A goes on below the cards, B begins left of them.
    below = picture[2_810:2_900].mean(axis=0)
    beside = picture[:, 60:190].mean(axis=1)
    assert _middle(below) == pytest.approx(20 + dx, abs=0.06)
    assert _middle(beside) == pytest.approx(20 + dy, abs=0.06)


def test_what_is_to_be_entered_counts_from_the_offset_that_is_there() -> None:
    stock = shipped().stocks["id-1-a4"]
    assert "x = 20 - that" in "".join(instructions(stock, english()))
    shifted = replace(stock, offset=Offset(span=PLACE, x=Mm(0.5), y=Mm(-1)))
    said = "".join(instructions(shifted, english()))
    assert "x = 20 - that + 0.5" in said
    assert "y = 20 - that - 1" in said
