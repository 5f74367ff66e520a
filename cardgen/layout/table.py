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

from cardgen import fonts
from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import PrintedCell, Table
from cardgen.fonts import Weight
from cardgen.layout.dense_rows import counted, parted, room_of, with_note
from cardgen.layout.fit import DESCENT, Setting, pieces, wrap
from cardgen.layout.geometry import NOTHING, Mm
from cardgen.layout.items import Item, Segment, Strokes, all_moved
from cardgen.layout.setting import (
    SPACE,
    Placed,
    PrinterHead,
    in_words,
    inline_conductor,
    plain_text,
    small_swatch_size,
)
from cardgen.layout.widths import Want, column_widths

LOWEST_ROW = 4.0  # mm; a row that a finger can follow (common practice)
PADDING = 0.4  # capital heights above and below a row
DENSE = 0.1  # the same in dense rows: a row of 4 mm with letters of 2.5 mm
BETWEEN, NARROW = 1.1, 0.8  # capital heights between columns; in dense rows
HEADER = 0.8  # height of the column names against that of the cells
THICK, THIN = Mm(0.5), Mm(0.25)
NOTHING_HERE = "–"  # in a cell where there is nothing to write


@dataclass(frozen=True, slots=True, kw_only=True)
class SetTable:
    """A table at one letter height."""

    header: Placed
    rows: tuple[Placed, ...]

    @property
    def height(self) -> float:
        return self.header.height + sum(row.height for row in self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How the cells of one table are set.

    Attributes:
        capital: of the cells; `least` is what it may not go below.
        names: whether the columns are named above the first row.
        cable: whether a conductor is named with its cable.
        stacked: whether the cells of a row stand under each other, see `_stacked_row`.
        lowest: the lowest height of a row.
        blank: the least width of a column with cells in which no words stand: to write in.
        grid: whether upright rules part the columns.
        dense: whether rows stand close, and long text goes on over empty cells, see `dense_rows`.
    """

    capital: float
    least: float
    names: bool
    stacked: bool
    cable: bool
    press: PrinterHead
    lowest: float = LOWEST_ROW
    blank: float = 0.0
    grid: bool = False
    dense: bool = False

    @property
    def padding(self) -> float:
        return (DENSE if self.dense else PADDING) * self.capital

    @property
    def between(self) -> float:
        return (NARROW if self.dense else BETWEEN) * self.capital

    @property
    def header(self) -> float:
        return max(HEADER * self.capital, self.least)


def set_table(table: Table, *, width_mm: float, look: Look) -> SetTable | None:
    """The rows in a width; None where the longest words of the columns are too wide together."""
    if look.stacked:
        heads = [_cell_want(row[0], look, Weight.BOLD).whole for row in table.rows]
        first = max(heads, default=0.0)
        header: Placed | None = Placed(height=0.5, items=(_rule(0.5, width_mm, THICK),))
        rows = [_stacked_row(row, first, width_mm, look) for row in table.rows]
    else:
        widths = _column_widths(table, width_mm, look)
        if widths is None:
            return None
        header = _header(table, widths, width_mm, look)
        rows = [_row(row, widths, width_mm, look) for row in table.rows]
    if header is None or any(row is None for row in rows):
        return None
    return SetTable(header=header, rows=tuple(row for row in rows if row is not None))


def width_needed(table: Table, look: Look) -> float:
    """The narrowest width, for saying by how much a table is too wide."""
    narrow = sum(max((c.least for c in cells), default=0.0) for cells in _wants(table, look))
    return narrow + look.between * _gaps(table)


def longest_word(table: Table, look: Look) -> str:
    """The word of all cells that is the widest, for saying what makes a table too wide."""
    texts = (
        in_words(cell, cable=look.cable) if isinstance(cell, ConductorMark) else cell
        for row in table.rows
        for cell in row
    )
    words = (word.strip() for text in texts for word in pieces(text))
    return max(words, key=lambda word: fonts.width(word, Weight.MEDIUM), default="")


def _column_widths(table: Table, width: float, look: Look) -> list[float] | None:
    """Notes stand behind what they belong to where all rows then have one line."""
    room = width - look.between * _gaps(table)
    wants = _wants(table, look, inline=True)
    if look.dense and sum(max((c.whole for c in cells), default=0.0) for cells in wants) > room:
        wants = _wants(table, look)
    return column_widths(wants, room)


def _gaps(table: Table) -> int:
    return len(table.columns) - 1


def _wants(table: Table, look: Look, *, inline: bool = False) -> list[list[Want]]:
    """What the cells of each column need, the column's name among them."""
    columns = []
    for index, name in enumerate(table.columns):
        column = [
            counted(row, index, inline=inline) if look.dense else row[index] for row in table.rows
        ]
        for_writing = all(cell in ("", NOTHING_HERE) for cell in column)
        cells = [
            Want(least=look.blank, whole=look.blank)
            if for_writing or cell == ""
            else _cell_want(cell, look, _weight(index))
            for cell in column
        ]
        if look.names:
            words = [fonts.width(w.strip(), Weight.BOLD) * look.header for w in pieces(name)]
            whole = fonts.width(name, Weight.BOLD) * look.header
            cells.append(Want(least=max(words, default=0.0), whole=whole))
        columns.append(cells)
    return columns


def _cell_want(cell: PrintedCell, look: Look, weight: Weight) -> Want:
    text, shortest, left = cell, cell, 0.0
    if isinstance(cell, ConductorMark):
        text = in_words(cell, cable=look.cable)
        shortest = in_words(cell, cable=look.cable, tight=True)
        left = small_swatch_size(look.capital, close=look.dense)[0] + SPACE * look.capital
    assert isinstance(text, str)
    assert isinstance(shortest, str)
    longest = max((fonts.width(p.strip(" "), weight) for p in pieces(shortest)), default=0.0)
    whole = fonts.width(text.strip(), weight)
    return Want(least=left + longest * look.capital, whole=left + whole * look.capital)


def _weight(index: int) -> Weight:
    return Weight.BOLD if index == 0 else Weight.MEDIUM


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
    row: tuple[PrintedCell, ...], widths: list[float], width: float, look: Look
) -> Placed | None:
    if look.dense:
        return _dense_row(row, widths, width, look)
    placed = [_cell(row[n], _weight(n), room, look) for n, room in enumerate(widths)]
    cells = [cell for cell in placed if cell is not None]
    return _ruled_row(cells, widths, width, look) if len(cells) == len(placed) else None


def _dense_row(
    row: tuple[PrintedCell, ...], widths: list[float], width: float, look: Look
) -> Placed | None:
    between = look.between
    cells: list[Placed] = []
    notes: dict[int, Placed] = {}
    for index, cell in enumerate(row):
        room = room_of(row, index, widths, between)
        head, note = parted(cell, room, look.capital)
        placed = _cell(head, _weight(index), room, look)
        left = sum(widths[:index]) + between * index
        under = _cell(note, Weight.MEDIUM, width - left, look)
        if placed is None or under is None:
            return None
        cells.append(placed)
        if note:
            notes[index] = under
    for index, under in notes.items():
        cells = with_note(cells, index, under)
    return _ruled_row(cells, widths, width, look)


def _cell(cell: PrintedCell, weight: Weight, room: float, look: Look) -> Placed | None:
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
    setting = Setting(lines=lines, weight=weight, capital=Mm(look.capital))
    placed = plain_text(setting, width_mm=room)
    if not look.dense or not lines:
        return placed
    last = placed.base + (len(lines) - 1) * setting.pitch  # so far from the rule as small letters
    return replace(placed, height=last + DESCENT * look.capital)


def _stacked_row(
    row: tuple[PrintedCell, ...], first: float, width: float, look: Look
) -> Placed | None:
    """A row for a narrow card: the conductors beside the first cell, the words beneath.

    ```
    A7   [///] A-K1 red RD          A7                          where that is too narrow
         front beds, drip           [///] A-K1 white/turquoise WHTQ
    ```
    """
    left = first + look.between
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
    height = max(tallest + 2 * look.padding, look.lowest)
    top = (height - tallest) / 2
    downs = [top + sink for sink in sinks]
    items: list[Item] = []
    x = 0.0
    for cell, room, down in zip(cells, widths, downs, strict=True):
        if look.grid and x:
            items.append(_upright(x - look.between / 2, height))
        items += all_moved(cell.items, x, down)
        x += room + look.between
    return Placed(height=height, items=(*items, _rule(height, width, THIN)))


def _side_by_side(
    cells: list[Placed], widths: list[float], look: Look, down: list[float]
) -> list[Item]:
    items: list[Item] = []
    x = 0.0
    for cell, room, bottom in zip(cells, widths, down, strict=True):
        items += all_moved(cell.items, x, bottom - cell.height)
        x += room + look.between
    return items


def _upright(x: float, height: float) -> Strokes:
    return Strokes(
        segments=(Segment(x1=Mm(x), y1=Mm(0), x2=Mm(x), y2=Mm(height)),),
        width=THIN,
    )


def _rule(y: float, width: float, thick: Mm) -> Strokes:
    middle = Mm(y - thick / 2)
    return Strokes(segments=(Segment(x1=Mm(0), y1=middle, x2=Mm(width), y2=middle),), width=thick)
