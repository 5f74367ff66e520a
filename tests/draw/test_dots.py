"""Rolls: in the PDF itself all edges of modules, rules and swatches are on the dots of the head.

Edges are read from the operators of the page by qpdf's library, in dots from the corner of the
page where the head begins; slanted lines of patterns and letters have no such edges.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pikepdf
import pytest
import zxingcpp
from numpy.typing import NDArray

from cardgen.draw.pdf import pdf
from cardgen.layout import lay_out
from cardgen.layout.items import Page, Symbol
from cardgen.layout.proof import proof
from cardgen.layout.stock import Stock
from tests.draw.raster import by_pdfium
from tests.for_each import for_each
from tests.layout.cards import STAMP, one_of_each, shipped

ROLLS = [stock for stock in shipped().stocks.values() if not stock.colored]
TURNS = (0, 90, 180, 270)
Matrix = NDArray[np.float64]
Point = tuple[float, float]
Shape = tuple[str, list[Point]]  # line or rectangle, with its corners
POINTS_PER_MM = 72 / 25.4
# Lengths are written to 0.0001 pt and modules to 0.000001; a page of 100 mm has no larger sum.
NEAR = 0.01  # dots


def printed(stock: Stock, turn: int) -> list[Page]:
    turned = replace(stock, turn=turn)
    cards = one_of_each(stock.name)
    pages, problems = lay_out(cards, layouts=shipped(), stock=turned, stamp=STAMP)
    assert problems == ()
    return list(pages)


def matrix(operands: list[float]) -> Matrix:
    a, b, c, d, e, f = operands
    return np.array([[a, b, 0], [c, d, 0], [e, f, 1]])


def edges(data: bytes, dots_per_mm: float) -> Iterator[tuple[str, float]]:
    """What was drawn, and each of its edges that is level or upright, in dots."""
    with pikepdf.open(io.BytesIO(data)) as document:
        for page in document.pages:
            high = float(page.mediabox[3])
            # From points, y upwards, to dots, y downwards.
            to_dots = matrix([1, 0, 0, -1, 0, high]) * (dots_per_mm / POINTS_PER_MM)
            to_dots[2, 2] = 1
            yield from _edges(page, to_dots)


def _edges(page: pikepdf.Page, to_dots: Matrix) -> Iterator[tuple[str, float]]:
    """Follow the operators: what they keep, move, choose, draw."""
    now, kept, width = np.eye(3), [], 1.0
    shapes: list[Shape] = []
    for step in pikepdf.parse_content_stream(page):
        name = str(step.operator)
        if name == "q":
            kept.append((now, width))
        elif name == "Q":
            now, width = kept.pop()
        elif name == "cm":
            now = matrix(_numbers(step)) @ now
        elif name == "w":
            (width,) = _numbers(step)
        elif name in ("re", "m"):
            shapes.append(_begun(name, _numbers(step)))
        elif name == "l":
            shapes[-1][1].append(_point(_numbers(step)))
        elif name in ("f", "S", "s"):
            half = width / 2 if name == "S" else 0.0
            for x, y in (corner for shape in shapes for corner in _outer(shape, half)):
                across, down, _ = np.array([x, y, 1]) @ now @ to_dots
                yield from ((name, float(across)), (name, float(down)))
            shapes = []


def _numbers(
    step: pikepdf.ContentStreamInstruction | pikepdf.ContentStreamInlineImage,
) -> list[float]:
    return [float(each) for each in step.operands]


def _point(numbers: list[float]) -> Point:
    return numbers[0], numbers[1]


def _begun(name: str, numbers: list[float]) -> Shape:
    if name == "m":
        return "line", [_point(numbers)]
    x, y, wide, high = numbers
    return "rectangle", [(x, y), (x + wide, y + high)]


def _outer(shape: Shape, half: float) -> list[Point]:
    """Two opposite corners of what is inked; none of a slanted line, none of a curve."""
    kind, ends = shape
    if len(ends) != 2:
        return []
    (x1, y1), (x2, y2) = ends
    low, high = (min(x1, x2), min(y1, y2)), (max(x1, x2), max(y1, y2))
    if kind == "rectangle":
        return [(low[0] - half, low[1] - half), (high[0] + half, high[1] + half)]
    if abs(y1 - y2) < 1e-3:  # a level line, its ends cut square
        return [(low[0], y1 - half), (high[0], y1 + half)]
    if abs(x1 - x2) < 1e-3:
        return [(x1 - half, low[1]), (x1 + half, high[1])]
    return []


@for_each("turn", TURNS)
@for_each("stock", ROLLS)
def test_every_edge_is_on_a_dot(stock: Stock, turn: int) -> None:
    data = pdf(printed(stock, turn), title="t", subject="s")
    found = list(edges(data, round(1 / stock.dot)))
    assert len(found) > 20
    for kind, edge in found:
        assert abs(edge - round(edge)) < NEAR, (kind, edge)


def test_an_edge_beside_its_dot_is_seen() -> None:
    stock = shipped().stocks["roll-50x75"]
    data = pdf(printed(stock, 0), title="t", subject="s")
    assert any(abs(edge - round(edge)) > NEAR for _, edge in edges(data, 11.8))


@pytest.mark.parametrize("turn", TURNS)
def test_codes_are_read_from_a_turned_print(turn: int) -> None:
    stock = shipped().stocks["roll-2x3in-203"]
    pages = printed(stock, turn)
    data = pdf(pages, title="t", subject="s")
    for number, page in enumerate(pages):
        picture = by_pdfium(data, stock.dots_per_inch, number)
        size = stock.paper_width, stock.paper_height
        wide, high = size if turn in (0, 180) else size[::-1]
        assert picture.shape == pytest.approx((high * 8, wide * 8), abs=1)
        wanted = [item.address for item in page.items if isinstance(item, Symbol)]
        found = zxingcpp.read_barcodes(picture)
        assert [each.text for each in found] == wanted
        for each in found:
            assert round(each.orientation / 90) * 90 % 360 == turn


@pytest.mark.parametrize("turn", TURNS)
def test_a_turned_page_is_the_page_turned(turn: int) -> None:
    """Seen by a renderer; 3 by 4 in are 24.384 mm wide, so a dot may be over."""
    stock = shipped().stocks["roll-50x75"]  # 400 by 600 dots
    plain, turned = (
        by_pdfium(pdf(printed(stock, each)[:1], title="t", subject="s"), stock.dots_per_inch)
        for each in (0, turn)
    )
    back = np.rot90(turned, turn // 90)
    assert back.shape == plain.shape
    assert (np.abs(back.astype(int) - plain) > 128).mean() < 0.002


def test_a_proof_is_turned_like_the_prints() -> None:
    stock = replace(shipped().stocks["roll-50x75"], turn=90)
    picture = by_pdfium(pdf([proof(stock)], title="t", subject="s"), stock.dots_per_inch)
    assert picture.shape == (400, 600)
