"""What has room with the widest digits has room with any: measured once for tags that are alike."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from itertools import product

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from cardgen.cards import MAKERS, CardKind
from cardgen.cards.card import Card
from cardgen.cards.plain_words import localized
from cardgen.fonts import path
from cardgen.layout import NarrowerDigits, scales
from cardgen.layout.columns import ScaledColumn, cards_needed
from cardgen.layout.pages import sheets_for, without_room
from cardgen.layout.widest_digits import WidestDigits
from cardgen.words import load_words
from tests.cards.printables import printable
from tests.jobs import SAMPLES, sample
from tests.layout.cards import STAMP, code, laid_out, mark, shipped, valve_tag

STOCK = "id-1-letter"
TAGS = (CardKind.VALVE_TAG, CardKind.BOX_TAG)
ONES, ZEROS = "A" + 9 * "1", "A" + 9 * "0"


@pytest.mark.parametrize("weight", ["Medium", "Bold", "ExtraBold"])
def test_no_digit_is_wider_or_higher_than_zero(weight: str) -> None:
    """By fontTools, from the file and its outlines."""
    file = TTFont(path(f"AtkinsonHyperlegibleNext-{weight}"))
    names, outlines = file.getBestCmap(), file.getGlyphSet()

    def size(digit: str) -> tuple[float, float]:
        pen = BoundsPen(outlines)
        outlines[names[ord(digit)]].draw(pen)
        assert pen.bounds is not None
        return file["hmtx"][names[ord(digit)]][0], pen.bounds[3]

    wide, high = size("0")
    assert all(size(digit)[0] <= wide and size(digit)[1] <= high for digit in "123456789")


def test_of_a_code_in_words_no_digit_is_wider_than_8() -> None:
    """There the zero is that of DejaVu Sans, scaled to the same height of capitals."""

    def width(font: str, digit: str) -> float:
        file = TTFont(path(font))
        names, outlines = file.getBestCmap(), file.getGlyphSet()
        pen = BoundsPen(outlines)
        outlines[names[ord("H")]].draw(pen)
        assert pen.bounds is not None
        return float(file["hmtx"][names[ord(digit)]][0] / pen.bounds[3])

    widths = [width("AtkinsonHyperlegibleNext-Medium", digit) for digit in "123456789"]
    assert max(*widths, width("DejaVuSans", "0")) == widths[7]


def test_the_same_is_told_beforehand_as_where_each_tag_is_set() -> None:
    """Nine ones have room in the headline, nine zeros have none, whatever was measured before."""
    for ids in ((ONES, ZEROS), (ZEROS, ONES), ("A1", ZEROS, "A2", ONES)):
        cards = [valve_tag(id) for id in ids]
        done, problems = laid_out(*cards, stock=STOCK)
        assert [id for page in done for id in page.cards] == [id for id in ids if id != ZEROS]
        assert len(problems) == 1
        assert without_room(cards, layouts=shipped(), stock=shipped().stocks[STOCK]) == problems


@pytest.mark.parametrize("name", SAMPLES)
def test_cards_put_into_words_when_they_are_measured_are_told_of_as_those_that_are(
    name: str,
) -> None:
    """In two languages and in one, on stock where much has no room."""
    for tags in (("en",), ("en", "es")):
        words, _ = load_words(tags)
        assert words
        job = replace(printable(sample(name)), words=words)
        put = partial(localized, words=words)
        for kind, on in (*product(TAGS, ("roll-50x75", STOCK)), (CardKind.FLAG, "flag-roll-203")):
            stock, raw = shipped().stocks[on], tuple(MAKERS[kind](job))
            told = without_room(map(put, raw), layouts=shipped(), stock=stock)
            assert without_room(raw, layouts=shipped(), stock=stock, finish=put) == told


def tag(number: int) -> Card:
    box = f"VB-{number % 7}"
    hot = mark("A-K1", "green", flag=f"A{number}")
    return valve_tag(f"A{number}", box=box, code=code(box), hot=hot, terminal=f"terminal {number}")


def test_tags_that_differ_in_digits_only_are_measured_once(monkeypatch: pytest.MonkeyPatch) -> None:
    measured: list[Card] = []

    def noted(scaled: ScaledColumn, card: Card) -> tuple[int, int]:
        measured.append(card)
        return cards_needed(scaled, card)

    monkeypatch.setattr(scales, "cards_needed", noted)
    for cards in ([tag(10)], [tag(number) for number in range(10, 100)]):
        measured.clear()
        assert without_room(cards, layouts=shipped(), stock=shipped().stocks[STOCK]) == ()
        assert len({id(card) for card in measured}) == 1
    other = replace(tag(10), fields={**tag(10).fields, "area": "back beds"})
    measured.clear()
    assert without_room([tag(10), other], layouts=shipped(), stock=shipped().stocks[STOCK]) == ()
    assert len({id(card) for card in measured}) == 2


def test_a_card_with_less_room_than_what_stood_for_it_is_told_of(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Let a short tag stand for all: nine zeros have no room, and more lines need smaller ones."""
    crowded = valve_tag("A8", boxed_short=("NORMALLY OPEN",), first=mark("A-K1", "blue"))
    short, stock = valve_tag("A1"), shipped().stocks[STOCK]
    monkeypatch.setattr(WidestDigits, "of", lambda *_: short)
    for card in (crowded, valve_tag(ZEROS)):
        sheets, problems = sheets_for([card], layouts=shipped(), stock=stock, stamp=STAMP)
        assert problems == ()
        with pytest.raises(NarrowerDigits):
            tuple(sheets.pages)


def test_pages_are_set_as_they_are_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """So that the items of a large print are never there at once."""
    done: list[str] = []

    def noted(self: scales.FaceSetter, card: Card, part: Callable[[int, int], str]) -> object:
        done.append(card.id)
        return set_card(self, card, part)

    set_card = scales.FaceSetter.set
    monkeypatch.setattr(scales.FaceSetter, "set", noted)
    stock = shipped().stocks[STOCK]
    cards = [tag(number) for number in range(10, 10 + 2 * stock.per_sheet + 1)]
    sheets, _ = sheets_for(cards, layouts=shipped(), stock=stock, stamp=STAMP)
    assert (sheets.count, sheets.cards, done) == (3, tuple(card.id for card in cards), [])
    first, *rest = (len(done) for _ in sheets.pages)
    assert (first, rest) == (stock.per_sheet, [2 * stock.per_sheet, len(cards)])
