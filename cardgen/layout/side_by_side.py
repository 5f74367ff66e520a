"""Pour the pieces of a column into parts of its width, beneath what stands there already.

```
across: 3, wide: 2
+----------------+-------+   +----------------+-------+
| wide           | 1     |   | wide           | 4     |   what is wide flows first; then part by
| wide           | 2     |   |-------+--------|       |   part, those at its right before those
| wide           | 3     |   | 5     | 6      |       |   beneath it; on the last card all are
| wide           |       |   |       |        |       |   about as long
+----------------+-------+   +----------------+-------+
```
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import count
from types import MappingProxyType

from cardgen.layout.face import Column
from cardgen.layout.geometry import NOTHING
from cardgen.layout.pieces import Piece, too_long
from cardgen.layout.setting import Placed
from cardgen.light_dataclass import dataclass

APART = 6.0  # mm; between the parts
HALVINGS = 10  # of the height in which the lowest is sought: 0.2 mm on the largest sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnPart:
    """A part of the width on one card: from where, and how far down."""

    card: int
    left: float
    top: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """What stands where, from the top left corner of the column's frame on its card."""

    card: int
    left: float
    top: float
    piece: Piece | Placed


def part_width(column: Column) -> float:
    return (column.frame.width - (column.across - 1) * APART) / column.across


def wide_width(column: Column) -> float:
    """The width of what is not in parts."""
    if not column.wide:
        return column.frame.width
    return column.wide * (part_width(column) + APART) - APART


def poured(
    pieces: Sequence[tuple[float, Piece, float]], column: Column, card: int, top_mm: float
) -> list[Placement]:
    """Each piece with the gap above it and the height it needs; what is wide ends at `top_mm` of
    `card`.

    Raises:
        Misfit: if one is taller than a card.
    """
    _refuse_too_tall(pieces, column.frame_on(1).height)
    loose = _filled(pieces, _parts(column, card, top_mm))
    last = max(placement.card for placement in loose)
    low, high = 0.0, float(column.frame_on(last).height)
    level = loose
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        tried = _filled(pieces, _parts(column, card, top_mm, {last: middle}))
        if tried[-1].card > last:
            low = middle
        else:
            level, high = tried, middle
    return level


def _refuse_too_tall(pieces: Iterable[tuple[float, Piece, float]], most_mm: float) -> None:
    for _, piece, needs in pieces:
        over = _head(piece) + needs - most_mm
        if over > NOTHING:
            raise too_long("row", over, variant="row", high=most_mm)


def _parts(
    column: Column, card: int, top_mm: float, bottoms: Mapping[int, float] = MappingProxyType({})
) -> Iterator[ColumnPart]:
    """Part by part, card by card; a card's parts end at its bottom here, else at its frame's."""
    wide = column.wide or column.across
    right, beneath = range(wide, column.across), range(wide)
    for number in count():
        bottom = bottoms.get(number, column.frame_on(number).height)
        top = top_mm if number == card else 0.0
        for index in (*right, *(beneath if number >= card else ())):
            left = index * (part_width(column) + APART)
            begin = top if index < wide else 0.0
            yield ColumnPart(card=number, left=left, top=begin, height=bottom - begin)


def _filled(
    pieces: Iterable[tuple[float, Piece, float]], parts: Iterator[ColumnPart]
) -> list[Placement]:
    """Each piece in the first part, from that of the last one on, that has the height it needs."""
    placed: list[Placement] = []
    part, y = next(parts), 0.0
    for gap, piece, needs in pieces:
        y += gap if y else 0.0
        if y + needs > part.height + NOTHING:
            head = _head(piece)
            part = next(part for part in parts if head + needs <= part.height + NOTHING)
            if piece.header is not None:
                placed.append(_in(part, 0.0, piece.header))
            y = head
        placed.append(_in(part, y, piece))
        y += piece.height
    return placed


def _head(piece: Piece) -> float:
    return piece.header.height if piece.header is not None else 0.0


def _in(part: ColumnPart, y_mm: float, piece: Piece | Placed) -> Placement:
    return Placement(card=part.card, left=part.left, top=part.top + y_mm, piece=piece)
