"""Turn many home runs into the sheet before them: each controller with the cables that leave it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import groupby

from cardgen.drawing.drawing_parts import HomeRun
from cardgen.drawing.rows import CAPITAL, LEAST, block
from cardgen.drawing.shapes import (
    CONTROLLER_ID,
    HEAVY,
    INSET,
    PADDING,
    TRUNK,
    DrawnBlock,
    stroke,
    title,
)
from cardgen.fonts import Weight
from cardgen.layout.geometry import frame
from cardgen.layout.items import Item, Outline, all_moved
from cardgen.problems import Problem
from cardgen.words import printed

CABLE, SHEET = 34.0, 24.0  # mm; columns left and right
NAME = 3.6  # mm


def overview(
    homes: Sequence[HomeRun], sheets: Sequence[int], width_mm: float, problems: list[Problem]
) -> list[list[DrawnBlock]]:
    """For each controller the blocks that list its home runs with their sheets."""
    pairs = list(zip(homes, sheets, strict=True))
    drawings = [[_heading(len(homes), homes[0], width_mm, problems)]]
    for _, group in groupby(pairs, key=lambda pair: pair[0].title):
        mine = list(group)
        blocks = [_controller(mine[0][0], width_mm, problems)]
        for number, (home, sheet) in enumerate(mine, 1):
            blocks.append(_entry(home, sheet, width_mm, problems, goes_on=number < len(mine)))
        drawings.append(blocks)
    return drawings


def _heading(count: int, home: HomeRun, width: float, problems: list[Problem]) -> DrawnBlock:
    name = home.words.count("drawing.title", count).printed
    about = home.words("drawing.about").printed
    placed = title(name, about, home.run.span, width, 4.2, problems)
    return DrawnBlock(height=placed.height, items=placed.items, says=f"{name}, {about}", level=1)


def _controller(home: HomeRun, width: float, problems: list[Problem]) -> DrawnBlock:
    room = width - 2 * INSET - PADDING
    placed = title(printed(home.title), home.about, home.run.span, room, CONTROLLER_ID, problems)
    height = placed.height + 2 * PADDING
    items: list[Item] = [Outline(frame=frame(0, 0, width, height), width=HEAVY)]
    items += all_moved(placed.items, 2 * INSET, PADDING)
    says = ", ".join(part for part in (printed(home.title), home.about) if part)
    return DrawnBlock(height=height, items=tuple(items), says=says, level=1)


def _entry(
    home: HomeRun, sheet: int, width: float, problems: list[Problem], *, goes_on: bool
) -> DrawnBlock:
    """A rung from the trunk of all cables, then the cable, what is on it, and its sheet."""
    place, left = home.run.span, 2 * INSET
    band = home.run.stops[0].stretch.band
    name = " · ".join(part for part in (home.run.cable, band) if part)
    cable = block(name, place, CABLE, problems, weight=Weight.BOLD, capital_mm=NAME)
    text = left + CABLE + 3
    about = block(
        _summary(home), place, width - SHEET - text - 3, problems,
        weight=Weight.MEDIUM, capital_mm=CAPITAL,
    )  # fmt: skip
    where = home.words("drawing.sheet", number=sheet).printed
    number = block(where, place, SHEET, problems, weight=Weight.BOLD, capital_mm=NAME)
    top = 3.0
    base = top + max(cable.base, about.base)
    below = max(p.height - p.base for p in (cable, about, number))
    height = base + below + (0.0 if goes_on else 1.0)
    middle = base - LEAST / 2
    items: list[Item] = [
        stroke(INSET, 0, INSET, height if goes_on else middle + TRUNK / 2, TRUNK),
        stroke(INSET, middle, left - 0.8, middle, TRUNK),
    ]
    for x, placed in ((left, cable), (text, about), (width - SHEET, number)):
        items += all_moved(placed.items, x, base - placed.base)
    return DrawnBlock(
        height=height,
        items=tuple(items),
        says=f"{name}, {_summary(home)}, {where}",
        level=2,
        trunks=(INSET,),
        names=home.title,
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
