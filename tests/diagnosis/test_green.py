"""Volts for a current, against the pseudoinverse of numpy."""

from __future__ import annotations

import random

import pytest

from cardgen.diagnosis.green import Green
from tests.diagnosis.ohms_by_numpy import ohms_by_numpy


@pytest.mark.parametrize("seed", range(12))
def test_ohms_between_two_nodes_are_those_of_another_library(seed: int) -> None:
    chance = random.Random(seed)
    count = chance.randint(3, 30)
    edges = [(n, chance.randrange(n), chance.uniform(0.01, 40)) for n in range(1, count)]
    edges += [(0, n, chance.uniform(1, 40)) for n in range(2, count, 7)]  # rings
    green = Green(edges)
    for _ in range(10):
        a, b = chance.sample(range(count), 2)
        ohms = green(a, a) + green(b, b) - 2 * green(a, b)
        assert ohms == pytest.approx(ohms_by_numpy(edges, a, b), rel=1e-7)
        assert green(a, b) == pytest.approx(green(b, a), rel=1e-9)  # reciprocity


def test_parts_that_nothing_connects_are_told_apart() -> None:
    green = Green([(1, 2, 5.0), (3, 4, 5.0)])
    assert green.are_connected(1, 2) and green.are_connected(9, 9)
    assert not green.are_connected(1, 3) and not green.are_connected(1, 9)
    assert green(1, 3) == 0.0
    assert len({green.part(node) for node in (1, 2, 3, 4, 9)}) == 3
