"""Widths of table columns: nothing narrower than its longest word, few lines, all room used."""

from __future__ import annotations

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


def test_with_room_for_all_no_cell_wraps() -> None:
    assert column_widths([column(20, 30), column(10, 40)], 90) == [40, 50]


def test_one_long_note_wraps_rather_than_every_area() -> None:
    # 40 + 80 do not fit into 70: the areas keep their line, the note takes three.
    found = column_widths([column(40, 40, 40), column(0, 0, 80)], 70)
    assert found == pytest.approx([40, 30], abs=0.01)


def test_water_stands_at_one_level() -> None:
    assert poured([5, 5, 5], [10, 40, 40], 60) == pytest.approx([10, 25, 25], abs=0.01)
