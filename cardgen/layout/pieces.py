"""What a block becomes when it is set: pieces that stay together; or why it cannot be."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property, lru_cache
from typing import Any, Self

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import Code, PrintedValue
from cardgen.faults.fault import Fault
from cardgen.faults.paper_faults import TEXT_TOO_LONG
from cardgen.fonts import Weight
from cardgen.layout.face import Align, FaceBlock, at_scale
from cardgen.layout.fit import Setting, fit, too_wide_by
from cardgen.layout.items import Item
from cardgen.layout.setting import Placed, PrinterHead, in_words, text_items
from cardgen.light_dataclass import dataclass, replace

Draw = Callable[[float, float], Iterable[Item]]
Measured = float | Callable[[], float]  # mm, or what measures them
LEAST_OVER = 0.1  # mm; what is too long is never told as 0.0 mm
STRAY = 2  # letters that do not stand by themselves: `COM-|A`
BETWEEN = 0.45  # capital heights between the entries of a list


def nowhere(_x_mm: float, _y_mm: float) -> tuple[Item, ...]:
    return ()


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Piece:
    """A part of a block that stays together; neighbors that say the same have the same one.

    Attributes:
        draw: makes its items at a point, when the card is set.
        header: set again above this piece where a further card begins with it.
        tied: it may not stand last on a card (a title, a table's header).
    """

    height: float
    draw: Draw = nowhere
    header: Placed | None = None
    tied: bool = False

    @lru_cache(maxsize=1_024)  # noqa: B019 - and it mostly stands at the same place
    def at(self, x_mm: float, y_mm: float) -> tuple[Item, ...]:
        """The items with the top left corner there."""
        return tuple(self.draw(x_mm, y_mm))

    @property
    def placed(self) -> Placed:
        """The same by itself."""
        return Placed(height=self.height, draw=lambda: self.at(0, 0))

    @classmethod
    def of(cls, placed: Placed, header: Placed | None = None, *, tied: bool = False) -> Self:
        """What was set by itself."""
        return cls(height=placed.height, draw=placed.at, header=header, tied=tied)


def height_of(pieces: Iterable[Piece]) -> float:
    return sum(piece.height for piece in pieces)


class Misfit(Exception):
    """Raised where a card cannot be set; `pages` tells of it.

    Attributes:
        fault: which it is, in one of its variants.
        text: what does not fit, as it would be read.
        part: of the face, where other cards may have too little room, too; empty for none.
        over: by how many mm; what takes long to measure is measured when somebody asks.
        values: what else the fault names.
    """

    def __init__(
        self,
        fault: Fault,
        text: str = "",
        *,
        variant: str = "",
        part: str = "",
        over: Measured = 0.0,
        **values: Any,
    ) -> None:
        super().__init__(fault.code, text)
        self.fault, self.variant, self.text, self.values = fault, variant, text, values
        self.part, self._over = part, over

    @cached_property
    def over(self) -> float:
        return max(self._over() if callable(self._over) else self._over, LEAST_OVER)


def too_long(part: str, over: Measured, text: str = "", variant: str = "", **values: Any) -> Misfit:
    return Misfit(TEXT_TOO_LONG, text, variant=variant, part=part, over=over, **values)


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What a block is set into: a width, at a scale of its column.

    Attributes:
        by_ink: whether texts are as high as their very letters, see `Setting`.
    """

    width: float
    scale: int
    press: PrinterHead
    by_ink: bool = False

    def __hash__(self) -> int:
        return hash((self.width, self.scale))  # what is set is looked up by it, for every card


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A block to be set: the value of its field and its title, if the card has them."""

    block: FaceBlock
    value: PrintedValue
    label: str
    room: Room

    @property
    def capital(self) -> float:
        return at_scale(self.block.capitals, self.room.scale)

    @property
    def small(self) -> float:
        """Of what stands under a color word, or over readings."""
        return at_scale(self.block.small or self.block.capitals, self.room.scale)

    @property
    def weight(self) -> Weight:
        """That of the face, but a code in words has letters which OCR reads."""
        return Weight.CODE if isinstance(self.value, Code) else self.block.weight


def strings(value: PrintedValue) -> tuple[str, ...]:
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


def marks(value: PrintedValue) -> tuple[ConductorMark, ...]:
    if isinstance(value, ConductorMark):
        return (value,)
    assert isinstance(value, tuple)
    return tuple(entry for entry in value if isinstance(entry, ConductorMark))


def lowered(piece: Piece, by_mm: float) -> Piece:
    """The same further down, under room of that height."""
    return replace(
        piece,
        height=piece.height + by_mm,
        draw=lambda x, y: piece.at(x, y + by_mm),
    )


def text_piece(texts: tuple[str, ...], weight: Weight, task: Task) -> Piece:
    """Texts under each other.

    Raises:
        Misfit: if they are too wide.
    """
    block, width = task.block, task.room.width
    setting = fit(
        texts,
        weight,
        width_mm=width,
        capital_mm=task.capital,
        lines=block.lines,
    )
    if setting is None or _is_broken_in_vain(setting, texts, block, width):
        raise too_wide(texts, block, width)
    if task.room.by_ink:
        setting = setting.inked
    return Piece(height=setting.height, draw=drawn_text(setting, width, block.align))


def _is_broken_in_vain(
    setting: Setting, texts: tuple[str, ...], block: FaceBlock, width_mm: float
) -> bool:
    """Whether a word loses a letter or two to a second line, and smaller letters have it on one."""
    if len(setting.lines) < 2 or len(texts) > 1 or " " in texts[0]:
        return False
    if len(setting.lines[-1]) > STRAY:
        return False
    least = fit(texts, setting.weight, width_mm=width_mm, capital_mm=block.least, lines=1)
    return least is not None


def drawn_text(setting: Setting, width_mm: float, align: Align = Align.LEFT) -> Draw:
    return lambda x, y: text_items(setting, width_mm=width_mm, align=align, x_mm=x, y_mm=y)


def too_wide(texts: tuple[str, ...], block: FaceBlock, width_mm: float) -> Misfit:
    def over() -> float:
        return too_wide_by(
            texts, block.weight, width_mm=width_mm, least_mm=block.least, lines=block.lines
        )

    text = " / ".join(text for text in texts if text)
    return too_long(block.field, over, text, least=block.least)
