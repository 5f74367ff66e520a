"""Put blocks into columns, and columns on sheets: short drawings under each other, long ones on.

```
index      home run 3        the index stands at the left as far as it goes,
           +---------+       a home run begins at the top of a column, or under
home run 1 |         v       the one before where it fits there whole
```
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest

from cardgen.drawing.shapes import DrawnBlock
from cardgen.light_dataclass import dataclass

APART = 7.0  # mm between drawings in one column
FOOT = 8.0  # mm kept beneath a block for the mark that the drawing goes on

Drawing = Sequence[DrawnBlock]


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """The blocks of one column with their tops."""

    blocks: tuple[tuple[float, DrawnBlock], ...]

    @property
    def first(self) -> DrawnBlock:
        return self.blocks[0][1]

    @property
    def bottom(self) -> float:
        y, block = self.blocks[-1]
        return y + block.height

    @property
    def is_continued(self) -> bool:
        """Whether a drawing that began before goes on at its top."""
        return bool(self.first.trunks)


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnSpot:
    """Where a column is printed, both from 0."""

    sheet: int
    column: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """All columns as the drawings go on in them, where each is printed, and where each begins.

    Attributes:
        starts: of each drawing, the index of the column in which it begins.
    """

    columns: tuple[Filled, ...]
    spots: tuple[ColumnSpot, ...]
    starts: tuple[int, ...]

    @property
    def sheets(self) -> int:
        return 1 + max((spot.sheet for spot in self.spots), default=-1)

    def sheet_of(self, number: int) -> int:
        """Of a drawing, from 0: the sheet, from 1, on which it begins."""
        return self.spots[self.starts[number]].sheet + 1


def spread(
    drawings: Sequence[Drawing], height_mm: float, *, count: int, index: Drawing = ()
) -> Spread:
    """`count` columns on a sheet, two at most; the index of the drawings stands before them."""
    columns: list[list[tuple[float, DrawnBlock]]] = [[]]
    y = _flow(index, columns, 0.0, height_mm)
    listing = len(columns) if index else 0
    if listing > 1:  # the first drawing begins beside it, on the first sheet
        columns.append([])
        y = 0.0
    starts = []
    for blocks in drawings:
        y += APART if columns[-1] else 0.0
        if columns[-1] and y + sum(block.height for block in blocks) > height_mm:
            columns.append([])
            y = 0.0
        starts.append(len(columns) - 1)
        y = _flow(blocks, columns, y, height_mm)
    filled = tuple(Filled(blocks=tuple(column)) for column in columns if column)
    return Spread(columns=filled, spots=_spots(len(filled), listing, count), starts=tuple(starts))


def _flow(
    blocks: Drawing, columns: list[list[tuple[float, DrawnBlock]]], y: float, height: float
) -> float:
    """Put them under what is there, from `y` on, and into new columns; where the last one ends."""
    for number, block in enumerate(blocks):
        beneath = max(FOOT, block.keep) if number < len(blocks) - 1 else 0.0
        if columns[-1] and y + block.height + beneath > height:
            columns.append([])
            y = block.again.height
        columns[-1].append((y, block))
        y += block.height
    return y


def _spots(count: int, listing: int, across: int) -> tuple[ColumnSpot, ...]:
    """No sheet has nothing but the index: each of its columns has one of a drawing beside it.

    `listing` columns begin with the index; `across` are on a sheet.
    """
    order = [*range(count)]
    if across > 1:
        pairs = zip_longest(order[:listing], order[listing : 2 * listing])
        order = [x for pair in pairs for x in pair if x is not None] + order[2 * listing :]
    place = {column: number for number, column in enumerate(order)}
    return tuple(
        ColumnSpot(sheet=place[column] // across, column=place[column] % across)
        for column in range(count)
    )
