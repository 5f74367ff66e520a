"""What a sheet carries besides its cards: cut and fold marks, holes, the stamp, the scale bar."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import field

from cardgen import fonts
from cardgen.fonts import Weight
from cardgen.layout.geometry import Frame, Mm
from cardgen.layout.items import Item, Ring, Segment, Strokes
from cardgen.layout.setting import line
from cardgen.layout.stock import Stock
from cardgen.light_dataclass import dataclass
from cardgen.words import Words, apart, english

HAIR = Mm(0.2)
MARK = 3.0  # mm; length of a cut mark
CLEAR = 1.0  # mm; between a cut mark and the cards
BAR = 50.0  # mm; long enough to measure with a pocket rule
BAR_LINE = Mm(0.3)
SMALL = 2.5  # mm; capitals of the stamp, 10 point letters at 2 ft: ANSI Z535.4-2011, Annex B


@dataclass(frozen=True, slots=True, kw_only=True)
class Stamp:
    """What every sheet says of itself, in the languages of `words`."""

    job_code: str
    revision: str
    site: str = ""
    words: Words = field(default_factory=english)

    def sheet(self, number: int, count: int) -> str:
        """`LARK-06 · rev 3 of 2026-03-14 · Larkspur Cottage · sheet 1 of 4`."""
        at = self.words("sheet.sheet", number=number, count=count)
        return apart((self.job_code, self.revision, self.site, at))

    def part(self, number: int, count: int) -> str:
        return self.words("sheet.part", number=number, count=count).printed

    @property
    def scale(self) -> str:
        return self.words("sheet.scale", long=f"{BAR:g} mm").printed


def cut_marks(stock: Stock) -> Strokes:
    """Ticks outside the grid, in line with every edge of the cards."""
    first, last = stock.position(0), stock.position(stock.per_sheet - 1)
    xs, ys = _edges(stock)
    rows = (first.y - CLEAR - MARK, last.bottom + CLEAR)
    columns = (first.x - CLEAR - MARK, last.right + CLEAR)
    segments = [_segment(x, y, x, y + MARK) for x in xs for y in rows]
    segments += [_segment(x, y, x + MARK, y) for y in ys for x in columns]
    return Strokes(segments=tuple(segments), width=HAIR)


def _edges(stock: Stock) -> tuple[list[float], list[float]]:
    frames = [stock.position(index) for index in range(stock.per_sheet)]
    xs = {round(x, 6) for at in frames for x in (at.x, at.right)}
    ys = {round(y, 6) for at in frames for y in (at.y, at.bottom)}
    return sorted(xs), sorted(ys)


def hole(stock: Stock) -> Iterator[Item]:
    """The outline of the hole with a cross at its middle, relative to the card."""
    if stock.hole is None or not stock.hole.marked:
        return
    at = stock.hole
    yield Ring(x=at.x, y=at.y, diameter=at.diameter, width=HAIR)
    cross = (
        _segment(at.x - 1, at.y, at.x + 1, at.y),
        _segment(at.x, at.y - 1, at.x, at.y + 1),
    )
    yield Strokes(segments=cross, width=HAIR)


def fold_marks(stock: Stock) -> Iterator[Item]:
    """A tick at the top and the bottom of the card for each fold."""
    if not stock.folds:
        return
    tick, high = 1.2, stock.card_height
    ends = ((0.0, tick), (high - tick, high))
    segments = tuple(_segment(x, a, x, b) for x in stock.folds for a, b in ends)
    yield Strokes(segments=segments, width=HAIR)


def footer(stock: Stock, words: str, scale: str) -> Iterator[Item]:
    """The stamp at the left, at the right (if `scale` says so) a bar of 50 mm unless scaled."""
    at = stock.footer
    if at is None:
        return
    y = at.bottom - 0.8
    yield line(words, Weight.BOLD, x_mm=at.x, y_mm=y, capital_mm=_shrunk(words, at, SMALL))
    if not scale:
        return
    yield scale_bar(at.right - BAR, y - 0.9, BAR)
    wide = fonts.width(scale, Weight.MEDIUM) * 2.0
    yield line(scale, Weight.MEDIUM, x_mm=at.right - wide, y_mm=y - 4.0, capital_mm=2.0)


def _shrunk(words: str, at: Frame, capital: float) -> float:
    """The site's name may be long: the stamp leaves the bar its room."""
    room = at.width - BAR - 6
    return min(capital, room / max(fonts.width(words, Weight.BOLD), 1.0))


def scale_bar(x_mm: float, y_mm: float, long_mm: float, *, upright: bool = False) -> Strokes:
    """A bar with a tick at every centimeter, to the right or downwards from a point.

    ```
    |   '   '   |    The outer ticks lie inside: from edge to edge it is as long as it says.
    ```
    """
    ticks = [(at, 1.0) for at in range(10, int(long_mm), 10)]
    ends = ((BAR_LINE / 2, 1.8), (long_mm - BAR_LINE / 2, 1.8))
    lines = [(0.0, 0.0, long_mm, 0.0)]
    lines += [(at, -high / 2, at, high / 2) for at, high in (*ends, *ticks)]
    if upright:
        lines = [(y1, x1, y2, x2) for x1, y1, x2, y2 in lines]
    segments = tuple(_segment(x_mm + a, y_mm + b, x_mm + c, y_mm + d) for a, b, c, d in lines)
    return Strokes(segments=segments, width=BAR_LINE)


def _segment(x1: float, y1: float, x2: float, y2: float) -> Segment:
    return Segment(x1=Mm(x1), y1=Mm(y1), x2=Mm(x2), y2=Mm(y2))
