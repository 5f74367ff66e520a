r"""Turn joints into drawings: conductors in at the left, out at the right, leads down, one dot.

```
1  COMMON A    5 x 18 AWG, connector                title, and what must hold it all
[   ] A-K1 white WH ------.   .------ [   ] A-K1 white WH      every line named in words
      from A, 18 AWG        (o)            to VB-2, 18 AWG
                          / | \
                        A1  A2  A3                   leads, spread under the dot
```
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from cardgen.cards.card import Splice, Wire
from cardgen.fonts import Weight
from cardgen.layout.face import Align
from cardgen.layout.fit import fit
from cardgen.layout.geometry import Mm
from cardgen.layout.items import Item, Ring, Segment, Strokes, all_moved
from cardgen.layout.pieces import Piece, Task, too_wide
from cardgen.layout.setting import Placed, text_items
from cardgen.layout.wires import SMALL, Side, WireWords, side, wire_words

MIDDLE = 24.0  # mm; where lines meet, between what comes in and what goes out
DROP = 3.0  # mm; of the leads below the dot
PAST = 1.0  # mm; between a line and the words beside it
LINE, RULE = Mm(0.6), Mm(0.2)
DOT = Mm(1.3)  # radius of the dot
BESIDE = 5  # leads in one row; more stand under each other
LEAD = 26.0  # mm; for each lead in a row

Drawn = tuple[Placed, list[Segment]]


def set_splices(task: Task) -> tuple[Piece, ...]:
    """A drawing for each joint, under its title."""
    pieces: list[Piece] = []
    assert isinstance(task.value, tuple)
    for splice in task.value:
        assert isinstance(splice, Splice)
        pieces.append(_splice(splice, task))
    return tuple(pieces)


def _splice(splice: Splice, task: Task) -> Piece:
    head = _head(splice, task)
    drawing = _drawing(splice, task)
    down = head.height + 0.75 * task.capital
    foot = down + drawing.height + 0.75 * task.capital
    rule = Strokes(segments=(_segment(0, foot, task.room.width, foot),), width=RULE)
    items = (*head.items, *all_moved(drawing.items, 0, down), rule)
    return Piece(height=foot + 0.75 * task.capital, items=items)


def _head(splice: Splice, task: Task) -> Placed:
    """Title at the left, beside it what the connector must hold."""
    block, capital, width = task.block, task.capital, task.room.width
    title = fit((splice.title,), Weight.BOLD, width_mm=0.5 * width, capital_mm=capital)
    if title is None:
        raise too_wide((splice.title,), block, 0.5 * width)
    left = title.width + 4.0
    small = max(SMALL * capital, block.least)
    about = fit((splice.about,), Weight.MEDIUM, width_mm=width - left, capital_mm=small)
    if about is None:
        raise too_wide((splice.about,), block, width - left)
    base = max(title.above, about.above)
    items = [*all_moved(text_items(title, width_mm=width), 0, base - title.above)]
    items += all_moved(text_items(about, width_mm=width - left), left, base - about.above)
    return Placed(height=max(title.height, about.height), items=tuple(items))


def _drawing(splice: Splice, task: Task) -> Placed:
    wide = (task.room.width - MIDDLE) / 2
    left, right = side(splice.arriving, wide, task), side(splice.leaving, wide, task)
    levels = (*left.levels, *right.levels) or (task.capital,)
    below = max(left.height, right.height)
    x, y = wide + MIDDLE / 2, sum(levels) / len(levels)
    if 1 < len(splice.leads) <= BESIDE:
        y = below  # a fan from there crosses no words
    placed, lines = _leads(splice.leads, task, (x, y), below if right.items else 0.0)
    lines += _to_dot(left, wide, (x, y))
    lines += [_segment(x, y, wide + MIDDLE - PAST, level) for level in right.levels]
    height = max(below, y + DOT, placed.height)
    beside = all_moved(right.items, wide + MIDDLE, 0)
    drawn = (
        Strokes(segments=tuple(lines), width=LINE),
        Ring(x=Mm(x), y=Mm(y), diameter=DOT, width=DOT),  # as thick as it is wide: a full dot
    )
    return Placed(height=height, items=(*left.items, *beside, *placed.items, *drawn))


def _to_dot(left: Side, edge: float, dot: tuple[float, float]) -> Iterator[Segment]:
    """Level from the end of the words to the edge of the middle, from there to the dot."""
    for level, reach in zip(left.levels, left.reaches, strict=True):
        if reach + PAST < edge:
            yield _segment(reach + PAST, level, edge, level)
        yield _segment(edge, level, *dot)


def _leads(leads: Sequence[Wire], task: Task, dot: tuple[float, float], below: float) -> Drawn:
    """The leads with their lines; at the right nothing stands under `below` any more."""
    if not leads:
        return Placed(height=0.0, items=()), []
    if 1 < len(leads) <= BESIDE:
        return _in_a_row(leads, task, dot)
    return _under_each_other(leads, task, dot, below)


def _in_a_row(leads: Sequence[Wire], task: Task, dot: tuple[float, float]) -> Drawn:
    """A fan of lines, each with its label centered beneath."""
    x, y = dot
    each = min(LEAD, task.room.width / len(leads))
    foot = y + DROP
    start = x - each * len(leads) / 2
    labels = [wire_words(lead, each - PAST, task, Align.CENTER) for lead in leads]
    level = max(words.level for words in labels)
    items: list[Item] = []
    lines: list[Segment] = []
    height = 0.0
    for number, (lead, words) in enumerate(zip(leads, labels, strict=True)):
        left, top = start + number * each, foot + PAST + level - words.level
        lines.append(_segment(x, y, left + each / 2, foot))
        items += all_moved(words.items, left + PAST / 2 + _centered(lead, words, each), top)
        height = max(height, top + words.height)
    return Placed(height=height, items=tuple(items)), lines


def _centered(lead: Wire, words: WireWords, each: float) -> float:
    """How far a label with a swatch moves right; plain words are centered already."""
    return max((each - PAST - words.reach) / 2, 0.0) if lead.mark else 0.0


def _under_each_other(
    leads: Sequence[Wire], task: Task, dot: tuple[float, float], below: float
) -> Drawn:
    """One line down with a branch to the right for each lead; a single one needs no branch."""
    x, y = dot
    left = x + (4.0 if len(leads) > 1 else 1.5)
    if len(leads) > 1:
        leads = [_on_one_line(lead) for lead in leads]
    made = side(leads, task.room.width - left, task)
    top = max(y + DROP - made.levels[0], below + PAST)
    foot = top + made.levels[-1]
    lines = [_segment(x, y, x, foot if len(leads) > 1 else foot + PAST)]
    if len(leads) > 1:
        lines += [_segment(x, top + level, left - PAST, top + level) for level in made.levels]
    return Placed(height=top + made.height, items=all_moved(made.items, left, top)), lines


def _on_one_line(lead: Wire) -> Wire:
    """Many leads must not make a joint higher than a card."""
    return lead if lead.mark else replace(lead, name=f"{lead.name}, {lead.about}", about="")


def _segment(x1: float, y1: float, x2: float, y2: float) -> Segment:
    return Segment(x1=Mm(x1), y1=Mm(y1), x2=Mm(x2), y2=Mm(y2))
