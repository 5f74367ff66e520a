"""Names as people type them: long, with accents, in other scripts.  Whole on paper, or refused."""

from __future__ import annotations

import unicodedata
from dataclasses import replace

import pytest

from cardgen import fonts
from cardgen.cards.card import Card, CardKind, Code, Table
from cardgen.fonts import Weight
from cardgen.layout.items import TextLine
from tests.for_each import for_each
from tests.layout.cards import (
    laid_out,
    legend,
    one_of_each,
    pages,
    shipped,
    splice_card,
    valve_tag,
)

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
    assert problem.help.startswith("it fits on 'shipping-tag-5'")


def test_a_table_too_wide_names_the_word_that_makes_it_so() -> None:
    word = "Rhododendronpflanzungsbew\u00e4sserungsanlagenabschnitt" * 2
    card = legend(1, terminals=_with_area(word))
    (problem,) = laid_out(card, stock="legend-a5")[1]
    assert problem.code == "text-too-long"
    assert problem.help.startswith(f"its longest word is '{word}'")


def _with_area(word: str) -> Table:
    table = legend(1).fields["terminals"]
    assert isinstance(table, Table)
    last = table.rows[-1]
    return Table(columns=table.columns, rows=(*table.rows[:-1], (last[0], word, *last[2:])))


# ---- keys ------------------------------------------------------------------------------------

# What a key may be by chance (from a print that failed), and the widest that there can be.
WIDE_KEYS = ("MQ674YMXEZWW", "W" * 12)


def with_code(card: Card, text: str) -> Card:
    code = Code(address=f"HTTPS://JOBS.EXAMPLE.COM/{text}", text=text)
    return replace(card, fields={**card.fields, "code": code})


def letters_of(card: Card, stock: str) -> str:
    first, *_ = pages(card, stock=stock)
    return "".join(item.text for item in first.items if isinstance(item, TextLine))


@for_each("key", WIDE_KEYS)
@for_each("stock", shipped().stocks)
def test_any_key_of_a_record_is_printed_whole(stock: str, key: str) -> None:
    for card in one_of_each(stock):
        if "code" not in card.fields:
            continue
        text = f"{key}/{'A' if card.id == 'A' else 'VB-2'}"
        if (stock, card.kind, key) == ("shipping-tag-1", CardKind.BOX_TAG, WIDE_KEYS[1]):
            continue  # there is one line beside the hole; no key is so wide by chance
        assert text in letters_of(with_code(card, text), stock)


@pytest.mark.parametrize("key", WIDE_KEYS)
@pytest.mark.parametrize("stock", ["half-a4", "half-letter"])
def test_a_splice_card_takes_any_key_with_any_name_that_its_headline_takes(
    stock: str, key: str
) -> None:
    most = int(92 / 6 / fonts.width("W", Weight.HEAVY))  # the headline: 92 mm, letters from 6 mm
    name = "W" * most
    assert f"{key}/{name}" in letters_of(with_code(splice_card(id=name), f"{key}/{name}"), stock)
    done, _ = laid_out(splice_card(id=name + "W"), stock=stock)
    assert done == ()
