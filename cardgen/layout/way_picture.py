"""Set a way as a drawing: the controller, boxes along their cables, marks where to look.

```
[A] CONTROLLER A
 |
 |  A-K1 · 85 ft
[ ] VB-1
 |     good: A1 and A2
 #  [1] A-K1 · 60 ft          a leg that is suspected is thick and has its mark
 #  [   ] A-K1 white WH
[ ] VB-2  [2]
       ! A3 OL; expected 31.9
```
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.cards.card import WayStop
from cardgen.fonts import Weight
from cardgen.layout.fit import Setting, fit
from cardgen.layout.geometry import Mm, frame
from cardgen.layout.items import WHITE, Fill, Item, Outline, Segment, Strokes, all_moved
from cardgen.layout.pieces import Piece, Task, too_wide
from cardgen.layout.setting import Placed, inline_conductor, plain_text, text_items
from cardgen.layout.titled_lists import titled
from cardgen.light_dataclass import dataclass, replace

STEP = 7.0  # mm from a trunk to that of a cable that goes off it
BOX = 3.6  # mm; the square of a place
TRUNK, SUSPECT, EDGE = Mm(0.7), Mm(2.0), Mm(0.5)
LEFT = BOX / 2  # of the first trunk
AFTER = 2.4  # mm between a trunk and its words
TITLE = 1.25  # of a place's name against what is said of it
APART = 0.55  # capital heights between lines
LEG = 0.7  # or above and below a leg's words
BEHIND = 1.2  # or between a name and what stands behind it
PAD = 0.35  # or between a mark's number and its edge
SEAM = 0.05  # mm; pieces of a trunk overlap, so that no reader shows a gap


def set_way(task: Task) -> tuple[Piece, ...]:
    """A piece for each stop, so that a long way goes on on a further card.

    Raises:
        Misfit: if a word is too wide.
    """
    assert isinstance(task.value, tuple)
    stops = [stop for stop in task.value if isinstance(stop, WayStop)]
    return titled([_piece(stops, index, task) for index in range(len(stops))], task)


def _x(depth: int) -> float:
    return LEFT + depth * STEP


def _piece(stops: Sequence[WayStop], index: int, task: Task) -> Piece:
    stop = stops[index]
    leg, place = _leg(stop, task), _place(stop, task)
    if not index and task.label:  # not on the rule of the title
        leg = replace(leg, height=leg.height + LEG * task.capital)
    height = leg.height + place.height
    levels = [level for level in range(stop.depth + 1) if _goes_on(stops, index, level)]
    items: list[Item] = []
    for level in levels:
        top = leg.height + BOX / 2 if level == stop.depth else 0.0
        items.append(_line(_x(level), top, _x(level), height + SEAM, TRUNK))
    items += _trunk(stop, leg.height)
    items += leg.items
    items += all_moved(place.items, 0, leg.height)
    return Piece.of(Placed(height=height, draw=lambda: items))


def _goes_on(stops: Sequence[WayStop], index: int, level: int) -> bool:
    """Whether the trunk at that level goes on beneath a stop, to a box or a cable that goes off."""
    for later in stops[index + 1 :]:
        if later.depth == level + 1 and later.begins:
            return True
        if later.depth == level:
            return not later.begins and bool(later.leg)
        if later.depth < level:
            return False
    return False


def _trunk(stop: WayStop, leg_mm: float) -> Iterator[Item]:
    """What leads to the square of a place."""
    if not stop.leg:
        return
    x, thick = _x(stop.depth), SUSPECT if stop.on_leg else TRUNK
    top = 0.0
    if stop.begins:
        top = TRUNK / 2 + 0.4
        before = _x(stop.depth - 1)
        yield _line(before, 0.0, before, top + TRUNK / 2, TRUNK)
        yield _line(before, top, x + thick / 2, top, TRUNK)
    yield _line(x, top, x, leg_mm + SEAM, thick)


def _line(x1_mm: float, y1_mm: float, x2_mm: float, y2_mm: float, width: Mm) -> Strokes:
    segment = Segment(x1=Mm(x1_mm), y1=Mm(y1_mm), x2=Mm(x2_mm), y2=Mm(y2_mm))
    return Strokes(segments=(segment,), width=width)


# ---- the words beside it -------------------------------------------------------------------


@dataclass(slots=True)
class _Lines:
    """Words under each other, from a left edge."""

    left: float
    task: Task
    y: float = 0.0

    def room(self, used_mm: float = 0.0) -> float:
        return self.task.room.width - self.left - used_mm

    def words(
        self,
        text: str,
        weight: Weight,
        capital_mm: float,
        marks: Sequence[str] = (),
        behind: Setting | None = None,
    ) -> tuple[Item, ...]:
        """A line or several, marks before the first of them; one with something behind it."""
        items: list[Item] = []
        x = 0.0
        for mark in marks:
            placed, wide = _mark(mark, self.task)
            items += all_moved(placed.items, self.left + x, self.y)
            x += wide + PAD * self.task.capital
        setting = _fitted(text, weight, self.room(x), capital_mm, self.task)
        placed = plain_text(setting, width_mm=self.room(x))
        low = _mark_height(self.task) if marks else 0.0
        down = max(0.0, (low - capital_mm) / 2)
        items += all_moved(placed.items, self.left + x, self.y + down)
        if behind is not None:
            other = plain_text(behind, width_mm=behind.width)
            y = self.y + down + placed.base - other.base
            items += all_moved(other.items, self.left + x + setting.width + BEHIND * capital_mm, y)
        self.y += max(low, down + placed.height) + APART * self.task.capital
        return tuple(items)


def _leg(stop: WayStop, task: Task) -> Placed:
    """Cable and length, and the conductors that are suspected."""
    if not stop.leg:
        return Placed(height=0.0)
    lines = _Lines(_x(stop.depth) + AFTER, task, y=LEG * task.capital)
    items = list(lines.words(stop.leg, Weight.MEDIUM, task.capital, stop.on_leg))
    for wire in stop.wires:
        placed = inline_conductor(
            wire,
            Weight.BOLD,
            width_mm=lines.room(),
            capital_mm=task.capital,
            press=task.room.press,
            cable=True,
        )
        if placed is None:
            raise too_wide((wire.word,), task.block, lines.room())
        items += placed.at(lines.left, lines.y)
        lines.y += placed.height + APART * task.capital
    return Placed(height=lines.y + (LEG - APART) * task.capital, draw=lambda: items)


def _place(stop: WayStop, task: Task) -> Placed:
    x = _x(stop.depth)
    box = frame(x - BOX / 2, 0, BOX, BOX)
    ground: list[Item] = (
        [Fill(frame=box)]
        if stop.is_controller
        else [
            Fill(frame=box, ink=WHITE),
            Outline(frame=box, width=EDGE),
        ]
    )
    capital = TITLE * task.capital
    lines = _Lines(x + AFTER, task, y=max(0.0, (BOX - capital) / 2))
    behind = _behind_title(stop, lines, capital)
    items = [*ground, *lines.words(stop.title, Weight.HEAVY, capital, stop.here, behind)]
    lines.y = max(lines.y, BOX + 0.3 * task.capital)
    for text in stop.off:
        items += lines.words(text, Weight.BOLD, task.capital)
    for text in stop.notes[1 if behind else 0 :]:
        items += lines.words(text, Weight.MEDIUM, task.capital)
    return Placed(height=lines.y, draw=lambda: items)


def _behind_title(stop: WayStop, lines: _Lines, capital_mm: float) -> Setting | None:
    """The first note, where the line of the name has room for it."""
    if not stop.notes:
        return None
    task = lines.task
    title = _fitted(stop.title, Weight.HEAVY, lines.room(), capital_mm, task)
    marks = sum(_mark(mark, task)[1] + PAD * task.capital for mark in stop.here)
    room = lines.room(marks + title.width + BEHIND * capital_mm)
    if len(title.lines) > 1 or room <= 0:
        return None
    return fit(stop.notes[:1], Weight.MEDIUM, width_mm=room, capital_mm=task.capital, lines=1)


def _mark_height(task: Task) -> float:
    return (1 + 2 * PAD) * task.capital


def _mark(number: str, task: Task) -> tuple[Placed, float]:
    """White on black, and how wide it is."""
    capital, pad = task.capital, PAD * task.capital
    setting = _fitted(number, Weight.HEAVY, task.room.width, capital, task)
    wide = setting.width + 2 * pad
    setting = replace(setting, by_ink=True)
    letters = text_items(setting, width_mm=wide, ink=WHITE, x_mm=pad, y_mm=pad)
    ground = Fill(frame=frame(0, 0, wide, _mark_height(task)))
    return Placed(height=_mark_height(task), draw=lambda: (ground, *letters)), wide


def _fitted(text: str, weight: Weight, width_mm: float, capital_mm: float, task: Task) -> Setting:
    setting = fit((text,), weight, width_mm=width_mm, capital_mm=capital_mm)
    if setting is None:
        raise too_wide((text,), task.block, width_mm)
    return setting
