"""Days as spreadsheets write them."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardgen.results.reading_date import DayOrder, NotADay, day_order, when_read

MONTH, DAY = DayOrder.MONTH_FIRST, DayOrder.DAY_FIRST


@pytest.mark.parametrize(
    ("text", "order", "iso"),
    [
        ("2026-11-28", None, "2026-11-28"),
        ("2026-11-28T14:05", None, "2026-11-28T14:05"),
        ("11/28/2026", None, "2026-11-28"),
        ("28/11/2026", None, "2026-11-28"),
        ("28.11.2026", None, "2026-11-28"),
        ("11-28-2026", None, "2026-11-28"),
        ("5/5/2026", None, "2026-05-05"),
        ("4/5/2026", MONTH, "2026-04-05"),
        ("4/5/2026", DAY, "2026-05-04"),
        ("11/28/2026 2:05 PM", None, "2026-11-28T14:05"),
        ("11/28/2026 12:30 am", None, "2026-11-28T00:30"),
        ("11/28/2026 12:30 PM", None, "2026-11-28T12:30"),
        ("11/28/2026, 9:05:33", None, "2026-11-28T09:05"),
        ("28/11/2026", MONTH, "2026-11-28"),  # what a day alone says counts for it
    ],
)
def test_a_day_that_can_be_one_only(text: str, order: DayOrder | None, iso: str) -> None:
    assert when_read(text, order) == iso


@pytest.mark.parametrize(
    ("text", "is_ambiguous"),
    [
        ("4/5/2026", True),
        ("11/28/26", False),
        ("13/13/2026", False),
        ("2/30/2026", False),
        ("11/28/2026 25:00", False),
        ("Nov 28", False),
        ("", False),
    ],
)
def test_a_day_that_is_none_or_could_be_two(text: str, is_ambiguous: bool) -> None:
    with pytest.raises(NotADay) as raised:
        when_read(text)
    assert raised.value.is_ambiguous is is_ambiguous


def test_the_other_days_of_the_file_tell_the_order() -> None:
    assert day_order(["4/5/2026", "11/28/2026", "2026-01-01"]) is MONTH
    assert day_order(["28/11/2026", "4/5/2026"]) is DAY
    assert day_order(["28/11/2026", "11/28/2026"]) is None
    assert day_order(["4/5/2026", ""]) is None


@given(st.dates(min_value=date(1900, 1, 1)), st.booleans())
def test_no_day_becomes_another(day: date, month_first: bool) -> None:
    """Python's own calendar writes it, either way; it is that day, or refused."""
    text = f"{day:%m/%d/%Y}" if month_first else f"{day:%d/%m/%Y}"
    if day.day <= 12 and day.day != day.month:
        with pytest.raises(NotADay):
            when_read(text)
    else:
        assert when_read(text) == day.isoformat()
