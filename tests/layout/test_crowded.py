"""What ordinary jobs put on their smallest cards at once has room there."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from itertools import chain

import pytest

from cardgen import fonts
from cardgen.cards import CardKind, made_cards
from cardgen.layout.items import Swatch, TextLine
from cardgen.output.print_request import PrintRequest
from cardgen.output.print_settings import PrintSettings
from cardgen.output.room import misfits
from cardgen.problems import Problem
from tests.layout.cards import flag, mark, pages, readings, shipped, splice, splice_card, valve_tag
from tests.layout.samples import laid, layouts_in, words_of
from tests.layout.test_pages import extent
from tests.oracle.cases import first_cases

# Of a random yard (tests/oracle): the hot changes color, a twin hangs on the terminal, a master
# valve runs with it, and cables of two-colored conductors are told apart by tape.
CROWDED = valve_tag(
    "B2a",
    hot=mark("B-K1", "blue/white", "tape 5"),
    common=mark("B-K1", "green", "tape 5"),
    first=mark("A-K1", "black/white", "tape 1"),
    first_label="at controller:",
    twin="1 of 2 valves · other: B2b in VB-11",
    controller_readings=readings(("Ω", "15.4", "(11–19)"), ("mA", "850", "on with MV-B + PUMP-B")),
)


def base_lines(*words: str) -> list[float]:
    (page,) = pages(CROWDED, stock="id-1-letter")
    texts = [item for item in page.items if isinstance(item, TextLine)]
    return [next(item.y for item in texts if text in item.text) for text in words]


def test_a_tag_with_a_change_a_twin_and_a_master_valve_has_room_on_a_card() -> None:
    base_lines("HOT", "1 of 2", "on with")


def test_the_band_stands_behind_the_cable_where_it_has_room() -> None:
    hot, band, below = base_lines("HOT", "tape", "COMMON A")
    assert hot == band < below


def test_a_conductor_that_goes_under_its_label_keeps_away_from_it() -> None:
    """The label is two lines high by itself; 0.3 capital heights are kept (our choice)."""
    label = "at the controller in the pump house behind the gate:"
    tag = valve_tag(first=mark("A-K1", "black/white"), first_label=label)
    (page,) = pages(tag, stock="id-1-letter")
    last = next(i for i in page.items if isinstance(i, TextLine) and i.text.endswith("gate:"))
    tail = -fonts.ink(last.text, last.weight)[0] * last.capital
    swatch = min(i.frame.y for i in page.items if isinstance(i, Swatch) and i.frame.y > last.y)
    assert tail > 0  # of the g
    assert swatch - last.y - tail >= 0.3 * last.capital - 1 / 12  # a dot of 300 dpi


def test_no_tail_of_a_color_word_touches_what_stands_under_it() -> None:
    """By the ink of its letters; an eye at arm's length parts half a millimeter (assumed)."""
    for word in ("gray", "green", "yellow", "purple"):
        (page,) = pages(valve_tag(hot=mark("A-K1", word)), stock="id-1-letter")
        at = {item.text: item for item in page.items if isinstance(item, TextLine)}
        color = next(item for text, item in at.items() if text == mark("A-K1", word).word)
        under = next(item for text, item in at.items() if text.startswith("HOT"))
        low, _ = fonts.ink(color.text, color.weight)
        assert under.y - under.capital - (color.y - low * color.capital) > 0.5


def test_two_conductors_of_two_colors_have_room_on_a_flag() -> None:
    card = flag(
        conductor=mark("A-K3", "brown/white", "tape 3"),
        conductor_2=mark("A-K3", "orange/white", "tape 3"),
        way="contr. A → VB-6",
        from_to="",
    )
    (page,) = pages(card, stock="flag-letter")
    assert page.cards == (card.id,)


def test_a_box_of_many_joints_has_their_numbers() -> None:
    joints = [replace(splice(), title=f"{number}  HOT A{number}") for number in (9, 20, 88, 99)]
    done = pages(splice_card(*joints), stock="half-letter")
    texts = [item.text for page in done for item in page.items if isinstance(item, TextLine)]
    assert {"9", "20", "88", "99"} <= set(texts)


# ---- random yards ----------------------------------------------------------------------------

# Tape on many cables, twins, relays, hots that change color; in two languages only what fits least.
YARDS = {("en",): 40, ("es",): 20, ("en", "es"): 20}
# Sheets and legends flow on to further ones; what of them may lack room is seen on a few.
WHOLE = 6
ON_CARDS = (CardKind.VALVE_TAG, CardKind.BOX_TAG, CardKind.FLAG)


@pytest.mark.parametrize("languages", YARDS, ids="+".join)
def test_every_tag_and_flag_of_random_yards_has_room(languages: tuple[str, ...]) -> None:
    words, layouts = words_of(*languages), layouts_in(*languages)
    request = PrintRequest(languages=languages)
    without = {}
    for each in first_cases(YARDS[languages]):
        job = replace(each.printable, words=words)
        press = PrintSettings.of(job, layouts, request)
        laid_out = [press.without_room(kind, made_cards(job, kind)) for kind in ON_CARDS]
        without[each.yard.seed] = too_long(chain(*laid_out))
    assert {seed: sentences for seed, sentences in without.items() if sentences} == {}
    assert len(without) == YARDS[languages]


@pytest.mark.parametrize("languages", YARDS, ids="+".join)
def test_all_that_is_printed_of_a_random_yard_has_room(languages: tuple[str, ...]) -> None:
    request = PrintRequest(languages=languages)
    for each in first_cases(YARDS[languages])[:WHOLE]:
        assert too_long(misfits(each.examined, request)) == [], each.yard.seed


def too_long(problems: Iterable[Problem]) -> list[str]:
    return [p.sentence for p in problems if p.code == "text-too-long"]


# ---- what is far enough apart ----------------------------------------------------------------


@pytest.mark.parametrize("languages", YARDS, ids="+".join)
@pytest.mark.parametrize("name", ["quarry", "heron"])
def test_readings_stand_2_mm_above_the_code_in_words(name: str, languages: tuple[str, ...]) -> None:
    stock = shipped().stocks["id-1-letter"]
    done, problems = laid(name, CardKind.VALVE_TAG, stock.name, *languages)
    assert problems == ()
    gaps = []
    for page in done:
        texts = [(i.text, at) for i in page.items if isinstance(i, TextLine) and (at := extent(i))]
        for number in range(len(page.cards)):
            card = stock.position(number)
            mine = [(text, at) for text, at in texts if card.meets(at)]
            (code,) = (at for text, at in mine if re.fullmatch(r"[0-9A-Z]{12}/[-A-Z0-9]+", text))
            over = max(at.bottom for _, at in mine if at.bottom < code.y and at.x < code.x + 5)
            gaps.append(code.y - over)
    assert min(gaps) >= 1.95  # half a dot


@pytest.mark.parametrize("name", ["quarry", "heron", "sandpiper", "larkspur"])
def test_colors_on_flags_in_two_languages_are_2_mm_high(name: str) -> None:
    """Those of larkspur, which has tape on its cables too, 1.9 mm: three lines."""
    done, _ = laid(name, CardKind.FLAG, "flag-letter", "en", "es")
    lines = [i for page in done for i in page.items if isinstance(i, TextLine)]
    colors = [i.capital for i in lines if re.match(r"[A-Z]+(-\w+)* (red|blue|white)\b", i.text)]
    assert min(colors) >= (1.9 if name == "larkspur" else 2.0) - 1e-9


@pytest.mark.parametrize(
    ("name", "languages", "count"),
    [
        ("quarry", ("en", "es"), 6),
        ("heron", ("en", "es"), 4),
        ("quarry", ("en",), 7),
        ("quarry", ("es",), 5),
    ],
)
def test_the_first_page_of_a_test_sheet_has_rows_of_valves(
    name: str, languages: tuple[str, ...], count: int
) -> None:
    """So many of A's beneath what must be read first, by a count on the print."""
    done, _ = laid(name, CardKind.TEST_SHEET, "sheet-letter", *languages)
    first = {item.text for item in done[0].items if isinstance(item, TextLine)}
    assert {f"A{n}" for n in range(1, count + 1)} <= first
