"""Cards on sheets: nothing outside, nothing on each other, nothing cut, all faults said."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise

import pytest

from cardgen import fonts
from cardgen.cards.card import Card, CardKind, Code, PrintedValue
from cardgen.fonts import Weight
from cardgen.layout import lay_out
from cardgen.layout.geometry import Frame, Mm, frame, on_dots
from cardgen.layout.items import (
    Fill,
    Item,
    Outline,
    Page,
    Slope,
    Strokes,
    Swatch,
    Symbol,
    TextLine,
    all_moved,
)
from cardgen.layout.stock import Offset
from cardgen.problems import Verdict
from tests.for_each import for_each
from tests.layout.cards import (
    DATED,
    PLACE,
    STAMP,
    box_tag,
    code,
    field_sheet,
    flag,
    laid_out,
    legend,
    mark,
    one_of_each,
    pages,
    shipped,
    splice,
    splice_card,
    valve_tag,
    way_round,
)

STOCKS = tuple(shipped().stocks)


def ink_of(item: TextLine) -> Frame:
    """Where the ink of a line can be."""
    low, high = fonts.ink(item.text, item.weight)
    wide = fonts.width(item.text, item.weight) * item.capital
    top = item.y - high * item.capital
    return frame(item.x, top, wide, (high - low) * item.capital)


def extent(item: Item) -> Frame | None:
    match item:
        case TextLine():
            return ink_of(item)
        case Fill() | Outline() | Swatch() | Symbol():
            return item.frame
        case _:
            return None


def items_of(page: Page, kind: type) -> list[Item]:
    return [item for item in page.items if isinstance(item, kind)]


HARD = {
    "id-1-letter": (
        valve_tag("MV-12", boxed=("MASTER VALVE", "NORMALLY OPEN: POWER CLOSES")),
        valve_tag("P3", boxed=("LATCHING DC  red +  black −",)),
        box_tag(stations=12),
    ),
    "roll-50x75": (valve_tag("P3", boxed=("DECODER 201",)), box_tag(stations=9)),
    "shipping-tag-5": (valve_tag(twin="1 of 2, other valve in VB-9"), box_tag(stations=9)),
    "flag-a4": (
        flag("SP-A-K1-3"),
        flag("COM-A", conductor=mark("A-K1", "white/black", "black band")),
        flag(conductor_2=mark("A-S1", "light-blue", flag="A7")),
    ),
    "legend-letter": (legend(60),),
    "half-a4": (splice_card(*(splice(n, onward=n % 2 == 0) for n in range(10))),),
    "sheet-letter": (field_sheet(60),),
}
CASES = {stock: (stock, one_of_each(stock)) for stock in STOCKS}
CASES |= {f"hard ones on {stock}": (stock, cards) for stock, cards in HARD.items()}
case = for_each("name", CASES)


@cache
def laid(name: str) -> tuple[Page, ...]:
    stock, cards = CASES[name]
    return pages(*cards, stock=stock)


@case
def test_everything_lies_on_the_paper(name: str) -> None:
    for page in laid(name):
        paper = frame(0, 0, page.width, page.height)
        for item in page.items:
            at = extent(item)
            assert at is None or paper.holds(at), item


@case
def test_texts_swatches_and_symbols_keep_apart(name: str) -> None:
    for page in laid(name):
        solid = [
            at.shrunk(0.05)
            for item in page.items
            if isinstance(item, TextLine | Swatch | Symbol) and (at := extent(item))
        ]
        for one, other in combinations(solid, 2):
            assert not one.meets(other), (one, other)


@case
def test_nothing_intrudes_into_the_quiet_zone(name: str) -> None:
    for page in laid(name):
        for symbol in items_of(page, Symbol):
            assert isinstance(symbol, Symbol)
            for item in page.items:
                if isinstance(item, Strokes):
                    for s in item.segments:
                        x, y = min(s.x1, s.x2), min(s.y1, s.y2)
                        line = frame(x, y, abs(s.x1 - s.x2), abs(s.y1 - s.y2))
                        assert not symbol.frame.meets(line.shrunk(-item.width / 2))
                elif item is not symbol and (at := extent(item)):
                    assert not symbol.frame.meets(at)


@case
def test_cards_print_inside_their_safe_area(name: str) -> None:
    for page in laid(name):
        layout = way_round(page, CASES[name][0])
        safe = [
            frame(at.x, at.y, at.width, at.height).shrunk(layout.safe - 0.05)
            for at in map(layout.position, range(layout.per_sheet))
        ]
        for item in page.items:
            at = extent(item)
            in_footer = layout.footer is not None and at and at.y >= layout.footer.y - 0.5
            if at is not None and not in_footer:
                assert any(area.holds(at) for area in safe), item


@pytest.mark.parametrize("stock", ["id-1-a4", "roll-50x75"])
def test_nothing_is_printed_where_the_hole_will_be(stock: str) -> None:
    layout = shipped().stocks[stock]
    assert layout.hole is not None
    card = layout.position(0)
    hole = layout.hole.frame.moved(card.x, card.y).shrunk(-0.5)
    (page,) = pages(valve_tag("B-07"), stock=stock)
    assert not any(hole.meets(at) for item in page.items if (at := extent(item)))


def test_every_word_of_a_card_is_on_the_page() -> None:
    (page,) = pages(valve_tag(), stock="id-1-letter")
    words = " ".join(item.text for item in page.items if isinstance(item, TextLine))
    for word in ("A7", "VB-2", "front beds, drip", "HOT", "green", "GN", "A-K1", "COMMON A"):
        assert word in words
    for word in ("white/black", "WH/BK", "terminal 7", "7Q2F9KX4M3T8/", "2026-03-14", "26–38"):
        assert word in words


def test_a_flag_says_the_same_on_both_sides() -> None:
    (page,) = pages(flag(), stock="flag-letter")
    stock = shipped().stocks["flag-letter"]
    middle = stock.position(0).x + stock.card_width / 2
    texts = [t for t in page.items if isinstance(t, TextLine) and t.y < stock.position(0).bottom]
    front = [(t.text, round(t.x, 3), t.y) for t in texts if t.x < middle]
    back = [(t.text, round(t.x - 70, 3), t.y) for t in texts if t.x > middle]
    assert front == back
    assert [text for text, _, _ in front] == ["A-07", "A-K1 red RD", "A → VB-2"]


def test_more_cards_than_a_sheet_holds_go_on_to_the_next() -> None:
    done = pages(*(valve_tag(f"A{n}") for n in range(1, 12)), stock="id-1-letter")
    assert [len(page.cards) for page in done] == [9, 2]
    assert done[1].cards == ("A10", "A11")


def test_a_part_used_sheet_starts_where_it_is_free() -> None:
    done = pages(*(valve_tag(f"A{n}") for n in range(1, 5)), stock="id-1-letter", start=8)
    assert [page.cards for page in done] == [("A1", "A2"), ("A3", "A4")]
    at = shipped().stocks["id-1-letter"].position(7)
    first = next(item for item in done[0].items if isinstance(item, TextLine) and item.text == "A1")
    assert (first.x, first.y) == pytest.approx((at.x + 2, at.y + 12.7), abs=0.05)


@pytest.mark.parametrize("stock", [s for s in STOCKS if shipped().stocks[s].footer])
def test_every_sheet_carries_stamp_and_scale(stock: str) -> None:
    (page, *more) = pages(*one_of_each(stock), stock=stock)
    texts = [item.text for item in page.items if isinstance(item, TextLine)]
    assert f"LARK-06 · rev 1 · Larkspur Cottage · sheet 1 of {1 + len(more)}" in texts
    assert "print at 100 %: this bar is 50 mm" in texts
    spans = [
        abs(s.x2 - s.x1)
        for item in page.items
        if isinstance(item, Strokes)
        for s in item.segments
        if s.y1 > way_round(page, stock).position(0).bottom
    ]
    assert any(span == pytest.approx(50.0) for span in spans)
    layout = way_round(page, stock)
    (bar,) = (
        item
        for item in page.items
        if isinstance(item, Strokes)
        and any(s.x2 - s.x1 == pytest.approx(50) for s in item.segments)
    )
    assert bar.width <= 0.5  # a pocket rule has lines every half millimeter
    ticks = [s for s in bar.segments if s.x1 == s.x2]
    assert len(ticks) == 6  # at both ends and at four centimeters between
    level = next(s.y1 for s in bar.segments if s.y1 == s.y2)
    assert all(s.y1 < level - 0.4 and s.y2 > level + 0.4 for s in ticks)
    assert layout.footer
    assert all(layout.footer.holds(frame(s.x1, s.y1, 0, s.y2 - s.y1)) for s in bar.segments)


@pytest.mark.parametrize("stock", ["id-1-letter", "roll-50x75"])
def test_of_no_cards_there_is_no_sheet(stock: str) -> None:
    assert pages(stock=stock) == ()


def test_a_roll_card_carries_its_own_stamp() -> None:
    (page,) = pages(valve_tag(), stock="roll-50x75")
    words = [item.text for item in page.items if isinstance(item, TextLine)]
    assert DATED in words


@pytest.mark.parametrize(
    ("length", "dots"), [(0.18, 1), (0.1875, 2), (0.3124, 2), (0.3125, 3), (0.375, 3), (1, 8)]
)
def test_what_is_half_way_between_two_dots_goes_up(length: float, dots: int) -> None:
    """8 dots a millimeter: 0.1875 mm are one and a half, 0.3125 mm two and a half."""
    assert on_dots(length, 0.125) == dots * 0.125


def test_everything_on_the_roll_is_on_dots() -> None:
    dot = 0.125
    for page in pages(valve_tag(), box_tag(), stock="roll-50x75"):
        for item in page.items:
            parts = item.parts if isinstance(item, Swatch) else (item,)
            for part in parts:
                for edge in _edges(part):
                    assert edge / dot == pytest.approx(round(edge / dot), abs=1e-6), part


def _edges(part: Item) -> list[float]:
    match part:
        case Fill() | Outline():
            at = part.frame
            return [at.x, at.y, at.right, at.bottom]
        case Slope():
            return [part.x1, part.y1, part.x2, part.y2, part.width]
        case Symbol():
            return [part.x, part.y, part.module]
        case Strokes():
            level = [s.y1 - part.width / 2 for s in part.segments if abs(s.y1 - s.y2) < 1e-9]
            upright = [s.x1 - part.width / 2 for s in part.segments if abs(s.x1 - s.x2) < 1e-9]
            return [*level, *upright, part.width]
        case _:
            return []


# ---- what goes on to further cards -----------------------------------------------------------


def test_a_long_legend_goes_on_to_further_sheets() -> None:
    done = pages(legend(60), stock="legend-letter")
    assert len(done) > 1
    rows = [
        item.text
        for page in done
        for item in page.items
        if isinstance(item, TextLine) and " · A" in item.text
    ]
    assert rows == [f"{n} · A{n}" for n in range(1, 61)]  # each once, in the order of the terminals
    for number, page in enumerate(done, 1):
        texts = [item.text for item in page.items if isinstance(item, TextLine)]
        assert f"{number} of {len(done)}" in texts
        assert "CONTROLLER A" in texts
        # Further sheets have a slim head, and so more rows.
        assert ("Take a photo before you lift a wire." in texts) == (number == 1)


def test_rows_of_a_legend_are_high_enough() -> None:
    for page in pages(legend(60), stock="legend-a4"):
        rows = [t for t in page.items if isinstance(t, TextLine) and t.text.isdigit()]
        assert all(row.capital >= 2.5 for row in rows)
        pitches = [b.y - a.y for a, b in pairwise(rows)]
        assert all(pitch >= 4.0 for pitch in pitches)


def test_a_full_box_takes_more_cards_and_says_so() -> None:
    (page,) = pages(box_tag(stations=12), stock="id-1-letter")
    count = len(page.cards)
    assert set(page.cards) == {"VB-2"}
    assert count > 1
    texts = [item.text for item in page.items if isinstance(item, TextLine)]
    assert [t for t in texts if " of " in t and "sheet" not in t] == [
        f"{n} of {count}" for n in range(1, count + 1)
    ]
    assert texts.count("CONTROLLER A") >= 2  # said again where the rows go on


# ---- what does not fit ------------------------------------------------------------------------


def test_a_text_too_long_is_an_error_that_says_by_how_much() -> None:
    done, problems = laid_out(valve_tag("CONTROLLER-A-07"), stock="id-1-letter")
    assert done == ()
    (problem,) = problems
    assert (problem.code, problem.verdict) == ("text-too-long", Verdict.ERROR)
    assert problem.span == PLACE
    wide = 5 * fonts.width("CONTROLLER-A-07", Weight.HEAVY) - 40.5
    assert problem.sentence == (
        f"the valve tag 'CONTROLLER-A-07' is {wide:.1f} mm too wide even in the smallest "
        "letters (5 mm) on 'id-1-letter'"
    )


def test_the_way_out_names_stock_that_has_room() -> None:
    crowded = valve_tag(
        boxed_short=("MASTER VALVE", "NORMALLY OPEN: POWER CLOSES", "BEHIND ISOLATORS"),
        twin="1 of 2 valves · other: A10b in VB-4",
        area="the long north slope behind the upper car park",
    )
    done, problems = laid_out(crowded, stock="roll-50x75")
    assert done == ()
    assert [problem.code for problem in problems] == ["text-too-long"]
    assert "too tall even in the smallest letters" in problems[0].sentence


def _owned(id: str, line: int, **more: PrintedValue) -> Card:
    return replace(valve_tag(id, **more), span=PLACE._replace(line=line))


def test_what_is_too_long_on_many_tags_alike_is_told_once_at_the_first_in_the_file() -> None:
    """Every other card, the worst amount, and the stock that has room for all of them."""
    letters = {9: 13, 4: 12, 5: 12, 6: 1}
    cards = [_owned(f"A{n}", n, terminal="W" * count) for n, count in letters.items()]
    done, (problem,) = laid_out(*cards, *cards, stock="id-1-letter")  # two copies
    assert [page.cards for page in done] == [("A6", "A6")]
    assert problem.span.line == 4

    def over(count: int) -> str:
        return f"{2 * fonts.width('W' * count, Weight.BOLD) - 26:.1f} mm"

    assert problem.sentence == (
        f"'{'W' * 12}' on the valve tag 'A4' is {over(12)} too wide even in the smallest "
        f"letters (2 mm) on 'id-1-letter'; 2 more have the same problem (worst: 'A9', {over(13)}): "
        "A5 and A9"
    )
    assert problem.help.startswith("it fits on 'shipping-tag-2'")


def test_other_parts_and_cards_with_no_way_out_in_common_are_told_apart() -> None:
    cards = (
        _owned("A1", 1, terminal="W" * 12),
        _owned("A2", 2, terminal="W" * 200),  # on no stock
        _owned("A3", 3, box="W" * 6),
        _owned("A4", 4, terminal="W" * 12),
    )
    problems = laid_out(*cards, stock="id-1-letter")[1]
    assert [problem.span.line for problem in problems] == [1, 2, 3]
    assert problems[0].sentence.endswith("; 1 more has the same problem: A4")
    shorten = "shorten it; no stock that is known has room for it"
    assert problems[1].help == f"{shorten}; '--without-misfits' prints the rest"


def test_letters_that_cannot_be_printed_are_told_of_each_card() -> None:
    problems = laid_out(valve_tag("A1", area="花"), valve_tag("A2", area="花"), stock="id-1-a4")[1]
    assert [problem.code for problem in problems] == ["letter-not-in-font"] * 2


def test_good_cards_are_laid_out_beside_a_bad_one() -> None:
    done, problems = laid_out(valve_tag("A1"), valve_tag("A" * 30), stock="id-1-letter")
    assert [page.cards for page in done] == [("A1",)]
    assert len(problems) == 1


def test_a_letter_that_no_font_has_is_an_error() -> None:
    done, problems = laid_out(valve_tag(area="北の芝生"), stock="id-1-letter")
    assert done == ()
    assert [problem.code for problem in problems] == ["letter-not-in-font"]
    assert "'北' (U+5317)" in problems[0].sentence


def test_an_address_that_makes_too_large_a_code_is_an_error() -> None:
    long = Code(address="HTTPS://JOBS.EXAMPLE.COM/" + "A" * 90, text="A")
    _, problems = laid_out(valve_tag(code=long), stock="id-1-letter")
    assert [problem.code for problem in problems] == ["code-too-large"]
    assert "shorter address" in problems[0].help


def test_a_card_without_a_face_for_the_stock_is_an_error() -> None:
    _, problems = laid_out(flag(), stock="id-1-letter")
    assert [problem.code for problem in problems] == ["no-face"]
    assert problems[0].help == "it fits on 'flag-a4', 'flag-roll-1x3in', 'sleeve-roll-20x50'"


def test_spanish_fits_and_is_printed() -> None:
    card = valve_tag(area="césped delantero, aspersión", hot_label="VIVO", common_label="COMÚN A")
    (page,) = pages(card, stock="id-1-a4")
    words = " ".join(item.text for item in page.items if isinstance(item, TextLine))
    assert "aspersión" in words
    assert "COMÚN A" in words


def test_the_same_cards_make_the_same_pages() -> None:
    assert pages(valve_tag(), stock="id-1-letter") == pages(valve_tag(), stock="id-1-letter")


def test_codes_hold_the_address_of_the_card() -> None:
    (page,) = pages(valve_tag(), stock="id-1-letter")
    (symbol,) = items_of(page, Symbol)
    assert isinstance(symbol, Symbol)
    assert symbol.address == code("VB-2").address


def test_a_code_is_in_the_middle_of_its_place_on_the_face() -> None:
    """By the files: the card begins at 26.98 and 7.5 mm, its code at 32.9 and 57.02, 19 wide."""
    (page,) = pages(valve_tag(), stock="id-1-letter")
    (symbol,) = items_of(page, Symbol)
    assert isinstance(symbol, Symbol)
    half = len(symbol.rows) * symbol.module / 2
    dot = 25.4 / 600
    assert symbol.x + half == pytest.approx(26.98 + 32.9 + 9.5, abs=2 * dot)
    assert symbol.y + half == pytest.approx(7.5 + 57.02 + 9.5, abs=2 * dot)


def rounded(item: Item) -> str:
    """To a millionth of a millimeter."""
    return re.sub(r"\d+\.\d+", lambda number: f"{float(number[0]):.6f}", repr(item))


def test_an_offset_moves_everything_on_the_sheet_and_only_that() -> None:
    stock = shipped().stocks["id-1-letter"]
    shifted = replace(stock, offset=Offset(span=PLACE, x=Mm(0.5), y=Mm(-1)))
    (true,), _ = lay_out([valve_tag()], layouts=shipped(), stock=stock, stamp=STAMP)
    (moved_,), _ = lay_out([valve_tag()], layouts=shipped(), stock=shifted, stamp=STAMP)
    expected = all_moved(true.items, 0.5, -1)
    assert [rounded(i) for i in moved_.items] == [rounded(i) for i in expected]
    assert (moved_.width, moved_.height) == (true.width, true.height)


def test_what_a_code_holds_stands_in_letters_beneath_it() -> None:
    card = Card(span=PLACE, kind=CardKind.COVER, id="J", fields={"code": code("VB-2")})
    (page,) = pages(card, stock="sheet-letter")
    (symbol,) = items_of(page, Symbol)
    (text,) = (i for i in page.items if isinstance(i, TextLine) and "VB-2" in i.text)
    assert isinstance(symbol, Symbol)
    assert text.text == "7Q2F9KX4M3T8/VB-2"
    assert 0 < text.y - text.capital - symbol.frame.bottom < text.capital
