"""Widths of table columns: nothing narrower than its longest word, few lines, all room used."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.layout.widths import Want, column_widths, poured

CELLS = st.tuples(st.floats(0, 30), st.floats(0, 90)).map(
    lambda pair: Want(least=min(pair), whole=max(pair))
)
TABLES = st.integers(1, 5).flatmap(
    lambda rows: st.lists(st.lists(CELLS, min_size=rows, max_size=rows), min_size=1, max_size=6)
)


@given(TABLES, st.floats(20, 260))
def test_columns_hold_their_longest_words_and_fill_the_room(
    wants: list[list[Want]], room: float
) -> None:
    widths = column_widths(wants, room)
    least = [max(cell.least for cell in column) for column in wants]
    if widths is None:
        assert sum(least) > room
        return
    assert sum(widths) == pytest.approx(room, abs=0.01)
    assert all(width >= low - 1e-6 for width, low in zip(widths, least, strict=True))


def column(*wholes: float, least: float = 10) -> list[Want]:
    return [Want(least=min(least, whole), whole=whole) for whole in wholes]


def test_with_room_for_all_columns_stand_8_mm_apart_and_the_last_has_what_is_over() -> None:
    assert column_widths([column(20, 30), column(10, 40)], 90) == [38, 52]


def test_with_room_for_all_what_is_over_is_for_writing() -> None:
    # 30 + 14 + 14 of 90: 32 are over, 16 for each column to write in.
    found = column_widths([column(20, 30), column(14), column(14)], 90, writing=(1, 2))
    assert found == [30, 30, 30]


@given(TABLES, st.floats(20, 260))
def test_no_column_is_wider_than_its_cells_while_another_wraps(
    wants: list[list[Want]], room: float
) -> None:
    widths = column_widths(wants, room)
    wholes = [max(cell.whole for cell in column) for column in wants]
    if widths is None or sum(wholes) <= room:
        return
    assert all(width <= whole + 1e-6 for width, whole in zip(widths, wholes, strict=True))


def test_columns_that_fill_the_room_to_the_last_hair_have_room() -> None:
    # Three times a tenth is a hair more than 0.3 to a computer.
    tenths = [[Want(least=0.1, whole=0.1)]] * 3
    assert column_widths(tenths, 0.3) is not None


def height(wants: list[list[Want]], widths: list[float]) -> float:
    rows = zip(*wants, strict=True)
    costs: list[list[float]] = [
        [c.cost(w) for c, w in zip(row, widths, strict=True)] for row in rows
    ]
    return sum(max(row) for row in costs)


def lowest(wants: list[list[Want]], room: int) -> float:
    """Of all ways to share the room among three columns, every 2 mm."""
    least = [max(cell.least for cell in column) for column in wants]
    ways = ([a, b, room - a - b] for a in range(4, room, 2) for b in range(4, room - a, 2))
    fitting = (w for w in ways if all(x >= low for x, low in zip(w, least, strict=True)))
    return min(height(wants, [float(x) for x in way]) for way in fitting)


def test_it_comes_near_the_best_of_all_ways() -> None:
    """200 tables of three columns; a third higher at most, two hundredths on average."""
    rng = random.Random(4)
    over = []
    for _ in range(200):
        rows, room = rng.randint(1, 6), rng.randint(50, 110)
        wholes = [[rng.randint(4, 60) for _ in range(rows)] for _ in range(3)]
        wants = [
            [Want(least=min(whole, rng.randint(4, 12)), whole=whole) for whole in column]
            for column in wholes
        ]
        found = column_widths(wants, room)
        assert found is not None
        over.append(height(wants, found) / lowest(wants, room) - 1)
    assert max(over) < 0.34
    assert sum(over) / len(over) < 0.02


def test_the_name_of_a_column_wraps_rather_than_what_stands_in_it() -> None:
    # 22 + 40 do not fit into 55: either the name takes a second line or the area does.
    named = [Want(least=14, whole=14), Want(least=12, whole=22, height=0.8)]
    area = [*column(40, least=20), Want(least=10, whole=10, height=0.8)]
    assert column_widths([named, area], 55) == pytest.approx([15, 40], abs=0.01)


def test_lines_that_a_row_holds_anyway_cost_nothing() -> None:
    # Rows of 8 mm hold two lines: the areas wrap, the note has its one line.
    areas = [Want(least=10, whole=30, free=2) for _ in range(5)]
    notes = [Want(least=10, whole=60, free=2), *column(0, 0, 0, 0)]
    assert column_widths([areas, notes], 65) == pytest.approx([30, 35], abs=0.01)


def test_one_long_note_wraps_rather_than_every_area() -> None:
    # 40 + 80 do not fit into 70: the areas keep their line, the note takes three.
    found = column_widths([column(40, 40, 40), column(0, 0, 80)], 70)
    assert found == pytest.approx([40, 30], abs=0.01)


def test_water_stands_at_one_level() -> None:
    assert poured([5, 5, 5], [10, 40, 40], 60) == pytest.approx([10, 25, 25], abs=0.01)


def test_a_step_is_taken_where_a_millimeter_costs_least() -> None:
    """38, 59 and 46 do not fit into 56 together; none of all ways is lower than what is found."""
    wants = [
        [Want(least=9, whole=38), Want(least=6, whole=43)],
        [Want(least=7, whole=59), Want(least=5, whole=24)],
        [Want(least=11, whole=44), Want(least=7, whole=46)],
    ]
    found = column_widths(wants, 56)
    assert found is not None
    assert height(wants, found) <= lowest(wants, 56)
