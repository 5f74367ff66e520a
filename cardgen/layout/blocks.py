"""Turn one block of a face and its field into pieces that are set, or say why it does not fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from cardgen.cards.model import Card, Code, ConductorMark, FieldValue, Table
from cardgen.fonts import Weight
from cardgen.layout.face import Align, Block, Show
from cardgen.layout.fit import fit, too_wide_by
from cardgen.layout.geometry import frame, on_dots, whole_dots
from cardgen.layout.items import WHITE, Fill, Item, Outline, all_moved
from cardgen.layout.qr import least_room, strange_letters, symbol
from cardgen.layout.setting import (
    SPACE,
    Placed,
    Press,
    conductor,
    in_words,
    inline_conductor,
    plain_text,
    small_swatch_size,
    text_items,
)
from cardgen.layout.table import Look, set_table, width_needed


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
    """

    code: str
    text: str
    reason: str
    help: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What a block is set into: a width, at a share from least (0) to wanted (1) letters."""

    width: float
    share: float
    press: Press

    def capital(self, block: Block) -> float:
        return block.least + self.share * (block.capitals - block.least)


Outcome = tuple[Piece, ...] | Misfit


def set_block(block: Block, card: Card, room: Room) -> Outcome:
    """The pieces of a block; none where the card does not have the field."""
    value = card.fields.get(block.field)
    if value is None or value in ("", ()):
        return ()
    label = card.fields.get(block.label, block.title) if block.label else block.title
    assert isinstance(label, str)
    return _SETTERS[block.show](block, value, label, room)


def _text(block: Block, value: FieldValue, label: str, room: Room) -> Outcome:
    texts = _strings(value)
    setting = fit(
        texts,
        block.weight,
        width=room.width,
        wanted=room.capital(block),
        least=block.least,
        lines=block.lines,
    )
    if setting is None:
        return _too_wide(texts, block, room.width)
    placed = plain_text(setting, width=room.width, align=block.align)
    return (Piece(height=placed.height, items=placed.items),)


def _framed(block: Block, value: FieldValue, label: str, room: Room) -> Outcome:
    """Text in a box; white on black for a banner."""
    texts = _strings(value)
    banner = block.show is Show.BANNER
    wanted = room.capital(block)
    pad = 0.4 * wanted
    inner = room.width - 2 * pad
    setting = fit(
        texts, block.weight, width=inner, wanted=wanted, least=block.least, lines=block.lines
    )
    if setting is None:
        return _too_wide(texts, block, inner)
    height = on_dots(setting.height + 2 * pad, room.press.dot)
    at = frame(0, 0, room.width, height)
    words = text_items(setting, width=inner, align=block.align, ink=WHITE if banner else "#000000")
    ground = Fill(frame=at) if banner else Outline(frame=at, width=on_dots(0.6, room.press.dot))
    return (Piece(height=height, items=(ground, *all_moved(words, pad, pad))),)


def _conductor(block: Block, value: FieldValue, label: str, room: Room) -> Outcome:
    items: list[Item] = []
    y = 0.0
    for number, mark in enumerate(_marks(value)):
        placed = conductor(
            mark,
            label if number == 0 else "",
            block.weight,
            width=room.width,
            wanted=room.capital(block),
            least=block.least,
            press=room.press,
            compact=room.share == 0,
        )
        if placed is None:
            left = (3.2 + SPACE) * room.capital(block)
            return _too_wide((mark.word, mark.cable, mark.band), block, room.width - left)
        y += 0.6 * block.least if items else 0.0
        items += all_moved(placed.items, 0, y)
        y += placed.height
    return (Piece(height=y, items=tuple(items)),)


def _list(block: Block, value: FieldValue, label: str, room: Room) -> Outcome:
    """One entry a line, under its title if it has one."""
    capital = room.capital(block)
    pieces: list[Piece] = []
    if label:
        title = _text_piece((label,), Weight.BOLD, block, room, capital)
        if isinstance(title, Misfit):
            return title
        pieces.append(Piece(height=title.height, items=title.items, tied=True))
    entries: tuple[str | ConductorMark, ...] = (
        _strings(value) if _is_words(value) else _marks(value)
    )
    for entry in entries:
        if isinstance(entry, str):
            piece = _text_piece((entry,), block.weight, block, room, capital)
        else:
            piece = _mark_piece(entry, block, room, capital)
        if isinstance(piece, Misfit):
            return piece
        pieces.append(_lowered(piece, BETWEEN * capital if pieces else 0.0))
    return tuple(pieces)


def _lowered(piece: Piece, by: float) -> Piece:
    return replace(piece, height=piece.height + by, items=all_moved(piece.items, 0, by))


def _text_piece(
    texts: tuple[str, ...], weight: Weight, block: Block, room: Room, capital: float
) -> Piece | Misfit:
    setting = fit(texts, weight, width=room.width, wanted=capital, least=block.least)
    if setting is None:
        return _too_wide(texts, block, room.width)
    placed = plain_text(setting, width=room.width, align=block.align)
    return Piece(height=placed.height, items=placed.items)


def _mark_piece(
    mark: ConductorMark, block: Block, room: Room, capital: float
) -> Piece | Misfit:
    for height in (capital, block.least):
        placed = inline_conductor(
            mark,
            block.weight,
            width=room.width,
            capital=height,
            press=room.press,
            cable=block.cable,
        )
        if placed is not None:
            return Piece(height=placed.height, items=placed.items)
    left = small_swatch_size(block.least)[0] + SPACE * block.least
    return _too_wide((in_words(mark, cable=block.cable),), block, room.width - left)


def _table(block: Block, value: FieldValue, label: str, room: Room) -> Outcome:
    assert isinstance(value, Table)
    # A wide table shrinks by itself before its whole column does.
    looks = [_look(block, room, step / 5) for step in range(5, -1, -1)]
    made = next((m for m in (set_table(value, width=room.width, look=x) for x in looks) if m), None)
    if made is None:
        by = width_needed(value, looks[-1])
        words = ", ".join(value.columns)
        return Misfit(
            code="text-too-long",
            text=f"the table {words}",
            reason=f"is {by - room.width:.1f} mm too wide at the least letters of "
            f"{block.least:g} mm",
        )
    header = made.header
    if label:
        title = _text_piece((label,), Weight.BOLD, block, room, room.capital(block))
        if isinstance(title, Misfit):
            return title
        down = title.height + BETWEEN * room.capital(block)
        items = (*title.items, *all_moved(header.items, 0, down))
        header = Placed(height=down + header.height, items=items)
    first = Piece(height=header.height, items=header.items, tied=True)
    return (first, *(Piece(height=r.height, items=r.items, header=header) for r in made.rows))


def _look(block: Block, room: Room, share: float) -> Look:
    capital = block.least + share * (room.capital(block) - block.least)
    return Look(
        capital=capital,
        least=block.least,
        names=block.names,
        cable=block.cable,
        stacked=block.stacked,
        press=room.press,
    )


def _auto(block: Block, value: FieldValue, label: str, room: Room) -> Outcome:
    setter = _table if isinstance(value, Table) else _list
    return setter(block, value, label, room)


def _code(block: Block, value: FieldValue, label: str, room: Room) -> Outcome:
    """The symbol in a square, its text beneath."""
    assert isinstance(value, Code)
    strange = strange_letters(value.address)
    if strange:
        listed = " ".join(f"'{letter}'" for letter in strange)
        return Misfit(
            code="code-letter",
            text=value.address,
            reason=f"has {listed}, which the capitals mode of a QR code lacks",
        )
    side = whole_dots(block.side or room.width, room.press.dot)
    share = {Align.LEFT: 0.0, Align.CENTRE: 0.5, Align.RIGHT: 1.0}[block.align]
    left = on_dots(share * (room.width - side), room.press.dot)
    made = symbol(value.address, frame(left, 0, side, side), dot=room.press.dot)
    if made is None:
        return Misfit(
            code="code-too-large",
            text=value.address,
            reason=f"needs a QR code of at least {least_room(value.address):.1f} mm, "
            f"but its frame has {side:.1f} mm",
            help="a shorter address makes a smaller code",
        )
    texts = (value.text,) if value.text and block.show is Show.CODE else ()
    setting = fit(
        texts,
        block.weight,
        width=room.width,
        wanted=room.capital(block),
        least=block.least,
        lines=block.lines,
    )
    if setting is None:
        return _too_wide(texts, block, room.width)
    words = all_moved(text_items(setting, width=room.width, align=block.align), 0, side)
    return (Piece(height=side + setting.height, items=(made, *words)),)


_SETTERS: dict[Show, Callable[[Block, FieldValue, str, Room], Outcome]] = {
    Show.TEXT: _text,
    Show.CONDUCTOR: _conductor,
    Show.BOXED: _framed,
    Show.BANNER: _framed,
    Show.LIST: _list,
    Show.AUTO: _auto,
    Show.TABLE: _table,
    Show.CODE: _code,
    Show.SYMBOL: _code,
}


def _is_words(value: FieldValue) -> bool:
    return isinstance(value, str) or (
        isinstance(value, tuple) and all(isinstance(entry, str) for entry in value)
    )


def _strings(value: FieldValue) -> tuple[str, ...]:
    if isinstance(value, str):
        return (value,)
    if isinstance(value, Code):
        return (value.text,)
    if isinstance(value, ConductorMark):
        return (in_words(value, cable=True),)
    assert isinstance(value, tuple)
    return tuple(e if isinstance(e, str) else in_words(e, cable=True) for e in value)


def _marks(value: FieldValue) -> tuple[ConductorMark, ...]:
    if isinstance(value, ConductorMark):
        return (value,)
    assert isinstance(value, tuple)
    return tuple(entry for entry in value if isinstance(entry, ConductorMark))


def _too_wide(texts: tuple[str, ...], block: Block, width: float) -> Misfit:
    by = too_wide_by(texts, block.weight, width=width, least=block.least, lines=block.lines)
    return Misfit(
        code="text-too-long",
        text=" / ".join(text for text in texts if text),
        reason=f"is {max(by, 0.1):.1f} mm too wide at the least letters of {block.least:g} mm",
    )
