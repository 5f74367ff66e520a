"""A printer that scales is found out: bars and rulers are exact, and a scaled print shows it.

Lines are read from the operators of the page, then measured on the page as two programs draw it.
"""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pikepdf
import pytest
from numpy.typing import NDArray

from cardgen.draw.pdf import pdf
from cardgen.examine import examine_text
from cardgen.layout.geometry import frame
from cardgen.layout.items import Page, TextLine
from cardgen.layout.proof import measured_at, proof, rulers
from cardgen.layout.scale_card import bar_of, scale_card
from cardgen.layout.stock import Stock
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.selection import Selection
from cardgen.words import load_words
from tests.for_each import for_each
from tests.jobs import sample
from tests.layout.cards import STAMP, one_of_each, pages, shipped
from tests.outside.pages import by_pdfium, by_poppler, text_by_pdfium

POINTS_PER_MM = 72 / 25.4
SHEETS = [stock for stock in shipped().stocks.values() if stock.footer]
each_sheet = for_each("stock", SHEETS)
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
    # The outer ticks are inside; a dot of the picture to each side.
    assert measured(data, stock, by, poppler) == pytest.approx(long, abs=0.1)


def narrow(name: str) -> Stock:
    return shipped().stocks[name]


# By hand from the sizes in `layouts/stock`: 50 mm and 2 mm clear at both ends need 54 mm.
@pytest.mark.parametrize(
    ("name", "long", "upright"),
    [
        ("roll-50x75", 50, True),  # 50 mm wide, 75 mm long
        ("roll-2x3in-203", 50, True),  # 50.8 mm wide
        ("id-1-card", 50, True),  # 53.98 mm wide, 85.6 mm long
        ("roll-3x4in-300", 50, False),  # 76.2 mm wide
        ("flag-roll-203", 50, False),
        ("shipping-tag-1", 50, False),  # 69.85 mm wide
        ("sleeve-roll-20x50", 40, False),  # 50 mm wide, 19.9 mm high
    ],
)
@pytest.mark.parametrize("languages", [("en",), ("es",), ("en", "es")], ids="-".join)
def test_the_first_card_of_a_roll_has_a_bar(
    name: str, long: int, upright: bool, languages: tuple[str, ...]
) -> None:
    stock = narrow(name)
    words, _ = load_words(languages)
    assert words is not None
    page = scale_card(stock, replace(STAMP, words=words))
    assert bar_of(stock) == (long, upright)
    dark = np.asarray(by_poppler(printed(page), 600).convert("L")) < 128
    # The longest unbroken line of the picture, from outer edge to outer edge of the end ticks.
    longest = max(_longest(line) for line in (dark.T if upright else dark))
    assert longest / 600 * 25.4 == pytest.approx(long, abs=0.1)
    said = text_by_pdfium(printed(page))[0].split()
    assert [str(long), "mm"] in [said[n : n + 2] for n in range(len(said))]
    texts = [item for item in page.items if isinstance(item, TextLine)]
    assert min(item.capital for item in texts) >= 1.2  # mm; common practice, no source
    for item in texts:
        at = frame(item.x, item.y - item.capital, item.capital, item.capital)
        assert stock.paper.holds(at)
        assert stock.hole is None or not stock.hole.frame.meets(at)


def _longest(line: NDArray[np.bool_]) -> int:
    edges = np.flatnonzero(np.diff(np.concatenate(([0], line.astype(int), [0]))))
    return int((edges[1::2] - edges[::2]).max(initial=0))


def test_each_print_on_a_roll_begins_with_it_and_none_on_a_sheet() -> None:
    request = PrintRequest(selection=Selection(only=("valve-tags",)), stocks=("roll-50x75",))
    made, _ = make_print(examine_text(sample("larkspur")), request)
    assert made is not None
    first, *tags = text_by_pdfium(made.files["valve-tags.pdf"])
    assert "throw this away" in " ".join(first.split())
    assert len(tags) == 6  # larkspur has six valves
    assert not any("throw this away" in " ".join(tag.split()) for tag in tags)
    assert made.counts["valve-tags.pdf"] == (6, 7)


@for_each("stock", shipped().stocks.values())
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
