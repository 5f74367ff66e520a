"""A printer that scales is found out: bars and rulers are exact, and a scaled print shows it.

Lines are read from the operators of the page, then measured on the page as two programs draw it.
"""

from __future__ import annotations

import io

import numpy as np
import pikepdf
import pytest

from cardgen.draw import pdf
from cardgen.layout.items import Page
from cardgen.layout.proof import measured_at, proof, rulers
from cardgen.layout.stock import Stock
from tests.layout.cards import one_of_each, pages, shipped
from tests.outside.pages import by_pdfium, by_poppler

POINTS_PER_MM = 72 / 25.4
SHEETS = [stock for stock in shipped().stocks.values() if stock.footer]
each_sheet = pytest.mark.parametrize("stock", SHEETS, ids=lambda stock: stock.name)
DPI = 300.0


def level_lines(data: bytes) -> list[tuple[float, float, float]]:
    """Left end, right end and height over the lower edge of each level line, in millimeters."""
    found = []
    with pikepdf.open(io.BytesIO(data)) as document:
        start = (0.0, 0.0)
        for step in pikepdf.parse_content_stream(document.pages[0]):
            name = str(step.operator)
            if name in ("m", "l"):
                x, y = (float(each) / POINTS_PER_MM for each in step.operands)
                if name == "l" and abs(y - start[1]) < 1e-6:
                    found.append((start[0], x, y))
                start = x, y
    return found


def scaled(data: bytes, by: float) -> bytes:
    """The print of a printer that "fits to page": everything smaller, the paper as it was."""
    with pikepdf.open(io.BytesIO(data)) as document:
        page = document.pages[0]
        page.contents_add(f"q {by} 0 0 {by} 0 0 cm".encode(), prepend=True)
        page.contents_add(b"Q")
        made = io.BytesIO()
        document.save(made)
        return made.getvalue()


def printed(page: Page) -> bytes:
    return pdf([page], title="t", subject="s")


@each_sheet
def test_the_bar_is_exactly_50_mm_in_the_file(stock: Stock) -> None:
    (page, *_) = pages(*one_of_each(stock.name), stock=stock.name)
    assert stock.footer is not None
    y = stock.paper_height - stock.footer.bottom
    bars = [
        right - left
        for left, right, at in level_lines(printed(page))
        if abs(right - stock.footer.right) < 1e-3 and y < at < y + 3
    ]
    assert bars == [pytest.approx(50.0, abs=2e-4)]  # points are written to four places


def measured(data: bytes, stock: Stock, by: float, poppler: bool) -> float:
    """The bar on the paper, as a person with a fine rule would measure it, in millimeters."""
    render = by_poppler if poppler else by_pdfium
    picture = np.asarray(render(data, DPI).convert("L"))
    assert stock.footer is not None
    # Its middle line lies 1.7 mm over the bottom of the footer; scaled from the lower left corner.
    up = by * (stock.paper_height - stock.footer.bottom + 1.7)
    row = picture.shape[0] - round(up / 25.4 * DPI)
    dark = np.flatnonzero(picture[row - 2 : row + 3].min(axis=0) < 128)
    runs = np.split(dark, np.flatnonzero(np.diff(dark) > 1) + 1)
    longest = max(runs, key=len)
    return float((longest[-1] - longest[0] + 1) / DPI * 25.4)


@pytest.mark.parametrize("poppler", [False, True], ids=["pdfium", "poppler"])
@pytest.mark.parametrize(("by", "long"), [(1.0, 50.0), (0.95, 47.5), (1.03, 51.5)])
def test_the_bar_of_a_scaled_print_tells_by_how_much(by: float, long: float, poppler: bool) -> None:
    stock = shipped().stocks["id-1-a4"]
    (page, *_) = pages(*one_of_each(stock.name), stock=stock.name)
    data = scaled(printed(page), by)
    # The outer ticks are 0.3 mm thick, half of which lies beyond the end; and a dot to each side.
    assert measured(data, stock, by, poppler) == pytest.approx(long + 0.3 * by, abs=0.1)


@pytest.mark.parametrize("stock", shipped().stocks.values(), ids=lambda stock: stock.name)
def test_the_ruler_of_a_proof_has_its_millimeters_in_the_file(stock: Stock) -> None:
    across, _ = rulers(stock)
    x, y = measured_at(stock)
    assert across >= 10
    with pikepdf.open(io.BytesIO(printed(proof(stock)))) as document:
        ticks = _ticks(document.pages[0])
    # Upright ticks that begin on line B, the first on line A.
    found = np.array([at for at, top in ticks if abs(top - (stock.paper_height - y)) < 1e-3])
    for millimeter in range(int(across) + 1):
        assert np.abs(found - (x + millimeter)).min() < 2e-4


@pytest.mark.parametrize("by", [1.0, 0.95])
def test_the_ruler_of_a_scaled_proof_is_that_much_shorter(by: float) -> None:
    stock = shipped().stocks["id-1-a4"]
    picture = np.asarray(by_poppler(scaled(printed(proof(stock)), by), DPI).convert("L"))
    x, y = measured_at(stock)
    # So far down only the ticks of whole centimeters reach.
    row = picture.shape[0] - round(by * (stock.paper_height - y - 2.6) / 25.4 * DPI)
    at = [round(by * (x + 10 * n) / 25.4 * DPI) for n in range(11)]
    for column in at:
        assert picture[row, column - 1 : column + 2].min() < 128
    assert (at[-1] - at[0]) / DPI * 25.4 == pytest.approx(100 * by, abs=0.1)


def _ticks(page: pikepdf.Page) -> list[tuple[float, float]]:
    """Where short upright lines begin: place and height, in millimeters of the unscaled page."""
    found = []
    start = (0.0, 0.0)
    for step in pikepdf.parse_content_stream(page):
        name = str(step.operator)
        if name in ("m", "l"):
            x, y = (float(each) / POINTS_PER_MM for each in step.operands)
            if name == "l" and abs(x - start[0]) < 1e-6 and 1.3 < abs(y - start[1]) < 3.1:
                found.append(start)
            start = x, y
    return found
