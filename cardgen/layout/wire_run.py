"""Set wires one after another on as few lines as they take, a cable named before the first of it.

```
SPARES   A-K1 [///] tan TN   [///] light-blue LB
A-S1 [///] orange OG (SP)
```
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from cardgen.asbuilt import ConductorMark
from cardgen.fonts import Weight
from cardgen.layout.fit import Setting, fit
from cardgen.layout.geometry import NOTHING, Mm
from cardgen.layout.items import Item
from cardgen.layout.pieces import Piece, Task, drawn_text, height_of, lowered, marks, too_wide
from cardgen.layout.setting import Placed, band_words, text_items
from cardgen.layout.shown_wire import ShownWire, are_in_two_languages, shown_wire
from cardgen.light_dataclass import dataclass, replace

BETWEEN_LINES = 0.15  # capital heights
UNDER_TITLE = 0.3  # or under a cable by itself
BETWEEN_WIRES = 1.1
AFTER_CABLE = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    """A cable where that changes, and a wire of it; one of them alone where both have no room."""

    before: Setting
    wire: ShownWire | None

    @property
    def left(self) -> float:
        return self.before.width + AFTER_CABLE * self.before.capital if self.before.lines else 0.0

    @property
    def width(self) -> float:
        return self.left + (self.wire.width if self.wire else 0.0)

    @property
    def is_line(self) -> bool:
        """Whether nothing stands beneath it, so that others may follow."""
        return self.wire is not None and self.wire.is_line

    @property
    def takes_title(self) -> bool:
        """Whether a title may stand before it on its line."""
        return self.wire is None or self.is_line

    @property
    def base(self) -> float:
        return self.wire.base if self.wire else self.before.above

    @property
    def height(self) -> float:
        return self.wire.height if self.wire else self.before.height


_Line = list[tuple[float, _Entry]]  # from the left edge


def set_wire_run(task: Task) -> tuple[Piece, ...]:
    """Title and wires in lines, which go to a further card together.

    Where each color has its word in two languages, none has its code if that saves lines.

    Raises:
        Misfit: if a word is too wide.
    """
    shown = marks(task.value)
    ways = [shown]
    if are_in_two_languages(shown):
        ways.append(tuple(replace(mark, code="") for mark in shown))
    return min((_set(way, task) for way in ways), key=height_of)


def _set(shown: tuple[ConductorMark, ...], task: Task) -> tuple[Piece, ...]:
    entries = list(_entries(shown, task))
    title = _bold(task.label, task) if task.label else None
    left = title.width + BETWEEN_WIRES * task.capital if title else 0.0
    fits = left + entries[0].width <= task.room.width + NOTHING
    beside = fits and entries[0].takes_title and (title is None or len(title.lines) == 1)
    pieces = [] if title is None or beside else [_text_piece(title, task)]
    header = _header(title, task) if title else None
    after = UNDER_TITLE
    for number, line in enumerate(_lines(entries, left if beside else 0.0, task)):
        piece = _piece(line, title if beside and not number else None, task)
        above = after * task.capital if pieces else 0.0
        pieces.append(replace(lowered(piece, above), header=header if pieces else None))
        after = BETWEEN_LINES if line[-1][1].wire else UNDER_TITLE
    return (*(replace(piece, tied=True) for piece in pieces[:-1]), pieces[-1])


def _text_piece(setting: Setting, task: Task) -> Piece:
    return Piece(height=setting.height, draw=drawn_text(setting, task.room.width))


def _header(title: Setting, task: Task) -> Placed:
    height = title.height + UNDER_TITLE * task.capital
    return Placed(height=height, draw=lambda: _text_piece(title, task).at(0, 0))


def _entries(shown: tuple[ConductorMark, ...], task: Task) -> Iterator[_Entry]:
    for cable, wires in groupby(shown, key=lambda mark: mark.cable):
        for number, mark in enumerate(wires):
            name = "" if number else " ".join(filter(None, (cable, band_words(mark))))
            yield from _entry(replace(mark, cable="", band=""), name, task)


def _entry(mark: ConductorMark, cable: str, task: Task) -> Iterator[_Entry]:
    """Cable and wire in a line if they have room there."""
    width, nothing = task.room.width, Setting(lines=(), weight=Weight.BOLD, capital=Mm(task.small))
    before = _bold(cable, task) if cable else nothing
    both = shown_wire(mark, task, width - _Entry(before=before, wire=None).left)
    if both and len(before.lines) < 2 and (both.is_line or not cable):
        yield _Entry(before=before, wire=both)
        return
    alone = shown_wire(mark, task, width)
    if alone is None:
        raise too_wide((mark.word,), task.block, width)
    yield _Entry(before=before, wire=None)
    yield _Entry(before=nothing, wire=alone)


def _bold(text: str, task: Task) -> Setting:
    width = task.room.width
    setting = fit((text,), Weight.BOLD, width_mm=width, capital_mm=task.small)
    if setting is None:
        raise too_wide((text,), task.block, width)
    return setting


def _lines(entries: list[_Entry], left: float, task: Task) -> list[_Line]:
    lines: list[_Line] = [[]]
    x = left
    for entry in entries:
        if lines[-1] and (x + entry.width > task.room.width + NOTHING or not entry.is_line):
            lines.append([])
            x = 0.0
        lines[-1].append((x, entry))
        x = x + entry.width + BETWEEN_WIRES * task.capital if entry.is_line else task.room.width
    return lines


def _piece(line: _Line, title: Setting | None, task: Task) -> Piece:
    base = max(entry.base for _, entry in line)
    texts = [] if title is None else [(0.0, title)]
    texts += [(x, entry.before) for x, entry in line]

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        for right, setting in texts:
            top = y_mm + base - setting.above
            yield from text_items(setting, width_mm=task.room.width, x_mm=x_mm + right, y_mm=top)
        for right, entry in line:
            if entry.wire:
                top = y_mm + base - entry.base
                yield from entry.wire.at(x_mm + right + entry.left, top, task)

    return Piece(height=max(base - e.base + e.height for _, e in line), draw=draw)
