"""All tags of a print look alike: one height for each field, as the face has it at one scale."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

import pytest

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import Card, CardKind, PrintedValue
from cardgen.layout.face import Face, Show
from cardgen.layout.geometry import Frame
from cardgen.layout.items import Item, Page, Swatch, TextLine
from cardgen.layout.pieces import Misfit
from cardgen.layout.scales import FaceSetter
from cardgen.layout.setting import PrinterHead
from cardgen.layout.stock import Stock
from tests.jobs import SAMPLES
from tests.layout.cards import mark, readings, shipped, valve_tag
from tests.layout.samples import laid, sample_cards

BY_ROLE = ("headline", "box", "area", "hot", "common")
STOCKS = ("id-1-letter", "a7-letter", "roll-50x75", "shipping-tag-3", "shipping-tag-5")
LANGUAGES = (("en",), ("es",), ("en", "es"))
CASES = [
    pytest.param(name, stock, languages, id=f"{name}-{stock}-{'+'.join(languages)}")
    for name in SAMPLES
    for stock in STOCKS
    for languages in LANGUAGES
    if name != "heron" or (stock, languages) == ("id-1-letter", ("en", "es"))
]


def shown(card: Card, field: str) -> str:
    """What is looked for on the page: of a conductor its color, in the first language."""
    value = card.fields.get(field, "")
    if isinstance(value, ConductorMark):
        return value.word.partition("\u00a0/ ")[0]
    assert isinstance(value, str)
    return value


def on_cards(page: Page, stock: Stock) -> list[tuple[str, list[Item]]]:
    """Each card of a page with what lies on it."""
    found = []
    at = [stock.position(number) for number in range(len(page.cards))]
    for name, place in zip(page.cards, at, strict=True):
        found.append((name, [i for i in page.items if _lies(i, place)]))
    return found


def _lies(item: Item, place: Frame) -> bool:
    match item:
        case TextLine():
            return place.x <= item.x < place.right and place.y < item.y < place.bottom
        case Swatch():
            return place.holds(item.frame)
        case _:
            return False


@pytest.mark.parametrize(("name", "stock", "languages"), CASES)
def test_each_field_has_one_height_in_a_print(
    name: str, stock: str, languages: tuple[str, ...]
) -> None:
    cards = {card.id: card for card in sample_cards(name, *languages)[CardKind.VALVE_TAG]}
    pages, _ = laid(name, CardKind.VALVE_TAG, stock, *languages)
    heights: dict[tuple[str, str], set[float]] = defaultdict(set)
    swatches: dict[str, set[tuple[float, float]]] = defaultdict(set)
    for page in pages:
        for id, items in on_cards(page, shipped().stocks[stock]):
            card = cards[id]
            texts = {item.text: item for item in items if isinstance(item, TextLine)}
            for field in BY_ROLE:
                line = texts.get(shown(card, field).replace("\u00a0", " "))
                if line is not None:
                    heights[card.series, field].add(round(line.capital, 3))
            large = sorted((i.frame for i in items if isinstance(i, Swatch)), key=lambda f: f.y)[:2]
            swatches[card.series] |= {(round(f.width, 3), round(f.height, 3)) for f in large}
    assert {field for _, field in heights} == set(BY_ROLE) or not pages
    assert {key: len(found) for key, found in heights.items() if len(found) > 1} == {}
    for series, found in swatches.items():
        assert len(found) == 1, series  # both swatches of all tags are equal
        assert heights[series, "hot"] == heights[series, "common"] or series


# ---- what decides ----------------------------------------------------------------------------


def face() -> Face:
    found = shipped().face(CardKind.VALVE_TAG, "ID-1")
    assert found is not None
    return found


HEAD = PrinterHead(dot=shipped().stocks["id-1-letter"].dot, colored=True)


def color_height(card: Card, *cards: Card) -> float:
    """Of the hot's color on the first, printed with the others."""
    (items,) = FaceSetter(face(), HEAD, (card, *cards)).set(card, lambda *_: "")
    return next(i.capital for i in items if isinstance(i, TextLine) and i.text == "green")


def tag(id: str, **more: PrintedValue) -> Card:
    return valve_tag(id, common=mark("A-K1", "white"), **more)


def test_the_largest_heights_that_suit_all_are_taken() -> None:
    plain = tag("A7")
    (largest, *_) = next(
        block.capitals
        for column in face().columns
        for block in column.blocks
        if block.show is Show.CONDUCTOR
    )
    assert color_height(plain) == largest
    crowded = tag("A8", boxed_short=("NORMALLY OPEN",), first=mark("A-K1", "blue"))
    assert color_height(plain, crowded) < largest
    assert color_height(plain, crowded) == color_height(plain, crowded, tag("A9"))


def test_what_has_no_room_at_all_decides_nothing() -> None:
    too_much = valve_tag("A8", boxed_short=("NORMALLY OPEN: POWER CLOSES",) * 9)
    assert color_height(tag("A7"), too_much) == color_height(tag("A7"))
    setter = FaceSetter(face(), HEAD, (too_much,))
    assert not setter.has_room(too_much, too_much)
    with pytest.raises(Misfit):
        setter.set(too_much, lambda *_: "")


def test_another_series_has_heights_of_its_own() -> None:
    crowded = tag("MV", boxed_short=("NORMALLY OPEN",), first=mark("A-K1", "blue"))
    relay = replace(crowded, series="devices")
    assert color_height(tag("A7"), relay) == color_height(tag("A7"))


# ---- conductors and readings -----------------------------------------------------------------


def lines_of(card: Card) -> dict[str, TextLine]:
    (items,) = FaceSetter(face(), HEAD, (card,)).set(card, lambda *_: "")
    return {item.text: item for item in items if isinstance(item, TextLine)}


def test_a_color_comes_first_and_its_second_language_is_small() -> None:
    both = replace(mark("A-K1", "green"), word="green\u00a0/ verde")
    lines = lines_of(valve_tag(hot=both))
    assert lines["green"].y == pytest.approx(lines["verde"].y)
    assert lines["verde"].capital <= 0.8 * lines["green"].capital
    assert lines["green"].x < lines["verde"].x < lines["GN"].x
    assert lines["GN"].y == pytest.approx(lines["green"].y)


def test_units_stand_under_each_other_and_figures_too() -> None:
    lines = lines_of(
        valve_tag(
            controller_readings=readings(("Ω", "31.9", "(26–38)"), ("mA", "230", "on")),
            coil_readings=readings(("Ω", "30", "(24–36)"), ("V", "23.5–23.9", "on")),
        )
    )
    figures = [lines[text] for text in ("31.9", "230", "30", "23.5–23.9")]
    assert len({round(line.x, 3) for line in figures}) == 1
    assert lines["Ω"].x == lines["mA"].x == lines["V"].x == lines["AT CONTROLLER"].x
    tops = [lines["AT CONTROLLER"], *figures[:2], lines["AT THE COIL"], *figures[2:]]
    assert [line.y for line in tops] == sorted(line.y for line in tops)
