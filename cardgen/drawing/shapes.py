"""What blocks are made of: names beside what is said of them, trunks, and the block itself."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from cardgen.drawing.texts import CAPITAL, NOTHING_SET, SetText, block, wide
from cardgen.fonts import Weight
from cardgen.layout.geometry import Mm
from cardgen.layout.items import Item, Segment, Strokes
from cardgen.layout.setting import Placed
from cardgen.light_dataclass import dataclass, replace
from cardgen.problems import Problem, Span
from cardgen.words import Said, Words, printed

TRUNK = Mm(0.9)  # mm; a cable
SEAM = 0.1  # mm; pieces of a trunk overlap by this, so that no screen shows a gap
WIRE = Mm(0.3)  # mm; a conductor within a box
FRAME, HEAVY = Mm(0.4), Mm(1.0)  # a box, a controller
INSET = 3.5  # mm; from the edge of a box to its trunk
PADDING = 2.0
BOX_ID, CONTROLLER_ID = 3.8, 5.0  # mm
AGAIN_ID = 3.4  # mm; what goes on, at the top of a column
FROM = 6.0  # mm between that and the block beneath, for the trunks and where they come from
UNDER = 1.6  # mm between a name and what is said of it

Draw = Callable[[], Iterable[Item]]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnBlock:
    """A piece of a drawing that no page break parts; x from the field's left, y from its top.

    Attributes:
        draw: makes its items, where nothing is wrong with the whole drawing.
        trunks: x of all cables that come to it from above; none where a drawing begins.
        again: what these cables are called, with the controller: stands above it in a new column.
        keep: mm that must have room beneath it, so that it does not stand alone.
        says: what it shows, in words.
        level: how deep in the tree, from 1.
    """

    height: float
    draw: Draw
    says: str
    level: int
    trunks: tuple[float, ...] = ()
    again: Placed = NOTHING_SET
    keep: float = 0.0


def title(
    words: Said, span: Span, width_mm: float, capital_mm: float, problems: list[Problem]
) -> SetText:
    """The name of a controller or box, or of what goes on."""
    return block(
        printed(words), span, width_mm, problems, weight=Weight.HEAVY, capital_mm=capital_mm
    )


def again(
    names: Said, words: Words, span: Span, width_mm: float, problems: list[Problem]
) -> Placed:
    """What stands above a block that begins a column, with room for the way back."""
    said = words("drawing.continued", names=names)
    placed = title(said, span, width_mm, AGAIN_ID, problems)
    return replace(placed, height=placed.height + FROM)


def headed(
    name: SetText, about: str, span: Span, width_mm: float, problems: list[Problem]
) -> Placed:
    """A name, and what else is said of it beside it; beneath, where that takes several lines."""
    if not about:
        return name
    left = name.right + 3.0
    beside = name.lines == 1 and wide(about, Weight.MEDIUM, CAPITAL) <= width_mm - left
    rest = block(about, span, width_mm, problems)
    x, y = (left, name.base - rest.base) if beside else (0.0, name.height + UNDER)
    return Placed(
        height=max(name.height, y + rest.height),
        draw=lambda: (*name.items, *rest.at(x, y)),
        base=name.base,
    )


def verticals(places: Sequence[float], height_mm: float) -> tuple[Item, ...]:
    return tuple(stroke(x, 0.0, x, height_mm + SEAM, TRUNK) for x in places)


def stroke(x1_mm: float, y1_mm: float, x2_mm: float, y2_mm: float, width: Mm) -> Strokes:
    return Strokes(segments=(segment(x1_mm, y1_mm, x2_mm, y2_mm),), width=width)


def segment(x1_mm: float, y1_mm: float, x2_mm: float, y2_mm: float) -> Segment:
    return Segment(x1=Mm(x1_mm), y1=Mm(y1_mm), x2=Mm(x2_mm), y2=Mm(y2_mm))
