"""Tables as they are set: room to write, names of columns whole, figures under each other."""

from __future__ import annotations

import re
from dataclasses import replace
from random import Random

import pytest

from cardgen import fonts
from cardgen.cards import CardKind, cards_of
from cardgen.cards.card import Noted, Table
from cardgen.cards.expected import TO_FILL_IN
from cardgen.fonts import Weight
from cardgen.layout import Page, Stamp, lay_out, load_layouts
from cardgen.layout.geometry import Mm
from cardgen.layout.items import Strokes, TextLine
from cardgen.layout.setting import PrinterHead
from cardgen.layout.table import Look, SetTable, set_table
from tests.cards.printables import printable
from tests.jobs import SAMPLES, sample
from tests.layout.cards import field_sheet, mark, pages

WIDEST = 14.0  # mm; a figure of three digits by hand, in a row of 8 mm (common practice, no source)
ROW = 8.0  # mm


def look(capital: float = 3.0, blank: float = WIDEST) -> Look:
    return Look(
        capital=capital, least=2.2, names=True, cable=True, grid=True,
        press=PrinterHead(dot=Mm(0), colored=True), lowest=ROW, blank=blank,
    )  # fmt: skip


def set_in(width: float, columns: tuple[str, ...], *rows: tuple[str, ...]) -> SetTable:
    found = set_table(Table(columns=columns, rows=rows), width_mm=width, look=look())
    assert found is not None
    return found


def text_of(found: SetTable, words: str) -> TextLine:
    items = [item for row in (found.header, *found.rows) for item in row.items]
    return next(item for item in items if isinstance(item, TextLine) and item.text == words)


def test_figures_stand_with_their_points_under_each_other() -> None:
    rows = (("A1", "33.2 (27–39)"), ("A2", "9.8 (8–12)"), ("A3", "–"))
    found = set_in(90, ("station", "expected Ω"), *rows)
    first, second = text_of(found, "33.2 (27–39)"), text_of(found, "9.8 (8–12)")
    digit = fonts.width("33", first.weight) - fonts.width("9", first.weight)
    assert second.x - first.x == pytest.approx(digit * first.capital)


def test_a_figure_that_wraps_stays_at_the_left_of_its_column() -> None:
    rows = (("A1", "1033.2 (27–39)", "x" * 12), ("A2", "9.8 (827–1239)", "x" * 12))
    found = set_in(70, ("station", "Ω", "notes"), *rows)
    assert text_of(found, "9.8").x == text_of(found, "1033.2").x
    # Here both stand on one line, but the short one has no room to move.
    found = set_in(78, ("station", "Ω", "notes"), *rows)
    assert text_of(found, "9.8 (827–1239)").x == text_of(found, "1033.2 (27–39)").x


def test_cells_that_say_the_same_are_set_as_each_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    """Words, figures, notes and conductors at random, with and without what was set before."""
    random = Random(11)
    cells = ("", "–", "lawn", "a long bed of shrubs", "33.2 (27–39)", "9.8", TO_FILL_IN)
    noted = Noted("bed; 2 valves on it", "bed", "2 valves on it")
    marks = (mark("A-K1", "red"), mark("A-K1", "green", flag="A3"))
    for dense in (False, True):
        shown = replace(look(), dense=dense)
        for _ in range(40):
            every = [[random.choice((*cells, *marks, noted)) for _ in range(3)] for _ in range(9)]
            table = Table(columns=("a", "b", "c"), rows=tuple(map(tuple, every)))
            width = random.uniform(40, 120)
            found = set_table(table, width_mm=width, look=shown)
            with monkeypatch.context() as patched:
                patched.setattr("cardgen.layout.table.cache", lambda function: function)
                alone = set_table(table, width_mm=width, look=shown)
            assert (found is None) == (alone is None)
            if found and alone:
                assert [row.items for row in found.rows] == [row.items for row in alone.rows]
                assert [row.height for row in found.rows] == [row.height for row in alone.rows]


def test_what_is_over_is_shared_by_the_columns_to_write_in() -> None:
    """Nothing stands in the second and third: both are as wide, the first no wider than needed."""
    found = set_in(90, ("station", "Ω", "mA"), ("A1", "", ""), ("A2", "", ""))
    rules = [
        s for row in found.rows for i in row.items if isinstance(i, Strokes) for s in i.segments
    ]
    first, second = sorted({round(s.x1, 3) for s in rules if s.x1 == s.x2})
    assert second - first == pytest.approx(90 - second, abs=2)  # rules stand amid gaps of 3 mm
    assert first < 20


@pytest.mark.parametrize("capital", [1.2, 1.6, 2.0, 2.4, 3.0])
def test_a_row_holds_as_many_lines_as_go_into_its_least_height(capital: float) -> None:
    """Counted on rows that are set; a line more makes the row higher."""
    narrow = fonts.width("WWW", Weight.BOLD) * capital + 0.01
    heights = []
    for lines in range(1, 8):
        cells = Table(columns=("",), rows=((" ".join(["WWW"] * lines),),))
        found = set_table(
            cells, width_mm=narrow, look=replace(look(capital), least=1.0, names=False)
        )
        assert found is not None
        heights.append(found.rows[0].height)
    assert heights[0] == ROW
    assert sum(height <= ROW + 1e-6 for height in heights) == look(capital).free_lines


def test_what_stands_in_a_row_is_on_one_base_line() -> None:
    """Id, wire and area of each of three rows."""
    (page,) = pages(field_sheet(3), stock="sheet-letter")
    items = [item for item in page.items if isinstance(item, TextLine)]
    lines = [
        [item.y for item in items if item.text.startswith(words)]
        for words in ("A7", "A-K1 red", "front beds, drip")
    ]
    assert [len(ys) for ys in lines] == [3, 3, 3]
    assert lines[1] == pytest.approx(lines[0])
    assert lines[2] == pytest.approx(lines[0])


def test_the_title_of_a_table_keeps_off_the_names_of_its_columns() -> None:
    devices = Table(columns=("device", "test"), rows=(("RAIN", "trip"),))
    sheet = field_sheet(devices=devices, devices_title="DEVICES")
    (page,) = pages(sheet, stock="sheet-letter")
    at = {item.text: item for item in page.items if isinstance(item, TextLine)}
    title, name = at["DEVICES"], at["device"]
    assert title.x == name.x
    assert name.y - name.capital - title.y > title.capital / 2


@pytest.mark.parametrize("name", SAMPLES)
def test_on_the_sheets_of_the_samples_there_is_room_to_write(name: str) -> None:
    """Between the upright rules of a row nothing is narrower where no words stand."""
    seen = 0
    for page in _pages(name):
        for left, top, right, bottom in _cells(page):
            inside = [
                t
                for t in page.items
                if isinstance(t, TextLine) and left <= t.x < right and top < t.y < bottom
            ]
            if not inside:
                seen += 1
                assert right - left >= WIDEST, (left, top, right)
                assert bottom - top >= ROW - 1e-6
    assert seen > 10


def _pages(name: str) -> list[Page]:
    layouts, problems = load_layouts()
    assert not problems
    cards = cards_of(printable(sample(name)))
    pages: list[Page] = []
    for kind in (CardKind.TEST_SHEET, CardKind.SPARE_LIST):
        stamp = Stamp(job_code="TEST-1", revision="rev 1")
        stock = layouts.stocks["sheet-letter"]
        made, found = lay_out(cards[kind], layouts=layouts, stock=stock, stamp=stamp)
        assert not found
        pages += made
    return pages


def _cells(page: Page) -> list[tuple[float, float, float, float]]:
    """Between two upright rules of one row: left, top, right, bottom."""
    rules: dict[tuple[float, float], list[float]] = {}
    for item in page.items:
        for s in item.segments if isinstance(item, Strokes) else ():
            if s.x1 == s.x2 and s.y2 - s.y1 > 4.0:
                rules.setdefault((s.y1, s.y2), []).append(s.x1)
    return [
        (left, top, right, bottom)
        for (top, bottom), found in rules.items()
        for left, right in zip(sorted(found), sorted(found)[1:], strict=False)
    ]


@pytest.mark.parametrize("name", SAMPLES)
def test_no_name_of_a_column_is_broken_within_a_word(name: str) -> None:
    """Each line of a name is made of its whole words."""
    cards = cards_of(printable(sample(name)))
    for kind in (CardKind.TEST_SHEET, CardKind.SPARE_LIST, CardKind.MATERIALS):
        for card in cards[kind]:
            for table in (value for value in card.fields.values() if isinstance(value, Table)):
                found = set_table(table, width_mm=259, look=look(2.4))
                assert found is not None
                lines = [item.text for item in found.header.items if isinstance(item, TextLine)]
                words = re.split(" +", " ".join(table.columns))
                assert sorted(" ".join(lines).split(" ")) == sorted(words)
