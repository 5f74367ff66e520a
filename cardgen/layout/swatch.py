"""Turn a conductor into a picture of its insulation: outline, color, pattern, tracer stripe.

```
+----------------------------+
|  base     /   stripe   /   |   the base fills the swatch; a stripe is one broad band
|          /            /    |   across it, set off by two rules
|         /            /     |
|        /            / base |
+----------------------------+
```
On a printer of one color only the patterns are drawn: no gray stands for a hue.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from cardgen.asbuilt import ConductorMark
from cardgen.layout.geometry import Frame, Mm, on_dots
from cardgen.layout.items import (
    BLACK,
    WHITE,
    Fill,
    Outline,
    Part,
    Segment,
    Slope,
    Strokes,
    Swatch,
)
from cardgen.layout.patterns import DOT, PATTERNS, beside, in_frame
from cardgen.light_dataclass import replace
from cardgen.trade.colors import COLORS

OUTLINE = Mm(0.375)  # 3 dots at 8 dots/mm; thin enough for a swatch of 3 mm
UNDER = 0.75 * 0.25  # mm; ends of slanted lines stay that far inside, under the outline
STRIPE = 0.4  # of the width of a swatch: the stripe
GAP = 0.4  # mm; level from a stripe to the pattern of the base
LINE = Mm(0.25)  # 2 dots at 8 dots/mm; the thinnest that survives a thermal head (assumed)


def luminance(ink: str) -> float:
    """Relative luminance of sRGB, WCAG 2.2, definition of 'relative luminance'."""
    channels = (int(ink[i : i + 2], 16) / 255 for i in (1, 3, 5))
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2, definition of 'contrast ratio'."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def swatch(mark: ConductorMark, at: Frame, *, colored: bool, dot_mm: float = 0) -> Swatch:
    """The picture of a conductor that fills a frame."""
    return _picture(mark.base, mark.stripe, at, colored, dot_mm)


@lru_cache(maxsize=4_000)  # many conductors look alike, and cards have them at the same places
def _picture(base: str, stripe: str, at: Frame, colored: bool, dot: float) -> Swatch:
    ground = _ground(base, colored)
    parts: list[Part] = [Fill(frame=at, ink=ground)] if ground != WHITE else []
    pattern = tuple(_pattern(base, at, colored, dot))
    parts += _striped(pattern, stripe, at, colored, dot) if stripe else pattern
    parts.append(Outline(frame=at, width=OUTLINE))
    shows = f"{base}/{stripe}" if stripe else base
    return Swatch(frame=at, shows=shows, parts=tuple(parts))


def _striped(
    base: Iterable[Strokes], stripe: str, at: Frame, colored: bool, dot: float
) -> Iterator[Part]:
    """The pattern of the base, which keeps off the stripe, and the stripe."""
    slope = _stripe_slope(at, _ground(stripe, colored), dot)
    for part in base:
        left = beside(part.segments, slope, -at.right, -GAP)
        right = beside(part.segments, slope, slope.width + GAP, at.right)
        yield replace(part, segments=(*left, *right))
    yield slope
    for part in _pattern(stripe, at, colored, dot):
        yield replace(part, segments=tuple(beside(part.segments, slope, 0, slope.width)))
    yield Strokes(width=LINE, segments=tuple(_edges(slope, at)))


def _stripe_slope(at: Frame, ink: str, dot: float) -> Slope:
    """Rising at 45 degrees, steeper where the swatch is too narrow for that."""
    wide = on_dots(STRIPE * at.width, dot)
    run = on_dots(min(at.height, at.width - wide), dot)
    left = Mm(at.x + on_dots((at.width - wide - run) / 2, dot))
    return Slope(x1=Mm(left + run), y1=at.y, x2=left, y2=at.bottom, width=wide, ink=ink)


def _edges(slope: Slope, at: Frame) -> Iterator[Segment]:
    inside = at.shrunk(UNDER)
    for x in (0.0, slope.width):
        whole = Segment(x1=Mm(slope.x1 + x), y1=slope.y1, x2=Mm(slope.x2 + x), y2=slope.y2)
        yield from in_frame(inside, whole)


def _ground(color: str, colored: bool) -> str:
    if color == "black":
        return BLACK
    return COLORS[color].rgb if colored else WHITE


def _pattern(color: str, at: Frame, colored: bool, dot: float) -> Iterator[Strokes]:
    """Its lines all over a swatch; black and white have none."""
    pattern = PATTERNS.get(color)
    if pattern is None:
        return
    pitch = on_dots(min(max(at.height / 5, 0.75), 1.25), dot)
    ground = _ground(color, colored)
    ink = max((BLACK, WHITE), key=lambda other: contrast(ground, other))
    width = Mm(max(DOT * pitch, LINE)) if color == "yellow" else LINE
    lines = tuple(pattern(at.shrunk(UNDER), pitch))
    yield Strokes(segments=lines, width=on_dots(width, dot), ink=ink)
