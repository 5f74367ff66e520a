"""Turn a table's rows into a list: a conductor or a name, with it what is said of it.

```
CONNECTORS
==========================
3 × small  accepts 2–5 × 18 AWG          behind the name,
[////] A-K1 blue BU (SP-COM)
       spare SP-4, reserved for drip     beneath where that has no room
```
"""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.cards.card import PrintedCell, Table, Wire
from cardgen.fonts import Weight
from cardgen.layout.geometry import Mm
from cardgen.layout.items import Segment, Strokes
from cardgen.layout.pieces import Piece, Task
from cardgen.layout.setting import Placed, plain_text
from cardgen.layout.wires import LEADS, WireWords, fitted, wire_words
from cardgen.light_dataclass import replace

THICK, THIN = Mm(0.5), Mm(0.25)  # rules


def set_entries(task: Task) -> tuple[Piece, ...]:
    assert isinstance(task.value, Table)
    pieces: list[Piece] = []
    above = LEADS * task.capital
    for row in task.value.rows:
        words = _entry(row, task)
        pieces.append(Piece.of(words.placed.under(above)))
    return titled(pieces, task)


def _entry(row: tuple[PrintedCell, ...], task: Task) -> WireWords:
    first, about = row
    assert isinstance(about, str)
    mark, name = (None, first) if isinstance(first, str) else (first, "")
    wire = Wire(mark=mark, name=name, about=about)
    return wire_words(wire, task.room.width, task, behind=True)


def titled(pieces: Sequence[Piece], task: Task) -> tuple[Piece, ...]:
    """Under their title, which stands above the first of them on every card."""
    if not task.label:
        return tuple(pieces)
    setting = fitted(task.label, Weight.BOLD, task.room.width, task.small, task)
    title = plain_text(setting, width_mm=task.room.width)
    foot = title.height + 0.3 * task.capital
    header = Placed(height=foot, draw=lambda: (*title.items, ruled(foot, task.room.width, THICK)))
    return (Piece.of(header, tied=True), *(replace(piece, header=header) for piece in pieces))


def ruled(y_mm: float, width_mm: float, thick: Mm) -> Strokes:
    """A rule over the whole width that ends at that height."""
    middle = Mm(y_mm - thick / 2)
    line = Segment(x1=Mm(0), y1=middle, x2=Mm(width_mm), y2=middle)
    return Strokes(segments=(line,), width=thick)
