"""Turn a page of items into SVG text that stands by itself: the same page, the same text.

Text stays text, so that it can be searched, copied, enlarged and read aloud.  No font is embedded:
each line is told how long it must be, and whatever sans serif letter the reader has is fitted to
that length.  The picture asks for nothing from outside and runs nothing.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import groupby
from xml.sax.saxutils import quoteattr

from cardgen.fonts import Weight
from cardgen.layout.geometry import Frame
from cardgen.layout.items import (
    Fill,
    Group,
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

FONTS = "Arial, Helvetica, 'Liberation Sans', 'DejaVu Sans', sans-serif"
CAPITAL = 0.716  # of the font size, in the first of these fonts; from memory
_WEIGHTS = {Weight.MEDIUM: 500, Weight.BOLD: 700, Weight.HEAVY: 800, Weight.CODE: 500}
# What XML 1.0 allows in no way at all, section 2.2.
_FORBIDDEN = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def svg(page: Page, groups: Sequence[Group], *, title: str, language: str = "en") -> str:
    """The page in millimeters; its groups, in which all of its items are, as a list for readers."""
    assert tuple(item for group in groups for item in group.items) == page.items
    wide, high = _number(page.width), _number(page.height)
    root = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm"'
        f' viewBox="0 0 {wide} {high}" role="group" aria-label={_quoted(title)}'
        f' xml:lang={_quoted(language)} font-family="{FONTS}">'
    )
    lines = [
        root,
        f"<title>{_escaped(title)}</title>",
        f'<rect width="{wide}" height="{high}" fill="#FFFFFF" aria-hidden="true"/>',
        '<g role="list">',
    ]
    for group in groups:
        lines.append(
            f'<g role="listitem" aria-level="{group.level}" aria-label={_quoted(group.says)}>'
        )
        lines += _items(group.items)
        lines.append("</g>")
    return "\n".join((*lines, "</g>", "</svg>", ""))


def _items(items: Sequence[Item]) -> list[str]:
    """Text for all, shapes for those who see them, painted in their order."""
    lines: list[str] = []
    for is_text, some in groupby(items, key=lambda item: isinstance(item, TextLine)):
        drawn = [_item(item) for item in some]
        lines += drawn if is_text else ['<g aria-hidden="true">', *drawn, "</g>"]
    return lines


def _item(item: Item) -> str:
    match item:
        case TextLine():
            return _text(item)
        case Fill():
            return f'<rect {_rectangle(item.frame)} fill="{item.ink}"/>'
        case Slope():
            path = (
                f"M{_number(item.x1)} {_number(item.y1)}h{_number(item.width)}"
                f"L{_number(item.x2 + item.width)} {_number(item.y2)}h-{_number(item.width)}z"
            )
            return f'<path d="{path}" fill="{item.ink}"/>'
        case Outline():
            inner = item.frame.shrunk(item.width / 2)
            return f'<rect {_rectangle(inner)} fill="none" {_stroke(item.ink, item.width)}/>'
        case Strokes():
            path = "".join(
                f"M{_number(s.x1)} {_number(s.y1)}L{_number(s.x2)} {_number(s.y2)}"
                for s in item.segments
            )
            return f'<path d="{path}" fill="none" {_stroke(item.ink, item.width)}/>'
        case Ring():
            middle = f'cx="{_number(item.x)}" cy="{_number(item.y)}"'
            radius = f'r="{_number(item.diameter / 2)}"'
            return f'<circle {middle} {radius} fill="none" {_stroke(item.ink, item.width)}/>'
        case Swatch():
            return f"<g>{''.join(_item(part) for part in item.parts)}</g>"
        case Symbol():
            return _symbol(item)


def _text(item: TextLine) -> str:
    length = sum(run.width for run in item.runs) * item.capital
    ink = "" if item.ink == "#000000" else f' fill="{item.ink}"'
    return (
        f'<text x="{_number(item.x)}" y="{_number(item.y)}"'
        f' font-size="{_number(item.capital / CAPITAL)}" font-weight="{_WEIGHTS[item.weight]}"'
        f' textLength="{_number(length)}" lengthAdjust="spacingAndGlyphs"{ink}>'
        f"{_escaped(item.text)}</text>"
    )


def _symbol(item: Symbol) -> str:
    """A rectangle for each run of dark modules, a module being the unit."""
    runs = []
    for y, row in enumerate(item.rows):
        x = 0
        for dark, some in groupby(row):
            wide = len(tuple(some))
            if dark:
                runs.append(f"M{x} {y}h{wide}v1h-{wide}z")
            x += wide
    place = f"translate({_number(item.x)} {_number(item.y)}) scale({item.module:.6f})"
    return f'<path transform="{place}" d="{"".join(runs)}"/>'


def _rectangle(at: Frame) -> str:
    sizes = (("x", at.x), ("y", at.y), ("width", at.width), ("height", at.height))
    return " ".join(f'{name}="{_number(value)}"' for name, value in sizes)


def _stroke(ink: str, width: float) -> str:
    return f'stroke="{ink}" stroke-width="{_number(width)}"'


def _escaped(text: str) -> str:
    """As XML text; quotes too, so that it is never mistaken for the end of an attribute."""
    return _quoted(text)[1:-1]


def _quoted(text: str) -> str:
    clean = _FORBIDDEN.sub("\ufffd", text)
    return quoteattr(clean, {'"': "&quot;"})


def _number(value: float) -> str:
    """Thousandths of a millimeter, far below any printer's dot."""
    short = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if short in ("-0", "") else short
