"""The warning of reclaimed water: purple with white words, and a band in one ink as well."""

from __future__ import annotations

import pytest

from cardgen.layout.blocks import PURPLE
from cardgen.layout.inks import inked
from cardgen.layout.items import BLACK, WHITE, Fill, Item, Page, Swatch, TextLine
from cardgen.layout.swatch import contrast
from cardgen.printer import Ink
from tests.layout.cards import box_tag, legend, pages, valve_tag

WORDS = "RECLAIMED WATER\u00a0– DO NOT DRINK"
# Formats that have room for it beside all that a tag says.
TAGS = ("id-1-letter", "a7-letter", "roll-50x75", "shipping-tag-3", "shipping-tag-8")


def band(page: Page) -> Fill:
    """The one ground with white words on it."""
    white = [i for i in page.items if isinstance(i, TextLine) and i.ink == WHITE]
    said = " ".join(text.text for text in white)
    assert said.replace("\u00a0", " ") == WORDS.replace("\u00a0", " ")
    grounds = [
        item
        for item in page.items
        if isinstance(item, Fill) and all(_holds(item, text) for text in white)
    ]
    (ground,) = grounds
    return ground


def _holds(ground: Fill, text: TextLine) -> bool:
    at = ground.frame
    return at.x < text.x < at.right and at.y < text.y < at.bottom


@pytest.mark.parametrize("stock", TAGS)
def test_a_tag_has_the_warning_in_a_band(stock: str) -> None:
    for card in (valve_tag(water=WORDS), box_tag(water=WORDS)):
        page = pages(card, stock=stock)[0]
        is_black = stock.startswith("roll")  # thermal transfer with a black ribbon
        assert band(page).ink == (BLACK if is_black else PURPLE)


@pytest.mark.parametrize("stock", TAGS)
def test_the_words_stand_in_the_middle_of_the_band(stock: str) -> None:
    """All are capitals, which have nothing beneath the line."""
    page = pages(valve_tag(water=WORDS), stock=stock)[0]
    ground = band(page).frame
    white = [i for i in page.items if isinstance(i, TextLine) and i.ink == WHITE]
    above = min(text.y - text.capital for text in white) - ground.y
    beneath = ground.bottom - max(text.y for text in white)
    assert above > 0.3
    assert beneath == pytest.approx(above, abs=0.13)  # a dot of 203 dpi


def test_in_one_ink_it_is_a_black_band_and_in_gray_one_as_dark() -> None:
    (page,) = pages(valve_tag(water=WORDS), stock="id-1-letter")
    assert band(inked(page, Ink.ONE)).ink == BLACK
    assert contrast(band(inked(page, Ink.GRAY)).ink, WHITE) == pytest.approx(
        contrast(PURPLE, WHITE), rel=0.03
    )


def test_white_words_on_it_can_be_read() -> None:
    assert contrast(PURPLE, WHITE) >= 7  # WCAG 2.2, success criterion 1.4.6 (AAA)


def inks(items: tuple[Item, ...]) -> set[str]:
    return {item.ink for item in items if not isinstance(item, Swatch) and hasattr(item, "ink")}


def test_without_it_nothing_is_purple() -> None:
    cards = (valve_tag(), valve_tag("MV-1", boxed=("NORMALLY OPEN",)), box_tag())
    for page in (*pages(*cards, stock="id-1-letter"), *pages(legend(), stock="legend-letter")):
        assert inks(page.items) <= {BLACK, WHITE}


def test_the_legend_has_it_above_the_terminals() -> None:
    page = pages(legend(water=WORDS), stock="legend-letter")[0]
    at = next(i for i in page.items if isinstance(i, Fill) and i.ink == PURPLE).frame
    first = next(i for i in page.items if isinstance(i, TextLine) and i.text == "C")
    assert at.width > 100  # as wide as the strip
    assert at.bottom < first.y
