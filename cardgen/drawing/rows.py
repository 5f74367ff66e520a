"""Set one line of a box: swatch and color, terminal, name, the rest; wrapped, never cut.

```
 conductor        lands        name         text
 [///] red RD     terminal 1   valve A1     front lawn west, spray
 [|||] blue BU    joined to    [///] A-S1 red RD A2     A2 · color changes
```
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from cardgen import fonts
from cardgen.asbuilt import ConductorMark
from cardgen.drawing.drawing_parts import BoxLine, LineKind
from cardgen.drawing.sheet_size import PRESS
from cardgen.faults.paper_faults import LETTER_NOT_IN_FONT, TEXT_TOO_LONG
from cardgen.fonts import Weight
from cardgen.layout.fit import fit
from cardgen.layout.geometry import frame
from cardgen.layout.items import Item, all_moved
from cardgen.layout.setting import Placed, in_words, small_swatch_size, text_items
from cardgen.layout.swatch import swatch
from cardgen.problems import Problem, Span

CAPITAL = 2.7  # mm; at least 10 point letters, as the stamp has
LEAST = 2.5
NAME = 3.0  # mm; what one looks for
GAP = 3.0  # mm between columns
BETWEEN = 2.0  # mm between rows
_MOST = (50.0, 30.0, 42.0)  # mm; columns wider than that wrap, so that the text keeps its room
_SPACE = 0.7 * CAPITAL  # between swatch and words


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Widths of conductor, landing and name; the same in a whole drawing."""

    conductor: float
    lands: float
    name: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SetLine:
    """A line as it is set, from its left edge; `middle` is where a wire comes to its swatch."""

    height: float
    middle: float
    items: tuple[Item, ...]
    wired: bool


def columns_for(lines: Iterable[tuple[BoxLine, str]]) -> Columns:
    """As wide as the widest entry, but no wider than allowed; each line with its cable."""
    swatch = small_swatch_size(CAPITAL)[0] + _SPACE
    wide = [0.0, 0.0, 0.0]
    for line, cable in lines:
        words = [in_words(short(m, cable), cable=True) for m in line.marks] or [line.source]
        wide[0] = max(wide[0], *(swatch + _wide(w, Weight.MEDIUM, CAPITAL) for w in words))
        wide[1] = max(wide[1], _wide(line.lands, Weight.MEDIUM, CAPITAL))
        wide[2] = max(wide[2], _wide(line.name, Weight.BOLD, NAME))
    widths = [min(a, most) + 0.01 for a, most in zip(wide, _MOST, strict=True)]
    return Columns(conductor=widths[0], lands=widths[1], name=widths[2])


def _wide(text: str, weight: Weight, capital: float) -> float:
    return fonts.width(text, weight) * capital


def short(mark: ConductorMark, cable: str) -> ConductorMark:
    """On its own cable a conductor need not say which that is."""
    return replace(mark, cable="", band="") if mark.cable == cable else mark


def row(
    line: BoxLine, cable: str, columns: Columns, width_mm: float, problems: list[Problem]
) -> SetLine:
    """A line of the box, in which `width_mm` is free."""
    if line.kind is LineKind.NOTE:
        note = text_cell(line.text, line.span, width_mm, problems, weight=Weight.BOLD)
        return _in_line([(0.0, note)], wired=False)
    cells = [(0.0, _conductors(line, cable, columns.conductor, problems))]
    x = columns.conductor + GAP if columns.conductor > 1 else 0.0
    cells.append((x, text_cell(line.lands, line.span, columns.lands, problems)))
    x += columns.lands + GAP if columns.lands > 1 else 0.0
    if line.joined:
        wide = min(max(columns.name, columns.conductor + 12.0), 0.6 * (width_mm - x))
        cells.append((x, _stacked(line, line.joined, cable, wide, problems)))
    else:
        wide = columns.name
        cells.append((x, text_cell(line.name, line.span, wide, problems, bold=True)))
    x += wide + GAP
    cells.append((x, text_cell(line.text, line.span, width_mm - x, problems)))
    return _in_line(cells, wired=bool(line.marks or line.source))


def _in_line(cells: list[tuple[float, Placed]], *, wired: bool) -> SetLine:
    """The cells on one base line, the first lines of all that wrap."""
    swatch_height = small_swatch_size(CAPITAL)[1]  # with or without one, rows are alike
    base = max((swatch_height + CAPITAL) / 2, *(cell.base for _, cell in cells))
    height = max(swatch_height, *(cell.height + base - cell.base for _, cell in cells))
    items = [i for x, cell in cells for i in all_moved(cell.items, x, base - cell.base)]
    return SetLine(height=height, middle=base - CAPITAL / 2, items=tuple(items), wired=wired)


def _conductors(line: BoxLine, cable: str, width: float, problems: list[Problem]) -> Placed:
    if not line.marks:
        return text_cell(line.source, line.span, width, problems)
    return _stacked(line, line.marks, cable, width, problems)


def _stacked(
    line: BoxLine,
    marks: tuple[ConductorMark, ...],
    cable: str,
    width: float,
    problems: list[Problem],
) -> Placed:
    """Swatches with their words under each other."""
    items: list[Item] = []
    y = base = 0.0
    for mark in marks:
        placed = _conductor(short(mark, cable), line.span, width, problems)
        y += BETWEEN if items else 0.0
        items += all_moved(placed.items, 0, y)
        base = base or placed.base
        y += placed.height
    return Placed(height=y, items=tuple(items), base=base)


def _conductor(mark: ConductorMark, span: Span, width: float, problems: list[Problem]) -> Placed:
    """A swatch followed by the words, which may take several lines."""
    wide, high = small_swatch_size(CAPITAL)
    room = width - wide - _SPACE
    whole = in_words(mark, cable=True)
    fits = _wide(whole, Weight.MEDIUM, CAPITAL) <= room
    said = whole if fits else in_words(mark, cable=True, tight=True)
    words = text_cell(said, span, room, problems)
    picture = swatch(mark, frame(0, 0, wide, high), colored=PRESS.colored, dot_mm=PRESS.dot)
    down = (high - CAPITAL) / 2
    return Placed(
        height=max(high, down + words.height),
        items=(picture, *all_moved(words.items, wide + _SPACE, down)),
        base=down + words.base,
    )


def text_cell(
    text: str,
    span: Span,
    width_mm: float,
    problems: list[Problem],
    *,
    bold: bool = False,
    weight: Weight | None = None,
) -> Placed:
    """A text in a column: wrapped, then smaller; what even so is too wide is a problem."""
    if not text:
        return Placed(height=0.0, items=())
    wanted = NAME if bold else CAPITAL
    weight = weight or (Weight.BOLD if bold else Weight.MEDIUM)
    return block(text, span, width_mm, problems, weight=weight, capital_mm=wanted)


def block(
    text: str,
    span: Span,
    width_mm: float,
    problems: list[Problem],
    *,
    weight: Weight,
    capital_mm: float,
) -> Placed:
    lacking = fonts.missing(text, weight)
    if lacking:
        listed = ", ".join(f"'{letter}' (U+{ord(letter):04X})" for letter in lacking)
        problems.append(LETTER_NOT_IN_FONT.at(span, variant="drawing", text=text, letters=listed))
        return Placed(height=0.0, items=())
    setting = fit((text,), weight, width_mm=width_mm, capital_mm=capital_mm)
    if setting is None:
        problems.append(TEXT_TOO_LONG.at(span, variant="drawing", text=text, width=width_mm))
        return Placed(height=0.0, items=())
    items = text_items(setting, width_mm=width_mm)
    return Placed(height=setting.height, items=items, base=setting.above)
