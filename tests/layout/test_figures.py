"""Figures under each other: what is one by hand, and where its first number ends."""

from __future__ import annotations

import pytest

from cardgen import fonts
from cardgen.fonts import Weight
from cardgen.layout.figures import shifts


def ends(*cells: str) -> list[float]:
    """Where the whole number of each ends, its text moved as said."""
    found = shifts(cells, Weight.MEDIUM)
    wholes = [cell.partition(".")[0].partition(" ")[0].partition("–")[0] for cell in cells]
    widths = [fonts.width(whole, Weight.MEDIUM) for whole in wholes]
    return [move + width for move, width in zip(found, widths, strict=True)]


@pytest.mark.parametrize(
    "cells",
    [
        ("33.2 (27–39)", "9.8 (8–12)", "117.3 (95–140)"),  # decimal points
        ("230", "46", "1380"),  # the last digits
        ("23.2–23.8", "9–10"),
        ("1,047 ft (320 m)", "142 ft (44 m)", "8 ft (2.4 m)"),
        ("18 AWG", "6 AWG"),
    ],
)
def test_the_whole_numbers_end_at_one_place(cells: tuple[str, ...]) -> None:
    found = ends(*cells)
    assert found == pytest.approx([max(found)] * len(found))
    assert min(shifts(cells, Weight.MEDIUM)) == 0.0  # the longest stays where it is


@pytest.mark.parametrize(
    "cells",
    [
        ("VB-1", "12"),
        ("A1", "A10"),
        ("2026-05-11", "2026-5-1"),
        ("7", "MV"),
        ("1/2", "10/12"),
        ("3A", "10"),
        ("north lawn", "10 beds"),
    ],
)
def test_names_and_dates_stay_at_the_left(cells: tuple[str, ...]) -> None:
    assert shifts(cells, Weight.MEDIUM) == [0.0, 0.0]


def test_without_cells_nothing_moves() -> None:
    assert shifts((), Weight.MEDIUM) == []
