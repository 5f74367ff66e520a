"""Names as people type them: long, with accents, in other scripts.  Whole on paper, or refused."""

from __future__ import annotations

import unicodedata

import pytest

from cardgen.cards.card import Table
from cardgen.layout.items import TextLine
from tests.layout.cards import laid_out, legend, pages, valve_tag

FITTING = [
    "the long north slope behind the upper car park",
    "c\u00e9sped ni\u00f1os, ping\u00fcinos",  # Spanish
    "\u017b\u00f3\u0142te \u0142\u0105ki, p\u00f3\u0142noc",  # Polish
    "Vi\u1ec7t c\u1ecf",  # Vietnamese, two marks on one letter
    "Rasenfl\u00e4che S\u00fcd, Stra\u00dfe",
    "\u0442\u0440\u0430\u0432\u0430 \u03b5\u03bb\u03b9\u03ad\u03c2",  # Cyrillic, Greek
    "Staudenbeetventilschacht",  # 24 letters without a blank
    "5 \u00bd m\u00b2 \u00b7 30\u00b0",
]
STOCKS = ("id-1-letter", "roll-50x75", "a7-a4", "shipping-tag-3", "shipping-tag-8")


def said(stock: str, area: str) -> str:
    (page,) = pages(valve_tag(area=area), stock=stock)
    return "".join(item.text for item in page.items if isinstance(item, TextLine)).replace(" ", "")


@pytest.mark.parametrize("area", FITTING)
@pytest.mark.parametrize("stock", STOCKS)
def test_a_name_that_fits_is_printed_whole(stock: str, area: str) -> None:
    whole = area.replace(" ", "")
    assert whole in said(stock, area)
    # As some keyboards send it: the letter first, its accent by itself.
    assert unicodedata.normalize("NFC", said(stock, unicodedata.normalize("NFD", area))) == (
        unicodedata.normalize("NFC", said(stock, area))
    )


@pytest.mark.parametrize(
    ("area", "lacking"),
    [
        ("\u5317\u306e\u829d\u751f", "U+5317"),  # Japanese
        ("\uc794\ub514", "U+C794"),  # Korean
        ("front lawn \U0001f331", "U+1F331"),  # an emoji
        ("flag \U0001f1fa\U0001f1f8", "U+1F1FA"),  # an emoji of two letters
        ("\u0627\u0644\u0639\u0634\u0628", "U+0627"),  # Arabic: right to left, letters join
        ("\u05d3\u05e9\u05d0", "U+05D3"),  # Hebrew: right to left
        ("x\u0302 bed", "U+0302"),  # a mark on a letter that has no form with it
    ],
)
def test_what_cannot_be_set_is_refused_and_named(area: str, lacking: str) -> None:
    for stock in ("id-1-letter", "roll-50x75"):
        done, (problem,) = laid_out(valve_tag(area=area), stock=stock)
        assert done == ()
        assert problem.code == "letter-not-in-font"
        assert lacking in problem.sentence


def test_a_word_too_long_for_a_tag_is_told_with_the_stock_that_takes_it() -> None:
    area = "Staudenbeetbew\u00e4sserungsventilschacht S\u00fcd"
    done, (problem,) = laid_out(valve_tag(area=area), stock="id-1-letter")
    assert done == ()
    assert problem.code == "text-too-long"
    assert (
        area in problem.sentence and "mm too wide even in the smallest letters" in problem.sentence
    )
    assert problem.help == "it fits on 'shipping-tag-8'"


def test_a_table_too_wide_names_the_word_that_makes_it_so() -> None:
    word = "Rhododendronpflanzungsbew\u00e4sserungsanlagenabschnitt"
    card = legend(1, terminals=_with_area(word))
    (problem,) = laid_out(card, stock="legend-a5")[1]
    assert problem.code == "text-too-long"
    assert problem.help.startswith(f"its longest word is '{word}'")


def _with_area(word: str) -> Table:
    table = legend(1).fields["terminals"]
    assert isinstance(table, Table)
    last = table.rows[-1]
    return Table(columns=table.columns, rows=(*table.rows[:-1], (last[0], word, *last[2:])))
