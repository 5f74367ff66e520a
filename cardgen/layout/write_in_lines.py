"""Turn labels into lines to write on, or into boxes to tick, some side by side."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from cardgen.fonts import Weight
from cardgen.layout.fit import Setting, fit
from cardgen.layout.geometry import Mm, frame
from cardgen.layout.items import Item, Outline, Segment, Strokes, all_moved
from cardgen.layout.pieces import Piece, Task, strings, text_piece, too_wide
from cardgen.layout.setting import Placed, text_items
from cardgen.light_dataclass import replace

GAP = 4.0  # mm; between neighbors
ROW = 8.0  # mm; room for a gloved hand with a pencil (common practice, no source)
BOX = 4.0  # mm; side of a box to tick (assumed)
LINE = Mm(0.25)

# What one label becomes in a cell of that width and height.
_Cell = Callable[[Setting, float, float], tuple[Item, ...]]


def set_blanks(task: Task) -> tuple[Piece, ...]:
    """`label ________` for each label; the line takes what the label leaves."""
    return _set(task, _blank, share=0.65)


def set_ticks(task: Task) -> tuple[Piece, ...]:
    """A box before each label."""
    return _set(task, _tick, share=1.0)


def _set(task: Task, cell: _Cell, share: float) -> tuple[Piece, ...]:
    """Row by row; a label takes at most its share of the cell."""
    block, texts = task.block, strings(task.value)
    width = (task.room.width - (block.across - 1) * GAP) / block.across
    left = BOX + 1.5 if cell is _tick else 0.0
    high = block.row or ROW
    pieces: list[Piece] = []
    if task.label:
        title = text_piece((task.label,), Weight.BOLD, task)
        pieces.append(replace(title, tied=True))
    room = share * (width - left)
    settings = [_label(text, room, task) for text in texts]
    starts = range(0, len(texts), block.across)
    pieces += [_row(settings[start : start + block.across], cell, width, high) for start in starts]
    return tuple(pieces)


def _label(text: str, room: float, task: Task) -> Setting:
    setting = fit((text,), task.block.weight, width_mm=room, capital_mm=task.capital)
    if setting is None:
        raise too_wide((text,), task.block, room)
    return setting


def _row(settings: Sequence[Setting], cell: _Cell, width: float, high: float) -> Piece:
    def draw() -> Iterator[Item]:
        for column, setting in enumerate(settings):
            yield from all_moved(cell(setting, width, high), column * (width + GAP), 0)

    tallest = max(high, *(setting.height + 1.5 for setting in settings))
    return Piece.of(Placed(height=tallest, draw=draw))


def _blank(setting: Setting, width: float, high: float) -> tuple[Item, ...]:
    """The last line of the label stands on the level of the rule."""
    rise = (len(setting.lines) - 1) * setting.pitch
    base = high - 1.5
    words = all_moved(text_items(setting, width_mm=width), 0, max(base - setting.above - rise, 0.0))
    y = Mm(base + 0.6)
    start = Mm(setting.width + 1.5)
    line = Segment(x1=start, y1=y, x2=Mm(width), y2=y)
    return (*words, Strokes(segments=(line,), width=LINE))


def _tick(setting: Setting, width: float, high: float) -> tuple[Item, ...]:
    top = max((high - BOX) / 2, 0.0)
    down = top + BOX / 2 - setting.capital / 2 - (setting.above - setting.capital)
    words = all_moved(text_items(setting, width_mm=width), BOX + 1.5, max(down, 0.0))
    return (Outline(frame=frame(0, top, BOX, BOX), width=Mm(0.4)), *words)
