"""Share a width among the columns of a table so that its rows take the fewest lines.

```
as wide as the widest cells, or most -> narrowed where that costs least -> the lowest table of all
                    what is left over -> to columns that wrap; if none does, to those to write in
```
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from cardgen.layout.geometry import NOTHING
from cardgen.light_dataclass import dataclass

LINES = (1, 2, 3, 4)  # no cell should take more of them, if that can be had
MANY = 99
SHARES = (1.0, 0.9, 0.7)  # of a column's cells, which stand on one line to begin with
STEPS = 8  # widths that are tried of each column
CELLS = 0.05  # what a line of a cell counts in a row that is high enough for it
EXTRA = 8.0  # mm; columns further apart than that cannot be followed across (common practice)


@dataclass(frozen=True, slots=True, kw_only=True)
class Want:
    """What one cell needs at least (its longest word) and what it takes on one line.

    Attributes:
        height: of a line, against those of the other cells.
        free: lines for which the row is high enough anyway.
    """

    least: float
    whole: float
    height: float = 1.0
    free: int = 1

    def lines(self, width_mm: float) -> int:
        """About how many lines the cell takes; exact for one."""
        if self.whole <= width_mm + NOTHING:
            return 1
        # Wrapped lines are not full: an eighth is lost at their ends (tried on real tables).
        full = self.whole * 1.125
        return max(2, min(-int(-full // width_mm), MANY)) if width_mm > full / MANY else MANY

    def cost(self, width_mm: float) -> float:
        """The height that it takes; a third line and what follows read worse than the second."""
        lines = max(self.lines(width_mm), self.free)
        return self.height * (lines + max(0, lines - 2) / 2)

    def width(self, lines: int) -> float:
        """About the width in which it takes no more than so many lines."""
        return self.whole if lines == 1 else min(self.whole, max(self.least, self.share(lines)))

    def share(self, lines: int) -> float:
        return self.whole * 1.125 / lines


Wants = Sequence[Sequence[Want]]  # by column, then by row


def column_widths(
    wants: Wants, room_mm: float, writing: Collection[int] = ()
) -> list[float] | None:
    """Widths whose sum is the room; None where the longest words are wider together.

    `writing` are the columns to write in, by their index: what no words need is theirs.
    """
    least = [max((cell.least for cell in column), default=0.0) for column in wants]
    whole = [max((cell.whole for cell in column), default=0.0) for column in wants]
    if sum(least) > room_mm + NOTHING:
        return None
    if sum(whole) <= room_mm:
        return _roomy(whole, room_mm - sum(whole), writing)
    table = _Table([_Steps(column, low) for column, low in zip(wants, least, strict=True)])
    tried = [_narrowed(table, share, room_mm) for share in SHARES]
    _, widths = min(tried, key=lambda pair: pair[0])
    return poured(widths, whole, room_mm)


def _roomy(whole: Sequence[float], left: float, writing: Collection[int]) -> list[float]:
    """Where all stands on one line: more room to write, else columns a little apart."""
    if writing:
        more = left / len(writing)
        return [wide + more * (index in writing) for index, wide in enumerate(whole)]
    extra = min(EXTRA, left / len(whole))
    last = len(whole) - 1
    return [
        wide + (left - last * extra if index == last else extra) for index, wide in enumerate(whole)
    ]


class _Steps:
    """The widths of a column that are worth trying, the widest first, with what its cells cost.

    Attributes:
        at: the index of the width that is chosen.
    """

    def __init__(self, cells: Sequence[Want], least_mm: float) -> None:
        found = {max(cell.width(lines), least_mm) for cell in cells for lines in LINES}
        every = sorted({*found, least_mm}, reverse=True)
        last, count = len(every) - 1, min(STEPS, len(every))
        chosen = {round(step * last / max(count - 1, 1)) for step in range(count)}
        self.widths = [every[index] for index in sorted(chosen)]
        self.costs = [[cell.cost(width) for cell in cells] for width in self.widths]
        self.sums = [sum(costs) for costs in self.costs]
        self.wholes = sorted(cell.whole for cell in cells)
        self.at = 0

    @property
    def width(self) -> float:
        return self.widths[self.at]


class _Table:
    """The columns, and how high their rows are with the widths that are chosen."""

    def __init__(self, columns: Sequence[_Steps]) -> None:
        self.columns = columns
        self._heights: dict[tuple[int, ...], float] = {}

    def height(self) -> float:
        """Most widths are tried together several times."""
        chosen = tuple([column.at for column in self.columns])
        if chosen not in self._heights:
            self._heights[chosen] = self._height()
        return self._heights[chosen]

    def _height(self) -> float:
        """Of two ways that are alike in the rows' height, the one with fewer lines in cells."""
        cells = sum(column.sums[column.at] for column in self.columns)
        rows = zip(*[column.costs[column.at] for column in self.columns], strict=True)
        height: float = sum(map(max, rows))
        return height + CELLS * cells


def _narrowed(table: _Table, share: float, room: float) -> tuple[float, list[float]]:
    """A step at a time where a millimeter costs least, then as long as the table can be lower."""
    columns = table.columns
    for column in columns:
        column.at = _first(column, share)
    while sum(column.width for column in columns) > room + NOTHING:
        now = table.height()
        ways = [column for column in columns if column.at + 1 < len(column.widths)]
        best = min(ways, key=lambda column: _cost(table, column, now))
        best.at += 1
    while _exchanged(table, room):
        pass
    return table.height(), [column.width for column in columns]


def _first(column: _Steps, share: float) -> int:
    """The narrowest width in which that share of the cells stands on one line."""
    need = column.wholes[round(share * (len(column.wholes) - 1))] - NOTHING
    return max(n for n, width in enumerate(column.widths) if width >= need or not n)


def _exchanged(table: _Table, room: float) -> bool:
    """Whether one column could give width to another so that the table is less high."""
    columns = table.columns
    now, best = table.height(), None
    left = room - sum(column.width for column in columns) + NOTHING
    for giving in columns:
        kept = giving.at
        for at in range(kept, min(kept + 3, len(giving.widths))):
            spared = left + giving.widths[kept] - giving.widths[at]
            giving.at = at
            for taking in columns:
                old = taking.at
                if taking is giving or not old or taking.widths[old - 1] - taking.width > spared:
                    continue
                wider = (n for n in range(old) if taking.widths[n] - taking.widths[old] <= spared)
                taking.at = next(wider)
                height = table.height()
                if height < now - NOTHING:
                    now, best = height, (giving, at, taking, taking.at)
                taking.at = old
        giving.at = kept
    if best is None:
        return False
    giving, giving.at, taking, taking.at = best
    return True


def _cost(table: _Table, column: _Steps, now: float) -> float:
    """Height for a millimeter, if the column takes its next step; less than none for a free one."""
    saved = column.width - column.widths[column.at + 1]
    column.at += 1
    more = table.height() - now
    column.at -= 1
    return more / saved if more > NOTHING else -saved


def poured(low: Sequence[float], high: Sequence[float], room_mm: float) -> list[float]:
    """Water over vessels from `low` to `high`: one common level, each as far as it can use it."""
    level, left = 0.0, room_mm - sum(low)
    # Between two edges the level rises by what is left, shared among the vessels it is in.
    for edge in sorted({*low, *high}):
        filling = sum(1 for a, b in zip(low, high, strict=True) if a <= level < b)
        needs = (edge - level) * filling
        if needs > left:
            level += max(left, 0.0) / max(filling, 1)
            break
        level, left = edge, left - needs
    return [min(max(level, a), b) for a, b in zip(low, high, strict=True)]
