"""What is printed, measured on the rendered page: codes read, bars long, patterns apart."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
import zxingcpp
from PIL import Image
from pyzbar import pyzbar

from cardgen.draw.pdf import pdf
from cardgen.layout.geometry import frame
from cardgen.layout.items import Page, Swatch, Symbol
from cardgen.layout.swatch import swatch
from cardgen.trade.colors import COLORS
from tests.draw.raster import Gray, by_pdfium, by_poppler
from tests.layout.cards import mark, one_of_each, pages, shipped, valve_tag

# Of papers on which cards have the same size, one; of rolls all, each with dots of its own.
WITH_CODE = {
    (s.format, s.card_width, s.card_height, s.dots_per_inch): s.name
    for s in shipped().stocks.values()
    if not s.name.startswith("flag")
}.values()


def rendered(page: Page, dpi: float) -> Gray:
    return by_pdfium(pdf([page], title="t", subject="s"), dpi)


def addresses(page: Page) -> list[str]:
    return sorted(item.address for item in page.items if isinstance(item, Symbol))


@pytest.mark.parametrize("stock", WITH_CODE)
def test_two_readers_find_every_code(stock: str) -> None:
    # A roll at its own dots; sheets at 300 dpi, half of what their printers have.
    layout = shipped().stocks[stock]
    for page in pages(*one_of_each(stock), stock=stock):
        picture = rendered(page, min(layout.dots_per_inch, 300))
        assert sorted(found.text for found in zxingcpp.read_barcodes(picture)) == addresses(page)
        read = pyzbar.decode(Image.fromarray(picture), symbols=[pyzbar.ZBarSymbol.QRCODE])
        assert sorted(found.data.decode() for found in read) == addresses(page)


def test_a_full_sheet_is_read_from_another_renderer(tmp_path: Path) -> None:
    (page,) = pages(*(valve_tag(f"A{n}") for n in range(1, 10)), stock="id-1-letter")
    picture = by_poppler(pdf([page], title="t", subject="s"), 200, tmp_path)
    assert sorted(found.text for found in zxingcpp.read_barcodes(picture)) == addresses(page)


def test_modules_on_the_roll_are_black_or_white_dots() -> None:
    # At the head's own dots nothing of the symbol is gray: every edge is between two dots.
    (page,) = pages(valve_tag(), stock="roll-50x75")
    (symbol,) = (item for item in page.items if isinstance(item, Symbol))
    picture = rendered(page, 203.2)
    assert picture.shape == (600, 400)
    at = symbol.frame
    part = picture[round(at.y * 8) : round(at.bottom * 8), round(at.x * 8) : round(at.right * 8)]
    assert np.minimum(part, 255 - part).max() <= 2  # of 255: lengths are written to 0.0001 pt
    dots = round(symbol.module * 8)
    x, y = round(symbol.x * 8), round(symbol.y * 8)
    size = len(symbol.rows) * dots
    sampled = picture[y : y + size : dots, x : x + size : dots] == 0
    assert (sampled == np.array([*map(list, symbol.rows)])).all()


def test_black_on_white_has_full_contrast() -> None:
    (page,) = pages(valve_tag(), stock="roll-50x75")
    picture = rendered(page, 812.8)  # four times the dots, so that stems are wider than a pixel
    assert picture.min() == 0
    assert picture.max() == 255


SIZES = {"in a row": (8.75, 4.75), "beside words": (12.75, 9.0)}


def pictures(size: str, *, colored: bool) -> dict[str, Gray]:
    """Each color's swatch at the dots of the roll, as brightness."""
    wide, high = SIZES[size]
    found = {}
    for name in COLORS:
        made = swatch(mark("K", name), frame(1, 1, wide, high), colored=colored, dot_mm=0.125)
        found[name] = rendered(_page(made, wide, high), 203.2)
    return found


def _page(made: Swatch, wide: float, high: float) -> Page:
    at = frame(0, 0, wide + 2, high + 2)
    return Page(width=at.width, height=at.height, own=(made,))


@pytest.mark.parametrize("size", SIZES)
def test_patterns_differ_on_a_black_only_head(size: str) -> None:
    dots = {name: picture < 128 for name, picture in pictures(size, colored=False).items()}
    for one, other in combinations(COLORS, 2):
        differing = float((dots[one] != dots[other]).mean())
        assert differing > 0.04, (one, other, differing)


@pytest.mark.parametrize("name", [name for name in COLORS if name not in ("white", "black")])
def test_a_color_printed_in_gray_still_shows_its_pattern(name: str) -> None:
    picture = pictures("beside words", colored=True)[name].astype(float)
    inner = picture[16:-16, 16:-16]
    assert inner.max() - inner.min() > 60
