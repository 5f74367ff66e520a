"""Fill the columns of a face with the fields of a card, at one scale of each column.

A column that flows goes on to further cards where what is in it does not fit on one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cardgen.cards.card import Card
from cardgen.cards.labels import label
from cardgen.layout.blocks import set_block
from cardgen.layout.face import Column, FaceBlock, at_scale
from cardgen.layout.geometry import NOTHING, Frame, Mm, frame, on_dots
from cardgen.layout.items import Item, Segment, Strokes
from cardgen.layout.pieces import Misfit, Piece, Room, too_long
from cardgen.layout.setting import Placed, PrinterHead

DIVIDER = Mm(0.375)


@dataclass(frozen=True, slots=True, kw_only=True)
class _PieceGroup:
    """The pieces of one block, and the space above it."""

    block: FaceBlock
    pieces: tuple[Piece, ...]
    gap: float

    @property
    def height(self) -> float:
        return sum(piece.height for piece in self.pieces)


# What one column puts on one card, at its place on the card.
Sheetful = tuple[Item, ...]


def fill(column: Column, card: Card, press: PrinterHead, scale: int) -> tuple[Sheetful, ...]:
    """The items of a column: one sheet of them, or as many as it takes where it flows.

    Raises:
        Misfit: if something has no room at that scale.
    """
    groups = _groups(column, card, press, scale)
    if _fits(column, groups):
        return (tuple(_stacked(column, groups, press)),)
    sheets = enumerate(_paged(column, groups))
    return tuple(tuple(_at(column.frame_on(number), sheet, press)) for number, sheet in sheets)


def cards_needed(column: Column, card: Card, press: PrinterHead, scale: int) -> int:
    """How many cards the column takes, without setting anything.

    Raises:
        Misfit: if something has no room at that scale.
    """
    groups = _groups(column, card, press, scale)
    return 1 if _fits(column, groups) else len(_paged(column, groups))


def _fits(column: Column, groups: Sequence[_PieceGroup]) -> bool:
    if _height(groups) <= column.frame.height + NOTHING:
        return True
    if not column.flows:
        raise _too_high(column, groups)
    return False


def _groups(column: Column, card: Card, press: PrinterHead, scale: int) -> list[_PieceGroup]:
    room = Room(width=column.frame.width, scale=scale, press=press)
    groups: list[_PieceGroup] = []
    for block in column.blocks:
        pieces = set_block(block, card, room)
        if pieces:
            gap = at_scale(column.gap, room.scale) + block.apart if groups else 0.0
            groups.append(_PieceGroup(block=block, pieces=pieces, gap=gap))
    return groups


def _height(groups: Sequence[_PieceGroup]) -> float:
    return sum(group.gap + group.height for group in groups)


def _too_high(column: Column, groups: Sequence[_PieceGroup]) -> Misfit:
    over = _height(groups) - column.frame.height
    fields = ", ".join(label(group.block.field) for group in groups)
    least = min(group.block.least for group in groups)
    return too_long(fields, over, variant="column", fields=fields, least=least)


def _stacked(column: Column, groups: Sequence[_PieceGroup], press: PrinterHead) -> Iterator[Item]:
    """All groups in the frame."""
    at, share = column.frame, 1.0 if column.bottom else 0.5 if column.middle else 0.0
    y = at.y + (share * (at.height - _height(groups)) if share else 0.0)
    for number, group in enumerate(groups):
        if column.ruled and number:
            yield divider(frame(at.x, y + group.gap / 2, at.width, 0), press)
        y += group.gap
        for piece in group.pieces:
            yield from piece.at(at.x, on_dots(y, press.dot))
            y += piece.height


def divider(at: Frame, press: PrinterHead) -> Strokes:
    """A line along the longer side of a frame."""
    width = on_dots(DIVIDER, press.dot)
    if at.width >= at.height:
        y = Mm(on_dots(at.y, press.dot) + width / 2)
        line = Segment(x1=at.x, y1=y, x2=at.right, y2=y)
    else:
        x = Mm(on_dots(at.x, press.dot) + width / 2)
        line = Segment(x1=x, y1=at.y, x2=x, y2=at.bottom)
    return Strokes(segments=(line,), width=width)


# ---- flowing over several cards ------------------------------------------------------------

_Set = tuple[float, Piece | Placed]  # from the top of the column


def _paged(column: Column, groups: Sequence[_PieceGroup]) -> list[list[_Set]]:
    """Pieces from the top; a card ends where the next one does not fit, never after a title."""
    pages: list[list[_Set]] = [[]]
    high = column.frame.height
    y = 0.0
    for gap, piece, needs in _with_needs(groups):
        above = gap if pages[-1] else 0.0
        if y + above + needs > high + NOTHING and pages[-1]:
            high = column.frame_on(len(pages)).height
            pages.append([])
            y = above = 0.0
            if piece.header is not None:
                pages[-1].append((0.0, piece.header))
                y = piece.header.height
        if y + above + piece.height > high + NOTHING:
            raise too_long("row", y + above + piece.height - high, variant="row", high=high)
        pages[-1].append((y + above, piece))
        y += above + piece.height
    return pages


def _with_needs(groups: Sequence[_PieceGroup]) -> Iterator[tuple[float, Piece, float]]:
    """Each piece with the gap above it, and the height it needs with what it is tied to."""
    for group in groups:
        for index, piece in enumerate(group.pieces):
            needs = piece.height
            following = index
            while group.pieces[following].tied and following + 1 < len(group.pieces):
                following += 1
                needs += group.pieces[following].height
            yield (group.gap if index == 0 else 0.0), piece, needs


def _at(at: Frame, pieces: Sequence[_Set], press: PrinterHead) -> Iterator[Item]:
    for y, piece in pieces:
        yield from piece.at(at.x, on_dots(at.y + y, press.dot))
