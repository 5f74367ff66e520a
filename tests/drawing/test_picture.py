"""The drawing on paper: nothing overlaps, nothing leaves the field, breaks are marked."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings

from cardgen import fonts
from cardgen.draw import pdf
from cardgen.drawing import Sheet
from cardgen.drawing.sheet_size import sheet
from cardgen.layout.geometry import Frame, frame
from cardgen.layout.items import Item, Outline, Page, Strokes, Swatch, TextLine
from cardgen.printer import PAPERS
from tests.drawing.drawings import drawn, homes_of, of_sample, sheets_of
from tests.jobs import SAMPLES, edit, sample
from tests.property.jobs import plans
from tests.property.plan import Plan

LEAST = 2.5  # mm; capitals
EVERY = [(name, paper) for name in SAMPLES for paper in PAPERS]


def ink(text: TextLine) -> Frame:
    """What a line of text covers."""
    wide = fonts.width(text.text, text.weight) * text.capital
    below, above = fonts.ink(text.text, text.weight)
    high = (above - below) * text.capital
    return frame(text.x, text.y - above * text.capital, wide, high)


def texts(page: Page) -> list[TextLine]:
    return [item for item in page.items if isinstance(item, TextLine)]


def edges(item: Item) -> Iterator[Frame]:
    """Lines as rectangles: strokes along an axis, and the four sides of an outline."""
    if isinstance(item, Strokes):
        half = item.width / 2
        for s in item.segments:
            x, y = min(s.x1, s.x2), min(s.y1, s.y2)
            wide, high = abs(s.x1 - s.x2), abs(s.y1 - s.y2)
            yield frame(x - half * (wide == 0), y - half * (high == 0),
                        wide or item.width, high or item.width)  # fmt: skip
    elif isinstance(item, Outline):
        at, w = item.frame, item.width
        yield frame(at.x, at.y, at.width, w)
        yield frame(at.x, at.bottom - w, at.width, w)
        yield frame(at.x, at.y, w, at.height)
        yield frame(at.right - w, at.y, w, at.height)


def assert_sound(sheets: tuple[Sheet, ...], paper: str) -> None:
    stock = sheet(paper)
    assert stock.footer
    for number, each in enumerate(sheets, 1):
        page = each.page
        words = texts(page)
        inked = [(text, ink(text)) for text in words]
        for (one, at), (two, other) in combinations(inked, 2):
            assert not at.meets(other), (number, one.text, two.text)
        lines = [edge for item in page.items for edge in edges(item)]
        swatches = [item.frame for item in page.items if isinstance(item, Swatch)]
        for left, right in combinations(swatches, 2):
            assert not left.meets(right), number
        field, foot = stock.position(0), stock.footer
        for text, at in inked:
            assert field.holds(at) or foot.holds(at), (number, text.text)
            assert text.capital >= LEAST or foot.holds(at), (number, text.text)
            for shape in (*lines, *swatches):
                assert not at.meets(shape), (number, text.text)
        for shape in (*lines, *swatches):
            assert field.holds(shape) or shape.y > field.bottom, (number, shape)


@pytest.mark.parametrize(("name", "paper"), EVERY)
def test_nothing_overlaps_and_nothing_leaves_the_field(name: str, paper: str) -> None:
    assert_sound(sheets_of(name, paper), paper)


@settings(max_examples=25)
@given(plans(30))
def test_nothing_overlaps_in_random_jobs(plan: Plan) -> None:
    sheets, problems = drawn(homes_of(plan.text), "a4")
    assert not problems
    assert_sound(sheets, "a4")


def test_letter_and_a4_say_the_same_at_the_same_places() -> None:
    def said(paper: str) -> list[tuple[int, str, float, float]]:
        left = sheet(paper).left
        found = enumerate(sheets_of("quarry", paper))
        return [
            (n, t.text, round(t.x - left, 6), round(t.y, 6))
            for n, each in found
            for t in texts(each.page)[:-1]  # the last belongs to the scale bar
        ]

    assert said("letter") == said("a4")


@pytest.mark.parametrize(
    ("name", "sheets"), [("larkspur", 1), ("sandpiper", 1), ("quarry", 4), ("heron", 15)]
)
def test_small_jobs_take_one_sheet_and_large_ones_begin_with_an_overview(
    name: str, sheets: int
) -> None:
    found = sheets_of(name)
    assert len(found) == sheets
    assert texts(found[0].page)[0].text.startswith("WIRING DRAWING") == (sheets > 1)


def test_the_overview_names_the_sheet_of_each_home_run() -> None:
    sheets = sheets_of("heron")
    groups = [g.says for g in sheets[0].groups if g.level == 2]
    named = {says.split(",")[0]: int(says.rpartition(" ")[2]) for says in groups}
    assert list(named) == [home.run.cable for home in of_sample("heron")]
    for cable, number in named.items():
        first = next(
            index
            for index, each in enumerate(sheets[1:], 2)
            if any(t.text.startswith(f"{cable} · ") for t in texts(each.page))
        )
        assert number == first, cable


@pytest.mark.parametrize("name", ["quarry", "heron"])
def test_each_break_is_marked_on_both_sides_at_the_same_trunks(name: str) -> None:
    sheets = sheets_of(name)
    breaks = 0
    for number, (one, two) in enumerate(pairwise(sheets), 1):
        onward = [t for t in texts(one.page) if t.text == f"continues on sheet {number + 1}"]
        back = [t for t in texts(two.page) if t.text == f"from sheet {number}"]
        assert len(onward) == len(back) <= 1
        assert [t.x for t in onward] == [t.x for t in back]
        breaks += len(back)
    assert breaks == {"quarry": 1, "heron": 7}[name]


def test_a_box_that_no_page_holds_goes_on_under_its_name() -> None:
    homes = homes_of(_all_in_one_box())
    sheets, problems = drawn(homes)
    assert not problems
    assert_sound(sheets, "letter")
    found = [t.text for each in sheets for t in texts(each.page)]
    assert "VB-1, continued" in found
    assert [t for t in found if t.startswith("valve ")] == [f"valve A{n}" for n in range(1, 61)]


def _all_in_one_box() -> str:
    stations = "\n".join(
        f"  A{n}: {{area: bed {n}, box: VB-1, hot: A-K1 red A{n}}}" for n in range(1, 61)
    )
    return f"""
job: {{code: LARGE-1, site: One Box, revision: 1, date: 2026-03-14}}
record: {{address: https://jobs.example.com, key: 7Q2F9KX4M3T8}}
coils:
  usual: {{supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}}
controllers:
  A: {{place: wall, supply: 24 V AC, stations: 60, coil: usual, common: A-K1 white}}
cables:
  A-K1:
    singles: [{{color: red, gauge: 14 AWG, flags: A1 to A60}}, {{color: white, gauge: 14 AWG}}]
    run: [A, 20 ft, VB-1]
boxes:
  VB-1: {{place: yard}}
stations:
{stations}
"""


def test_long_names_wrap_and_never_meet() -> None:
    text = sample("larkspur")
    text = edit(text, "front beds, drip", "the long border under the old pear trees, " * 3 + "drip")
    text = edit(text, "{place: front bed,", "{place: beneath the bay window of the long hall east,")
    sheets, problems = drawn(homes_of(text))
    assert not problems
    assert_sound(sheets, "letter")


def test_what_is_too_wide_is_a_problem_at_its_place() -> None:
    text = edit(sample("larkspur"), "side beds, drip", "x" * 90)
    sheets, problems = drawn(homes_of(text))
    assert sheets == ()
    assert [(p.code, p.span.line) for p in problems] == [
        ("text-too-long", text[: text.index("x" * 90)].count("\n") + 1)
    ]


def test_a_letter_that_the_fonts_lack_is_a_problem_at_its_place() -> None:
    text = edit(sample("larkspur"), "side beds, drip", "side beds \u82b1")
    assert [p.code for p in drawn(homes_of(text))[1]] == ["letter-not-in-font"]


@pytest.mark.parametrize("name", SAMPLES)
def test_twice_drawn_same_bytes(name: str) -> None:
    made = [
        pdf([each.page for each in drawn(homes_of(sample(name)))[0]], title="t", subject="s")
        for _ in range(2)
    ]
    assert made[0] == made[1]
