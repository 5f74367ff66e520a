"""Fill the columns of a face with the fields of a card, letters as large as the frame allows.

A share from 0 to 1 leads all letters of a column together from least to wanted.  A column that
flows goes on to further cards once its least letters do not fit on one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace

from cardgen.cards.card import Card
from cardgen.cards.labels import label
from cardgen.layout.blocks import set_block
from cardgen.layout.face import Column, Face, FaceBlock
from cardgen.layout.geometry import NOTHING, Frame, Mm, frame, on_dots
from cardgen.layout.items import Item, Segment, Strokes, all_moved
from cardgen.layout.pieces import Misfit, Piece, Room, too_long
from cardgen.layout.setting import PrinterHead

SHARES = tuple(n / 10 for n in range(11))
TIGHTEST = 0.4  # of the wanted gap between blocks, where all is tight
WIDEST = 1.6  # of the wanted gap, where there is room to spare
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


def set_face(
    face: Face, card: Card, part: Callable[[int, int], str], press: PrinterHead
) -> tuple[Sheetful, ...]:
    """The items of a card, or of each of the cards that it takes.

    Raises:
        Misfit: if something has no room.
    """
    flowing = [fill(column, card, press) for column in face.columns if column.flows]
    count = max((len(each) for each in flowing), default=1)
    sheets = []
    for number in range(count):
        items = [item for each in flowing if number < len(each) for item in each[number]]
        here = with_part(card, part(number + 1, count) if count > 1 else "")
        for column in face.columns:
            if column.flows or (column.first and number):
                continue
            filled = fill(replace(column, frame=column.frame_on(number)), here, press)
            items += [item for sheet in filled for item in sheet]
        items += [_divider(line.frame, press) for line in face.lines]
        sheets.append(tuple(items))
    return tuple(sheets)


def with_part(card: Card, part: str) -> Card:
    """The card with what tells it from its own continuation."""
    return replace(card, fields={**card.fields, "part": part}) if part else card


def fill(column: Column, card: Card, press: PrinterHead) -> tuple[Sheetful, ...]:
    """The items of a column: one sheet of them, or as many as it takes where it flows.

    Raises:
        Misfit: if even the least letters, set compact, have no room.
    """
    with suppress(Misfit):
        wanted = _sheets_at(column, card, press, (1.0, False))
        if len(wanted) == 1:
            return wanted
    with suppress(Misfit):
        return _largest(column, card, press, compact=False)
    return _largest(column, card, press, compact=True)


def _largest(
    column: Column, card: Card, press: PrinterHead, *, compact: bool
) -> tuple[Sheetful, ...]:
    """The sheets at the largest share that needs no more of them; heights grow with the share."""
    best = _sheets_at(column, card, press, (SHARES[0], compact))
    most, low, high = len(best), 0, len(SHARES)
    while high - low > 1:
        middle = high - 1 if high == len(SHARES) else (low + high) // 2
        with suppress(Misfit):
            found = _sheets_at(column, card, press, (SHARES[middle], compact))
            if len(found) <= most:
                best, low = found, middle
                continue
        high = middle
    return best


def _sheets_at(
    column: Column, card: Card, press: PrinterHead, tightness: tuple[float, bool]
) -> tuple[Sheetful, ...]:
    share, compact = tightness
    room = Room(width=column.frame.width, share=share, compact=compact, press=press)
    groups = _groups(column, card, room)
    if _height(groups) <= column.frame.height + NOTHING:
        return (tuple(_stacked(column, groups, press)),)
    if not column.flows:
        raise _too_high(column, groups)
    sheets = enumerate(_paged(column, groups))
    return tuple(tuple(_at(column.frame_on(number), sheet, press)) for number, sheet in sheets)


def _groups(column: Column, card: Card, room: Room) -> list[_PieceGroup]:
    groups: list[_PieceGroup] = []
    for block in column.blocks:
        pieces = set_block(block, card, room)
        if pieces:
            gap = column.gap * (TIGHTEST + (1 - TIGHTEST) * room.share) + block.apart
            groups.append(_PieceGroup(block=block, pieces=pieces, gap=gap if groups else 0.0))
    return groups


def _height(groups: Sequence[_PieceGroup]) -> float:
    return sum(group.gap + group.height for group in groups)


def _too_high(column: Column, groups: Sequence[_PieceGroup]) -> Misfit:
    over = _height(groups) - column.frame.height
    fields = ", ".join(label(group.block.field) for group in groups)
    least = min(group.block.least for group in groups)
    return too_long(fields, over, variant="column", fields=fields, least=least)


def _stacked(column: Column, groups: Sequence[_PieceGroup], press: PrinterHead) -> Iterator[Item]:
    """All groups in the frame; room to spare widens the gaps first."""
    at = column.frame
    spare = at.height - _height(groups)
    gaps = max(len(groups) - 1, 1)
    fixed = column.bottom or column.middle
    extra = 0.0 if fixed else min(spare / gaps, (WIDEST - 1) * column.gap)
    y = at.y + (spare if column.bottom else spare / 2 if column.middle else 0.0)
    for number, group in enumerate(groups):
        gap = group.gap + extra if number else 0.0
        if column.ruled and number:
            yield _divider(frame(at.x, y + gap / 2, at.width, 0), press)
        y += gap
        for piece in group.pieces:
            yield from all_moved(piece.items, at.x, on_dots(y, press.dot))
            y += piece.height


def _divider(at: Frame, press: PrinterHead) -> Strokes:
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

_Set = tuple[float, Piece]  # from the top of the column


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
                header = Piece(height=piece.header.height, items=piece.header.items)
                pages[-1].append((0.0, header))
                y = header.height
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
        yield from all_moved(piece.items, at.x, on_dots(at.y + y, press.dot))
