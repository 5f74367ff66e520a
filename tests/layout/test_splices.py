"""Joints on a splice card: one with one is a row, of three and more every line ends at the bar."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardgen import fonts
from cardgen.cards import CardKind
from cardgen.cards.card import Splice, Wire
from cardgen.layout.geometry import Frame, frame
from cardgen.layout.items import Item, Outline, Page, Segment, Strokes, Swatch, TextLine
from cardgen.layout.splices import BAR, BOX, LINE
from cardgen.layout.table import THIN
from tests.layout.cards import mark, pages, splice, splice_card
from tests.layout.samples import laid

# How many wires meet, counted by hand: the one that comes in, those that go on, the leads.
DRAWN = [(leads, True) for leads in range(1, 8)] + [(leads, False) for leads in range(2, 8)]
drawing = pytest.mark.parametrize(("leads", "onward"), DRAWN)
ROWS = [(1, False), (0, True)]
COLOR_WORD = 2.6  # mm; who kneels at the box reads it, tests/outside/test_letter_heights.py


def drawn(leads: int, onward: bool) -> Page:
    return page_of(splice(leads, onward=onward))


def page_of(*splices: Splice) -> Page:
    (page,) = pages(splice_card(*splices), stock="half-letter")
    return page


def segments(page: Page, width: float) -> list[Segment]:
    found = [i for i in page.items if isinstance(i, Strokes) and i.width == width]
    return [segment for item in found for segment in item.segments]


def text_of(page: Page) -> dict[str, TextLine]:
    return {item.text: item for item in page.items if isinstance(item, TextLine)}


# ---- drawings --------------------------------------------------------------------------------


@drawing
def test_every_wire_has_one_line_to_the_one_bar(leads: int, onward: bool) -> None:
    page = drawn(leads, onward)
    (bar,) = segments(page, BAR)
    lines = segments(page, LINE)
    assert len(lines) == 1 + onward + leads
    for line in lines:
        assert line.y1 == line.y2
        assert bar.y1 < line.y1 < bar.y2
        assert bar.x1 in (line.x1, line.x2)


@drawing
def test_each_line_begins_at_the_words_of_its_wire(leads: int, onward: bool) -> None:
    page = drawn(leads, onward)
    (bar,) = segments(page, BAR)
    names = ["A-K1 red RD", *["A-S1 blue BU (flag A7)", "A-S1 blue BU (A7)"][-onward:][:onward]]
    names += [f"A7{letter}" for letter in "abcdefg"[:leads]]
    texts = text_of(page)
    middles = sorted(texts[name].y - texts[name].capital / 2 for name in names)
    assert sorted(line.y1 for line in segments(page, LINE)) == pytest.approx(middles)
    arriving = texts["A-K1 red RD"]
    assert arriving.x < bar.x1
    assert all(texts[name].x > bar.x1 for name in names[1:])


@drawing
def test_no_line_crosses_words_or_swatches(leads: int, onward: bool) -> None:
    page = drawn(leads, onward)
    for line in (*segments(page, LINE), *segments(page, BAR)):
        half = (LINE if line.y1 == line.y2 else BAR) / 2
        x, y = min(line.x1, line.x2), min(line.y1, line.y2)
        reach = frame(x, y, abs(line.x2 - line.x1), abs(line.y2 - line.y1)).shrunk(-half)
        for item in page.items:
            at = _extent(item)
            assert at is None or not at.meets(reach), item


def _extent(item: Item) -> Frame | None:
    match item:
        case TextLine():
            wide = fonts.width(item.text, item.weight) * item.capital
            return frame(item.x, item.y - item.capital, wide, item.capital)
        case Swatch():
            return item.frame
        case _:
            return None


def test_where_nothing_comes_in_the_first_is_joined_with_the_rest() -> None:
    whole = splice(2, onward=True)
    page = page_of(replace(whole, arriving=()))
    (bar,) = segments(page, BAR)
    texts = text_of(page)
    assert texts["to VB-3, 14 AWG"].x < bar.x1 < texts["A7a"].x


def test_leads_too_long_for_a_line_are_told_once_with_their_number() -> None:
    whole = splice(3)
    about = "factory lead of a coil, 18 AWG"
    page = page_of(replace(whole, leads=tuple(replace(lead, about=about) for lead in whole.leads)))
    said = " ".join(item.text for item in page.items if isinstance(item, TextLine))
    assert said.replace("\u00a0", " ").count(f"3 × {about}") == 1
    assert said.count("factory lead") == 1
    assert len(segments(page, LINE)) == 4


def test_the_number_of_a_joint_stands_close_beneath_its_box() -> None:
    """Nearer to it than half a letter, so that it is not taken for a word of the next line."""
    page = drawn(2, onward=True)
    box = next(i.frame for i in page.items if isinstance(i, Outline) and i.frame.width == BOX)
    (number,) = (t for t in text_of(page).values() if t.text == "1" and t.x < box.right)
    gap = number.y - number.capital - box.bottom
    assert 0.3 < gap < number.capital / 2


# ---- rows ------------------------------------------------------------------------------------


@pytest.mark.parametrize(("leads", "onward"), ROWS)
def test_one_with_one_is_a_row_without_a_drawing(leads: int, onward: bool) -> None:
    page = drawn(leads, onward)
    assert segments(page, BAR) == segments(page, LINE) == []
    texts = text_of(page)
    first, second = texts["A-K1 red RD"], texts["A7a" if leads else "A-S1 blue BU (A7)"]
    assert first.y == pytest.approx(second.y)
    assert texts["HOT A7"].y == pytest.approx(first.y)
    assert texts["HOT A7"].x < first.x < second.x
    assert texts["from A, 18 AWG"].y > first.y
    assert ("color change: red to blue" in texts) == onward
    assert "connector: small" in texts


def test_a_row_does_not_say_twice_of_which_gauge_its_wires_are() -> None:
    said = text_of(drawn(1, False))
    assert "2 × 18 AWG" not in said
    unknown = replace(splice(1), counts="2 conductors, gauge not known", connector="")
    assert "2 conductors," in text_of(page_of(unknown))  # where that is all there is to say


def test_a_title_of_any_length_ends_before_the_wires() -> None:
    """As far from them as it is from its box."""
    for letters in range(1, 11):
        page = page_of(replace(splice(1), title=f"1  HOT {'N' * letters}"))
        first = min(i.frame.x for i in page.items if isinstance(i, Swatch))
        box = next(i.frame for i in page.items if isinstance(i, Outline) and i.frame.width == BOX)
        lines = [t for t in text_of(page).values() if t.text.startswith(("HOT", "NN"))]
        assert lines
        for line in lines:
            ends = line.x + fonts.width(line.text, line.weight) * line.capital
            assert first - ends > line.x - box.right - 0.01


def test_a_joint_has_a_box_to_tick_with_its_number_beneath() -> None:
    page = page_of(splice(1), replace(splice(2), title="12  HOT A8"))
    boxes = [i.frame for i in page.items if isinstance(i, Outline) and i.frame.width == BOX]
    assert len(boxes) == 2
    rule = min(segments(page, THIN), key=lambda line: line.x1)  # beneath each joint
    assert [at.x for at in boxes] == pytest.approx([rule.x1, rule.x1])
    texts = text_of(page)
    for box, number in zip(boxes, ("1", "12"), strict=True):
        at = texts[number]
        assert box.x <= at.x and box.bottom < at.y - at.capital
        assert at.x + fonts.width(number, at.weight) * at.capital <= box.right


def test_all_cards_of_a_print_have_letters_of_the_same_size() -> None:
    """Ten joints and a long name: the size does not follow from what a card holds."""
    shown = mark("A-K10-SOUTH", "light-blue/white", "yellow tape", "SP-COM")
    long = replace(splice(1), leaving=(Wire(mark=shown, name="", about="to VB-3, 14 AWG"),))
    full = splice_card(*(splice(n, onward=n % 2 == 0) for n in range(1, 10)), long, id="VB-3")
    cards = (splice_card(splice()), full)
    found = [i for page in pages(*cards, stock="half-letter") for i in page.items]
    words = [i for i in found if isinstance(i, TextLine)]
    colors = {i.capital for i in words if i.text.startswith("A-K1")}
    titles = {i.capital for i in words if i.text.startswith("HOT A7")}
    about = {i.capital for i in words if i.text.startswith("from A")}
    assert colors == {COLOR_WORD}
    assert len(titles) == len(about) == 1
    assert max(about) < COLOR_WORD < max(titles)


# ---- paper -----------------------------------------------------------------------------------

# Sheets with two cards each.  A drawing for every joint took 11, 42, 2 and 3 in English.
SHEETS = {"quarry": 8, "heron": 26, "larkspur": 2, "sandpiper": 2}


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("name", SHEETS)
def test_splice_cards_take_few_sheets(name: str, language: str) -> None:
    done, problems = laid(name, CardKind.SPLICE_CARD, "half-letter", language)
    assert problems == ()
    assert len(done) <= SHEETS[name]


@pytest.mark.parametrize("languages", [("en",), ("es",), ("en", "es")])
def test_cards_of_one_box_follow_each_other_with_advice_and_signatures_once(
    languages: tuple[str, ...],
) -> None:
    done, _ = laid("quarry", CardKind.SPLICE_CARD, "half-letter", *languages)
    order = [name for page in done for name in page.cards]
    assert order == sorted(order, key=order.index)
    boxes = list(dict.fromkeys(order))
    texts = [item.text for page in done for item in page.items if isinstance(item, TextLine)]
    asked = {"en": "made (initials)", "es": "hecho por"}.get("".join(languages), "made by /")
    assert sum(text.replace("\u00a0", " ").startswith(asked) for text in texts) == len(boxes)
    begin = "Mire dentro" if languages == ("es",) else "Look "
    assert sum(text.startswith(begin) for text in texts) == len(boxes)
    for box in boxes:
        assert texts.count(box) >= order.count(box)  # the head, on every card
