"""Turn home runs into pages: blocks at exact points, with marks where a drawing goes on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cardgen.drawing.drawing_parts import HomeRun
from cardgen.drawing.flow import FOOT, HEAD, Spread, spread
from cardgen.drawing.overview import overview
from cardgen.drawing.rows import CAPITAL
from cardgen.drawing.run_blocks import Maker
from cardgen.drawing.shapes import INSET, TRUNK, DrawnBlock, stroke
from cardgen.drawing.sheet_size import FIELD, sheet
from cardgen.fonts import Weight
from cardgen.layout import Item, Page, Stamp, Stock
from cardgen.layout.furniture import footer
from cardgen.layout.items import Group, all_moved
from cardgen.layout.setting import line
from cardgen.problems import Problem
from cardgen.words import Words

ARROW = 2.2  # mm; half the width of an arrow's head, and its length


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A page, and its items once more by what they show."""

    page: Page
    groups: tuple[Group, ...]


def picture(
    homes: Sequence[HomeRun], *, paper: str, stamp: Stamp
) -> tuple[tuple[Sheet, ...], tuple[Problem, ...]]:
    """The sheets of the wiring drawing; an overview first, if all is not on one."""
    problems: list[Problem] = []
    spreads = _spreads(homes, stamp.before, problems)
    stock = sheet(paper)
    made = tuple(_sheet(spreads, index, stock, stamp) for index in range(len(spreads)))
    return ((), tuple(problems)) if problems else (made, ())


def sheets_needed(homes: Sequence[HomeRun]) -> int:
    """How many sheets `picture` makes."""
    return len(_spreads(homes, 0, []))


def _spreads(homes: Sequence[HomeRun], first: int, problems: list[Problem]) -> tuple[Spread, ...]:
    """What is on which page; `first` sheets come before them."""
    wide, high = FIELD
    size = (wide, high - HEAD - FOOT)
    drawings = [Maker(home, size, problems).blocks() for home in homes]
    spreads, _ = spread(drawings, high)
    return _with_overview(homes, drawings, first, problems) if len(spreads) > 1 else spreads


def _with_overview(
    homes: Sequence[HomeRun],
    drawings: Sequence[Sequence[DrawnBlock]],
    first: int,
    problems: list[Problem],
) -> tuple[Spread, ...]:
    """The overview moves what follows it, so it is set once more with the numbers found."""
    wide, high = FIELD
    before = overview(homes, [0] * len(homes), wide, [])
    _, starts = spread([*before, *drawings], high)
    numbers = [first + start + 1 for start in starts[len(before) :]]
    return spread([*overview(homes, numbers, wide, problems), *drawings], high)[0]


def _sheet(spreads: Sequence[Spread], index: int, stock: Stock, stamp: Stamp) -> Sheet:
    here = spreads[index]
    at = stock.position(0)
    number = stamp.before + index + 1
    groups = list(_from(here, number - 1, stamp.words))
    groups += [
        Group(says=block.says, level=block.level, items=all_moved(block.items, 0, y))
        for y, block in here.blocks
    ]
    if index + 1 < len(spreads) and spreads[index + 1].is_continued:
        groups.append(_onward(here, spreads[index + 1], number + 1, stamp.words))
    groups = [
        Group(says=g.says, level=g.level, items=all_moved(g.items, at.x, at.y)) for g in groups
    ]
    words = stamp.sheet(index + 1, len(spreads))
    groups.append(Group(says=words, level=1, items=tuple(footer(stock, words, stamp.scale))))
    items = tuple(item for group in groups for item in group.items)
    page = Page(width=stock.paper_width, height=stock.paper_height, own=items)
    return Sheet(page=page, groups=tuple(groups))


def _from(here: Spread, number: int, words: Words) -> Iterator[Group]:
    """At the top of a page on which a drawing goes on: which it is and where it comes from."""
    if not here.is_continued:
        return
    y, first = here.blocks[0]
    items: list[Item] = [stroke(x, y - 10.0, x, y, TRUNK) for x in first.trunks]
    right = max(first.trunks) + INSET
    where = words("drawing.from sheet", number=number).printed
    title = words("drawing.continued", names=first.names).printed
    items.append(line(title, Weight.HEAVY, x_mm=0.0, y_mm=5.2, capital_mm=4.2))
    items.append(line(where, Weight.BOLD, x_mm=right, y_mm=y - 5.0, capital_mm=CAPITAL))
    yield Group(says=f"{title}, {where}", level=1, items=tuple(items))


def _onward(here: Spread, following: Spread, number: int, words: Words) -> Group:
    """At the bottom of a page: arrows at the trunks that go on, and where."""
    y, trunks = here.bottom, following.blocks[0][1].trunks
    items: list[Item] = []
    for x in trunks:
        tip = y + FOOT - 3.0
        items.append(stroke(x, y, x, tip, TRUNK))
        items += [stroke(x + d, tip - ARROW, x, tip, TRUNK) for d in (-ARROW, ARROW)]
    where = words("drawing.on sheet", number=number).printed
    x = max(trunks) + INSET
    items.append(line(where, Weight.BOLD, x_mm=x, y_mm=y + 6.5, capital_mm=CAPITAL))
    return Group(says=where, level=1, items=tuple(items))
