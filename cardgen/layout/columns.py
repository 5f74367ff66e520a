"""Fill the columns of a face with the fields of a card, at one scale of each column.

A column that flows goes on to further cards where what is in it does not fit on one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.cards.card import Card
from cardgen.cards.labels import label
from cardgen.layout.blocks import set_block
from cardgen.layout.face import Column, FaceBlock, at_scale
from cardgen.layout.geometry import NOTHING, Frame, Mm, frame, on_dots
from cardgen.layout.items import Item, Segment, Strokes
from cardgen.layout.pieces import Misfit, Piece, Room, too_long
from cardgen.layout.setting import Placed, PrinterHead
from cardgen.layout.side_by_side import Placement, part_width, poured, wide_width
from cardgen.light_dataclass import dataclass, replace

DIVIDER = Mm(0.375)


@dataclass(frozen=True, slots=True, kw_only=True)
class _PieceGroup:
    """The pieces of one block, the space above it, and whether it stands in a part of the width."""

    block: FaceBlock
    pieces: tuple[Piece, ...]
    gap: float
    beside: bool

    @property
    def height(self) -> float:
        return _together(self.pieces)


# What one column puts on one card, at its place on the card.
Sheetful = tuple[Item, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ScaledColumn:
    """A column at one of its scales, as all cards of a print have it.

    Attributes:
        room, part: the room of a block, and of one that shares the width.
    """

    column: Column
    scale: int
    press: PrinterHead
    room: Room
    part: Room


def all_scales(column: Column, press: PrinterHead) -> Iterator[ScaledColumn]:
    """From the largest to the smallest."""
    by_ink = column.flows or column.middle  # nothing there is at the same place on all cards
    by_ink = by_ink or _is_one_line(column)  # and this is, by its base line
    for scale in range(column.scales):
        room = Room(width=wide_width(column), scale=scale, press=press, by_ink=by_ink)
        part = replace(room, width=part_width(column))
        yield ScaledColumn(column=column, scale=scale, press=press, room=room, part=part)


def fill(scaled: ScaledColumn, card: Card) -> tuple[Sheetful, ...]:
    """The items of a column: one sheet of them, or as many as it takes where it flows.

    Raises:
        Misfit: if something has no room at that scale.
    """
    column, press, groups = scaled.column, scaled.press, _groups(scaled, card)
    if column.across == 1 and _fits(column, groups):
        return (tuple(_stacked(column, groups, press)),)
    sheets = enumerate(_paged(column, groups))
    return tuple(tuple(_at(column.frame_on(number), sheet, press)) for number, sheet in sheets)


def cards_needed(scaled: ScaledColumn, card: Card) -> tuple[int, int]:
    """How many cards the column takes, and how many blocks break that should be whole.

    Raises:
        Misfit: if something has no room at that scale.
    """
    column, groups = scaled.column, _groups(scaled, card)
    if column.across == 1 and _fits(column, groups):
        return 1, 0
    pages = _paged(column, groups)
    return len(pages), sum(group.block.whole and _breaks(group, pages) for group in groups)


def _breaks(group: _PieceGroup, pages: Sequence[Sequence[Placement]]) -> bool:
    """Whether it stands on several cards."""
    own = {id(piece) for piece in group.pieces}
    return sum(any(id(each.piece) in own for each in page) for page in pages) > 1


def _fits(column: Column, groups: Sequence[_PieceGroup]) -> bool:
    if _height(groups) <= column.frame.height + NOTHING:
        return True
    if not column.flows:
        raise _too_high(column, groups)
    return False


def _groups(scaled: ScaledColumn, card: Card) -> list[_PieceGroup]:
    column = scaled.column
    groups: list[_PieceGroup] = []
    for block in column.blocks:
        beside, pieces = block.beside, _in_part(block, card, scaled.part)
        if pieces is None:
            beside, pieces = False, set_block(block, card, scaled.room)
        if pieces:
            gap = at_scale(column.gap, scaled.scale) + block.apart if groups else 0.0
            groups.append(_PieceGroup(block=block, pieces=pieces, gap=gap, beside=beside))
    return groups


def _is_one_line(column: Column) -> bool:
    """Whether only one line stands there, on the bottom of its frame."""
    return column.bottom and len(column.blocks) == 1 and column.blocks[0].lines == 1


def _in_part(block: FaceBlock, card: Card, part: Room) -> tuple[Piece, ...] | None:
    """A block that shares the width; None where it must have more of it."""
    try:
        return set_block(block, card, part) if block.beside else None
    except Misfit:
        return None


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


def _paged(column: Column, groups: Sequence[_PieceGroup]) -> list[list[Placement]]:
    """What stands on each card: blocks of full width, then those that are beside each other."""
    pages, y = _under_each_other(column, [group for group in groups if not group.beside])
    beside_groups = [group for group in groups if group.beside]
    beside = list(_with_needs(beside_groups, column.frame.height))
    if beside:
        gap = beside[0][0] if y else 0.0
        for placement in poured(beside, column, len(pages) - 1, y + gap):
            pages += [[] for _ in range(placement.card + 1 - len(pages))]
            pages[placement.card].append(placement)
    return pages


def _under_each_other(
    column: Column, groups: Sequence[_PieceGroup]
) -> tuple[list[list[Placement]], float]:
    """Pieces from the top; a card ends where the next one does not fit, never after a title."""
    pages: list[list[Placement]] = [[]]
    high = column.frame.height
    y = 0.0
    for gap, piece, needs in _with_needs(groups, column.frame.height):
        above = gap if pages[-1] else 0.0
        if y + above + needs > high + NOTHING and pages[-1]:
            high = column.frame_on(len(pages)).height
            pages.append([])
            y = above = 0.0
            if piece.header is not None:
                pages[-1].append(_placed(pages, 0.0, piece.header))
                y = piece.header.height
        if y + above + piece.height > high + NOTHING:
            raise too_long("row", y + above + piece.height - high, variant="row", high=high)
        pages[-1].append(_placed(pages, y + above, piece))
        y += above + piece.height
    return pages, y


def _placed(pages: Sequence[object], y_mm: float, piece: Piece | Placed) -> Placement:
    return Placement(card=len(pages) - 1, left=0.0, top=y_mm, piece=piece)


def _with_needs(groups: Sequence[_PieceGroup], high: float) -> Iterator[tuple[float, Piece, float]]:
    """Each piece with the gap above it, and the height it needs with what it is tied to.

    Where all that is tied together is too high for a card, it needs only the next one.
    """
    for group in groups:
        for index, piece in enumerate(group.pieces):
            tied = [piece]
            following = group.pieces[index + 1 :]
            while tied[-1].tied and len(tied) <= len(following):
                tied.append(following[len(tied) - 1])
            needs = _together(tied) if _together(tied) <= high else _together(tied[:2])
            yield (group.gap if index == 0 else 0.0), piece, needs


def _together(pieces: Sequence[Piece]) -> float:
    return sum(piece.height for piece in pieces)


def _at(at: Frame, placements: Sequence[Placement], press: PrinterHead) -> Iterator[Item]:
    for placement in placements:
        y = on_dots(at.y + placement.top, press.dot)
        yield from placement.piece.at(at.x + placement.left, y)
