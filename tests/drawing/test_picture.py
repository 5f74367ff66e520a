"""The drawing on paper: nothing overlaps, nothing leaves the field, breaks are marked."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations

import pytest
from hypothesis import given, settings

from cardgen import fonts
from cardgen.draw.pdf import pdf
from cardgen.drawing import SCREEN, Sheet, picture
from cardgen.drawing.sheet_size import COLUMN, GUTTER, sheet
from cardgen.fonts import Weight
from cardgen.layout.geometry import Frame, frame
from cardgen.layout.items import Group, Item, Outline, Page, Strokes, Swatch, TextLine
from cardgen.printer import PAPERS
from tests.drawing.drawings import drawn, homes_of, of_sample, sheets_of
from tests.jobs import SAMPLES, edit, sample
from tests.property.jobs import plans
from tests.property.plan import Plan

LEAST = 2.4  # mm; capitals: 15 minutes of arc (NUREG-0700, minimum) at 0.55 m
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


def columns_of(paper: str) -> list[Frame]:
    """The two of a sheet of paper, the one of a screen."""
    on = sheet(paper)
    at = on.stock.position(0)
    return [frame(at.x + n * (COLUMN + GUTTER), at.y, COLUMN, at.height) for n in range(on.columns)]


def assert_sound(sheets: tuple[Sheet, ...], paper: str) -> None:
    stock = sheet(paper).stock
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
        columns, foot = columns_of(paper), stock.footer
        for text, at in inked:
            assert any(column.holds(at) for column in columns) or foot.holds(at), (
                number,
                text.text,
            )
            assert text.capital >= LEAST or foot.holds(at), (number, text.text)
            for shape in (*lines, *swatches):
                assert not at.meets(shape), (number, text.text)
        for shape in (*lines, *swatches):
            is_foot = shape.y > columns[0].bottom
            assert is_foot or any(column.holds(shape) for column in columns), (number, shape)


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
        field = sheet(paper).stock.position(0)
        found = enumerate(sheets_of("quarry", paper))
        return [
            (n, t.text, round(t.x - field.x, 6), round(t.y - field.y, 6))
            for n, each in found
            for t in texts(each.page)[:-2]  # the last two stand under the field
        ]

    assert said("letter") == said("a4")


# By hand from the prints: how many sheets a foreman carries.
SHEETS = {"larkspur": 1, "sandpiper": 1, "quarry": 3, "heron": 9}


@pytest.mark.parametrize("name", SAMPLES)
def test_small_jobs_take_one_sheet_and_large_ones_begin_with_an_index(name: str) -> None:
    found = sheets_of(name)
    assert len(found) == SHEETS[name]
    assert texts(found[0].page)[0].text.startswith("WIRING DRAWING") == (SHEETS[name] > 1)


@pytest.mark.parametrize(("name", "paper"), EVERY)
def test_the_paper_lies_down(name: str, paper: str) -> None:
    assert all(each.page.width > each.page.height for each in sheets_of(name, paper))


@pytest.mark.parametrize("name", SAMPLES)
def test_each_kind_of_text_has_one_size_in_the_whole_drawing(name: str) -> None:
    """Heads of controllers, boxes and columns; cables; valves; the rest."""
    field = columns_of("letter")[0]
    found = {
        (str(t.weight), t.capital)
        for each in sheets_of(name)
        for t in texts(each.page)
        if t.y < field.bottom
    }
    heavy = sorted(capital for weight, capital in found if weight == str(Weight.HEAVY))
    bold = sorted(capital for weight, capital in found if weight == str(Weight.BOLD))
    assert heavy == [3.4, 3.8, 5.0][-len(heavy) :]
    assert set(bold) <= {2.4, 2.7, 3.0}
    assert {capital for weight, capital in found if weight == str(Weight.MEDIUM)} == {2.4}


def test_no_sheet_has_nothing_but_the_index() -> None:
    """70 cables of one box each: the index takes more than a sheet would have room for."""
    sheets, problems = drawn(homes_of(_many_cables(70)))
    assert not problems
    assert_sound(sheets, "letter")
    entry = re.compile(r"\b(K\d+) · tape \d+ · sheet (\d+)")
    assert sum(bool(entry.search(said_of(each))) for each in sheets) > 2
    for each in sheets:
        assert re.search(r"valve A\d+", said_of(each)), said_of(each)
    indexed = entry.findall(" ".join(map(said_of, sheets)))
    assert [cable for cable, _ in indexed] == [f"K{n}" for n in range(1, 71)]
    for cable, number in indexed:
        name = f"{cable} · tape {cable[1:]} · 20 ft"
        assert name in said_of(sheets[int(number) - 1]), cable


def said_of(each: Sheet) -> str:
    return " ".join(text.text for text in texts(each.page))


def _many_cables(count: int) -> str:
    """Each from the one controller to a box of its own with one valve."""

    def lines(line: str) -> str:
        return "\n".join(line.format(n=n) for n in range(1, count + 1))

    commons = ", ".join(f"K{n} white" for n in range(1, count + 1))
    return f"""
job: {{code: MANY-1, site: Many Cables, revision: 1, date: 2026-03-14}}
record: {{address: https://jobs.example.com, key: 7Q2F9KX4M3T8}}
coils: {{usual: {{supply: 24 V AC, resistance: 30 ohm}}}}
controllers:
  A: {{place: wall, supply: 24 V AC, stations: {count}, coil: usual, common: [{commons}]}}
cables:
{lines("  K{n}: {{gauge: 18 AWG, colors: [red, white], band: tape {n}, run: [A, 20 ft, VB-{n}]}}")}
boxes:
{lines("  VB-{n}: {{place: yard}}")}
stations:
{lines("  A{n}: {{area: bed {n}, box: VB-{n}, hot: K{n} red}}")}
"""


def test_the_index_names_the_sheet_of_each_home_run() -> None:
    """And shares its own with the first of them."""
    sheets = sheets_of("heron")
    named = re.findall(r"(\S+) · sheet (\d+)", said_of(sheets[0]))[:-1]  # the last is the stamp's
    assert [cable for cable, _ in named] == [home.run.cable for home in of_sample("heron")]
    lengths = {cable: re.compile(rf"{cable} · \d+ ft") for cable, _ in named}
    for cable, number in named:
        first = next(n for n, each in enumerate(sheets, 1) if lengths[cable].search(said_of(each)))
        assert int(number) == first, cable
    assert named[0] == ("A-N", "1")


def marks(each: Sheet) -> list[tuple[str, TextLine]]:
    """What is said where a drawing goes on, in the order of the columns."""
    ways = ("continues on sheet ", "continues at right", "from sheet ", "from the left")
    found = [t for t in texts(each.page) if t.text.startswith(ways)]
    return [(t.text, t) for t in found]


@pytest.mark.parametrize(("name", "breaks"), [("quarry", 2), ("heron", 9)])
def test_each_break_is_marked_on_both_sides_at_the_same_trunks(name: str, breaks: int) -> None:
    """Pairs in reading order: where it goes on, and where it comes from."""
    left = [column.x for column in columns_of("letter")]
    told = [
        (number, text, round(t.x - left[t.x > left[1]], 6))
        for number, each in enumerate(sheets_of(name), 1)
        for text, t in marks(each)
    ]
    assert len(told) == 2 * breaks
    for (one, onward, x), (two, back, other) in zip(told[::2], told[1::2], strict=True):
        assert x == other
        if one == two:
            assert (onward, back) == ("continues at right", "from the left")
        else:
            assert (onward, back) == (f"continues on sheet {two}", f"from sheet {one}")
            assert two == one + 1


@pytest.mark.parametrize("name", SAMPLES)
def test_a_home_run_that_goes_on_began_at_the_top_of_a_column(name: str) -> None:
    """Under another one stands only what fits there whole, and is not parted."""
    top = columns_of("letter")[0].y
    for each in sheets_of(name):
        for column in columns_of("letter"):
            inside = [g for g in each.groups if any(column.holds(f) for f in frames(g))]
            begins = [g for g in inside if g.says.startswith("CONTROLLER") and has_frame(g)]
            onward = [g for g in inside if g.says.startswith("continues")]
            for group in begins if onward else ():
                at = min(f.y for f in frames(group))
                listing = "WIRING DRAWING" in said_of(each) and column.x < 100
                assert listing or at == pytest.approx(top, abs=0.01), group.says


def frames(group: Group) -> list[Frame]:
    return [item.frame for item in group.items if isinstance(item, Outline)]


def has_frame(group: Group) -> bool:
    return bool(frames(group))


@pytest.mark.parametrize("name", SAMPLES)
def test_a_screen_has_one_column_and_no_more_than_is_there(name: str) -> None:
    sheets, problems = picture(of_sample(name), SCREEN)
    assert not problems
    (column,) = columns_of(SCREEN)
    for each in sheets:
        assert each.page.width < 140
        assert each.page.height <= sheet(SCREEN).stock.paper_height
        inked = [ink(text) for text in texts(each.page)]
        assert all(column.holds(at) and at.bottom < each.page.height for at in inked)
        assert max(at.bottom for at in inked) > each.page.height - 20
        assert "50 mm" not in said_of(each)


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
