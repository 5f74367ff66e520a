"""What the files of stock and faces may say, as readers that know every place."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TypeVar

from cardgen.cards.card import CardKind
from cardgen.faults.layout_faults import UNIT
from cardgen.faults.value_faults import VALUE
from cardgen.fonts import Weight
from cardgen.layout.face import Align, Column, Face, FaceBlock, FaceRule, Heights, Show
from cardgen.layout.geometry import Frame, Mm
from cardgen.layout.legibility import rule_of
from cardgen.layout.stock import Hole, Offset, Stock
from cardgen.problems import Span
from cardgen.reading import Node
from cardgen.reading.shapes import (
    IDENTIFIER,
    TEXT,
    YES_NO,
    BadValue,
    BlockShape,
    Field,
    ListOf,
    OneOf,
    Parsed,
    Report,
    Schema,
    Shape,
    TextsByHeading,
    Whole,
)

T = TypeVar("T")
_NUMBER = r"\d{1,4}(?:\.\d{1,4})?"


def _millimeters(text: str) -> Mm:
    found = re.fullmatch(r"(\d{1,4}(?:\.\d{1,4})?) ?mm", text)
    if not found:
        raise BadValue(UNIT, text=text, what="a length", example="'12 mm' or '85.6 mm'")
    return Mm(float(found[1]))


def _heights(text: str) -> Heights:
    """`5 / 4.5 / 4 mm`: one for each scale, from large to small."""
    found = re.fullmatch(rf"({_NUMBER}(?: ?/ ?{_NUMBER}){{0,9}}) ?mm", text)
    if not found:
        raise BadValue(
            UNIT, text=text, what="one or several heights", example="'3 mm' or '5 / 4 / 3 mm'"
        )
    return tuple(Mm(float(part)) for part in found[1].split("/"))


def _shift(text: str) -> Mm:
    found = re.fullmatch(r"([-+]?\d{1,2}(?:\.\d{1,2})?) ?mm", text)
    if not found:
        raise BadValue(UNIT, text=text, what="a shift", example="'0.5 mm' or '-1 mm'")
    return Mm(float(found[1]))


class _Here(Shape[T]):
    """Gives each entry of a list its own place rather than that of the list."""

    def __init__(self, inner: Shape[T]) -> None:
        self.inner = inner

    def read(self, node: Node, at: Span, report: Report) -> T | None:
        return self.inner.read(node, node.span, report)

    def schema(self) -> Schema:
        return self.inner.schema()


def _dots(text: str) -> float:
    found = re.fullmatch(r"\d{2,4}(\.\d{1,2})?", text)
    if not found or float(text) < 72:
        raise BadValue(
            VALUE, text=text, what="a number of dots per inch", example="'203.2' or '600'"
        )
    return float(text)


MM = Parsed("a length in mm", _millimeters, r"\d{1,4}(\.\d{1,4})? ?mm")
HEIGHTS = Parsed("heights in mm", _heights, rf"{_NUMBER}( ?/ ?{_NUMBER}){{0,9}} ?mm")
DPI = Parsed("the dots per inch", _dots)
RULE = Parsed("a rule", rule_of)
SHIFT = Parsed("a shift in mm", _shift, r"[-+]?\d{1,2}(\.\d{1,2})? ?mm")
_FRAME = BlockShape(
    "a frame",
    lambda span, **at: Frame(**at),  # noqa: ARG005 - a record is always built with its place
    Field("x", MM, required=True, help="left edge, from the left of the card"),
    Field("y", MM, required=True, help="top edge, from the top of the card"),
    Field("width", MM, required=True),
    Field("height", MM, required=True),
)
_LINE = BlockShape(
    "a line",
    lambda span, **at: FaceRule(span=span, frame=Frame(**at)),
    Field("x", MM, required=True),
    Field("y", MM, required=True),
    Field("width", MM, default=Mm(0)),
    Field("height", MM, default=Mm(0)),
)


_FIELD = Parsed("a field", str, r"[a-z0-9_]+")
_BLOCK = BlockShape(
    "a block",
    FaceBlock,
    Field("field", _FIELD, required=True),
    Field("show", OneOf("this", {s.value: s for s in Show}), default=Show.TEXT),
    Field("weight", OneOf("the weight", {w.value: w for w in Weight}), default=Weight.MEDIUM),
    Field("align", OneOf("this", {a.value: a for a in Align}), default=Align.LEFT),
    Field("capitals", HEIGHTS, required=True, help="height of the capitals at each scale"),
    Field("small", HEIGHTS, default=(), help="of what is under a color word or over readings"),
    Field("afar", YES_NO, default=False, help="larger where tags are read from farther"),
    Field("lines", Whole("the number of lines", 1, 99), default=99),
    Field("rule", RULE, required=True, help="whose rule the smallest height follows"),
    Field("label", _FIELD, default="", help="the field with its label or title"),
    Field("title", TEXT, default="", help="the title where the card has none"),
    Field("names", YES_NO, default=True, help="whether a table has the names of its columns"),
    Field("cells", Whole("the number of cells", 1, 20), default=20, help="shown of a valve's row"),
    Field("cable", YES_NO, default=True, help="whether a conductor is named with its cable"),
    Field("apart", MM, default=Mm(0), help="space above that is kept"),
    Field("side", MM, default=Mm(0), help="of the square that a QR code has"),
    Field("row", MM, default=Mm(0), help="lowest height of a row"),
    Field("blank", MM, default=Mm(0), help="least width of a column left for writing"),
    Field("grid", YES_NO, default=False, help="upright rules between the columns"),
    Field("whole", YES_NO, default=False, help="smaller rather than broken over cards"),
    Field("across", Whole("the number side by side", 1, 20), default=1),
    Field("dense", YES_NO, default=False, help="rows close to each other"),
    Field("beside", YES_NO, default=False, help="in a part of the width, see 'across'"),
)
_COLUMN = BlockShape(
    "a column",
    Column,
    Field("frame", _FRAME, required=True),
    Field("blocks", ListOf(_Here(_BLOCK), what="the blocks"), required=True),
    Field("gap", HEIGHTS, default=(Mm(2),), help="space between blocks at each scale"),
    Field("bottom", YES_NO, default=False, help="stand at the bottom of the frame"),
    Field("middle", YES_NO, default=False, help="stand at the middle of the frame"),
    Field("ruled", YES_NO, default=False, help="a rule between block and block"),
    Field("flows", YES_NO, default=False, help="go on to a further card"),
    Field("again", _FRAME, default=None, help="its frame on further cards"),
    Field("first", YES_NO, default=False, help="only on the first of several cards"),
    Field("across", Whole("the parts of its width", 1, 9), default=1, help="for blocks beside"),
    Field("wide", Whole("the parts for other blocks", 1, 9), default=0, help="if not all of them"),
)
FACE: BlockShape[Face] = BlockShape(
    "a face",
    lambda **values: Face(name="", **values),
    Field("kind", OneOf("the kind", {k.value: k for k in CardKind}), required=True),
    Field("format", IDENTIFIER, required=True, help="the format of the stock it is made for"),
    Field("columns", ListOf(_Here(_COLUMN), what="the columns"), required=True),
    Field("lines", ListOf(_Here(_LINE), what="the lines"), default=()),
    Field("copies", ListOf(MM, what="the copies"), default=(), help="printed again so far right"),
)
_HOLE = BlockShape(
    "a hole",
    Hole,
    Field("x", MM, required=True, help="its middle, from the left of the card"),
    Field("y", MM, required=True, help="its middle, from the top of the card"),
    Field("diameter", MM, required=True),
    Field("marked", YES_NO, default=True, help="no, where the stock has its hole already"),
)
_OFFSET = BlockShape(
    "an offset",
    Offset,
    Field("x", SHIFT, default=Mm(0), help="to the right; to the left with a '-'"),
    Field("y", SHIFT, default=Mm(0), help="down; up with a '-'"),
)
_SIZE = (Field("width", MM, required=True), Field("height", MM, required=True))
_PAPER = BlockShape("the paper", lambda span, **size: size, *_SIZE)  # noqa: ARG005 - as above
_CARD = BlockShape("the card", lambda span, **size: size, *_SIZE)  # noqa: ARG005 - as above
_GRID = BlockShape(
    "the grid",
    lambda span, **grid: grid,  # noqa: ARG005 - as above
    Field("columns", Whole("the number of columns", 1, 50), default=1),
    Field("rows", Whole("the number of rows", 1, 100), default=1),
    Field("left", MM, default=Mm(0), help="left edge of the first card"),
    Field("top", MM, default=Mm(0), help="top edge of the first card"),
    Field("gap_x", MM, default=Mm(0)),
    Field("gap_y", MM, default=Mm(0)),
)
_TURN = OneOf("the turn", {"0": 0, "90": 90, "180": 180, "270": 270})
_INK: OneOf[bool] = OneOf("the ink", {"color": True, "black": False})
_ONE = {"columns": 1, "rows": 1, **dict.fromkeys(("left", "top", "gap_x", "gap_y"), Mm(0))}


def _stock(
    span: Span, paper: Mapping[str, Mm], card: Mapping[str, Mm], grid: Mapping[str, object],
    dots_per_inch: float, ink: bool, **rest: object,
) -> Stock:  # fmt: skip
    values: dict[str, object] = {**rest, **grid}
    return Stock(
        span=span,
        name="",
        paper_width=paper["width"],
        paper_height=paper["height"],
        card_width=card["width"],
        card_height=card["height"],
        dots_per_inch=dots_per_inch,
        colored=ink,
        **values,  # type: ignore[arg-type]  # each comes from the field of its name
    )


STOCK: BlockShape[Stock] = BlockShape(
    "a stock",
    _stock,
    Field("about", TEXT, required=True),
    Field("about_in", TextsByHeading("'about_in'"), default={}, help="the same, by language"),
    Field("format", IDENTIFIER, required=True, help="faces are made for a format"),
    Field("paper", _PAPER, required=True),
    Field("card", _CARD, required=True),
    Field("grid", _GRID, default=_ONE, help="how the cards lie on a sheet"),
    Field("safe", MM, required=True, help="nothing is printed nearer to the edge of a card"),
    Field("dots_per_inch", DPI, required=True),
    Field("ink", _INK, default=True),
    Field("cut", YES_NO, default=False, help="print cut marks"),
    Field("turn", _TURN, default=0, help="degrees clockwise, as it goes through the printer"),
    Field("folds", ListOf(MM, what="the folds"), default=(), help="from the left of the card"),
    Field("hole", _HOLE, default=None),
    Field("offset", _OFFSET, default=None, help="what the proof sheet says for this printer"),
    Field("footer", _FRAME, default=None, help="where stamp and scale bar go on the sheet"),
    Field("turned", IDENTIFIER, default="", help="the stock that is the same sheet, turned"),
)
