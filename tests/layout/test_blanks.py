"""Room to write in: lines, boxes to tick, rows of a test sheet."""

from __future__ import annotations

from itertools import pairwise

import pytest

from cardgen.fonts import Weight
from cardgen.layout.fit import fit
from cardgen.layout.items import Outline, Page, Strokes, TextLine
from cardgen.layout.write_in_lines import _tick
from tests.layout.cards import field_sheet, pages, splice_card


def texts(page: Page) -> dict[str, TextLine]:
    return {item.text: item for item in page.items if isinstance(item, TextLine)}


def level_lines(page: Page) -> list[tuple[float, float, float]]:
    found = [s for item in page.items if isinstance(item, Strokes) for s in item.segments]
    return [(s.x1, s.x2, s.y1) for s in found if abs(s.y1 - s.y2) < 1e-9]


def test_behind_each_label_is_a_line_long_enough_for_initials() -> None:
    (page,) = pages(splice_card(), stock="half-letter")
    at = texts(page)
    for label in ("made (initials)", "checked (initials)"):
        word = at[label]
        behind = [(a, b) for a, b, y in level_lines(page) if 0 < y - word.y < 1 and a > word.x]
        assert behind
        start, end = min(behind)
        assert end - start >= 12


def test_a_box_stands_before_each_tick() -> None:
    (page,) = pages(field_sheet(), stock="sheet-a4")
    at = texts(page)
    boxes = [item.frame for item in page.items if isinstance(item, Outline)]
    for label in ("power off and locked", "meter leads zeroed"):
        word = at[label]
        before = [b for b in boxes if b.right < word.x < b.right + 3]
        (box,) = [b for b in before if b.y < word.y - word.capital / 2 < b.bottom]
        assert box.width >= 4
        assert box.right + 1 < word.x < box.right + 2  # apart from it, and nearer than any other


@pytest.mark.parametrize("capital", [2.0, 3.0])
@pytest.mark.parametrize(("row_mm", "above_mm"), [(8, 2), (5, 0.5), (4, 0), (3, 0)])
def test_a_box_to_tick_of_4_mm_is_in_the_middle_of_its_row(
    row_mm: float, above_mm: float, capital: float
) -> None:
    """And of a row that is lower than the box, it begins where the row begins."""
    label = fit(("zeroed",), Weight.MEDIUM, width_mm=40, capital_mm=capital)
    assert label is not None
    items = _tick(label, 40, row_mm)
    (box,) = (i for i in items if isinstance(i, Outline))
    assert (box.frame.y, box.frame.height) == pytest.approx((above_mm, 4))
    (words,) = (i for i in items if isinstance(i, TextLine))
    assert words.y - capital / 2 == pytest.approx(above_mm + 2)  # level with the middle of the box


def test_rows_to_write_in_are_at_least_8_mm_high_on_every_sheet() -> None:
    done = pages(field_sheet(60), stock="sheet-letter")
    assert len(done) > 1
    for page in done:
        rows = [item for item in page.items if isinstance(item, TextLine) and item.text == "A7"]
        assert rows
        assert all(b.y - a.y >= 8 - 1e-6 for a, b in pairwise(rows))


def test_a_column_to_write_in_is_wide_enough() -> None:
    (page,) = pages(field_sheet(), stock="sheet-letter")
    uprights = sorted(
        {
            round(s.x1, 3)
            for item in page.items
            if isinstance(item, Strokes)
            for s in item.segments
            if abs(s.x1 - s.x2) < 1e-9 and abs(s.y1 - s.y2) >= 8
        }
    )
    assert len(uprights) == 3  # between four columns
    read = texts(page)["measured Ω"]
    (left,) = [x for x in uprights if 0 < read.x - x < 3]
    right = min(x for x in uprights if x > left)
    assert right - left >= 13.5


def test_further_sheets_begin_higher() -> None:
    first, second, *_ = pages(field_sheet(60), stock="sheet-letter")

    def top(page: Page) -> float:
        return min(i.y for i in page.items if isinstance(i, TextLine) and i.text == "A7")

    # A line for the subtitle (4.6 mm), blanks (8 mm) and ticks (6 mm) are on the first alone.
    assert top(second) < top(first) - 18
    assert "temperature" in texts(first) and "temperature" not in texts(second)


def test_a_list_in_columns_is_as_level_as_it_can_be() -> None:
    # Six entries of one line: two, two and two, of which the first stand on one level.
    steps = ("1. first", "2. second", "3. third", "4. fourth", "5. fifth", "6. sixth")
    (page,) = pages(field_sheet(rules=steps), stock="sheet-letter")
    at = texts(page)
    columns = [[at[step] for step in steps[n : n + 2]] for n in (0, 2, 4)]
    assert [len({word.x for word in column}) for column in columns] == [1, 1, 1]
    lefts = [column[0].x for column in columns]
    assert lefts[1] - lefts[0] > 80 and lefts[2] - lefts[1] > 80  # 259 mm in three
    first, *others = [[word.y for word in column] for column in columns]
    for other in others:
        assert other == pytest.approx(first, abs=0.1)  # ink
