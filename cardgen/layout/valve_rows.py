"""Set the valves of a box: under the title of their controller a row for each.

```
CONTROLLER A, CABLE A-S1
---------------------------------------------
A7   [///]  red RD            walk lawn W        what it waters in a column, if all of it has room
A12  [///]  light-blue LB
            slope trees bubblers                 else beneath
```
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import PrintedCell, Table
from cardgen.fonts import Weight
from cardgen.layout.fit import ASCENT, Setting, fit
from cardgen.layout.geometry import NOTHING, Mm
from cardgen.layout.items import Item, Segment, Strokes
from cardgen.layout.pieces import Piece, Task, drawn_text, height_of, lowered, too_wide
from cardgen.layout.setting import text_items
from cardgen.layout.shown_wire import ShownWire, are_in_two_languages, shown_wire
from cardgen.light_dataclass import dataclass, replace

RULE = Mm(0.375)
TO_RULE, FROM_RULE = 0.3, 0.25  # small capital heights, above and below the rule of a title
BETWEEN_ROWS = 0.14  # capital heights
BETWEEN_GROUPS = 0.4
AFTER_ID = 0.5
BEFORE_AREA = 1.0  # small capital heights
WIDEST_ID = 0.3  # of the width; a longer one stands over its row


@dataclass(frozen=True, slots=True, kw_only=True)
class _ValveRow:
    """A valve before it is set; `wire` is what stands behind its id, `room` wide."""

    id: Setting
    shown: PrintedCell
    area: str
    left: float
    room: float
    wire: ShownWire

    @property
    def first_line(self) -> float:
        """How wide that is; what has more lines leaves no room beside it."""
        return self.left + self.wire.width


def set_valve_rows(task: Task) -> tuple[Piece, ...]:
    """The valves of each controller under its title, which goes on to further cards with them.

    Where each color has its word in two languages, no row has its code if that saves lines.

    Raises:
        Misfit: if a word is too wide.
    """
    assert isinstance(task.value, Table)
    cells = [row[: task.block.cells] for row in task.value.rows]
    shown = [cell for row in cells for cell in row if isinstance(cell, ConductorMark)]
    ways = [cells]
    if are_in_two_languages(shown):
        ways.append([tuple(map(_without_code, row)) for row in cells])
    return min((_set(way, task) for way in ways), key=height_of)


def _without_code(cell: PrintedCell) -> PrintedCell:
    return replace(cell, code="") if isinstance(cell, ConductorMark) else cell


def _set(cells: Sequence[Sequence[PrintedCell]], task: Task) -> tuple[Piece, ...]:
    rows = list(_rows(cells, task))
    column = _area_column(rows, task)
    pieces: list[Piece] = []
    for title, group in groupby(zip(cells, rows, strict=True), key=lambda pair: str(pair[0][0])):
        head = _title(title, task)
        header = head.placed
        above = BETWEEN_GROUPS * task.capital if pieces else 0.0
        pieces.append(replace(lowered(head, above), tied=True))
        for number, (_, row) in enumerate(group):
            above = BETWEEN_ROWS * task.capital if number else 0.0
            pieces.append(replace(lowered(_piece(row, column, task), above), header=header))
    return tuple(pieces)


def _title(text: str, task: Task) -> Piece:
    """On a rule."""
    width, small = task.room.width, task.small
    setting = fit((text,), Weight.BOLD, width_mm=width, capital_mm=small)
    if setting is None:
        raise too_wide((text,), task.block, width)
    words = drawn_text(setting, width)
    under = setting.height - setting.below + TO_RULE * small + RULE / 2

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        yield from words(x_mm, y_mm)
        line = Segment(x1=Mm(x_mm), y1=Mm(y_mm + under), x2=Mm(x_mm + width), y2=Mm(y_mm + under))
        yield Strokes(segments=(line,), width=RULE)

    return Piece(height=under + RULE / 2 + FROM_RULE * small, draw=draw)


def _rows(cells: Sequence[Sequence[PrintedCell]], task: Task) -> Iterator[_ValveRow]:
    """Each with its wire behind the ids, which have one width; under its id if that is long."""
    ids = [_id(str(row[1]), task) for row in cells]
    most = WIDEST_ID * task.room.width
    widest = max((each.width for each in ids if each.width <= most), default=0.0)
    column = widest + AFTER_ID * task.capital
    for id_, (_, _, *more) in zip(ids, cells, strict=True):
        shown, *areas = [cell for cell in more if cell] or [""]
        area = "".join(map(str, areas))
        yield _row(id_, shown, area, (column, 0.0) if id_.width <= most else (0.0,), task)


def _row(
    id_: Setting, shown: PrintedCell, area: str, places: Sequence[float], task: Task
) -> _ValveRow:
    """With its wire at the first of the places where it has room."""
    for left in places:
        room = task.room.width - left
        wire = shown_wire(shown, task, room)
        if wire is not None:
            return _ValveRow(id=id_, shown=shown, area=area, left=left, room=room, wire=wire)
    word = shown if isinstance(shown, str) else shown.word
    raise too_wide((word,), task.block, task.room.width)


def _id(text: str, task: Task) -> Setting:
    setting = fit((text,), Weight.BOLD, width_mm=task.room.width, capital_mm=task.capital)
    if setting is None:
        raise too_wide((text,), task.block, task.room.width)
    return setting


# ---- what it waters --------------------------------------------------------------------------


def _area_column(rows: Iterable[_ValveRow], task: Task) -> float:
    """Where the areas begin that stand behind their wire: under each other as far as possible."""
    beside = [row for row in rows if _has_room(row, task)]
    widest = max((_behind(row, task) for row in beside), default=0.0)
    return min([widest, *(task.room.width - _area(row.area, task).width for row in beside)])


def _behind(row: _ValveRow, task: Task) -> float:
    return row.first_line + BEFORE_AREA * task.small


def _has_room(row: _ValveRow, task: Task) -> bool:
    """Whether its area stands behind its wire."""
    width = _behind(row, task) + _area(row.area, task).width
    return bool(row.area) and row.wire.is_line and width <= task.room.width + NOTHING


def _area(text: str, task: Task) -> Setting:
    return Setting(lines=(text,) if text else (), weight=Weight.MEDIUM, capital=Mm(task.small))


def _piece(row: _ValveRow, column: float, task: Task) -> Piece:
    beside = _has_room(row, task)
    right = max(column, _behind(row, task))
    area = _area(row.area if beside else "", task)
    beneath = "" if beside else row.area
    wire = shown_wire(row.shown, task, row.room, beneath)
    if wire is None:
        raise too_wide((row.area,), task.block, row.room)
    over = 0.0 if row.left else row.id.height
    base = max(wire.base, ASCENT * row.id.capital)

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        width = task.room.width
        top = y_mm if over else y_mm + base - row.id.above
        yield from text_items(row.id, width_mm=width, x_mm=x_mm, y_mm=top)
        yield from wire.at(x_mm + row.left, y_mm + over + base - wire.base, task)
        yield from text_items(
            area, width_mm=width, x_mm=x_mm + right, y_mm=y_mm + base - area.above
        )

    return Piece(height=over + base - wire.base + wire.height, draw=draw)
