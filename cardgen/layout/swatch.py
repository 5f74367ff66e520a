"""Turn a conductor into a picture of its insulation: outline, color, pattern, tracer stripe.

```
+--------------------------+
| pattern of the base      |
|--------------------------|   a tracer stripe runs along the middle third,
| pattern of the stripe    |   set off by a white gap and two rules
|--------------------------|
|                          |
+--------------------------+
```
On a printer of one color only the patterns are drawn: no gray stands for a hue.
"""

from __future__ import annotations

from functools import lru_cache

from cardgen.asbuilt import ConductorMark
from cardgen.layout.geometry import Frame, Mm, frame, on_dots
from cardgen.layout.items import BLACK, WHITE, Fill, Outline, Part, Segment, Strokes, Swatch
from cardgen.layout.patterns import DOT, PATTERNS
from cardgen.trade.colors import COLORS

OUTLINE = Mm(0.375)  # 3 dots at 8 dots/mm; thin enough for a swatch of 3 mm
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


@lru_cache(maxsize=4_000)
def swatch(mark: ConductorMark, at: Frame, *, colored: bool, dot_mm: float = 0) -> Swatch:
    """The picture of a conductor that fills a frame."""
    parts: list[Part] = [*_field(mark.base, at, at, colored, dot_mm)]
    if mark.stripe:
        parts += _stripe(mark.stripe, at, colored, dot_mm)
    parts.append(Outline(frame=at, width=OUTLINE))
    shows = f"{mark.base}/{mark.stripe}" if mark.stripe else mark.base
    return Swatch(frame=at, shows=shows, parts=tuple(parts))


def _stripe(color: str, at: Frame, colored: bool, dot: float) -> list[Part]:
    top = on_dots(at.y + at.height * 0.30, dot)
    bottom = on_dots(at.y + at.height * 0.70, dot)
    band = frame(at.x, top, at.width, bottom - top)
    gap = frame(at.x, top - 2 * LINE, at.width, band.height + 4 * LINE)
    edges = Strokes(
        width=LINE,
        segments=tuple(
            Segment(x1=at.x, y1=Mm(y), x2=at.right, y2=Mm(y))
            for y in (band.y + LINE / 2, band.bottom - LINE / 2)
        ),
    )
    return [Fill(frame=gap, ink=WHITE), *_field(color, band, at, colored, dot), edges]


def _field(color: str, at: Frame, whole: Frame, colored: bool, dot: float) -> list[Part]:
    """Color and pattern; the scale of the pattern is that of the whole swatch."""
    ground = COLORS[color].rgb if colored else WHITE
    if color == "black":
        return [Fill(frame=at, ink=BLACK)]
    parts: list[Part] = [Fill(frame=at, ink=ground)] if ground != WHITE else []
    pattern = PATTERNS.get(color)
    if pattern is None:
        return parts
    pitch = on_dots(min(max(whole.height / 5, 0.75), 1.25), dot)
    ink = max((BLACK, WHITE), key=lambda other: contrast(ground, other))
    # Ends of slanted lines stay under the outline.
    segments = tuple(pattern(at.shrunk(0.75 * LINE), pitch))
    width = Mm(max(DOT * pitch, LINE)) if color == "yellow" else LINE
    return [*parts, Strokes(segments=segments, width=on_dots(width, dot), ink=ink)]
