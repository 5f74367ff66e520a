"""What blocks are made of: names beside what is said of them, trunks, and the block itself."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cardgen.drawing.rows import BETWEEN, CAPITAL, block
from cardgen.fonts import Weight
from cardgen.layout.geometry import Mm
from cardgen.layout.items import Item, Segment, Strokes, TextLine, all_moved
from cardgen.layout.setting import Placed
from cardgen.problems import Problem, Span
from cardgen.words import Said

TRUNK = Mm(0.9)  # mm; a cable
SEAM = 0.1  # mm; pieces of a trunk overlap by this, so that no screen shows a gap
WIRE = Mm(0.3)  # mm; a conductor within a box
FRAME, HEAVY = Mm(0.4), Mm(1.0)  # a box, a controller
INSET = 4.0  # mm; from the edge of a box to its trunk
PADDING = 2.4
BOX_ID, CONTROLLER_ID = 4.2, 5.5  # mm


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnBlock:
    """A piece of a drawing that no page break parts; x from the field's left, y from its top.

    Attributes:
        trunks: x of all cables that come to it from above; none where a drawing begins.
        names: what these cables are called, with the controller.
        says: what it shows, in words.
        level: how deep in the tree, from 1.
    """

    height: float
    items: tuple[Item, ...]
    says: str
    level: int
    trunks: tuple[float, ...] = ()
    names: Said = ""


def title(
    words: str, about: str, span: Span, width_mm: float, capital_mm: float, problems: list[Problem]
) -> Placed:
    """A name large, beside it (or beneath, if it is long) what else is said of it."""
    name = block(words, span, width_mm, problems, weight=Weight.HEAVY, capital_mm=capital_mm)
    if not about:
        return name
    left = right_of(name) + 4.0
    beside = left + 50.0 < width_mm
    size = width_mm - left if beside else width_mm
    rest = block(about, span, size, problems, weight=Weight.MEDIUM, capital_mm=CAPITAL + 0.3)
    x, y = (left, name.base - rest.base) if beside else (0.0, name.height + BETWEEN)
    return Placed(
        height=max(name.height, y + rest.height),
        items=(*name.items, *all_moved(rest.items, x, y)),
        base=name.base,
    )


def right_of(placed: Placed) -> float:
    texts = [i for i in placed.items if isinstance(i, TextLine)]
    return max((t.x + sum(r.width for r in t.runs) * t.capital for t in texts), default=0.0)


def verticals(places: Sequence[float], height_mm: float) -> tuple[Item, ...]:
    return tuple(stroke(x, 0.0, x, height_mm + SEAM, TRUNK) for x in places)


def stroke(x1_mm: float, y1_mm: float, x2_mm: float, y2_mm: float, width: Mm) -> Strokes:
    return Strokes(segments=(segment(x1_mm, y1_mm, x2_mm, y2_mm),), width=width)


def segment(x1_mm: float, y1_mm: float, x2_mm: float, y2_mm: float) -> Segment:
    return Segment(x1=Mm(x1_mm), y1=Mm(y1_mm), x2=Mm(x2_mm), y2=Mm(y2_mm))
