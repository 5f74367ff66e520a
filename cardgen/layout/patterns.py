"""Turn an insulation color into a line pattern that tells it apart in black on white.

Red, blue, green and violet follow the hatching of heraldry as it has been engraved since the 17th
century (upright, level, falling, rising; common knowledge, no source); yellow its dots.  The other
patterns are ours: a lighter sister of a color is its pattern dashed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise

from cardgen.layout.geometry import NOTHING, Frame, Mm
from cardgen.layout.items import Segment, Slope

Pattern = Callable[[Frame, float], Iterator[Segment]]
DOT = 1 / 3  # of the pitch: the side of a dot


def upright(at: Frame, pitch_mm: float) -> Iterator[Segment]:
    for x in _steps(at.x, at.right, pitch_mm):
        yield _segment(x, at.y, x, at.bottom)


def level(at: Frame, pitch_mm: float) -> Iterator[Segment]:
    for y in _steps(at.y, at.bottom, pitch_mm):
        yield _segment(at.x, y, at.right, y)


def falling(at: Frame, pitch_mm: float) -> Iterator[Segment]:
    yield from _slanted(at, pitch_mm, 1)


def rising(at: Frame, pitch_mm: float) -> Iterator[Segment]:
    yield from _slanted(at, pitch_mm, -1)


def grid(at: Frame, pitch_mm: float) -> Iterator[Segment]:
    yield from upright(at, pitch_mm)
    yield from level(at, pitch_mm)


def lattice(at: Frame, pitch_mm: float) -> Iterator[Segment]:
    yield from falling(at, 1.15 * pitch_mm)
    yield from rising(at, 1.15 * pitch_mm)


def dashed(of: Pattern) -> Pattern:
    """The same lines in dashes; every second line starts half a period later."""
    dash, gap = 0.65, 0.55  # of the pitch: so short that a corner beside a stripe has several

    def pattern(at: Frame, pitch_mm: float) -> Iterator[Segment]:
        for index, whole in enumerate(of(at, pitch_mm)):
            yield from _dashes(whole, dash * pitch_mm, gap * pitch_mm, index % 2 / 2)

    return pattern


def dots(at: Frame, pitch_mm: float) -> Iterator[Segment]:
    """Square dots in staggered rows, as lines as long as they are wide."""
    size = DOT * pitch_mm
    step = 0.85 * pitch_mm
    for row, y in enumerate(_steps(at.y, at.bottom, 0.7 * pitch_mm)):
        for x in _steps(at.x - row % 2 * step / 2, at.right, step):
            yield from _within(at, x - size / 2, y, x + size / 2, y)


def plusses(at: Frame, pitch_mm: float) -> Iterator[Segment]:
    size, step = 0.8 * pitch_mm, 1.5 * pitch_mm
    for row, y in enumerate(_steps(at.y, at.bottom, 0.7 * step)):
        for x in _steps(at.x - row % 2 * step / 2, at.right, step):
            yield from _within(at, x - size / 2, y, x + size / 2, y)
            yield from _within(at, x, y - size / 2, x, y + size / 2)


def bricks(at: Frame, pitch_mm: float) -> Iterator[Segment]:
    courses = [at.y, *_steps(at.y, at.bottom, 1.25 * pitch_mm, 1.25 * pitch_mm), at.bottom]
    for row, (top, bottom) in enumerate(pairwise(courses)):
        if row:
            yield _segment(at.x, top, at.right, top)
        for x in _steps(at.x + (row % 2 - 0.5) * 1.1 * pitch_mm, at.right, 2.2 * pitch_mm):
            yield from _within(at, x, top, x, bottom)


def zigzags(at: Frame, pitch_mm: float) -> Iterator[Segment]:
    high, wide = 0.9 * pitch_mm, 0.9 * pitch_mm
    for y in _steps(at.y, at.bottom + high, 1.3 * pitch_mm):
        x, up = float(at.x), True
        while x < at.right:
            y1, y2 = (y, y - high) if up else (y - high, y)
            yield from _within(at, x, y1, x + wide, y2)
            x, up = x + wide, not up


def squares(at: Frame, pitch_mm: float) -> Iterator[Segment]:
    size, step = 0.8 * pitch_mm, 1.7 * pitch_mm
    for y in _steps(at.y, at.bottom, step):
        for x in _steps(at.x, at.right, step):
            a, b, c, d = x - size / 2, y - size / 2, x + size / 2, y + size / 2
            for edge in ((a, b, c, b), (c, b, c, d), (c, d, a, d), (a, d, a, b)):
                yield from _within(at, *edge)


# Black is solid and white is empty; they need no lines.
PATTERNS: dict[str, Pattern] = {
    "brown": lattice,
    "red": upright,
    "orange": bricks,
    "yellow": dots,
    "green": falling,
    "blue": level,
    "light-blue": dashed(level),
    "violet": rising,
    "gray": grid,
    "pink": dashed(upright),
    "gold": plusses,
    "turquoise": dashed(falling),
    "silver": squares,
    "tan": zigzags,
}


def in_frame(at: Frame, s: Segment) -> Iterator[Segment]:
    yield from _within(at, s.x1, s.y1, s.x2, s.y2)


def beside(
    segments: Iterable[Segment], slope: Slope, low_mm: float, high_mm: float
) -> Iterator[Segment]:
    """The parts of lines so far to the right of a slope's left edge; all are between its levels."""
    lean = (slope.x2 - slope.x1) / (slope.y2 - slope.y1)

    def from_left(x_mm: float, y_mm: float) -> float:
        return x_mm - slope.x1 - lean * (y_mm - slope.y1)

    for s in segments:
        first = from_left(s.x1, s.y1)
        change = from_left(s.x2, s.y2) - first
        sides = ((-change, first - low_mm), (change, high_mm - first))
        yield from _between(sides, s.x1, s.y1, s.x2, s.y2)


def _segment(x1: float, y1: float, x2: float, y2: float) -> Segment:
    return Segment(x1=Mm(x1), y1=Mm(y1), x2=Mm(x2), y2=Mm(y2))


def _steps(start: float, end: float, step: float, first: float | None = None) -> Iterator[float]:
    """Places strictly between start and end, the first half a step in."""
    place = start + (step / 2 if first is None else first)
    while place < end - 0.15 * step:
        yield place
        place += step


def _slanted(at: Frame, pitch: float, direction: int) -> Iterator[Segment]:
    """Lines at 45 degrees, `pitch` apart measured across them."""
    step = pitch * 2**0.5
    offset = at.x - at.height + step / 2
    while offset < at.right:
        y1, y2 = (at.y, at.bottom) if direction > 0 else (at.bottom, at.y)
        yield from _within(at, offset, y1, offset + at.height, y2)
        offset += step


def _within(at: Frame, x1: float, y1: float, x2: float, y2: float) -> Iterator[Segment]:
    """The part of a line inside the frame."""
    dx, dy = x2 - x1, y2 - y1
    sides = ((-dx, x1 - at.x), (dx, at.right - x1), (-dy, y1 - at.y), (dy, at.bottom - y1))
    yield from _between(sides, x1, y1, x2, y2)


def _between(
    sides: Iterable[tuple[float, float]], x1: float, y1: float, x2: float, y2: float
) -> Iterator[Segment]:
    """The part of a line that crosses no side (Liang and Barsky's clipping).

    Of each side: how much nearer the whole line comes to it, and how far its first end is off.
    """
    dx, dy = x2 - x1, y2 - y1
    enter, leave = 0.0, 1.0
    for change, room in sides:
        if abs(change) < NOTHING:
            if room < 0:
                return
        elif change < 0:
            enter = max(enter, room / change)
        else:
            leave = min(leave, room / change)
    if leave - enter > NOTHING:
        yield _segment(x1 + enter * dx, y1 + enter * dy, x1 + leave * dx, y1 + leave * dy)


def _dashes(whole: Segment, dash: float, gap: float, phase: float) -> Iterator[Segment]:
    dx, dy = whole.x2 - whole.x1, whole.y2 - whole.y1
    length = (dx * dx + dy * dy) ** 0.5
    start = -phase * (dash + gap)
    while start < length:
        a, b = max(start, 0.0), min(start + dash, length)
        if b - a > NOTHING:
            p, q = a / length, b / length
            yield _segment(
                whole.x1 + p * dx, whole.y1 + p * dy, whole.x1 + q * dx, whole.y1 + q * dy
            )
        start += dash + gap
