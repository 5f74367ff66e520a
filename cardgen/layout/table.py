"""Turn a table into rows of set cells: columns as wide as their words need, cells wrapped.

```
station  area              color           header, repeated on every card
======================================      thick rule
A1       front lawn west   [///] red RD     row: least 4 mm high
--------------------------------------      thin rule
```
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache, partial

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import PrintedCell, Table
from cardgen.cards.expected import TO_FILL_IN
from cardgen.fonts import Weight
from cardgen.layout.dense_rows import parted, room_of, with_note
from cardgen.layout.fit import DESCENT, Setting, wrap
from cardgen.layout.geometry import Mm
from cardgen.layout.items import Item, Segment, Strokes
from cardgen.layout.setting import Placed, inline_conductor, plain_text
from cardgen.layout.table_needs import (
    LOWEST_ROW,
    WRITE_IN,
    Look,
    longest_word,
    moves_of,
    weight_of,
    width_needed,
    widths_of,
    with_room,
)
from cardgen.light_dataclass import dataclass, replace

__all__ = ["LOWEST_ROW", "Look", "SetTable", "longest_word", "set_table", "width_needed"]

THICK, THIN = Mm(0.5), Mm(0.25)
SetCell = Callable[[PrintedCell, Weight, float], Placed | None]  # in a room of so many mm


@dataclass(frozen=True, slots=True, kw_only=True)
class SetTable:
    """A table at one letter height."""

    header: Placed
    rows: tuple[Placed, ...]


def set_table(table: Table, *, width_mm: float, look: Look) -> SetTable | None:
    """The rows in a width; None where the longest words of the columns are too wide together."""
    moves = moves_of(table)
    widths = widths_of(table, width_mm, look, moves)
    if widths is None:
        return None
    header = _header(table, widths, width_mm, look)
    set_cell: SetCell = cache(partial(_cell, look))  # most cells of a column say what others do
    rows = [
        _row(row, widths, width_mm, look, moved, set_cell)
        for row, moved in zip(table.rows, with_room(table, moves, widths, look), strict=True)
    ]
    if header is None or any(row is None for row in rows):
        return None
    return SetTable(header=header, rows=tuple(row for row in rows if row is not None))


def _header(table: Table, widths: list[float], width: float, look: Look) -> Placed | None:
    if not look.names:
        return Placed(height=0.5, draw=lambda: (_rule(0.5, width, THICK),))
    cells: list[Placed] = []
    for name, room in zip(table.columns, widths, strict=True):
        lines = wrap(name, Weight.BOLD, room / look.header)
        if lines is None:
            return None
        setting = Setting(lines=lines, weight=Weight.BOLD, capital=Mm(look.header), by_ink=True)
        set_name = plain_text(setting, width_mm=room)
        cells.append(replace(set_name, height=set_name.height - setting.below))
    height = max((cell.height for cell in cells), default=0.0) + 0.6 * look.header
    # All names stand on the rule, so a name of one line sinks to the last line of its neighbor.

    def draw() -> Iterator[Item]:
        x = 0.0
        for cell, room in zip(cells, widths, strict=True):
            yield from cell.at(x, height - 0.6 * look.header - cell.height)
            x += room + look.between
        yield _rule(height, width, THICK)

    return Placed(height=height, draw=draw)


def _row(
    row: tuple[PrintedCell, ...],
    widths: list[float],
    width: float,
    look: Look,
    moves: tuple[float, ...],
    set_cell: SetCell,
) -> Placed | None:
    if look.dense:
        return _dense_row(row, widths, width, look, moves, set_cell)
    cells: list[Placed] = []
    for index, (cell, room, move) in enumerate(zip(row, widths, moves, strict=True)):
        placed = set_cell(cell, weight_of(index), room)
        if placed is None:
            return None
        cells.append(_moved(placed, move, look))
    return _ruled_row(cells, widths, width, look)


def _moved(cell: Placed, move_capitals: float, look: Look) -> Placed:
    """So that figures stand under each other."""
    if not move_capitals:
        return cell
    return replace(cell, draw=lambda: cell.at(move_capitals * look.capital, 0))


def _dense_row(
    row: tuple[PrintedCell, ...],
    widths: list[float],
    width: float,
    look: Look,
    moves: tuple[float, ...],
    set_cell: SetCell,
) -> Placed | None:
    between = look.between
    cells: list[Placed] = []
    notes: dict[int, Placed] = {}
    for index, (cell, move) in enumerate(zip(row, moves, strict=True)):
        room = room_of(row, index, widths, between)
        head, note = parted(cell, room, look.capital)
        placed = set_cell(head, weight_of(index), room)
        left = sum(widths[:index]) + between * index
        under = set_cell(note, Weight.MEDIUM, width - left)
        if placed is None or under is None:
            return None
        cells.append(_moved(placed, move, look))
        if note:
            notes[index] = under
    for index, under in notes.items():
        cells = with_note(cells, index, under)
    return _ruled_row(cells, widths, width, look)


def _to_fill_in(room: float, look: Look) -> Placed:
    """A line at the level of the words beside it, with room for a pencil above."""
    base = WRITE_IN[1] * look.capital
    return Placed(height=base, draw=lambda: (_rule(base, room, THIN),), base=base)


def _cell(look: Look, cell: PrintedCell, weight: Weight, room: float) -> Placed | None:
    if cell == TO_FILL_IN:
        return _to_fill_in(room, look)
    if isinstance(cell, ConductorMark):
        return inline_conductor(
            cell,
            weight,
            width_mm=room,
            capital_mm=look.capital,
            press=look.press,
            cable=look.cable,
            close=look.dense,
        )
    lines = wrap(cell, weight, room / look.capital)
    if lines is None:
        return None
    setting = Setting(lines=lines, weight=weight, capital=Mm(look.capital), by_ink=True)
    placed = plain_text(setting, width_mm=room)
    if not look.dense or not lines:
        return placed
    last = placed.base + (len(lines) - 1) * setting.pitch  # so far from the rule as small letters
    return replace(placed, height=last + DESCENT * look.capital)


def _ruled_row(cells: list[Placed], widths: list[float], width: float, look: Look) -> Placed:
    """First base lines level with each other, the row no lower than the lowest allowed."""
    base = max((cell.base for cell in cells), default=0.0)
    sinks = [base - cell.base for cell in cells]
    tallest = max((c.height + s for c, s in zip(cells, sinks, strict=True)), default=0.0)
    height = max(tallest + 2 * look.padding, look.lowest)
    top = (height - tallest) / 2

    def draw() -> Iterator[Item]:
        x = 0.0
        for cell, room, sink in zip(cells, widths, sinks, strict=True):
            if look.grid and x:
                yield _upright(x - look.between / 2, height)
            yield from cell.at(x, top + sink)
            x += room + look.between
        yield _rule(height, width, THIN)

    return Placed(height=height, draw=draw)


def _upright(x: float, height: float) -> Strokes:
    return Strokes(
        segments=(Segment(x1=Mm(x), y1=Mm(0), x2=Mm(x), y2=Mm(height)),),
        width=THIN,
    )


def _rule(y: float, width: float, thick: Mm) -> Strokes:
    middle = Mm(y - thick / 2)
    return Strokes(segments=(Segment(x1=Mm(0), y1=middle, x2=Mm(width), y2=middle),), width=thick)
