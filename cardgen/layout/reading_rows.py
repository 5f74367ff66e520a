"""Set what a meter must show: under the place where it is read, the units in a column.

```
AT CONTROLLER
Ω   33.2 (27–39)
mA  230 on
```
What is not known is a line to write on, as long as there is room.
"""

from __future__ import annotations

from collections.abc import Iterator

from cardgen import fonts
from cardgen.cards.card import Table
from cardgen.cards.expected import TO_FILL_IN
from cardgen.fonts import Weight
from cardgen.layout.fit import Setting, fit
from cardgen.layout.geometry import Mm
from cardgen.layout.items import Item, Segment, Strokes
from cardgen.layout.pieces import Piece, Task, drawn_text, too_wide
from cardgen.layout.setting import text_items

AFTER_UNIT, BEFORE_NOTE = 0.5, 0.6  # capital heights
WIDEST_UNIT = "mA"
UNDER = 0.3  # capital heights between lines
WRITE_IN = 2.2  # capital heights of a row for a pencil, in all letters but the smallest
LINE = Mm(0.25)


def set_readings(task: Task) -> tuple[Piece, ...]:
    """A title and a row for each figure, in one piece.

    Raises:
        Misfit: if a row is too wide.
    """
    assert isinstance(task.value, Table)
    pieces = [*_title(task), *_rows(task, task.value)]
    gap = UNDER * task.capital
    height = sum(piece.height for piece in pieces) + gap * (len(pieces) - 1)

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        for piece in pieces:
            yield from piece.at(x_mm, y_mm)
            y_mm += piece.height + gap

    return (Piece(height=height, draw=draw),)


def _title(task: Task) -> Iterator[Piece]:
    if task.label:
        setting = _fitted(task.label, Weight.BOLD, task, task.room.width, task.small)
        yield Piece(height=setting.height, draw=drawn_text(setting, task.room.width))


def _rows(task: Task, table: Table) -> Iterator[Piece]:
    rows = [tuple(str(cell) for cell in row) for row in table.rows]
    units = [row[0] for row in rows]
    if len(rows) > 1:
        units.append(WIDEST_UNIT)  # so that all blocks of a card align
    unit = max(fonts.width(text, task.block.weight) for text in units) * task.capital
    left = unit + AFTER_UNIT * task.capital
    for row in rows:
        yield _write_in(row[0], task, left) if row[1] == TO_FILL_IN else _row(row, task, left)


def _write_in(unit: str, task: Task, left: float) -> Piece:
    """The unit, and a line as long as the row."""
    first = _fitted(unit, task.block.weight, task, left, task.capital)
    is_high = task.capital > task.block.least
    base = WRITE_IN * task.capital if is_high else first.above

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        yield from text_items(first, width_mm=left, x_mm=x_mm, y_mm=y_mm + base - first.above)
        y = Mm(y_mm + base + LINE / 2)
        end = Mm(x_mm + task.room.width)
        yield Strokes(segments=(Segment(x1=Mm(x_mm + left), y1=y, x2=end, y2=y),), width=LINE)

    return Piece(height=base + LINE, draw=draw)


def _row(row: tuple[str, ...], task: Task, left: float) -> Piece:
    """The unit, the figure, and what belongs to it behind, or under it without room there."""
    unit, number, note = row
    capital, weight, room = task.capital, task.block.weight, task.room.width - left
    first = _fitted(unit, weight, task, left, capital)
    second = _fitted(number, weight, task, room, capital)
    right = second.width + BEFORE_NOTE * capital
    beside, rest = _parted(note, (room - right) / capital)
    behind = _fitted(beside, Weight.MEDIUM, task, room, capital)
    under = _fitted(rest, Weight.MEDIUM, task, room, capital)
    base = max(first.above, second.above, behind.above)

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        for setting, across, down in (
            (first, 0.0, 0.0),
            (second, left, 0.0),
            (behind, left + right, 0.0),
            (under, left, second.pitch),
        ):
            top = y_mm + down + base - setting.above
            yield from text_items(setting, width_mm=room, x_mm=x_mm + across, y_mm=top)

    return Piece(height=base + len(under.lines) * second.pitch, draw=draw)


def _parted(note: str, most_capitals: float) -> tuple[str, str]:
    """What of a note has room in so many capital heights, and the rest."""
    words = note.split(" ")
    for count in range(len(words), 0, -1):
        beside = " ".join(words[:count])
        if fonts.width(beside, Weight.MEDIUM) <= most_capitals:
            return beside, " ".join(words[count:])
    return "", note


def _fitted(text: str, weight: Weight, task: Task, width: float, capital: float) -> Setting:
    setting = fit((text,), weight, width_mm=width, capital_mm=capital)
    if setting is None:
        raise too_wide((text,), task.block, width)
    return setting
