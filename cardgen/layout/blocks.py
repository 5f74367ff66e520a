"""Turn one block of a face and its field into pieces that are set."""

from __future__ import annotations

from collections.abc import Callable

from cardgen.cards.card import Card, Code
from cardgen.faults.paper_faults import CODE_TOO_LARGE
from cardgen.layout.face import Align, FaceBlock, Show
from cardgen.layout.fit import fit
from cardgen.layout.geometry import Frame, frame, on_dots, whole_dots
from cardgen.layout.items import BLACK, WHITE, Fill, Item, Outline, all_moved
from cardgen.layout.list_blocks import set_list_or_rows, set_rows, set_texts
from cardgen.layout.pieces import (
    Misfit,
    Piece,
    Room,
    Task,
    marks,
    strings,
    text_piece,
    too_wide,
)
from cardgen.layout.qr import least_room, symbol
from cardgen.layout.setting import SPACE, SWATCH_WIDTH, Letters, PrinterHead, conductor, text_items
from cardgen.layout.splices import set_splices
from cardgen.layout.titled_lists import set_entries
from cardgen.layout.write_in_lines import set_blanks, set_ticks

BOX_LINE = 0.6  # mm
# Purple with white or yellow marks reclaimed water (public agencies: El Paso, Texas, and others).
# The shade is ours: white on it has a contrast of 9.9, AAA of WCAG 2.2.
PURPLE = "#5B2A86"
SHARE = {Align.LEFT: 0.0, Align.CENTER: 0.5, Align.RIGHT: 1.0}


def set_block(block: FaceBlock, card: Card, room: Room) -> tuple[Piece, ...]:
    """The pieces of a block; none where the card does not have the field.

    Raises:
        Misfit: if it cannot be set in that room.
    """
    value = card.fields.get(block.field)
    if value is None or value in ("", ()):
        return ()
    label = card.fields.get(block.label, block.title) if block.label else block.title
    assert isinstance(label, str)
    return _SETTERS[block.show](Task(block=block, value=value, label=label, room=room))


def _text(task: Task) -> tuple[Piece, ...]:
    return (text_piece(strings(task.value), task.block.weight, task),)


def _framed(task: Task) -> tuple[Piece, ...]:
    """Text in a box; white on black for a banner, white on purple for a warning."""
    block, room = task.block, task.room
    texts = strings(task.value)
    beside, over = (0.2, 0.2) if room.compact else (0.5, 0.3)
    pad, above = BOX_LINE + beside * task.capital, BOX_LINE + over * task.capital
    inner = room.width - 2 * pad
    setting = fit(
        texts,
        block.weight,
        width_mm=inner,
        wanted_mm=task.capital,
        least_mm=block.least,
        lines=block.lines,
    )
    if setting is None:
        raise too_wide(texts, block, inner)
    at = frame(0, 0, room.width, on_dots(setting.height + 2 * above, room.press.dot))
    ink = BLACK if block.show is Show.BOXED else WHITE
    words = text_items(setting, width_mm=inner, align=block.align, ink=ink)
    items = (*_ground(block.show, at, room.press), *all_moved(words, pad, above))
    return (Piece(height=at.height, items=items),)


def _ground(show: Show, at: Frame, press: PrinterHead) -> tuple[Item, ...]:
    """What lies behind the text; the line makes a warning none of the black banners in one ink."""
    line = on_dots(BOX_LINE, press.dot)
    if show is Show.BOXED:
        return (Outline(frame=at, width=line),)
    if show is Show.BANNER:
        return (Fill(frame=at),)
    ground = PURPLE if press.colored else BLACK
    inside = on_dots(line / 2, press.dot)
    edge = Outline(frame=at.shrunk(inside), width=inside, ink=WHITE)
    return (Fill(frame=at, ink=ground), edge)


def _conductor(task: Task) -> tuple[Piece, ...]:
    block, room = task.block, task.room
    letters = Letters(
        weight=block.weight, wanted=task.capital, least=block.least, compact=room.compact
    )
    items: list[Item] = []
    y = 0.0
    for number, mark in enumerate(marks(task.value)):
        label = task.label if number == 0 else ""
        placed = conductor(mark, label, letters, width_mm=room.width, press=room.press)
        if placed is None:
            left = (SWATCH_WIDTH + SPACE) * task.capital
            raise too_wide((mark.word, mark.cable, mark.band), block, room.width - left)
        y += 0.6 * block.least if items else 0.0
        items += all_moved(placed.items, 0, y)
        y += placed.height
    return (Piece(height=y, items=tuple(items)),)


def _code(task: Task) -> tuple[Piece, ...]:
    """The symbol in a square, its text beneath unless the face has it elsewhere."""
    assert isinstance(task.value, Code)
    block, room, dot = task.block, task.room, task.room.press.dot
    address = task.value.address
    side = whole_dots(block.side or room.width, dot)
    left = on_dots(SHARE[block.align] * (room.width - side), dot)
    made = symbol(address, frame(left, 0, side, side), dot_mm=dot)
    if made is None:
        raise Misfit(CODE_TOO_LARGE, address, least=least_room(address), side=side)
    texts = (task.value.text,) if task.value.text and block.show is Show.CODE else ()
    text = text_piece(texts, block.weight, task)
    words = all_moved(text.items, 0, side)
    return (Piece(height=side + text.height, items=(made, *words)),)


_SETTERS: dict[Show, Callable[[Task], tuple[Piece, ...]]] = {
    Show.TEXT: _text,
    Show.CONDUCTOR: _conductor,
    Show.BOXED: _framed,
    Show.BANNER: _framed,
    Show.WARNING: _framed,
    Show.LIST: set_texts,
    Show.TABLE: set_rows,
    Show.AUTO: set_list_or_rows,
    Show.CODE: _code,
    Show.SYMBOL: _code,
    Show.SPLICES: set_splices,
    Show.ENTRIES: set_entries,
    Show.BLANKS: set_blanks,
    Show.TICKS: set_ticks,
}
