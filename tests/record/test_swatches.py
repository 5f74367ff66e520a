"""The picture of a conductor on a page, measured in its own box of 15 by 5 mm."""

from __future__ import annotations

from xml.etree import ElementTree

from cardgen.record.html import Markup
from cardgen.record.swatches import picture, symbols
from cardgen.trade.colors import COLORS
from tests.for_each import for_each
from tests.layout.cards import mark

ROUNDED = 0.0101  # mm; both a place and a size are written to hundredths


def parsed(markup: Markup) -> ElementTree.Element:
    return ElementTree.fromstring(markup.text)  # noqa: S314  # our own


def numbers(node: ElementTree.Element, *names: str) -> list[float]:
    return [float(node.attrib[name]) for name in names]


@for_each("color", sorted(set(COLORS) - {"black", "white"}))
def test_its_color_fills_the_box_and_its_outline_is_at_the_edges(color: str) -> None:
    (symbol,) = parsed(symbols([mark("K1", color)]))
    assert symbol.attrib["viewBox"] == "0 0 15 5"
    ground, *_, outline = symbol
    assert numbers(ground, "x", "y", "width", "height") == [0, 0, 15, 5]
    assert ground.attrib["fill"] == COLORS[color].rgb
    x, y, width, height, line = numbers(outline, "x", "y", "width", "height", "stroke-width")
    ends = (x - line / 2, y - line / 2, x + width + line / 2, y + height + line / 2)
    assert all(abs(end - edge) < ROUNDED for end, edge in zip(ends, (0, 0, 15, 5), strict=True))


def test_each_look_is_drawn_once_and_a_picture_refers_to_it() -> None:
    marks = [mark(*of) for of in (("K1", "red"), ("K2", "red"), ("K1", "white/red"))]
    drawn = [node.attrib["id"] for node in parsed(symbols(marks))]
    assert drawn == ["s-red", "s-white-red"]
    for each, name in zip(marks, ("s-red", "s-red", "s-white-red"), strict=True):
        (use,) = parsed(picture(each))
        assert use.attrib["href"] == f"#{name}"
    assert symbols([]).text == ""
