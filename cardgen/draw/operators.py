"""Turn items into PDF page operators (ISO 32000-1:2008, 8.5 and 9.4): y upwards, in points.

Each function is told how high above the origin the top of what is drawn lies, in millimeters: the
height of a page, or 0 for a card, whose corner becomes the origin.  Each says its color and width
itself, so none needs the state that another one left.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import cache, lru_cache
from typing import Any, TypeAlias

from cardgen import fonts
from cardgen.fonts import GlyphRun
from cardgen.layout.geometry import Frame, points
from cardgen.layout.items import (
    Fill,
    Item,
    Outline,
    Page,
    Ring,
    Slope,
    Strokes,
    Swatch,
    Symbol,
    TextLine,
)

ARC = 0.5522847498  # control points of a quarter circle, 4/3 (sqrt 2 - 1)

PartOfRun: TypeAlias = tuple[str, str]  # letters as the file has them, by its font: `/F1+0`, `(A7)`
_DARK = re.compile(b"\x01+")
Encode: TypeAlias = Callable[[GlyphRun], tuple[PartOfRun, ...]]
# What neighboring cards share is the same item: its operators, by its identity.
MOST_KNOWN = 4_000
Known: TypeAlias = dict[int, tuple[Item, str]]


def page_content(page: Page, encode: Encode, known: Known) -> str:
    """All operators of a page; what is drawn on cards becomes known to the other pages."""
    if len(known) > MOST_KNOWN:
        known.clear()
    parts: list[str] = []
    for card in page.placed:
        parts.append(f"q 1 0 0 1 {_number(card.x)} {_number(page.height - card.y)} cm")
        parts += [_on_card(item, encode, known) for item in card.items]
        parts.append("Q")
    parts += _drawn(page.own, page.height, encode)
    return "\n".join(parts)


def _on_card(item: Item, encode: Encode, known: Known) -> str:
    found = known.get(id(item))
    if found is None:
        drawn = "\n".join(_drawn((item,), 0.0, encode))
        found = known[id(item)] = item, drawn  # kept, so that no other has its identity
    return found[1]


def _drawn(items: Iterable[Item], top_mm: float, encode: Encode) -> Iterable[str]:
    for item in items:
        if isinstance(item, TextLine):
            yield text_line(item, top_mm, encode)
        elif isinstance(item, Swatch):
            yield from _drawn(item.parts, top_mm, encode)
        else:
            yield _SHAPES[type(item)](item, top_mm)


def text_line(item: TextLine, top_mm: float, encode: Encode) -> str:
    """One text object a line, so that a reader extracts it as one line."""
    # Back to the corner first: else some readers take what lies beside it for the same line.
    steps = [filling(item.ink), "BT 1 0 0 1 0 0 Tm"]
    y = _number(top_mm - item.y)
    for run in item.runs:
        size = _font_size(run.font, item.capital)
        steps.append(f"1 0 0 1 {_number(item.x + run.offset * item.capital)} {y} Tm")
        steps += [f"{name} {size} Tf {string}Tj" for name, string in encode(run)]
    steps.append("ET")
    return " ".join(steps)


@lru_cache(maxsize=1_000)
def _font_size(font: str, capital: float) -> str:
    return _number(fonts.size(font, capital))


def fill(item: Fill, top_mm: float) -> str:
    return f"{filling(item.ink)} {_rectangle(item.frame, top_mm)} f"


def slope(item: Slope, top_mm: float) -> str:
    high, low = _number(top_mm - item.y1), _number(top_mm - item.y2)
    left, right = _number(item.x1), _number(item.x1 + item.width)
    lower_left, lower_right = _number(item.x2), _number(item.x2 + item.width)
    path = f"{left} {high} m {right} {high} l {lower_right} {low} l {lower_left} {low} l"
    return f"{filling(item.ink)} {path} f"


def outline(item: Outline, top_mm: float) -> str:
    inner = item.frame.shrunk(item.width / 2)
    return f"{_stroking(item.ink)} {_number(item.width)} w {_rectangle(inner, top_mm)} S"


def strokes(item: Strokes, top_mm: float) -> str:
    lines = " ".join(
        [
            f"{_number(s.x1)} {_number(top_mm - s.y1)} m {_number(s.x2)} {_number(top_mm - s.y2)} l"
            for s in item.segments
        ]
    )
    return f"{_stroking(item.ink)} {_number(item.width)} w {lines} S"


def ring(item: Ring, top_mm: float) -> str:
    r = item.diameter / 2
    x, y, k = item.x, top_mm - item.y, ARC * r
    curves = (
        ((x + r, y + k), (x + k, y + r), (x, y + r)),
        ((x - k, y + r), (x - r, y + k), (x - r, y)),
        ((x - r, y - k), (x - k, y - r), (x, y - r)),
        ((x + k, y - r), (x + r, y - k), (x + r, y)),
    )
    path = " ".join(
        " ".join(f"{_number(a)} {_number(b)}" for a, b in curve) + " c" for curve in curves
    )
    start = f"{_number(x + r)} {_number(y)} m"
    return f"{_stroking(item.ink)} {_number(item.width)} w {start} {path} s"


def symbol(item: Symbol, top_mm: float) -> str:
    """The dark modules as one path, a module being the unit: a rectangle for each run of a row."""
    module = f"{points(item.module):.6f}"
    x, y = _number(item.x), _number(top_mm - item.y)
    return f"q {module} 0 0 {module} {x} {y} cm 0 g {_runs(item.rows)} f Q"


_SHAPES: dict[type[Item], Callable[[Any, float], str]] = {
    Fill: fill,
    Slope: slope,
    Outline: outline,
    Strokes: strokes,
    Ring: ring,
    Symbol: symbol,
}


@lru_cache(maxsize=16)  # the cards of one box follow one another
def _runs(rows: tuple[bytes, ...]) -> str:
    return " ".join(
        [
            f"{run.start()} -{number} {run.end() - run.start()} 1 re"
            for number, row in enumerate(rows, 1)
            for run in _DARK.finditer(row)
        ]
    )


def _rectangle(at: Frame, top_mm: float) -> str:
    x, y = _number(at.x), _number(top_mm - at.bottom)
    return f"{x} {y} {_number(at.width)} {_number(at.height)} re"


@cache
def filling(ink: str) -> str:
    """The color of what is filled; black, white and gray in DeviceGray, so in black ink alone."""
    red, green, blue = (_short(int(ink[i : i + 2], 16) / 255) for i in (1, 3, 5))
    return f"{red} g" if red == green == blue else f"{red} {green} {blue} rg"


@cache
def _stroking(ink: str) -> str:
    """The same of lines; their operators are those of fillings in capitals (8.6.8)."""
    return filling(ink).upper()


@lru_cache(maxsize=2_000)
def _number(length: float) -> str:
    """Millimeters as points; a ten-thousandth of a point is far below any printer's dot."""
    return _short(points(length))


def _short(value: float) -> str:
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
