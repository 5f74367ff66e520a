"""Turn a table into rows of set cells: columns as wide as their words need, cells wrapped.

```
station  area              color           header, repeated on every card
======================================      thick rule
A1       front lawn west   [///] red RD     row: least 4 mm high
--------------------------------------      thin rule
```
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import PrintedCell, Table
from cardgen.fonts import Weight
from cardgen.layout.fit import Setting, wrap
from cardgen.layout.geometry import NOTHING, Mm
from cardgen.layout.items import Item, Segment, Strokes, all_moved
from cardgen.layout.setting import Placed, inline_conductor, plain_text
from cardgen.layout.table_needs import (
    BETWEEN,
    LOWEST_ROW,
    PADDING,
    Look,
    cell_want,
    longest_word,
    moves_of,
    weight_of,
    width_needed,
    widths_of,
    with_room,
)

__all__ = ["LOWEST_ROW", "Look", "SetTable", "longest_word", "set_table", "width_needed"]

THICK, THIN = Mm(0.5), Mm(0.25)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetTable:
    """A table at one letter height."""

    header: Placed
    rows: tuple[Placed, ...]


def set_table(table: Table, *, width_mm: float, look: Look) -> SetTable | None:
    """The rows in a width; None where the longest words of the columns are too wide together."""
    if look.stacked:
        heads = [cell_want(row[0], look, Weight.BOLD).whole for row in table.rows]
        first = max(heads, default=0.0)
        header: Placed | None = Placed(height=0.5, items=(_rule(0.5, width_mm, THICK),))
        rows = [_stacked_row(row, first, width_mm, look) for row in table.rows]
    else:
        moves = moves_of(table)
        widths = widths_of(table, width_mm, look, moves)
        if widths is None:
            return None
        header = _header(table, widths, width_mm, look)
        rows = [
            _row(row, widths, width_mm, look, moved)
            for row, moved in zip(table.rows, with_room(table, moves, widths, look), strict=True)
        ]
    if header is None or any(row is None for row in rows):
        return None
    return SetTable(header=header, rows=tuple(row for row in rows if row is not None))


def _header(table: Table, widths: list[float], width: float, look: Look) -> Placed | None:
    if not look.names:
        return Placed(height=0.5, items=(_rule(0.5, width, THICK),))
    cells: list[Placed] = []
    for name, room in zip(table.columns, widths, strict=True):
        lines = wrap(name, Weight.BOLD, room / look.header)
        if lines is None:
            return None
        setting = Setting(lines=lines, weight=Weight.BOLD, capital=Mm(look.header))
        set_name = plain_text(setting, width_mm=room)
        cells.append(replace(set_name, height=set_name.height - setting.below))
    height = max((cell.height for cell in cells), default=0.0) + 0.6 * look.header
    # All names stand on the rule, so a name of one line sinks to the last line of its neighbor.
    items = _side_by_side(cells, widths, look, down=[height - 0.6 * look.header] * len(cells))
    return Placed(height=height, items=(*items, _rule(height, width, THICK)))


def _row(
    row: tuple[PrintedCell, ...],
    widths: list[float],
    width: float,
    look: Look,
    moves: tuple[float, ...],
) -> Placed | None:
    cells: list[Placed] = []
    for index, (cell, room, move) in enumerate(zip(row, widths, moves, strict=True)):
        placed = _cell(cell, weight_of(index), room, look)
        if placed is None:
            return None
        cells.append(replace(placed, items=all_moved(placed.items, move * look.capital, 0)))
    return _ruled_row(cells, widths, width, look)


def _cell(cell: PrintedCell, weight: Weight, room: float, look: Look) -> Placed | None:
    if isinstance(cell, ConductorMark):
        return inline_conductor(
            cell, weight, width_mm=room, capital_mm=look.capital, press=look.press, cable=look.cable
        )
    lines = wrap(cell, weight, room / look.capital)
    if lines is None:
        return None
    setting = Setting(lines=lines, weight=weight, capital=Mm(look.capital))
    return plain_text(setting, width_mm=room)


def _stacked_row(
    row: tuple[PrintedCell, ...], first: float, width: float, look: Look
) -> Placed | None:
    """A row for a narrow card: the conductors beside the first cell, the words beneath.

    ```
    A7   [///] A-K1 red RD          A7                          where that is too narrow
         front beds, drip           [///] A-K1 white/turquoise WHTQ
    ```
    """
    left = first + BETWEEN * look.capital
    head = _cell(row[0], Weight.BOLD, first + NOTHING, look)
    beside = _under_each_other(row[1:], width - left, look)
    beneath = _under_each_other(row[1:], width, look) if beside is None else None
    if head is None or (beside is None and beneath is None):
        return None
    if beside is not None:
        down = max(0.0, beside.base - head.base)
        height = max(beside.height, down + head.height)
        items = (*all_moved(head.items, 0, down), *all_moved(beside.items, left, 0))
        base = max(beside.base, head.base)
    else:
        assert beneath is not None
        down = head.height + 0.5 * look.capital
        height, base = down + beneath.height, head.base
        items = (*head.items, *all_moved(beneath.items, 0, down))
    return _ruled_row([Placed(height=height, items=items, base=base)], [width], width, look)


def _under_each_other(cells: tuple[PrintedCell, ...], width: float, look: Look) -> Placed | None:
    """The conductors, then the words."""
    items: list[Item] = []
    y = base = 0.0
    for cell in sorted(cells, key=lambda cell: not isinstance(cell, ConductorMark)):
        placed = _cell(cell, Weight.MEDIUM, width, look)
        if placed is None:
            return None
        if placed.items:
            y += 0.5 * look.capital if items else 0.0
            items += all_moved(placed.items, 0, y)
            base = base or placed.base
            y += placed.height
    return Placed(height=y, items=tuple(items), base=base)


def _ruled_row(cells: list[Placed], widths: list[float], width: float, look: Look) -> Placed:
    """First base lines level with each other, the row no lower than the lowest allowed."""
    base = max((cell.base for cell in cells), default=0.0)
    sinks = [base - cell.base for cell in cells]
    tallest = max((c.height + s for c, s in zip(cells, sinks, strict=True)), default=0.0)
    height = max(tallest + 2 * PADDING * look.capital, look.lowest)
    top = (height - tallest) / 2
    downs = [top + sink for sink in sinks]
    items: list[Item] = []
    x = 0.0
    for cell, room, down in zip(cells, widths, downs, strict=True):
        if look.grid and x:
            items.append(_upright(x - BETWEEN * look.capital / 2, height))
        items += all_moved(cell.items, x, down)
        x += room + BETWEEN * look.capital
    return Placed(height=height, items=(*items, _rule(height, width, THIN)))


def _side_by_side(
    cells: list[Placed], widths: list[float], look: Look, down: list[float]
) -> list[Item]:
    items: list[Item] = []
    x = 0.0
    for cell, room, bottom in zip(cells, widths, down, strict=True):
        items += all_moved(cell.items, x, bottom - cell.height)
        x += room + BETWEEN * look.capital
    return items


def _upright(x: float, height: float) -> Strokes:
    return Strokes(
        segments=(Segment(x1=Mm(x), y1=Mm(0), x2=Mm(x), y2=Mm(height)),),
        width=THIN,
    )


def _rule(y: float, width: float, thick: Mm) -> Strokes:
    middle = Mm(y - thick / 2)
    return Strokes(segments=(Segment(x1=Mm(0), y1=middle, x2=Mm(width), y2=middle),), width=thick)
