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

from cardgen.drawing.branching import depth_of, parted
from cardgen.drawing.drawing_parts import BoxLine, BoxOnRun, CableRun, HomeRun, LineKind, RunLeg
from cardgen.drawing.flow import FOOT
from cardgen.drawing.plain_outline import stretch_in_words
from cardgen.drawing.rows import BETWEEN, Columns, SetLine, columns_for, row
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
    Draw,
    DrawnBlock,
    again,
    headed,
    segment,
    stroke,
    title,
    verticals,
)
from cardgen.drawing.texts import CABLE, block
from cardgen.fonts import Weight
from cardgen.layout.geometry import frame
from cardgen.layout.items import Item, Outline, Strokes
from cardgen.layout.setting import Placed
from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem, Span
from cardgen.words import Said, printed

MOST_INDENT, INDENT = 24.0, 8.0  # mm; of all tees together, of one
BENEATH_TITLE = 2.4  # mm
AROUND = 1.5  # mm above and below what is said of a cable


@dataclass(frozen=True, slots=True, kw_only=True)
class _Under:
    """What a run hangs on: the trunks beside it by x and cable, and whether it is a tee."""

    depth: int
    open: tuple[tuple[float, str], ...] = ()
    tee: bool = False


class Maker:
    """Makes the blocks of one home run for columns of that width and height."""

    def __init__(
        self, home: HomeRun, width_mm: float, height_mm: float, problems: list[Problem]
    ) -> None:
        self.home, self.problems = home, problems
        self.width, self.height = width_mm, height_mm
        depth = depth_of(home.run)
        self.indent = min(INDENT, MOST_INDENT / max(1, depth))
        pairs = [(line, home.run.cable) for line in home.lines]
        for run in home.runs:
            pairs += [(line, run.cable) for stop in run.stops for line in stop.lines]
        lines = [pair for pair in pairs if pair[0].kind is not LineKind.NOTE]
        self.columns: Columns = columns_for(lines, self._room(depth))

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

    def _again(self, *cables: str) -> Placed:
        home = self.home
        names = home.words.joined((home.title, *dict.fromkeys(cables)), " · ")
        return again(names, home.words, home.run.span, self.width, self.problems)

    def _x(self, depth: int) -> float:
        return INSET + depth * self.indent

    def _room(self, depth: int) -> float:
        """The width of what stands in a box."""
        return self.width - self._x(depth) - INSET - PADDING

    # -- controller and boxes ------------------------------------------------------------------

    def _controller(self) -> Iterator[DrawnBlock]:
        home = self.home
        rows = self._rows(home.lines, home.run.cable, 0)
        above = self._again(home.run.cable)
        heading = self._title(home.title, home.about, home.run.span, 0, CONTROLLER_ID)
        says = ", ".join(part for part in (printed(home.title), home.about) if part)
        for number, some in enumerate(self._portions(rows, heading.height + above.height)):
            box = self._box(heading, some, 0, goes_on=True, heavy=True)
            yield DrawnBlock(
                height=box.height,
                draw=box.draw,
                says=says,
                level=1,
                trunks=(self._x(0),) if number else (),
                again=above,
            )

    def _stop(
        self, stop: BoxOnRun, run: CableRun, under: _Under, more: bool
    ) -> Iterator[DrawnBlock]:
        rows = self._rows(stop.lines, run.cable, under.depth)
        passing = tuple(x for x, _ in under.open)
        above = self._again(*(name for _, name in under.open), run.cable)
        enters = self._x(under.depth - 1) if under.tee else self._x(under.depth)
        stretch = self._stretch(stop, under)
        heading = self._title(stop.title, stop.about, stop.span, under.depth, BOX_ID)
        spoken = (printed(stop.title), stop.about, stretch_in_words(stop.stretch))
        says = ", ".join(part for part in spoken if part)
        portions = self._portions(rows, stretch.height + heading.height + above.height)
        for number, some in enumerate(portions):
            if number:
                words = self.home.words("drawing.continued", names=stop.title)
                heading = self._title(words, "", stop.span, under.depth, BOX_ID)
                stretch = self._bare(under.depth)
                enters = self._x(under.depth)
            goes_on = more or number < len(portions) - 1
            box = self._box(heading, some, under.depth, goes_on=goes_on, heavy=False)
            yield DrawnBlock(
                height=stretch.height + box.height,
                draw=_beside_trunks(passing, stretch, box),
                says=says,
                level=under.depth + 2,
                trunks=tuple(dict.fromkeys((*passing, enters))),
                again=above,
            )

    def _rows(self, lines: Sequence[BoxLine], cable: str, depth: int) -> list[SetLine]:
        width = self._room(depth)
        return [row(line, cable, self.columns, width, self.problems) for line in lines]

    def _portions(self, rows: list[SetLine], taken: float) -> list[list[SetLine]]:
        """The rows of a box, in parts that a column holds."""
        portions: list[list[SetLine]] = [[]]
        room = self.height - FOOT - taken - 2 * PADDING - BENEATH_TITLE
        y = 0.0
        for each in rows:
            if portions[-1] and y + each.placed.height > room:
                portions.append([])
                y = 0.0
            portions[-1].append(each)
            y += each.placed.height + BETWEEN
        return portions

    def _title(self, words: Said, about: str, span: Span, depth: int, capital: float) -> Placed:
        width = self._room(depth)
        name = title(words, span, width, capital, self.problems)
        return headed(name, about, span, width, self.problems)

    def _box(
        self, heading: Placed, rows: Sequence[SetLine], depth: int, *, goes_on: bool, heavy: bool
    ) -> Placed:
        """The frame with its title, its rows and the wires that lead to them."""
        trunk, left = self._x(depth), self._x(depth) + INSET
        tops = [PADDING + heading.height + BENEATH_TITLE]
        for each in rows:
            tops.append(tops[-1] + (each.placed.height + BETWEEN))
        height = tops[-1] + PADDING - BETWEEN

        def draw() -> Iterator[Item]:
            at = frame(trunk - self._inset, 0, self.width - trunk + self._inset, height)
            yield Outline(frame=at, width=HEAVY if heavy else FRAME)
            rungs = [y + each.middle for y, each in zip(tops, rows, strict=False) if each.wired]
            top = PADDING + heading.base if heavy else 0.0
            stop = height + SEAM if goes_on else max(PADDING + heading.base, *rungs, 0.0)
            yield stroke(trunk, top, trunk, stop, TRUNK)
            if rungs:
                wires = tuple(segment(trunk, y, left - 0.8, y) for y in rungs)
                yield Strokes(segments=wires, width=WIRE)
            yield from heading.at(left, PADDING)
            for y, each in zip(tops, rows, strict=False):
                yield from each.placed.at(left, y)

        return Placed(height=height, draw=draw)

    @property
    def _inset(self) -> float:
        return min(INSET, self.indent / 2)

    # -- between the boxes ---------------------------------------------------------------------

    def _stretch(self, stop: BoxOnRun, under: _Under) -> Placed:
        """The cable's name and length along its trunk, beside them what is in it."""
        trunk = self._x(under.depth)
        start = self._x(under.depth - 1) if under.tee else trunk
        leg, left = stop.stretch, trunk + INSET
        width = self.width - left
        name = block(
            _cable_words(leg), stop.span, width, self.problems, weight=Weight.BOLD, capital_mm=CABLE
        )
        placed = headed(name, leg.inside, stop.span, width, self.problems)
        base = AROUND + placed.base
        height = placed.height + 2 * AROUND
        elbow = base - 1.6

        def draw() -> Iterator[Item]:
            yield stroke(trunk, elbow if under.tee else 0.0, trunk, height, TRUNK)
            if under.tee:
                yield stroke(start, 0.0, start, elbow, TRUNK)
                yield stroke(start - TRUNK / 2, elbow, trunk + TRUNK / 2, elbow, TRUNK)
            yield from placed.at(left, AROUND)

        return Placed(height=height, draw=draw)

    def _bare(self, depth: int) -> Placed:
        x = self._x(depth)
        return Placed(height=3.0, draw=lambda: (stroke(x, 0.0, x, 3.0, TRUNK),))


def _beside_trunks(passing: tuple[float, ...], stretch: Placed, box: Placed) -> Draw:
    """The box under what leads to it, beside the trunks of other cables."""

    def draw() -> Iterator[Item]:
        yield from verticals(passing, stretch.height + box.height)
        yield from stretch.items
        yield from box.at(0, stretch.height)

    return draw


def _cable_words(leg: RunLeg) -> str:
    return " · ".join(part for part in (leg.cable, leg.band, leg.length) if part)
