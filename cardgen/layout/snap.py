"""Move the edges of everything upright or level on to whole printer dots, for a roll printer.

A thermal head prints a dot or not: an edge between two dots makes lines of uneven width.
"""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.layout.geometry import NOTHING, Frame, Mm, frame, on_dots, whole_dots
from cardgen.layout.items import (
    Fill,
    Item,
    Outline,
    Part,
    Segment,
    Slope,
    Strokes,
    Swatch,
    Symbol,
    all_moved,
    moved_part,
)
from cardgen.layout.stock import Stock
from cardgen.light_dataclass import replace


def on_the_dots(items: Iterable[Item], stock: Stock) -> tuple[Item, ...]:
    """Whole dots from that corner of the paper which is the upper left one in the printer.

    ```
    turned by 90   (0, 0) of the card
    +-------------+                     a paper is rarely a whole number of dots long: what is
    |  <- y    .--| x                   over lies at the edge where the head begins
    +-------------+
    ```
    """
    found = snapped(items, stock.dot)
    dx = _over(stock.paper_width, stock.dot) if stock.turn in (180, 270) else 0.0
    dy = _over(stock.paper_height, stock.dot) if stock.turn in (90, 180) else 0.0
    return all_moved(found, dx, dy) if dx or dy else found


def _over(length: float, dot: float) -> float:
    return length - whole_dots(length, dot)


def snapped(items: Iterable[Item], dot_mm: float) -> tuple[Item, ...]:
    return tuple(_item(item, dot_mm) for item in items)


def _item(item: Item, dot: float) -> Item:
    match item:
        case Swatch():
            return _swatch(item, dot)
        case Symbol():
            return replace(item, x=on_dots(item.x, dot), y=on_dots(item.y, dot))
        case Fill() | Slope() | Outline() | Strokes():
            return _part(item, dot)
        case _:
            return item


def _swatch(item: Swatch, dot: float) -> Swatch:
    """Slanted lines move with the frame, so that a color looks alike wherever it is printed."""
    dx, dy = on_dots(item.frame.x, dot) - item.frame.x, on_dots(item.frame.y, dot) - item.frame.y
    parts = tuple(_part(moved_part(part, dx, dy), dot) for part in item.parts)
    return replace(item, frame=_frame(item.frame, dot), parts=parts)


def _part(part: Part, dot: float) -> Part:
    match part:
        case Fill():
            return replace(part, frame=_frame(part.frame, dot))
        case Slope():
            x1, y1, x2, y2 = (on_dots(at, dot) for at in (part.x1, part.y1, part.x2, part.y2))
            return replace(part, x1=x1, y1=y1, x2=x2, y2=y2, width=_width(part.width, dot))
        case Outline():
            return replace(part, frame=_frame(part.frame, dot), width=_width(part.width, dot))
        case Strokes():
            width = _width(part.width, dot)
            segments = tuple(_segment(s, width, dot) for s in part.segments)
            return replace(part, width=width, segments=segments)


def _width(width: float, dot: float) -> Mm:
    return max(on_dots(width, dot), Mm(dot))


def _frame(at: Frame, dot: float) -> Frame:
    x, y = on_dots(at.x, dot), on_dots(at.y, dot)
    return frame(x, y, on_dots(at.right, dot) - x, on_dots(at.bottom, dot) - y)


def _segment(s: Segment, width: float, dot: float) -> Segment:
    """A level or upright line: its edges on dots, so its middle perhaps half a dot off."""
    half = width / 2
    if abs(s.y1 - s.y2) < NOTHING:
        y = Mm(on_dots(s.y1 - half, dot) + half)
        return Segment(x1=on_dots(s.x1, dot), y1=y, x2=on_dots(s.x2, dot), y2=y)
    if abs(s.x1 - s.x2) < NOTHING:
        x = Mm(on_dots(s.x1 - half, dot) + half)
        return Segment(x1=x, y1=on_dots(s.y1, dot), x2=x, y2=on_dots(s.y2, dot))
    return s
