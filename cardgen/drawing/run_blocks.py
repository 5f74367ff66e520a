"""Turn a home run into blocks from top to bottom: each a stretch of cable and the box it leads to.

```
   |  A-K1 · 85 ft   7 × 18 AWG, for A1 to A6         stretch
+--+------------------------------------------+
|  |  VB-1   front walk · 10 in round         |       box
|  +--[///] red RD   terminal 1   valve A1    |
+--+------------------------------------------+
   |
   +------+  A-S2 · 60 ft                             a tee: the next trunk, further in
   |      |
```
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cardgen.drawing.branching import depth_of, parted
from cardgen.drawing.drawing_parts import BoxLine, BoxOnRun, CableRun, HomeRun, LineKind, RunLeg
from cardgen.drawing.plain_outline import stretch_in_words
from cardgen.drawing.rows import (
    BETWEEN,
    CAPITAL,
    Columns,
    SetLine,
    block,
    columns_for,
    row,
)
from cardgen.drawing.shapes import (
    BOX_ID,
    CONTROLLER_ID,
    FRAME,
    HEAVY,
    INSET,
    PADDING,
    SEAM,
    TRUNK,
    WIRE,
    DrawnBlock,
    right_of,
    segment,
    stroke,
    title,
    verticals,
)
from cardgen.fonts import Weight
from cardgen.layout.geometry import frame
from cardgen.layout.items import Item, Outline, Strokes, all_moved
from cardgen.layout.setting import Placed
from cardgen.problems import Problem, Span
from cardgen.words import Said, Text, printed

MOST_INDENT, INDENT = 48.0, 12.0  # mm; of all tees together, of one


@dataclass(frozen=True, slots=True, kw_only=True)
class _Under:
    """What a run hangs on: the trunks beside it by x and cable, and whether it is a tee."""

    depth: int
    open: tuple[tuple[float, str], ...] = ()
    tee: bool = False


class Maker:
    """Makes the blocks of one home run for a field of that width and height."""

    def __init__(self, home: HomeRun, size: tuple[float, float], problems: list[Problem]) -> None:
        self.home, self.problems = home, problems
        self.width, self.height = size
        pairs = [(line, home.run.cable) for line in home.lines]
        for run in home.runs:
            pairs += [(line, run.cable) for stop in run.stops for line in stop.lines]
        self.columns: Columns = columns_for(p for p in pairs if p[0].kind is not LineKind.NOTE)
        self.indent = min(INDENT, MOST_INDENT / max(1, depth_of(home.run)))

    def blocks(self) -> list[DrawnBlock]:
        return [*self._controller(), *self._run(self.home.run, _Under(depth=0))]

    # -- the tree ------------------------------------------------------------------------------

    def _run(self, run: CableRun, under: _Under) -> Iterator[DrawnBlock]:
        """Each box, then what tees off there, then the run itself further down."""
        last = len(run.stops) - 1
        for index, stop in enumerate(run.stops):
            tees, onward = parted(stop, goes_on=index < last)
            here = under if not index else _Under(depth=under.depth, open=under.open)
            yield from self._stop(stop, run, here, index < last)
            for number, tee in enumerate(tees):
                beside = number < len(tees) - 1 or onward is not None or index < last
                trunk = ((self._x(under.depth), run.cable),) if beside else ()
                deeper = _Under(depth=under.depth + 1, open=(*under.open, *trunk), tee=True)
                yield from self._run(tee, deeper)
            if onward is not None:
                yield from self._run(onward, _Under(depth=under.depth, open=under.open))

    def _names(self, *cables: str) -> Text:
        return self.home.words.joined((self.home.title, *dict.fromkeys(cables)), " · ")

    def _x(self, depth: int) -> float:
        return INSET + depth * self.indent

    # -- controller and boxes ------------------------------------------------------------------

    def _controller(self) -> Iterator[DrawnBlock]:
        home = self.home
        rows = self._rows(home.lines, home.run.cable, 0)
        heading = self._title(home.title, home.about, home.run.span, 0, CONTROLLER_ID)
        says = ", ".join(part for part in (printed(home.title), home.about) if part)
        for number, some in enumerate(self._portions(rows, heading.height)):
            height, items = self._box(heading, some, 0, goes_on=True, heavy=True)
            yield DrawnBlock(
                height=height,
                items=items,
                says=says,
                level=1,
                trunks=(self._x(0),) if number else (),
                names=self._names(home.run.cable),
            )

    def _stop(
        self, stop: BoxOnRun, run: CableRun, under: _Under, more: bool
    ) -> Iterator[DrawnBlock]:
        rows = self._rows(stop.lines, run.cable, under.depth)
        passing = tuple(x for x, _ in under.open)
        above = tuple(name for _, name in under.open)
        enters = self._x(under.depth - 1) if under.tee else self._x(under.depth)
        stretch = self._stretch(stop, under)
        heading = self._title(stop.title, stop.about, stop.span, under.depth, BOX_ID)
        spoken = (printed(stop.title), stop.about, stretch_in_words(stop.stretch))
        says = ", ".join(part for part in spoken if part)
        portions = self._portions(rows, stretch.height + heading.height)
        for number, some in enumerate(portions):
            if number:
                words = self.home.words("drawing.continued", names=stop.title)
                heading = self._title(words, "", stop.span, under.depth, BOX_ID)
                stretch = self._bare(under.depth)
                enters = self._x(under.depth)
            goes_on = more or number < len(portions) - 1
            high, items = self._box(heading, some, under.depth, goes_on=goes_on, heavy=False)
            height = stretch.height + high
            yield DrawnBlock(
                height=height,
                items=(
                    *verticals(passing, height),
                    *stretch.items,
                    *all_moved(items, 0, stretch.height),
                ),
                says=says,
                level=under.depth + 2,
                trunks=tuple(dict.fromkeys((*passing, enters))),
                names=self._names(*above, run.cable),
            )

    def _rows(self, lines: Sequence[BoxLine], cable: str, depth: int) -> list[SetLine]:
        width = self.width - self._x(depth) - INSET - PADDING
        return [row(line, cable, self.columns, width, self.problems) for line in lines]

    def _portions(self, rows: list[SetLine], taken: float) -> list[list[SetLine]]:
        """The rows of a box, in parts that a page holds."""
        portions: list[list[SetLine]] = [[]]
        room = self.height - taken - 3 * PADDING
        y = 0.0
        for each in rows:
            if portions[-1] and y + each.height > room:
                portions.append([])
                y = 0.0
            portions[-1].append(each)
            y += each.height + BETWEEN
        return portions

    def _title(self, words: Said, about: str, span: Span, depth: int, capital: float) -> Placed:
        width = self.width - self._x(depth) - INSET - PADDING
        return title(printed(words), about, span, width, capital, self.problems)

    def _box(
        self, heading: Placed, rows: Sequence[SetLine], depth: int, *, goes_on: bool, heavy: bool
    ) -> tuple[float, tuple[Item, ...]]:
        """The frame with its title, its rows and the wires that lead to them."""
        trunk, left = self._x(depth), self._x(depth) + INSET
        items: list[Item] = [*all_moved(heading.items, left, PADDING)]
        y = PADDING + heading.height + (2 * BETWEEN if rows else BETWEEN)
        rungs = []
        for each in rows:
            items += all_moved(each.items, left, y)
            if each.wired:
                rungs.append(y + each.middle)
            y += each.height + BETWEEN
        height = y + PADDING - BETWEEN
        at = frame(trunk - self._inset, 0, self.width - trunk + self._inset, height)
        shape: list[Item] = [Outline(frame=at, width=HEAVY if heavy else FRAME)]
        top = PADDING + heading.base if heavy else 0.0
        stop = height + SEAM if goes_on else max(PADDING + heading.base, *rungs, 0.0)
        shape.append(stroke(trunk, top, trunk, stop, TRUNK))
        if rungs:
            wires = tuple(segment(trunk, each, left - 0.8, each) for each in rungs)
            shape.append(Strokes(segments=wires, width=WIRE))
        return height, (*shape, *items)

    @property
    def _inset(self) -> float:
        return min(INSET, self.indent / 2)

    # -- between the boxes ---------------------------------------------------------------------

    def _stretch(self, stop: BoxOnRun, under: _Under) -> Placed:
        """The cable's name and length along its trunk, beside them what is in it."""
        trunk = self._x(under.depth)
        start = self._x(under.depth - 1) if under.tee else trunk
        words = _stretch_words(stop.stretch)
        left, top = trunk + INSET, 2.4
        width = self.width - left
        name = block(words[0], stop.span, width, self.problems, weight=Weight.BOLD, capital_mm=3.2)
        beside = left + right_of(name) + 4.0
        rest = block(
            words[1], stop.span, self.width - beside, self.problems,
            weight=Weight.MEDIUM, capital_mm=CAPITAL,
        )  # fmt: skip
        base = top + name.base
        height = max(top + name.height, base - rest.base + rest.height) + 2.4
        elbow = base - 1.6
        lines = [stroke(trunk, elbow if under.tee else 0.0, trunk, height, TRUNK)]
        if under.tee:
            lines.append(stroke(start, 0.0, start, elbow, TRUNK))
            lines.append(stroke(start - TRUNK / 2, elbow, trunk + TRUNK / 2, elbow, TRUNK))
        items = (
            *lines,
            *all_moved(name.items, left, top),
            *all_moved(rest.items, beside, base - rest.base),
        )
        return Placed(height=height, items=items)

    def _bare(self, depth: int) -> Placed:
        x = self._x(depth)
        return Placed(height=3.0, items=(stroke(x, 0.0, x, 3.0, TRUNK),))


def _stretch_words(stretch: RunLeg) -> tuple[str, str]:
    first = (stretch.cable, stretch.band, stretch.length)
    return (
        " · ".join(part for part in first if part),
        stretch.inside,
    )
