"""Turn one block of a face and its field into pieces that are set."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache

from cardgen import fonts
from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import Card, Code, PrintedValue
from cardgen.faults.paper_faults import CODE_TOO_LARGE
from cardgen.fonts import Weight
from cardgen.layout.conductor_pair import set_conductors
from cardgen.layout.face import FaceBlock, Show
from cardgen.layout.fit import Setting, fit
from cardgen.layout.geometry import NOTHING, Frame, frame, on_dots, whole_dots
from cardgen.layout.items import BLACK, WHITE, Fill, Item, Outline, moved
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
from cardgen.layout.qr import has_room, least_room, symbol
from cardgen.layout.reading_rows import set_readings
from cardgen.layout.setting import (
    SHARE,
    Placed,
    PrinterHead,
    in_words,
    inline_conductor,
    text_items,
)
from cardgen.layout.splices import set_splices
from cardgen.layout.titled_lists import set_entries
from cardgen.layout.valve_rows import set_valve_rows
from cardgen.layout.way_picture import set_way
from cardgen.layout.wire_run import set_wire_run
from cardgen.layout.write_in_lines import set_blanks, set_ticks
from cardgen.light_dataclass import replace

BOX_LINE = 0.5  # mm
BESIDE, OVER = 0.4, 0.3  # capital heights between text and the line of its box
MOST_LINES = 2.5  # of a conductor beside its label; what takes more stands under it
# Purple with white or yellow marks reclaimed water (public agencies: El Paso, Texas, and others).
# The shade is ours: white on it has a contrast of 9.9, AAA of WCAG 2.2.
PURPLE = "#5B2A86"


def set_block(block: FaceBlock, card: Card, room: Room) -> tuple[Piece, ...]:
    """The pieces of a block; none where the card does not have the field.

    Raises:
        Misfit: if it cannot be set in that room.
    """
    value = card.fields.get(block.field)
    if not value:
        return ()
    label = card.fields.get(block.label, block.title) if block.label else block.title
    assert isinstance(label, str)
    return (_rows if block.show in _OF_ROWS else _pieces)(block, value, label, room)


def _made(block: FaceBlock, value: PrintedValue, label: str, room: Room) -> tuple[Piece, ...]:
    return _SETTERS[block.show](Task(block=block, value=value, label=label, room=room))


_OF_ROWS = (Show.TABLE, Show.AUTO)
_pieces = lru_cache(maxsize=500)(_made)  # neighbors share much: box, common, area, stamp
_rows = lru_cache(maxsize=64)(_made)  # large, and drawn soon after it was measured


def _text(task: Task) -> tuple[Piece, ...]:
    return (text_piece(strings(task.value), task.weight, task),)


def _named_text(task: Task) -> tuple[Piece, ...]:
    """`box VB-1`: the label small, its last line on the base line of the text."""
    block, width = task.block, task.room.width
    words = max(fonts.width(word, Weight.MEDIUM) for word in task.label.split(" ")) * task.small
    for label_width in (width, words + NOTHING):
        label = fit((task.label,), Weight.MEDIUM, width_mm=label_width, capital_mm=task.small)
        left = label.width + 0.3 * task.capital if label else width
        room = width - left
        text = fit(
            strings(task.value), block.weight, width_mm=room, capital_mm=task.capital, lines=1
        )
        if text and label:
            return (_label_and_text(label, text, left, width),)
    raise too_wide((task.label, *strings(task.value)), block, width)


def _label_and_text(label: Setting, text: Setting, left: float, width: float) -> Piece:
    last = label.above + (len(label.lines) - 1) * label.pitch
    base = max(text.above, last)

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        yield from text_items(label, width_mm=width, x_mm=x_mm, y_mm=y_mm + base - last)
        yield from text_items(text, width_mm=width, x_mm=x_mm + left, y_mm=y_mm + base - text.above)

    return Piece(height=base + max(text.below, label.below), draw=draw)


def _framed(task: Task) -> tuple[Piece, ...]:
    """Text in a box; white on black for a banner, white on purple for a warning."""
    block, room = task.block, task.room
    texts = strings(task.value)
    pad, above = BOX_LINE + BESIDE * task.capital, BOX_LINE + OVER * task.capital
    inner = room.width - 2 * pad
    setting = fit(texts, block.weight, width_mm=inner, capital_mm=task.capital, lines=block.lines)
    if setting is None:
        raise too_wide(texts, block, inner)
    height = on_dots(setting.height + 2 * above, room.press.dot)
    ink = BLACK if block.show is Show.BOXED else WHITE

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        yield from _ground(block.show, frame(x_mm, y_mm, room.width, height), room.press)
        yield from text_items(
            setting, width_mm=inner, align=block.align, ink=ink, x_mm=x_mm + pad, y_mm=y_mm + above
        )

    return (Piece(height=height, draw=draw),)


def _bar(task: Task) -> tuple[Piece, ...]:
    """A label and a conductor with a swatch of its own; under it if too long for that."""
    (mark,) = marks(task.value)
    block, width, dot = task.block, task.room.width, task.room.press.dot
    label = fit((task.label,), block.weight, width_mm=width, capital_mm=task.capital)
    if label is None:
        raise too_wide((task.label,), block, width)
    beside, under = label.width + task.capital, 0.0
    placed = _in_line(mark, task, width - beside)
    if placed is None or placed.height > MOST_LINES * label.pitch:
        beside, under = 0.0, label.height + OVER * task.capital
        placed = _in_line(mark, task, width)
    if placed is None:
        raise too_wide((in_words(mark, cable=True),), block, width)
    conductor, sink = placed, 0.0 if under else max(0.0, placed.base - label.above)

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        yield from text_items(label, width_mm=width, x_mm=x_mm, y_mm=y_mm + sink)
        yield from conductor.at(on_dots(x_mm + beside, dot), on_dots(y_mm + under, dot))

    return (Piece(height=max(label.height + sink, under + placed.height), draw=draw),)


def _in_line(mark: ConductorMark, task: Task, width_mm: float) -> Placed | None:
    """Its band only where that takes no line of its own: at the controller the legend has it."""
    ways = (
        inline_conductor(
            way,
            task.block.weight,
            width_mm=width_mm,
            capital_mm=task.capital,
            press=task.room.press,
            cable=True,
            close=True,
        )
        for way in (mark, replace(mark, band=""))
    )
    return min((way for way in ways if way), key=lambda way: way.height, default=None)


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


def _code(task: Task) -> tuple[Piece, ...]:
    """The symbol in a square, its text beneath unless the face has it elsewhere."""
    assert isinstance(task.value, Code)
    block, room, dot = task.block, task.room, task.room.press.dot
    address = task.value.address
    side = whole_dots(block.side or room.width, dot)
    left = on_dots(SHARE[block.align] * (room.width - side), dot)
    if not has_room(address, side, dot):
        raise Misfit(CODE_TOO_LARGE, address, least=least_room(address), side=side)
    texts = (task.value.text,) if task.value.text and block.show is Show.CODE else ()
    text = text_piece(texts, task.weight, task)

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        made = symbol(address, frame(left, 0, side, side), dot_mm=dot)
        assert made is not None  # there is room
        yield moved(made, x_mm, y_mm)
        yield from text.at(x_mm, y_mm + side)

    return (Piece(height=side + text.height, draw=draw),)


_SETTERS: dict[Show, Callable[[Task], tuple[Piece, ...]]] = {
    Show.TEXT: _text,
    Show.CONDUCTOR: set_conductors,
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
    Show.NAMED: _named_text,
    Show.BAR: _bar,
    Show.READINGS: set_readings,
    Show.VALVES: set_valve_rows,
    Show.WIRES: set_wire_run,
    Show.WAY: set_way,
}
