"""Turn many home runs into the sheet before them: each controller with the cables that leave it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby

from cardgen.drawing.drawing_parts import HomeRun
from cardgen.drawing.flow import APART, FOOT
from cardgen.drawing.shapes import (
    CONTROLLER_ID,
    HEAVY,
    INSET,
    PADDING,
    TRUNK,
    DrawnBlock,
    again,
    headed,
    stroke,
    title,
)
from cardgen.drawing.texts import BENEATH, CABLE, CAPITAL, block
from cardgen.fonts import Weight
from cardgen.layout.geometry import frame
from cardgen.layout.items import Item, Outline
from cardgen.light_dataclass import replace
from cardgen.problems import Problem
from cardgen.words import printed

LEFT = 2 * INSET  # of an entry
ABOVE = 2.4  # mm; an entry from the one before


def overview(
    homes: Sequence[HomeRun], sheets: Sequence[int], width_mm: float, problems: list[Problem]
) -> list[DrawnBlock]:
    """What the sheets hold, then for each controller its home runs with their sheets."""
    pairs = list(zip(homes, sheets, strict=True))
    blocks = [_heading(len(homes), homes[0], width_mm, problems)]
    for _, group in groupby(pairs, key=lambda pair: pair[0].title):
        mine = list(group)
        entries = [
            _entry(home, sheet, width_mm, problems, goes_on=number < len(mine))
            for number, (home, sheet) in enumerate(mine, 1)
        ]
        head = _controller(mine[0][0], width_mm, problems)
        blocks += [replace(head, keep=entries[0].height + FOOT), *entries]
    return blocks


def _heading(count: int, home: HomeRun, width: float, problems: list[Problem]) -> DrawnBlock:
    name = home.words.count("drawing.title", count).printed
    about = home.words("drawing.about").printed
    heading = title(name, home.run.span, width, CONTROLLER_ID, problems)
    placed = headed(heading, about, home.run.span, width, problems)
    says = f"{name}, {about}"
    return DrawnBlock(height=placed.height, draw=placed.draw, says=says, level=1)


def _controller(home: HomeRun, width: float, problems: list[Problem]) -> DrawnBlock:
    """Set off from what is before it, so that it stands a little lower in a new column too."""
    room = width - LEFT - PADDING
    name = title(home.title, home.run.span, room, CONTROLLER_ID, problems)
    placed = headed(name, home.about, home.run.span, room, problems)
    height = placed.height + 2 * PADDING

    def draw() -> Iterator[Item]:
        yield Outline(frame=frame(0, APART, width, height), width=HEAVY)
        yield from placed.at(LEFT, APART + PADDING)

    says = ", ".join(part for part in (printed(home.title), home.about) if part)
    return DrawnBlock(height=APART + height, draw=draw, says=says, level=1)


def _entry(
    home: HomeRun, sheet: int, width: float, problems: list[Problem], *, goes_on: bool
) -> DrawnBlock:
    """A rung from the trunk of all cables, then the cable and its sheet, beneath what is on it."""
    place, room = home.run.span, width - LEFT
    band = home.run.stops[0].stretch.band
    where = home.words("drawing.sheet", number=sheet).printed
    name = " · ".join(part for part in (home.run.cable, band, where) if part)
    cable = block(name, place, room, problems, weight=Weight.BOLD, capital_mm=CABLE)
    about = block(_summary(home), place, room, problems)
    down = ABOVE + cable.height + BENEATH
    height = down + about.height
    middle = ABOVE + cable.base - CAPITAL / 2

    def draw() -> Iterator[Item]:
        yield stroke(INSET, 0, INSET, height if goes_on else middle + TRUNK / 2, TRUNK)
        yield stroke(INSET, middle, LEFT - 0.8, middle, TRUNK)
        yield from cable.at(LEFT, ABOVE)
        yield from about.at(LEFT, down)

    return DrawnBlock(
        height=height,
        draw=draw,
        says=f"{name}, {_summary(home)}",
        level=2,
        trunks=(INSET,),
        again=again(home.title, home.words, place, width, problems),
    )


def _summary(home: HomeRun) -> str:
    """`8 valves and 1 master valve in 3 boxes: VB-1 to VB-3; goes on as A-S1`."""
    lines = [line for stop in home.stops for line in stop.lines]
    words = home.words
    kinds = Counter(x.what for x in lines if x.what)
    found = [words.count(f"drawing.count of {what}", number) for what, number in kinds.items()]
    stops = list(dict.fromkeys(stop.title for stop in home.stops))
    boxes, names = words.count("drawing.boxes", len(stops)), words.list_of(stops)
    if found:
        things = words.list_of(found)
        whole = words("drawing.things in boxes", things=things, boxes=boxes, names=names)
    else:
        whole = words("drawing.boxes of it", boxes=boxes, names=names)
    further = words.list_of(run.cable for run in home.runs[1:])
    goes_on = words("drawing.goes on", cables=further) if further else ""
    return words.joined((whole, goes_on), "; ").printed
