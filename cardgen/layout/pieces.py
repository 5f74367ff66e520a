"""What a block becomes when it is set: pieces that stay together, or why it cannot be."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cardgen.asbuilt.model import ConductorMark
from cardgen.cards.model import Code, FieldValue
from cardgen.fonts import Weight
from cardgen.layout.face import FaceBlock
from cardgen.layout.fit import fit, too_wide_by
from cardgen.layout.items import Item, all_moved
from cardgen.layout.setting import Placed, PrinterHead, in_words, plain_text

TOO_LONG = "text-too-long"
BETWEEN = 0.45  # capital heights between the entries of a list


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A part of a block that stays together.

    Attributes:
        header: set again above this piece where a further card begins with it.
        tied: it may not stand last on a card (a title, a table's header).
    """

    height: float
    items: tuple[Item, ...]
    header: Placed | None = None
    tied: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Misfit:
    """Why a block cannot be set.

    Attributes:
        code: of the problem.
        text: what does not fit, as it would be read.
        reason: `is 3.2 mm too wide for ...`.
        part: of the face, where other cards may have too little room, too; empty for none.
        over: by how many mm.
    """

    code: str
    text: str
    reason: str
    help: str = ""
    part: str = ""
    over: float = 0.0


def too_long(text: str, part: str, over: float, *, way: str, where: str, help_: str = "") -> Misfit:
    """`is 3.2 mm too wide at ...`: never told as 0.0 mm."""
    over = max(over, 0.1)
    return Misfit(
        code=TOO_LONG,
        text=text,
        reason=f"is {over:.1f} mm too {way} {where}",
        help=help_,
        part=part,
        over=over,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What a block is set into: a width, at a share from least (0) to wanted (1) letters.

    Compact asks for less height at the same letters.
    """

    width: float
    share: float
    compact: bool
    press: PrinterHead

    def capital(self, block: FaceBlock) -> float:
        return block.least + self.share * (block.capitals - block.least)


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A block to be set: the value of its field and its title, if the card has them."""

    block: FaceBlock
    value: FieldValue
    label: str
    room: Room

    @property
    def capital(self) -> float:
        return self.room.capital(self.block)


Outcome = tuple[Piece, ...] | Misfit


def strings(value: FieldValue) -> tuple[str, ...]:
    if isinstance(value, str):
        return (value,)
    if isinstance(value, Code):
        return (value.text,)
    if isinstance(value, ConductorMark):
        return (in_words(value, cable=True),)
    assert isinstance(value, tuple)
    return tuple(
        in_words(entry, cable=True) if isinstance(entry, ConductorMark) else str(entry)
        for entry in value
    )


def marks(value: FieldValue) -> tuple[ConductorMark, ...]:
    if isinstance(value, ConductorMark):
        return (value,)
    assert isinstance(value, tuple)
    return tuple(entry for entry in value if isinstance(entry, ConductorMark))


def lowered(piece: Piece, by: float) -> Piece:
    return replace(piece, height=piece.height + by, items=all_moved(piece.items, 0, by))


def text_piece(texts: tuple[str, ...], weight: Weight, task: Task) -> Piece | Misfit:
    """Texts under each other, as large as the task's letters if the width allows."""
    block, width = task.block, task.room.width
    setting = fit(
        texts, weight, width=width, wanted=task.capital, least=block.least, lines=block.lines
    )
    if setting is None:
        return too_wide(texts, block, width)
    placed = plain_text(setting, width=width, align=block.align)
    return Piece(height=placed.height, items=placed.items)


def too_wide(texts: tuple[str, ...], block: FaceBlock, width: float) -> Misfit:
    by = too_wide_by(texts, block.weight, width=width, least=block.least, lines=block.lines)
    text = " / ".join(text for text in texts if text)
    where = f"at the least letters of {block.least:.3g} mm"
    return too_long(text, block.field, by, way="wide", where=where)
