"""The drawing of a joint: every line begins at words and ends in the one dot."""

from __future__ import annotations

import pytest

from cardgen import fonts
from cardgen.layout.geometry import Frame, frame
from cardgen.layout.items import Item, Page, Ring, Segment, Strokes, Swatch, TextLine
from cardgen.layout.splices import BESIDE, DOT, LINE
from tests.layout.cards import pages, splice, splice_card

CASES = [(leads, onward) for leads in range(8) for onward in (False, True) if leads or onward]
case = pytest.mark.parametrize(("leads", "onward"), CASES)


def drawn(leads: int, onward: bool) -> Page:
    (page,) = pages(splice_card(splice(leads, onward=onward)), stock="half-letter")
    return page


def dot_of(page: Page) -> Ring:
    (dot,) = [item for item in page.items if isinstance(item, Ring)]
    return dot


def wires(page: Page) -> list[Segment]:
    """The lines of the drawing; rules and marks are thinner."""
    found = [i for i in page.items if isinstance(i, Strokes) and i.width == LINE]
    return [segment for item in found for segment in item.segments]


@case
def test_everything_hangs_together_at_the_dot(leads: int, onward: bool) -> None:
    """From the dot every line is reached, through other lines' ends or points along them."""
    page = drawn(leads, onward)
    dot, left = dot_of(page), wires(page)
    reached: list[tuple[float, float]] = [(dot.x, dot.y)]
    while left:
        next_ = next((s for s in left if any(_touches(s, point) for point in reached)), None)
        assert next_ is not None, "a line that leads nowhere"
        left.remove(next_)
        steps = 200
        reached += [
            (
                next_.x1 + (next_.x2 - next_.x1) * n / steps,
                next_.y1 + (next_.y2 - next_.y1) * n / steps,
            )
            for n in range(steps + 1)
        ]


def _touches(segment: Segment, point: tuple[float, float]) -> bool:
    ends = ((segment.x1, segment.y1), (segment.x2, segment.y2))
    return any(abs(x - point[0]) < 0.2 and abs(y - point[1]) < 0.2 for x, y in ends)


@case
def test_as_many_lines_end_as_there_are_wires(leads: int, onward: bool) -> None:
    page = drawn(leads, onward)
    dot = dot_of(page)
    at_dot = [s for s in wires(page) if (dot.x, dot.y) in ((s.x1, s.y1), (s.x2, s.y2))]
    one_each = 1 if leads > BESIDE else leads  # many leads hang on one line
    assert len(at_dot) == 1 + onward + one_each


@case
def test_no_line_crosses_words_or_swatches(leads: int, onward: bool) -> None:
    page = drawn(leads, onward)
    for segment in wires(page):
        for n in range(101):
            x = segment.x1 + (segment.x2 - segment.x1) * n / 100
            y = segment.y1 + (segment.y2 - segment.y1) * n / 100
            point = frame(x - 0.05, y - 0.05, 0.1, 0.1)
            for item in page.items:
                at = _extent(item)
                assert at is None or not at.meets(point), item


def _extent(item: Item) -> Frame | None:
    match item:
        case TextLine():
            wide = fonts.width(item.text, item.weight) * item.capital
            return frame(item.x, item.y - item.capital, wide, item.capital)
        case Swatch():
            return item.frame
        case _:
            return None


def test_in_at_the_left_out_at_the_right_leads_below() -> None:
    page = drawn(2, True)
    dot = dot_of(page)
    at = {item.text: item for item in page.items if isinstance(item, TextLine)}
    assert at["A-K1 red RD"].x < dot.x < at["A-S1 blue BU (A7)"].x
    assert at["A-K1 red RD"].y < at["A7a"].y and at["A7a"].y == at["A7b"].y
    assert at["A7a"].x < dot.x < at["A7b"].x + 20
    assert at["from A, 18 AWG"].y > at["A-K1 red RD"].y


def test_the_dot_is_full() -> None:
    dot = dot_of(drawn(1, False))
    assert dot.width == dot.diameter == DOT  # the line reaches to the middle
