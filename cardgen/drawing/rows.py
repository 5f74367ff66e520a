"""Set one line of a box: swatch and color, terminal, name; the rest beside them or beneath.

```
 conductor        lands        name         text
 [///] red RD     terminal 1   valve A1     front lawn west, spray
 [|||] blue BU    joined to    [///] A-S1 red RD (flag A2)
       A2 · color changes
```
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import product

from cardgen.asbuilt import ConductorMark
from cardgen.drawing.drawing_parts import BoxLine, LineKind, as_text
from cardgen.drawing.sheet_size import PRESS
from cardgen.drawing.texts import BENEATH, CAPITAL, NAME, NOTHING_SET, SetText, block, wide
from cardgen.fonts import Weight
from cardgen.layout.fit import pieces
from cardgen.layout.geometry import frame
from cardgen.layout.items import Item
from cardgen.layout.setting import Placed, in_words, small_swatch_size
from cardgen.layout.swatch import swatch
from cardgen.light_dataclass import dataclass, replace
from cardgen.problems import Problem, Span

GAP = 2.2  # mm between columns
BETWEEN = 1.8  # mm between rows
_SPACE = 0.7 * CAPITAL  # between swatch and words
_WORDS = small_swatch_size(CAPITAL)[0] + _SPACE  # where the words beside a swatch begin
# The most that a column takes of the width: a conductor that is wider wraps, a landing that is
# wider stands beneath.
_CONDUCTOR, _LANDS = 0.4, 0.28
Lines = Sequence[tuple[BoxLine, str]]  # each with the cable whose run it is on


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Widths of conductor and landing, and of what stands after them; the same in a home run.

    Attributes:
        tight: whether a flag is named without that word, `red RD (A1)`.
        name: of names; `joined` of the conductors in their place.
    """

    tight: bool
    conductor: float
    lands: float
    name: float
    joined: float

    def after_lands(self, line: BoxLine) -> float:
        """Where the name stands."""
        if not line.marks and not line.source:
            return self.lands + GAP if line.lands else 0.0
        return self.conductor + GAP + (self.lands + GAP if self.lands > 1 else 0.0)

    def after_name(self, line: BoxLine) -> float:
        """Where the rest stands if it has room there."""
        return self.after_lands(line) + (self.joined if line.joined else self.name) + GAP

    def room(self, line: BoxLine) -> float:
        """For the conductor: where nothing lands, as far as the name."""
        lands = line.lands and _width(line.lands) <= self.lands
        return self.conductor if lands else self.after_lands(line) - GAP


@dataclass(frozen=True, slots=True, kw_only=True)
class SetLine:
    """A line as it is set, from its left edge; `middle` is where a wire comes to its swatch."""

    placed: Placed
    middle: float
    wired: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cell:
    x: float
    placed: Placed


def columns_for(lines: Lines, width_mm: float) -> Columns:
    """Of the ways to share the width that in which the fewest lines need a second one."""
    hots = [pair for pair in lines if pair[0].kind is LineKind.VALVE]
    landing = [pair for pair in lines if pair[0].lands and not pair[0].joined]
    best, fewest = None, len(lines) + 1
    for tight, usual in product((False, True), (landing, hots)):
        columns = _columns(lines, usual or lines, width_mm, tight)
        count = _second_lines(lines, columns, width_mm)
        if count < fewest:
            best, fewest = columns, count
        if not count:
            break
    assert best is not None  # no way has more of them than lines
    return best


def _columns(lines: Lines, usual: Lines, width_mm: float, tight: bool) -> Columns:
    """As wide as the usual lines; each column no wider than its share."""
    conductors = [_conductor_width(m, cable, tight) for x, cable in usual for m in x.marks]
    conductors += [_widest_piece(m, cable) for x, cable in lines for m in x.marks]
    conductors += [_width(line.source) for line, _ in usual]
    lands = [_width(line.lands) for line, _ in lines]
    joined = [_conductor_width(m, cable, tight) for x, cable in lines for m in x.joined]
    names = [_name_width(line) for line, _ in usual]
    return Columns(
        tight=tight,
        conductor=min(max(conductors, default=0.0), _CONDUCTOR * width_mm) + 0.01,
        lands=max((x for x in lands if x <= _LANDS * width_mm), default=0.0) + 0.01,
        name=max(names, default=0.0),
        joined=max(joined, default=0.0),
    )


def _second_lines(lines: Lines, columns: Columns, width_mm: float) -> int:
    """How many lines have something beneath, or a conductor that wraps."""
    count = 0
    for line, cable in lines:
        last = [_conductor_width(mark, cable, columns.tight) for mark in line.joined]
        right = columns.after_lands(line) + max(last, default=_name_width(line))
        wraps = any(
            _conductor_width(mark, cable, columns.tight) > columns.room(line) for mark in line.marks
        )
        beneath = bool(line.text) and right + GAP + _width(line.text) > width_mm
        count += wraps or beneath
    return count


def _width(text: str) -> float:
    return wide(text, Weight.MEDIUM, CAPITAL)


def _name_width(line: BoxLine) -> float:
    return wide(line.name, Weight.BOLD, NAME)


@lru_cache(maxsize=4_000)  # several ways are tried with the same
def _conductor_width(mark: ConductorMark, cable: str, tight: bool) -> float:
    return _WORDS + _width(in_words(short(mark, cable), cable=True, tight=tight))


@lru_cache(maxsize=4_000)
def _widest_piece(mark: ConductorMark, cable: str) -> float:
    """What stands on one line even where the words wrap."""
    said = pieces(in_words(short(mark, cable), cable=True, tight=True))
    return _WORDS + max(_width(piece.strip(" ")) for piece in said)


def short(mark: ConductorMark, cable: str) -> ConductorMark:
    """On its own cable a conductor need not say which that is."""
    return replace(mark, cable="", band="") if mark.cable == cable else mark


def row(
    line: BoxLine, cable: str, columns: Columns, width_mm: float, problems: list[Problem]
) -> SetLine:
    """A line of the box, in which `width_mm` is free."""
    if line.kind is LineKind.NOTE:
        note = block(line.text, line.span, width_mm, problems, weight=Weight.BOLD)
        return _in_line([_Cell(x=0.0, placed=note)], NOTHING_BENEATH, wired=False)
    lands = line.lands if _width(line.lands) <= columns.lands else ""
    room, name_x = columns.room(line), columns.after_lands(line)
    wired = bool(line.marks or line.source)
    conductors = _stacked(line, line.marks, cable, room, columns.tight, problems)
    last = _stacked(line, line.joined, cable, width_mm - name_x, columns.tight, problems) or block(
        line.name, line.span, width_mm - name_x, problems, weight=Weight.BOLD, capital_mm=NAME
    )
    cells = [
        _Cell(x=0.0, placed=conductors or block(line.source, line.span, room, problems)),
        _Cell(
            x=columns.conductor + GAP if wired else 0.0,
            placed=block(lands, line.span, columns.lands, problems),
        ),
        _Cell(x=name_x, placed=last),
    ]
    rest = as_text("" if lands else line.lands, line.text)
    left = name_x + last.right + GAP
    for x in (max(columns.after_name(line), left), left):  # in its column, else next to the name
        if _width(rest) <= width_mm - x:
            cells.append(_Cell(x=x, placed=block(rest, line.span, width_mm - x, problems)))
            return _in_line(cells, NOTHING_BENEATH, wired=wired)
    x = _WORDS if line.marks else 0.0
    beneath = _Cell(x=x, placed=block(rest, line.span, width_mm - x, problems))
    return _in_line(cells, beneath, wired=wired)


NOTHING_BENEATH = _Cell(x=0.0, placed=NOTHING_SET)


def _in_line(cells: Sequence[_Cell], beneath: _Cell, *, wired: bool) -> SetLine:
    """The cells on one base line, the first lines of all that wrap; then what stands beneath."""
    high = small_swatch_size(CAPITAL)[1]  # with or without one, rows are alike
    base = max((high + CAPITAL) / 2, *(cell.placed.base for cell in cells))
    height = max(high, *(cell.placed.height + base - cell.placed.base for cell in cells))
    down = height + BENEATH
    if beneath.placed.height:
        height = down + beneath.placed.height

    def draw() -> Iterator[Item]:
        for cell in cells:
            yield from cell.placed.at(cell.x, base - cell.placed.base)
        yield from beneath.placed.at(beneath.x, down)

    placed = Placed(height=height, draw=draw)
    return SetLine(placed=placed, middle=base - CAPITAL / 2, wired=wired)


def _stacked(
    line: BoxLine,
    marks: tuple[ConductorMark, ...],
    cable: str,
    width: float,
    tight: bool,
    problems: list[Problem],
) -> SetText | None:
    """Swatches with their words under each other; None without any."""
    if not marks:
        return None
    swatches = [_conductor(short(mark, cable), line.span, width, tight, problems) for mark in marks]
    if len(swatches) == 1:
        return swatches[0]
    tops = [0.0]
    for placed in swatches[:-1]:
        tops.append(tops[-1] + placed.height + BENEATH)

    def draw() -> Iterator[Item]:
        for top, placed in zip(tops, swatches, strict=True):
            yield from placed.at(0, top)

    return SetText(
        height=tops[-1] + swatches[-1].height,
        draw=draw,
        base=swatches[0].base,
        lines=sum(placed.lines for placed in swatches),
        right=max(placed.right for placed in swatches),
    )


def _conductor(
    mark: ConductorMark, span: Span, width: float, tight: bool, problems: list[Problem]
) -> SetText:
    """A swatch followed by the words, which may take several lines."""
    across, high = small_swatch_size(CAPITAL)
    room = width - _WORDS
    said = in_words(mark, cable=True, tight=tight)
    if _width(said) > room:
        said = in_words(mark, cable=True, tight=True)
    words = block(said, span, room, problems)
    down = (high - CAPITAL) / 2

    def draw() -> Iterator[Item]:
        yield swatch(mark, frame(0, 0, across, high), colored=PRESS.colored, dot_mm=PRESS.dot)
        yield from words.at(_WORDS, down)

    return SetText(
        height=max(high, down + words.height),
        draw=draw,
        base=down + words.base,
        lines=words.lines,
        right=_WORDS + words.right,
    )
