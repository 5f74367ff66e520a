r"""Turn joints into rows to tick: what is joined with what; of three and more also a drawing.

```
[ ] HOT A7                [////] A-K1 red RD          [////] A-S1 blue BU (A7)    a row: one with
1   connector: small             from A, 18 AWG              to VB-3, 14 AWG      one
------------------------------------------------------------------------------
[ ] COMMON A              [    ] A-K1 white WH ---#--- [    ] A-K1 white WH       a drawing: what
2   4 × 18 AWG                   from A, 18 AWG   #           to VB-2, 18 AWG     ends at the bar is
    connector: small                              #--- A1  factory lead, 18 AWG   in one connector
                                                  #--- A2  factory lead, 18 AWG
```
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Self

from cardgen.cards.card import Splice, Wire
from cardgen.fonts import Weight
from cardgen.layout.face import Align
from cardgen.layout.fit import Setting
from cardgen.layout.geometry import Mm, frame
from cardgen.layout.items import Item, Outline, Segment, Strokes, all_moved
from cardgen.layout.pieces import Piece, Task
from cardgen.layout.setting import Placed, text_items
from cardgen.layout.titled_lists import THIN, ruled, titled
from cardgen.layout.wires import SWATCH, Side, fitted, side
from cardgen.light_dataclass import dataclass

BOX, BOX_LINE = 4.0, Mm(0.4)  # mm; to tick with a pencil (assumed)
AFTER_BOX, UNDER_BOX = 1.2, 0.8  # mm
TITLE = 29.6  # mm; what the joint is, connector
MIDDLE = 4.4  # mm; between what is joined and what it is joined with
TITLE_SIZE = 1.04  # of the title against a color word
PAST = 1.0  # mm; between a line and the words beside it
LINE, BAR = Mm(0.6), Mm(1.4)
ABOVE_BAR = 1.2  # mm; how far it reaches beyond its first and last line
PADDING = 0.25  # capital heights above and below a joint


@dataclass(frozen=True, slots=True, kw_only=True)
class JointGrid:
    """Where the parts of every joint begin, so that they stand under each other, in mm."""

    title: float
    first: float
    second: float
    wire_width: float

    @classmethod
    def of(cls, width_mm: float) -> Self:
        title = BOX + AFTER_BOX
        first = title + TITLE + AFTER_BOX
        wire_width = (width_mm - first - MIDDLE) / 2
        return cls(
            title=title, first=first, second=first + wire_width + MIDDLE, wire_width=wire_width
        )

    @property
    def bar(self) -> float:
        return self.second - MIDDLE / 2


def set_splices(task: Task) -> tuple[Piece, ...]:
    """A row for each joint."""
    pieces: list[Piece] = []
    assert isinstance(task.value, tuple)
    for splice in task.value:
        assert isinstance(splice, Splice)
        pieces.append(_splice(splice, task))
    return titled(pieces, task)


def _splice(splice: Splice, task: Task) -> Piece:
    grid = JointGrid.of(task.room.width)
    before, after = sides(splice)
    title = _title(splice, grid, task)
    left, right = (side(wires, grid.wire_width, task) for wires in (before, after))
    high = max(left.placed.height, right.placed.height)
    change = _change(splice, grid, high, task)
    above = PADDING * task.capital
    foot = above + max(BOX, title.height, high, change.height) + above

    def draw() -> Iterator[Item]:
        wires = (*left.placed.at(grid.first, 0), *right.placed.at(grid.second, 0))
        drawing = () if splice.straight else _drawing(left, right, grid)
        yield from all_moved((*title.items, *change.items, *wires, *drawing), 0, above)
        yield ruled(foot, task.room.width, THIN)

    return Piece.of(Placed(height=foot, draw=draw))


def sides(splice: Splice) -> tuple[tuple[Wire, ...], tuple[Wire, ...]]:
    """What comes in, and what it is joined with; where one is lacking, the first with the rest."""
    onward = (*splice.leaving, *splice.leads)
    if splice.arriving and onward:
        return splice.arriving, onward
    both = (*splice.arriving, *onward)
    return both[:1], both[1:]


def _title(splice: Splice, grid: JointGrid, task: Task) -> Placed:
    """A box to tick, the title, what takes the joint; a row's gauges stand with its wires."""
    wide = grid.first - AFTER_BOX - grid.title
    size, small = Mm(TITLE_SIZE * task.capital), task.small
    counts = "" if splice.straight and splice.connector else splice.counts
    number, _, what = splice.title.partition("  ")
    settings = [fitted(what, Weight.BOLD, wide, size, task)]
    settings += [
        fitted(text, Weight.MEDIUM, wide, small, task)
        for text in (counts, splice.connector)
        if text
    ]
    beneath_box = fitted(number, Weight.BOLD, BOX + AFTER_BOX, small, task)
    # Its first line is level with the color words beside it.
    tops = [(SWATCH[1] - task.capital) / 2 + task.capital - settings[0].above]
    for setting in settings:
        tops.append(tops[-1] + (_lines_height(setting) + 0.5 * small))

    def draw() -> Iterator[Item]:
        yield from _numbered_box(beneath_box)
        for setting, y in zip(settings, tops, strict=False):
            yield from all_moved(text_items(setting, width_mm=wide), grid.title, y)

    return Placed(height=max(tops[-1], BOX + UNDER_BOX + small), draw=draw)


def _numbered_box(number: Setting) -> Iterator[Item]:
    """To tick; beneath it the number, by which pigtails say where they lead."""
    yield Outline(frame=frame(0, 0, BOX, BOX), width=BOX_LINE)
    words = text_items(number, width_mm=BOX, align=Align.CENTER)
    yield from all_moved(words, 0, BOX + UNDER_BOX)


def _lines_height(setting: Setting) -> float:
    """What hangs below the last line reaches into the space that follows anyway."""
    return setting.height - setting.below


def _change(splice: Splice, grid: JointGrid, y: float, task: Task) -> Placed:
    """Beneath both colors; its height is from the top of the joint."""
    if not splice.change:
        return Placed(height=0.0)
    wide = task.room.width - grid.first
    setting = fitted(splice.change, Weight.BOLD, wide, task.small, task)
    y += 0.25 * task.capital
    return Placed(
        height=y + setting.height,
        draw=lambda: all_moved(text_items(setting, width_mm=wide), grid.first, y),
    )


def _drawing(left: Side, right: Side, grid: JointGrid) -> tuple[Item, ...]:
    """The bar is the connector: every wire ends at it."""
    levels = (*left.levels, *right.levels)
    top, bottom = min(levels) - ABOVE_BAR, max(levels) + ABOVE_BAR
    return (
        Strokes(segments=tuple(_lines(left, right, grid)), width=LINE),
        Strokes(segments=(_segment(grid.bar, top, grid.bar, bottom),), width=BAR),
    )


def _lines(left: Side, right: Side, grid: JointGrid) -> Iterator[Segment]:
    for level, reach in zip(left.levels, left.reaches, strict=True):
        yield _segment(grid.first + reach + PAST, level, grid.bar, level)
    for level in right.levels:
        yield _segment(grid.bar, level, grid.second - PAST, level)


def _segment(x1: float, y1: float, x2: float, y2: float) -> Segment:
    return Segment(x1=Mm(x1), y1=Mm(y1), x2=Mm(x2), y2=Mm(y2))
