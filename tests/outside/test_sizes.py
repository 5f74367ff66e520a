"""Every row of the tables of paper, cards, tags and printer dots against the shipped stock."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from cardgen.layout.stock import Stock
from tests.for_each import for_each
from tests.layout.cards import shipped
from tests.outside.tables import Row, rows

STOCKS = shipped().stocks
INCH = 25.4
# What the stock of a named size is measured by: its paper or its card, as it lies or on its side.
PAPERS = {"A4": "id-1-a4", "A5": "id-1-a5", "ANSI A (Letter)": "id-1-letter"}
CARDS = {"A7": "a7-a4", "ID-1": "id-1-card", "2 x 3 in": "roll-2x3in-203",
         "4 x 3 in": "roll-3x4in-203", "1 x 3 in": "flag-roll-1x3in"}  # fmt: skip
# Papers are cut to 1.5 mm below 150 mm, to 2 mm above (ISO 216); stock files say the size meant.
MEANT = 0.005


def sides(row: Row) -> list[float]:
    return sorted((float(row["width"]), float(row["height"])))


def stock_of(row: Row) -> tuple[Stock, bool]:
    """The stock of a row, and whether the row is about its paper."""
    name = row["name"]
    if name in PAPERS:
        return STOCKS[PAPERS[name]], True
    if tag := re.fullmatch(r"shipping tag #(\d+)", name):
        return STOCKS[f"shipping-tag-{tag[1]}"], False
    return STOCKS[CARDS[name]], False


@for_each("row", rows("tag_sizes"))
def test_each_size_is_that_of_a_stock_or_named_as_not_used(row: Row) -> None:
    if row["used_by"].startswith("not used: "):
        assert row["name"] not in {*PAPERS, *CARDS}
        if tag := re.fullmatch(r"shipping tag #(\d+)", row["name"]):
            assert f"shipping-tag-{tag[1]}" not in STOCKS
        return
    stock, of_paper = stock_of(row)
    size = (
        (stock.paper_width, stock.paper_height)
        if of_paper
        else (stock.card_width, stock.card_height)
    )
    assert sorted(size) == pytest.approx(sides(row), abs=MEANT)


def test_sizes_of_the_a_series_halve() -> None:
    # ISO 216: half of a sheet, rounded down, is the next; the tolerances are larger than that.
    sizes = [sides(row) for row in rows("tag_sizes", kind="paper ISO 216")]
    assert len(sizes) == 5
    for (short, long), (shorter, less_long) in pairwise(sizes):
        assert (shorter, less_long) == pytest.approx((long // 2, short), abs=0.5)


def test_larger_tags_follow_their_steps() -> None:
    def of(number: int) -> list[float]:
        name = f"shipping tag #{number}"
        return next(sides(row) for row in rows("tag_sizes", kind="tag") if row["name"] == name)

    for number in range(1, 9):
        wide, long = 1.375 + 0.25 * (number - 1), 2.75 + 0.5 * (number - 1)
        assert of(number) == pytest.approx([wide * INCH, long * INCH], abs=MEANT)
    for number in range(9, 13):
        step = number - 8
        wide, long = 3.125 + 0.5 * step, 6.25 + step
        assert of(number) == pytest.approx([wide * INCH, long * INCH], abs=MEANT)


def test_every_shipping_tag_from_1_to_8_is_shipped_or_said_why_not() -> None:
    for row in rows("tag_sizes", kind="tag"):
        number = int(row["name"].rpartition("#")[2])
        assert (f"shipping-tag-{number}" in STOCKS) is not row["used_by"].startswith("not used: ")


@pytest.mark.parametrize("row", rows("printer_dots"), ids=lambda row: row["dpi"])
def test_each_head_has_rolls_with_its_dots(row: Row) -> None:
    dpi, per_mm = int(row["dpi"]), int(row["nominal_dots_per_mm"])
    assert float(row["exact_dots_per_mm"]) == pytest.approx(dpi / INCH, abs=5e-5)
    assert float(row["dot_mm"]) == pytest.approx(INCH / dpi, abs=5e-6)
    # A head of 203 dpi really has 8 dots a millimeter, which are 203.2 dpi; 300 and 600 likewise.
    assert abs(per_mm * INCH - dpi) / dpi < 0.02
    heads = [s for s in STOCKS.values() if s.dots_per_inch == pytest.approx(per_mm * INCH)]
    assert {"valve tag", "flag"} <= {
        face.kind.value for face in shipped().faces for s in heads if face.format == s.format
    }
    for stock in heads:
        assert 1 / stock.dot == pytest.approx(per_mm)


def test_no_stock_has_dots_of_another_head() -> None:
    known = {int(row["nominal_dots_per_mm"]) * INCH for row in rows("printer_dots")}
    office = {600.0}  # lasers (common practice, no source)
    for stock in STOCKS.values():
        assert any(stock.dots_per_inch == pytest.approx(each) for each in known | office)
