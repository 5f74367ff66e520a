"""Turn a wire that comes to a joint into words: its swatch and name, beneath it where it leads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cardgen import fonts
from cardgen.cards.card import Wire
from cardgen.fonts import Weight
from cardgen.layout.face import Align
from cardgen.layout.fit import fit
from cardgen.layout.items import Item, TextLine, all_moved
from cardgen.layout.pieces import Task, too_wide
from cardgen.layout.setting import (
    SPACE,
    Placed,
    in_words,
    inline_conductor,
    small_swatch_size,
    text_items,
)

SMALL = 0.85  # size of what stands beneath a name
BETWEEN = 0.7  # capital heights between wires


@dataclass(frozen=True, slots=True, kw_only=True)
class WireWords:
    """A wire in words.

    Attributes:
        level: the middle of its name, where its line begins or ends.
        reach: how far to the right the name goes there.
    """

    items: tuple[Item, ...]
    height: float
    level: float
    reach: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """Wires under each other; level and reach of each."""

    items: tuple[Item, ...]
    height: float
    levels: tuple[float, ...]
    reaches: tuple[float, ...]


def side(wires: Sequence[Wire], width_mm: float, task: Task) -> Side:
    items: list[Item] = []
    levels: list[float] = []
    reaches: list[float] = []
    y = 0.0
    for wire in wires:
        words = wire_words(wire, width_mm, task)
        y += BETWEEN * task.capital if items else 0.0
        items += all_moved(words.items, 0, y)
        levels.append(y + words.level)
        reaches.append(words.reach)
        y += words.height
    return Side(items=tuple(items), height=y, levels=tuple(levels), reaches=tuple(reaches))


def wire_words(wire: Wire, width_mm: float, task: Task, align: Align = Align.LEFT) -> WireWords:
    capital, block = task.capital, task.block
    name = _name(wire, width_mm, task, align)
    left = _beside_swatch(capital) if wire.mark else 0.0
    small = max(SMALL * capital, block.least)
    about = fit(
        (wire.about,),
        Weight.MEDIUM,
        width_mm=width_mm - left,
        capital_mm=small,
    )
    if about is None:
        raise too_wide((wire.about,), block, width_mm - left)
    y = name.height + 0.3 * capital
    beneath = text_items(about, width_mm=width_mm - left, align=align)
    return WireWords(
        items=(*name.items, *all_moved(beneath, left, y)),
        height=y + about.height if about.lines else name.height,
        level=name.base - capital / 2,
        reach=_reach(name),
    )


def _name(wire: Wire, width: float, task: Task, align: Align) -> Placed:
    """A conductor by its mark, a lead by the name of its coil, with a swatch where it has one."""
    block, capital = task.block, task.capital
    if wire.mark is None:
        setting = fit((wire.name,), Weight.BOLD, width_mm=width, capital_mm=capital)
        if setting is None:
            raise too_wide((wire.name,), block, width)
        items = text_items(setting, width_mm=width, align=align)
        return Placed(height=setting.height, items=items, base=setting.above)
    placed = inline_conductor(
        wire.mark,
        Weight.BOLD,
        width_mm=width,
        capital_mm=capital,
        press=task.room.press,
        cable=True,
    )
    if placed is None:
        raise too_wide((in_words(wire.mark, cable=True),), block, width - _beside_swatch(capital))
    return placed


def _beside_swatch(capital: float) -> float:
    return small_swatch_size(capital)[0] + SPACE * capital


def _reach(name: Placed) -> float:
    """How far to the right the first line of a name goes."""
    first = next((item for item in name.items if isinstance(item, TextLine)), None)
    if first is None:
        return 0.0
    return first.x + fonts.width(first.text, first.weight) * first.capital
