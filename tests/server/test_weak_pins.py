"""Which PINs are refused; common practice, no source, but for the calendar (datetime)."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from cardgen.server.weak_pins import is_weak
from tests.for_each import for_each
from tests.server.phones import PIN


@for_each(
    "pin",
    [
        *("111111", "000000", "121212", "123123", "12341234", "aaaaab", "abcabc"),
        *("123456", "654321", "345678", "7890123", "987654", "abcdef", "fedcba", "13579", "246802"),
        *("147258", "159753", "258025", "qwerty", "QWERTY1", "1qaz2wsx", "!asdfgh!"),
        *("password", "Password1", "12water34", "irrigation", "riego2026", "válvula1", "office99"),
        *(
            "199920",
            "20202021",
            "2026-01",
            "031459",
            "310799",
            "20260314",
            "14/03/2026",
            "12.25.99",
        ),
        *("123321", "112211", "345543", "3456543", "crew north", "Crew North 1"),
    ],
)
def test_what_is_tried_first_is_refused(pin: str) -> None:
    assert is_weak(pin, "crew north")


@pytest.mark.parametrize(
    "pin",
    [
        *(PIN, "quite-a-pin-7", "739104", "80417365", "blue lid 7 gravel", "tr0ub4dor", "640178"),
        *("1235321", "12388321"),  # the same backward, but no run
    ],
)
def test_what_is_taken_by_chance_is_not(pin: str) -> None:
    assert not is_weak(pin, "Ana")


def test_every_day_of_a_century_is_refused_however_it_is_written() -> None:
    day = date(1950, 1, 1)
    while day.year < 2050:
        for form in ("%m%d%y", "%d%m%y", "%y%m%d", "%m%d%Y", "%d%m%Y", "%Y%m%d"):
            assert is_weak(day.strftime(form), "Ana"), (day, form)
        day += timedelta(days=41)  # some of each month and year


def test_few_of_all_pins_of_eight_digits_are_lost() -> None:
    """Counted over each 997th number: a rule that refuses much would leave little to guess."""
    every = range(0, 100_000_000, 9_973)
    weak = sum(is_weak(f"{number:08}", "Ana") for number in every)
    assert weak / len(every) < 0.05
