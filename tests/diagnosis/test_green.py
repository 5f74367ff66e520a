"""Volts for a current, against the pseudoinverse of numpy."""

from __future__ import annotations

import random

import pytest

from cardgen.diagnosis.green import Current, Green
from tests.diagnosis.ohms_by_numpy import ohms_by_numpy


def between(green: Green, one: int, two: int) -> Current:
    """1 A in at one and out at two."""
    return Current(green, ((one, 1.0), (two, -1.0)))


@pytest.mark.parametrize("seed", range(12))
def test_ohms_between_two_nodes_are_those_of_another_library(seed: int) -> None:
    chance = random.Random(seed)
    count = chance.randint(3, 30)
    edges = [(n, chance.randrange(n), chance.uniform(0.01, 40)) for n in range(1, count)]
    edges += [(0, n, chance.uniform(1, 40)) for n in range(2, count, 7)]  # rings
    green = Green(edges)
    for _ in range(10):
        a, b, c, d = (chance.randrange(count) for _ in range(4))
        here, there = between(green, a, b), between(green, c, d)
        assert here.ohms == pytest.approx(ohms_by_numpy(edges, a, b), rel=1e-7, abs=1e-9)
        both = Current(green, ((a, 1.0), (b, -1.0), (c, 1.0), (d, -1.0)))
        # Both at once make what each makes by itself, and what each does to the other.
        crossed = here.across(there)
        assert both.ohms == pytest.approx(here.ohms + there.ohms + 2 * crossed, rel=1e-7, abs=1e-9)
        assert crossed == pytest.approx(there.across(here), rel=1e-12, abs=1e-12)


@pytest.mark.parametrize("seed", range(12))
def test_at_every_node_as_much_comes_in_as_goes_out(seed: int) -> None:
    """Kirchhoff's law of currents, for currents that part and meet again in rings."""
    chance = random.Random(seed)
    count = chance.randint(4, 30)
    edges = [(n, chance.randrange(n), chance.uniform(0.01, 40)) for n in range(1, count)]
    edges += [(chance.randrange(n), n, chance.uniform(1, 40)) for n in range(2, count, 3)]
    edges = [(one, two, ohms) for one, two, ohms in edges if one != two]
    a, b, c = chance.sample(range(count), 3)
    given = ((a, 1.0), (b, -0.75), (c, -0.25))
    green = Green(edges)
    current = Current(green, given)
    out = dict.fromkeys(range(count), 0.0)
    for one, two, ohms in edges:
        amperes = current.across(between(green, one, two)) / ohms
        out[one] += amperes
        out[two] -= amperes
    assert out == pytest.approx(dict.fromkeys(range(count), 0.0) | dict(given), abs=1e-8)


def test_parts_that_nothing_connects_are_told_apart() -> None:
    green = Green([(1, 2, 5.0), (3, 4, 5.0)])
    assert green.are_connected(1, 2) and green.are_connected(9, 9)
    assert not green.are_connected(1, 3) and not green.are_connected(1, 9)
    assert between(green, 1, 2).across(between(green, 3, 4)) == 0.0
    assert len({green.part(node) for node in (1, 2, 3, 4, 9)}) == 3
