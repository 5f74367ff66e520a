"""Turn a wire that comes to a joint into words: its swatch and name, beneath it where it leads.

Names have the wanted size of their block, all else its least: on all cards the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from cardgen import fonts
from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import Wire
from cardgen.fonts import Weight
from cardgen.layout.fit import Breaks, Setting, fit, wrap
from cardgen.layout.geometry import Mm, frame, on_dots
from cardgen.layout.items import Item, all_moved
from cardgen.layout.pieces import Task, too_wide
from cardgen.layout.setting import BOUND, Placed, in_words, plain_text, text_items
from cardgen.layout.swatch import swatch
from cardgen.light_dataclass import dataclass, replace

BETWEEN, LEADS = 0.65, 0.45  # capital heights between wires; between what takes one line each
BEHIND = 0.8  # capital heights between a name and what stands behind it
SWATCH = (5.2, 3.5)  # mm; one size on all cards
BESIDE_SWATCH = SWATCH[0] + 1.3  # mm


@dataclass(frozen=True, slots=True, kw_only=True)
class WireWords:
    """A wire in words.

    Attributes:
        level: the middle of its name, where its line begins or ends.
        reach: how far to the right the words go there.
    """

    placed: Placed
    level: float
    reach: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """Wires under each other; level and reach of each."""

    placed: Placed
    levels: tuple[float, ...]
    reaches: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Name:
    """The name of a wire.

    Attributes:
        x, y: left end of the base line of its first line; `last` is the level of its last one.
    """

    placed: Placed
    setting: Setting
    x: float
    y: float
    last: float

    def reach(self, index: int) -> float:
        """How far to the right that line goes."""
        text = fonts.clean(self.setting.lines[index])
        return self.x + fonts.width(text, self.setting.weight) * self.setting.capital


def side(wires: Sequence[Wire], width_mm: float, task: Task) -> Side:
    tops: list[float] = []
    said: list[WireWords] = []
    y = 0.0
    for wire in _said_once(wires, width_mm, task):
        words = wire_words(wire, width_mm, task, behind=bool(wire.name))
        gap = LEADS if _is_plain(wire) else BETWEEN
        # The first is level with the middle of a swatch, whether it has one or not.
        y += gap * task.capital if said else max(SWATCH[1] / 2 - words.level, 0.0)
        tops.append(y)
        said.append(words)
        y += words.placed.height

    def draw() -> Iterator[Item]:
        for top, words in zip(tops, said, strict=True):
            yield from words.placed.at(0, top)

    return Side(
        placed=Placed(height=y, draw=draw),
        levels=tuple(top + words.level for top, words in zip(tops, said, strict=True)),
        reaches=tuple(words.reach for words in said),
    )


def _is_plain(wire: Wire) -> bool:
    """A lead whose color nobody says."""
    return wire.mark is None


def _said_once(wires: Sequence[Wire], width_mm: float, task: Task) -> Iterator[Wire]:
    """What several leads are stands beneath the last, `3 × factory lead`, if it has no room behind.

    ```
    A1  factory lead, 18 AWG          A10a
    A2  factory lead, 18 AWG          A10b
                                      2 × factory lead, 18 AWG
    ```
    """
    for about, group in groupby(wires, lambda wire: wire.about if _is_plain(wire) else wire):
        alike = tuple(group)
        if len(alike) == 1 or all(_fits_behind(wire, width_mm, task) for wire in alike):
            yield from alike
            continue
        yield from (replace(wire, about="") for wire in alike[:-1])
        yield replace(alike[-1], about=f"{len(alike)}{BOUND}×{BOUND}{about}")


def _fits_behind(lead: Wire, width_mm: float, task: Task) -> bool:
    name = fonts.width(lead.name, Weight.BOLD) + BEHIND
    about = fonts.width(lead.about, Weight.MEDIUM)
    return name * task.capital + about * task.small <= width_mm


def wire_words(wire: Wire, width_mm: float, task: Task, *, behind: bool) -> WireWords:
    """What is said of a wire stands behind its name, if it may and has the room, else beneath."""
    capital = task.capital
    name = _name(wire, width_mm, task)
    left = BESIDE_SWATCH if wire.mark else 0.0
    about = fitted(wire.about, Weight.MEDIUM, width_mm - left, task.small, task)
    reach, height, room = name.reach(0), name.placed.height, width_mm
    x = name.reach(-1) + BEHIND * capital
    if behind and len(about.lines) == 1 and x + about.width <= width_mm:
        y = name.last - about.above
        height = max(height, name.last + about.below)
        reach = x + about.width if len(name.setting.lines) == 1 else reach
    else:
        x, y, room = left, height + 0.3 * capital, width_mm - left
        height = y + about.height if about.lines else height

    def draw() -> Iterator[Item]:
        yield from name.placed.items
        yield from all_moved(text_items(about, width_mm=room), x, y)

    placed = Placed(height=height, draw=draw)
    return WireWords(placed=placed, level=name.y - capital / 2, reach=reach)


def fitted(text: str, weight: Weight, width_mm: float, capital_mm: float, task: Task) -> Setting:
    """The text in letters of that very height, on as many lines as it takes.

    Raises:
        Misfit: if a word of it is too wide.
    """
    setting = fit((text,), weight, width_mm=width_mm, capital_mm=capital_mm)
    if setting is None:
        block = replace(task.block, capitals=(Mm(capital_mm),), weight=weight)
        raise too_wide((text,), block, width_mm)
    return setting.inked


def _name(wire: Wire, width: float, task: Task) -> _Name:
    """A conductor by its mark, a lead by the name of its coil, with a swatch where it has one."""
    if wire.mark is None:
        setting = fitted(wire.name, Weight.BOLD, width, task.capital, task)
        return _name_of(plain_text(setting, width_mm=width), setting, 0.0, 0.0)
    return _conductor(wire.mark, width, task)


def _name_of(placed: Placed, setting: Setting, x: float, down: float) -> _Name:
    """Its lines begin there, as far down."""
    last = setting.above + (len(setting.lines) - 1) * setting.pitch + down
    return _Name(placed=placed, setting=setting, x=x, y=setting.above + down, last=last)


def _conductor(mark: ConductorMark, width: float, task: Task) -> _Name:
    """On as few lines as it can be; the first is level with the swatch."""
    capital, press = task.capital, task.room.press
    room = width - BESIDE_SWATCH
    lines = _lines(mark, room / capital)
    if lines is None:
        raise too_wide((in_words(mark, cable=True),), task.block, room)
    setting = Setting(lines=lines, weight=Weight.BOLD, capital=Mm(capital), by_ink=True)
    wide, high = (on_dots(side, press.dot) for side in SWATCH)
    words = plain_text(setting, width_mm=room)
    down = (SWATCH[1] - capital) / 2 + capital - words.base

    def draw() -> Iterator[Item]:
        yield swatch(mark, frame(0, 0, wide, high), colored=press.colored, dot_mm=press.dot)
        yield from words.at(BESIDE_SWATCH, down)

    placed = Placed(height=max(high, down + words.height), draw=draw)
    return _name_of(placed, setting, BESIDE_SWATCH, down)


def _lines(mark: ConductorMark, most_capitals: float) -> tuple[str, ...] | None:
    """Tight only where that saves a line, or keeps a color from being parted."""
    forms = [in_words(mark, cable=True, tight=tight) for tight in (False, True)]
    for breaks in (Breaks.WORDS, Breaks.PARTS):
        tried = (wrap(form, Weight.BOLD, most_capitals, breaks) for form in forms)
        lines = min((each for each in tried if each is not None), key=len, default=None)
        if lines is not None:
            return lines
    return None
