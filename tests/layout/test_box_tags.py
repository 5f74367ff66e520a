"""Box tags as they are printed: how many a box takes, what goes to the second, in which letters."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import pytest

from cardgen.cards.card import CardKind
from cardgen.layout.face import Show
from cardgen.layout.geometry import Frame
from cardgen.layout.items import Page, Swatch, Symbol, TextLine
from tests.layout.boxes import cards_per_box, printed, sample_tags_printed, tags_printed
from tests.layout.cards import shipped
from tests.layout.samples import sample_cards
from tests.layout.test_pages import extent

EN, ES, BOTH = ("en",), ("es",), ("en", "es")
LANGUAGES = (EN, ES, BOTH)
SPARES = {EN: "SPARES", ES: "CONDUCTORES DE RESERVA", BOTH: "SPARES / RESERVAS"}
# Cards of a box with so many valves, their common and two spares, at most: stated before it was
# drawn are one for 6 valves on a card of 54 x 86 mm, and one for 10 on A7 and
# 3 x 4 in; the rest is what it came to, so that nobody makes it worse unseen.
VALVES = (3, 4, 6, 8, 10, 12)
MOST = {
    "id-1-letter": dict.fromkeys(LANGUAGES, (1, 1, 1, 2, 2, 2)),
    "roll-50x75": {EN: (1, 1, 2, 2, 3, 3), ES: (1, 2, 2, 2, 3, 3), BOTH: (2, 2, 2, 3, 3, 3)},
    "a7-letter": dict.fromkeys(LANGUAGES, (1, 1, 1, 1, 1, 2)),
    "roll-3x4in-203": dict.fromkeys(LANGUAGES, (1, 1, 1, 1, 1, 2)),
    "shipping-tag-1": {EN: (2, 3, 3, 4, 4, 5), ES: (3, 3, 4, 4, 5, 6), BOTH: (3, 4, 5, 6, 7, 8)},
    "shipping-tag-2": {EN: (2, 2, 3, 4, 5, 5), ES: (2, 3, 3, 4, 5, 6), BOTH: (2, 3, 4, 5, 6, 7)},
    "shipping-tag-3": {EN: (1, 2, 2, 3, 3, 4), ES: (2, 2, 3, 3, 4, 4), BOTH: (2, 2, 3, 3, 4, 5)},
    "shipping-tag-4": {EN: (1, 1, 2, 2, 2, 3), ES: (1, 1, 2, 2, 3, 3), BOTH: (1, 2, 2, 3, 3, 3)},
    "shipping-tag-5": {EN: (1, 1, 1, 2, 2, 2), ES: (1, 1, 1, 2, 2, 2), BOTH: (1, 1, 2, 2, 2, 2)},
    "shipping-tag-6": {EN: (1, 1, 1, 1, 2, 2), ES: (1, 1, 1, 2, 2, 2), BOTH: (1, 1, 1, 2, 2, 2)},
    "shipping-tag-7": {EN: (1, 1, 1, 1, 1, 2), ES: (1, 1, 1, 1, 2, 2), BOTH: (1, 1, 1, 1, 2, 2)},
    "shipping-tag-8": dict.fromkeys(LANGUAGES, (1, 1, 1, 1, 1, 2)),
}
# The same of the samples, of quarry's 7 tagged boxes and heron's 39; the others have none.
SAMPLES = {
    "id-1-letter": dict.fromkeys(LANGUAGES, (9, 40)),
    "roll-50x75": {EN: (11, 72), ES: (12, 72), BOTH: (16, 73)},
    "a7-letter": {EN: (7, 39), ES: (9, 39), BOTH: (9, 40)},
    "shipping-tag-1": {EN: (26, 113), ES: (30, 183), BOTH: (43, 197)},
    "shipping-tag-2": {EN: (19, 110), ES: (20, 111), BOTH: (29, 113)},
    "shipping-tag-5": {EN: (9, 40), ES: (9, 42), BOTH: (10, 57)},
    "shipping-tag-8": {EN: (7, 39), ES: (7, 39), BOTH: (7, 39)},
}


def texts_of_cards(pages: tuple[Page, ...], stock: str) -> Iterator[list[TextLine]]:
    """The lines on each card, from the top, by where they stand."""
    place = shipped().stocks[stock].position
    for page in pages:
        for number in range(len(page.cards)):
            at = place(number)
            lines = [i for i in page.items if isinstance(i, TextLine)]
            inside = [i for i in lines if at.x <= i.x < at.right and at.y <= i.y < at.bottom]
            yield sorted(inside, key=lambda i: (i.y, i.x))


@pytest.mark.parametrize("languages", LANGUAGES, ids="+".join)
@pytest.mark.parametrize("stock", MOST)
def test_a_box_takes_no_more_cards_than_it_must(stock: str, languages: tuple[str, ...]) -> None:
    taken = tuple(
        cards_per_box(tags_printed(valves, stock, *languages))["VB-1"] for valves in VALVES
    )
    pairs = zip(taken, MOST[stock][languages], strict=True)
    assert all(count <= most for count, most in pairs), taken


@pytest.mark.parametrize("languages", LANGUAGES, ids="+".join)
@pytest.mark.parametrize("stock", SAMPLES)
def test_the_samples_take_no_more_cards_than_they_must(
    stock: str, languages: tuple[str, ...]
) -> None:
    for name, most in zip(("quarry", "heron"), SAMPLES[stock][languages], strict=True):
        assert cards_per_box(sample_tags_printed(name, stock, *languages)).total() <= most, name
    for name in ("larkspur", "sandpiper"):
        assert not sample_cards(name, *languages)[CardKind.BOX_TAG]


@pytest.mark.parametrize(
    ("stock", "languages", "valves"),
    [
        *(("id-1-letter", EN, 8), ("id-1-letter", ES, 8), ("id-1-letter", BOTH, 8)),
        *(("a7-letter", languages, 12) for languages in LANGUAGES),
        *(("roll-3x4in-203", languages, 12) for languages in LANGUAGES),
    ],
)
def test_the_second_card_is_that_of_the_spares(
    stock: str, languages: tuple[str, ...], valves: int
) -> None:
    first, second = (
        [line.text for line in lines]
        for lines in texts_of_cards(tags_printed(valves, stock, *languages), stock)
    )
    ids = [text for text in first if text in {f"A{n}" for n in range(1, valves + 1)}]
    assert ids == [f"A{n}" for n in range(1, valves + 1)]  # in the order of the terminals
    assert SPARES[languages] not in first
    assert SPARES[languages] in second
    assert not {"A1", f"A{valves}", "C"} & set(second)


def test_the_common_stands_last_among_the_rows_and_the_spares_after_it() -> None:
    (lines,) = texts_of_cards(tags_printed(6, "id-1-letter", *EN), "id-1-letter")
    places = {line.text: line.y for line in lines}
    order = ["VB-1", "under the old oak", "CONTROLLER A: A-K1", "A1", "A6", "C", "SPARES"]
    assert [places[text] for text in order] == sorted(places[text] for text in order)


@pytest.mark.parametrize("stock", MOST)
def test_swatches_of_a_box_tag_are_large_enough_to_tell_patterns_apart(stock: str) -> None:
    """3 mm high, 5 wide (tried on prints)."""
    swatches = [
        item
        for page in tags_printed(12, stock, *BOTH)
        for item in page.items
        if isinstance(item, Swatch)
    ]
    assert len(swatches) == 12 + 1 + 2
    assert min(item.frame.height for item in swatches) >= 3 - 0.001
    assert min(item.frame.width for item in swatches) >= 5 - 0.13  # on rolls whole dots


@pytest.mark.parametrize("stock", [s for s in MOST if s != "shipping-tag-1"])
def test_color_words_are_read_from_an_arms_length_and_what_is_beside_them_is_smaller(
    stock: str,
) -> None:
    """NUREG-0700: 15 minutes of arc at 0.6 m are 2.4 mm."""
    face = shipped().face(CardKind.BOX_TAG, shipped().stocks[stock].format)
    assert face is not None
    shown = (Show.VALVES, Show.WIRES)
    blocks = [b for c in face.columns for b in c.blocks if b.show in shown]
    assert {b.field for b in blocks} == {"stations", "spares"}
    for block in blocks:
        assert block.least >= 2.4
        pairs = zip(block.capitals, block.small, strict=True)
        assert all(
            small <= max(0.8 * capital, 2.0) + 0.001 and small >= 2 for capital, small in pairs
        )


@pytest.mark.parametrize("stock", ["id-1-letter", "a7-letter", "roll-50x75"])
def test_all_cards_of_a_print_have_a_color_word_of_one_height(stock: str) -> None:
    """Boxes of one controller; those that several share have letters of their own."""
    tags = [t for t in sample_cards("quarry", *EN)[CardKind.BOX_TAG] if not t.series]
    words = {"red", "blue", "brown", "white", "orange", "tan"}
    heights = {
        line.capital
        for lines in texts_of_cards(printed(tags, stock, *EN), stock)
        for line in lines
        if line.text in words
    }
    assert len(heights) == 1


# ---- where things are ------------------------------------------------------------------------


def solid_of_cards(pages: tuple[Page, ...], stock: str) -> Iterator[tuple[Frame, list[Frame]]]:
    """By card its place, and the frames of its words, swatches and code."""
    place = shipped().stocks[stock].position
    for page in pages:
        items = [i for i in page.items if isinstance(i, TextLine | Swatch | Symbol)]
        frames = [at for item in items if (at := extent(item))]
        for number in range(len(page.cards)):
            card = place(number)
            yield card, [at for at in frames if card.meets(at)]


@pytest.mark.parametrize("languages", [EN, BOTH], ids="+".join)
@pytest.mark.parametrize("stock", MOST)
def test_nothing_touches_on_a_box_tag_and_all_of_it_is_1_5_mm_from_the_cut(
    stock: str, languages: tuple[str, ...]
) -> None:
    quarry = sample_tags_printed("quarry", stock, *languages)
    for pages in (quarry, tags_printed(12, stock, *languages)):
        for card, solid in solid_of_cards(pages, stock):
            assert all(card.shrunk(1.5 - 0.05).holds(at) for at in solid)  # whole dots
            for one, other in combinations(solid, 2):
                assert not one.shrunk(0.05).meets(other), (one, other)
