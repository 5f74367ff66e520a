"""A reading by one resistor's ohms, against a network that is solved by hand."""

from __future__ import annotations

import pytest

from cardgen.diagnosis.one_resistor import by_ohms
from cardgen.results import OL


def parallel(one: float, two: float) -> float:
    return one * two / (one + two)


@pytest.mark.parametrize("ohms", [0.0, 1.0, 30.0, 5000.0])
def test_two_ways_side_by_side(ohms: float) -> None:
    """2 ohm in series with 30 beside 3 and the resistor."""

    def read(x: float) -> float:
        return 2 + parallel(30, 3 + x)

    found = by_ohms(32.0, (0.0, read(0.0)), (10.0, read(10.0)))
    assert found.at(ohms) == pytest.approx(read(ohms))


def test_all_of_the_current_goes_through_it() -> None:
    assert by_ohms(OL, (0.5, 32.5), (10.5, 42.5)).at(60.5) == 92.5


def test_none_of_the_current_goes_through_it() -> None:
    assert by_ohms(32.0, (0.5, 32.0), (10.5, 32.0)).at(60.5) == 32.0
