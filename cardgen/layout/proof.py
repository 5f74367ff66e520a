"""A sheet that shows where a printer prints: outlines of the cards, rulers, two lines to measure.

```
+---------------------------------+
|   A|                            |     A, B: lines at a round distance from the paper's edges.
|    |  +-----------+ +--------+  |     What is measured less than that is the offset to enter.
| B--+--------------------------  |
|    |  | 1         | | 2      |  |     ruler: 100 mm, or what the paper has room for
|    |  +-----------+ +--------+  |
+---------------------------------+
```
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from cardgen import fonts
from cardgen.fonts import Weight
from cardgen.layout.furniture import HAIR, cut_marks, fold_marks
from cardgen.layout.geometry import NOTHING, Frame, Mm, frame
from cardgen.layout.items import (
    WHITE,
    Fill,
    Item,
    Outline,
    Page,
    Ring,
    Segment,
    Strokes,
    TextLine,
    all_moved,
)
from cardgen.layout.setting import line
from cardgen.layout.stock import Stock
from cardgen.words import Words, english

MARGIN = 5.0  # mm; nearer to the edge many office printers print nothing (common practice)
RULER = 100.0  # mm
CAPITAL = 2.5  # mm; ANSI Z535.4-2011, Annex B: 10 point at 2 ft
LEAST = 1.4  # mm; smaller words would only be a smear, so they are left out
_STEPS = ("title", "full size", "ruler", "ruler off", "measure a", "measure b")
_TOLD = (*_STEPS, "enter in file", "enter on desk", "now")
_IN_FILE = "   offset: {x: ... mm, y: ... mm}"
PITCH = 1.9  # line to line, in capitals


def proof(stock: Stock, words: Words | None = None, *, on_desk: bool = False) -> Page:
    """The alignment sheet of a stock, moved by its offset like every print on it.

    What is measured lies over the cards, and no label on a line: where cards would run through
    one, it has white beneath it.
    """
    cards: list[Item] = [cut_marks(stock)] if stock.cut else []
    for index in range(stock.per_sheet):
        cards += _card(stock, index)
    lines = [*_measured(stock), *_rulers(stock)]
    labels = [*_labels(stock), *_ruler_numbers(stock)]
    told = list(_told(stock, instructions(stock, words or english(), on_desk=on_desk)))
    taken = [item.frame for item in told if isinstance(item, Fill)]
    labels += _numbers(stock, [*map(_ink, labels), *_lengths(lines), *_holes(stock), *taken])
    items = [*cards, *(_ground(label) for label in labels), *lines, *labels, *told]
    if stock.offset is not None:
        items = list(all_moved(items, stock.offset.x, stock.offset.y))
    return Page(
        width=stock.paper_width, height=stock.paper_height, own=tuple(items), turn=stock.turn
    )


def _ink(label: TextLine) -> Frame:
    wide = sum(run.width for run in label.runs) * label.capital
    return frame(label.x, label.y - label.capital, wide, label.capital)


def _ground(label: TextLine) -> Fill:
    return Fill(frame=_ink(label).shrunk(-0.3), ink=WHITE)


def _holes(stock: Stock) -> Iterator[Frame]:
    for at in map(stock.position, range(stock.per_sheet)):
        if stock.hole is not None:
            yield stock.hole.frame.moved(at.x, at.y)


def _lengths(lines: Iterable[Strokes]) -> Iterator[Frame]:
    for s in (s for line_ in lines for s in line_.segments):
        yield frame(s.x1, s.y1, s.x2 - s.x1, s.y2 - s.y1).shrunk(-0.2)


def measured_at(stock: Stock) -> tuple[float, float]:
    """How far A and B should be from the left and the top edge of the paper."""
    return _round(stock.paper_width), _round(stock.paper_height)


def _round(length: float) -> float:
    """20 mm, on a narrow paper 10 or 5."""
    return next((at for at in (20.0, 10.0) if at <= length / 3), 5.0)


def _segment(x1: float, y1: float, x2: float, y2: float) -> Segment:
    return Segment(x1=Mm(x1), y1=Mm(y1), x2=Mm(x2), y2=Mm(y2))


def _card(stock: Stock, index: int) -> Iterator[Item]:
    """Its edge, the safe area inside and its hole."""
    at = stock.position(index)
    yield Outline(frame=at, width=HAIR)
    if stock.safe > NOTHING:
        yield Outline(frame=at.shrunk(stock.safe), width=Mm(0.1))
    if stock.hole is not None:
        hole = stock.hole
        yield Ring(x=Mm(at.x + hole.x), y=Mm(at.y + hole.y), diameter=hole.diameter, width=HAIR)
    yield from all_moved(fold_marks(stock), at.x, at.y)


def _numbers(stock: Stock, taken: Sequence[Frame]) -> Iterator[TextLine]:
    """The number of each card as `--start` counts, in a corner where nothing else is."""
    for index in range(stock.per_sheet):
        at = stock.position(index).shrunk(stock.safe + 1)
        capital = min(5.0, at.height / 5)
        words = str(index + 1)
        wide = fonts.width(words, Weight.BOLD) * capital
        places = [(x, y) for x in (at.right - wide, at.x) for y in (at.bottom, at.y + capital)]
        made = [line(words, Weight.BOLD, x_mm=x, y_mm=y, capital_mm=capital) for x, y in places]
        free = (one for one in made if not any(_ink(one).meets(other) for other in taken))
        yield next(free, made[0])


def _measured(stock: Stock) -> Iterator[Strokes]:
    """The lines A and B; each stops where the ruler of the other way begins."""
    x, y = measured_at(stock)
    margin = _margin(stock)
    segments = (
        _segment(x, margin, x, stock.paper_height - margin),
        _segment(margin, y, stock.paper_width - margin, y),
    )
    yield Strokes(segments=segments, width=Mm(0.3))


def _margin(stock: Stock) -> float:
    x, y = measured_at(stock)
    return min(MARGIN, x / 3, y / 3)


def _labels(stock: Stock) -> Iterator[TextLine]:
    """Beside A, and over the left end of B, where A is not reached."""
    x, y = measured_at(stock)
    margin = _margin(stock)
    capital = min(3.0, y / 4)
    yield line(f"A {x:g} mm", Weight.BOLD, x_mm=x + 1, y_mm=margin + capital, capital_mm=capital)
    words = f"B {y:g} mm"
    capital = min(capital, (x - margin - 0.8) / fonts.width(words, Weight.BOLD))
    yield line(words, Weight.BOLD, x_mm=margin, y_mm=y - 0.8, capital_mm=capital)


def rulers(stock: Stock) -> tuple[float, float]:
    """How long the rulers are to the right and downwards."""
    x, y = measured_at(stock)
    across = min(RULER, 10 * ((stock.paper_width - x - 3) // 10))
    return across, min(RULER, 10 * ((stock.paper_height - y - 3) // 10))


def _rulers(stock: Stock) -> Iterator[Strokes]:
    """From A to the right and from B downwards, in millimeters."""
    x, y = measured_at(stock)
    across, down = rulers(stock)
    ticks = [_segment(x + n, y, x + n, y + _tick(n)) for n in range(int(across) + 1)]
    ticks += [_segment(x, y + n, x + _tick(n), y + n) for n in range(int(down) + 1)]
    yield Strokes(segments=tuple(ticks), width=Mm(0.15))


def _ruler_numbers(stock: Stock) -> Iterator[TextLine]:
    x, y = measured_at(stock)
    across, down = rulers(stock)
    for n in range(10, int(across) + 1, 10):
        yield line(str(n), Weight.MEDIUM, x_mm=x + n + 0.4, y_mm=y + 4.6, capital_mm=LEAST)
    for n in range(10, int(down) + 1, 10):
        yield line(str(n), Weight.MEDIUM, x_mm=x + 3.2, y_mm=y + n - 0.4, capital_mm=LEAST)


def _tick(millimeter: int) -> float:
    return 3.0 if millimeter % 10 == 0 else 2.2 if millimeter % 5 == 0 else 1.4


def instructions(stock: Stock, words: Words, *, on_desk: bool = False) -> tuple[str, ...]:
    """What to do with the printed sheet: the offset goes into the stock file, or into the desk."""
    x, y = measured_at(stock)
    across, _ = rulers(stock)
    now = stock.offset
    old = (now.x, now.y) if now else (0.0, 0.0)
    values = {
        "stock": stock.name,
        "ruler": f"{across:g}",
        "a": f"{x:g}",
        "b": f"{y:g}",
        "more_x": _more(old[0]),
        "more_y": _more(old[1]),
        "x": f"{old[0]:g}",
        "y": f"{old[1]:g}",
    }
    told = {key: words(f"proof.{key}", **values).printed for key in _TOLD}
    enter = (told["enter on desk"],) if on_desk else (told["enter in file"], _IN_FILE)
    return (*(told[key] for key in _STEPS), *enter, told["now"])


def _more(old: float) -> str:
    """What is entered already stays in the sum."""
    return f" {'-' if old < 0 else '+'} {abs(old):g}" if old else ""


def _told(stock: Stock, lines: Sequence[str]) -> Iterator[Item]:
    """As large as they fit beneath the rulers; none where they would be too small to read."""
    at = _room(stock)
    widest = max(fonts.width(each, Weight.MEDIUM) for each in lines)
    capital = min(CAPITAL, at.width / widest, at.height / (PITCH * len(lines)))
    if capital < LEAST:
        return
    # White beneath: the outlines of the cards would run through the words.
    high = PITCH * capital * len(lines)
    yield Fill(frame=frame(at.x - 1, at.y - 1, widest * capital + 2, high + 1), ink=WHITE)
    for number, each in enumerate(lines):
        y = at.y + capital + number * PITCH * capital
        weight = Weight.BOLD if number == 0 else Weight.MEDIUM
        yield line(each, weight, x_mm=at.x, y_mm=y, capital_mm=capital)


def _room(stock: Stock) -> Frame:
    x, y = measured_at(stock)
    left, top = x + 9, y + 8
    return frame(left, top, stock.paper_width - left - MARGIN, stock.paper_height - top - MARGIN)
