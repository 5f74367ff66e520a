"""Turn home runs into sheets: blocks at exact points, with marks where a drawing goes on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.drawing.drawing_parts import HomeRun
from cardgen.drawing.flow import FOOT, ColumnSpot, Drawing, Filled, Spread, spread
from cardgen.drawing.overview import overview
from cardgen.drawing.run_blocks import Maker
from cardgen.drawing.shapes import FROM, INSET, TRUNK, stroke
from cardgen.drawing.sheet_size import COLUMN, GUTTER, DrawingSheet, sheet
from cardgen.drawing.texts import CAPITAL
from cardgen.fonts import Weight
from cardgen.layout import Item, Mm, Page, Stamp
from cardgen.layout.furniture import footer
from cardgen.layout.items import Group, TextLine, all_moved
from cardgen.layout.setting import line
from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem
from cardgen.words import Text, Words, english

ARROW = 2.0  # mm; half the width of an arrow's head, and its length


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A page, and its items once more by what they show."""

    page: Page
    groups: tuple[Group, ...]


def picture(
    homes: Sequence[HomeRun], paper: str, stamp: Stamp | None = None
) -> tuple[tuple[Sheet, ...], tuple[Problem, ...]]:
    """The sheets of the wiring drawing; an index first, if several home runs take several.

    Without a stamp, as on a screen, the page around them says whose they are.
    """
    problems: list[Problem] = []
    on = sheet(paper)
    made = _spread(homes, on, problems)
    if problems:
        return (), tuple(problems)
    words = homes[0].words if homes else english()
    return tuple(_sheet(made, number, on, words, stamp) for number in range(made.sheets)), ()


def undrawable(homes: Sequence[HomeRun], paper: str) -> tuple[Problem, ...]:
    """What keeps `picture` from making sheets, without making them."""
    problems: list[Problem] = []
    _spread(homes, sheet(paper), problems)
    return tuple(problems)


def _spread(homes: Sequence[HomeRun], on: DrawingSheet, problems: list[Problem]) -> Spread:
    drawings = [Maker(home, COLUMN, on.height, problems).blocks() for home in homes]
    made = spread(drawings, on.height, count=on.columns)
    if made.sheets > 1 and len(homes) > 1:
        made = _with_index(homes, drawings, on, problems)
    return made


def _with_index(
    homes: Sequence[HomeRun],
    drawings: Sequence[Drawing],
    on: DrawingSheet,
    problems: list[Problem],
) -> Spread:
    """The index moves what follows it, and a longer number may lengthen it, so until it is so."""
    numbers = [0] * len(homes)
    while True:
        index = overview(homes, numbers, COLUMN, problems)
        made = spread(drawings, on.height, count=on.columns, index=index)
        found = [made.sheet_of(number) for number in range(len(homes))]
        if found == numbers:
            return made
        numbers = found


def _sheet(made: Spread, number: int, on: DrawingSheet, words: Words, stamp: Stamp | None) -> Sheet:
    stock = on.stock
    at = stock.position(0)
    groups: list[Group] = []
    for index, spot in sorted(enumerate(made.spots), key=lambda pair: pair[1].column):
        if spot.sheet == number:
            x = at.x + spot.column * (COLUMN + GUTTER)
            groups += (_moved(group, x, at.y) for group in _column(made, index, words))
    if stamp is not None:
        says = stamp.sheet(number + 1, made.sheets)
        groups.append(Group(says=says, level=1, items=tuple(footer(stock, says, stamp.scale))))
    items = tuple(item for group in groups for item in group.items)
    page = Page(width=stock.paper_width, height=_height(made, number, on), own=items)
    return Sheet(page=page, groups=tuple(groups))


def _height(made: Spread, number: int, on: DrawingSheet) -> Mm:
    """Of paper as it is; a screen ends under what is there."""
    if on.stock.footer is not None:
        return on.stock.paper_height
    columns = zip(made.columns, made.spots, strict=True)
    lowest = max(column.bottom for column, spot in columns if spot.sheet == number)
    return Mm(min(2 * on.stock.top + lowest + FOOT, on.stock.paper_height))


def _moved(group: Group, x: float, y: float) -> Group:
    return Group(says=group.says, level=group.level, items=all_moved(group.items, x, y))


def _column(made: Spread, index: int, words: Words) -> Iterator[Group]:
    column, spot = made.columns[index], made.spots[index]
    if column.is_continued:
        yield _from(column, _way_back(made.spots[index - 1], spot, words))
    for y, block in column.blocks:
        yield Group(says=block.says, level=block.level, items=all_moved(block.draw(), 0, y))
    following = made.columns[index + 1 : index + 2]
    if following and following[0].is_continued:
        yield _onward(column, following[0], _way_on(spot, made.spots[index + 1], words))


def _way_back(before: ColumnSpot, spot: ColumnSpot, words: Words) -> Text:
    if before.sheet == spot.sheet:
        return words("drawing.from left")
    return words("drawing.from sheet", number=before.sheet + 1)


def _way_on(spot: ColumnSpot, following: ColumnSpot, words: Words) -> Text:
    if following.sheet == spot.sheet:
        return words("drawing.on right")
    return words("drawing.on sheet", number=following.sheet + 1)


def _from(column: Filled, where: Text) -> Group:
    """At the top of a column in which a drawing goes on: which it is and where it comes from."""
    y, first = column.blocks[0]
    again = first.again
    items: list[Item] = [*again.items]
    items += (stroke(x, y - FROM + 1.0, x, y, TRUNK) for x in first.trunks)
    x = max(first.trunks) + INSET
    items.append(line(where.printed, Weight.BOLD, x_mm=x, y_mm=y - 1.5, capital_mm=CAPITAL))
    title = " ".join(item.text for item in again.items if isinstance(item, TextLine))
    return Group(says=f"{title}, {where.printed}", level=1, items=tuple(items))


def _onward(column: Filled, following: Filled, where: Text) -> Group:
    """Beneath a column: arrows at the trunks that go on, and where."""
    y, trunks = column.bottom, following.first.trunks
    items: list[Item] = []
    for x in trunks:
        tip = y + FOOT - 2.0
        items.append(stroke(x, y, x, tip, TRUNK))
        items += [stroke(x + d, tip - ARROW, x, tip, TRUNK) for d in (-ARROW, ARROW)]
    x = max(trunks) + INSET
    items.append(line(where.printed, Weight.BOLD, x_mm=x, y_mm=y + 4.6, capital_mm=CAPITAL))
    return Group(says=where.printed, level=1, items=tuple(items))
