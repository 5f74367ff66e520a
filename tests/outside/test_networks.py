"""Resistance of random networks, rings and parallel ways included, against networkx and numpy."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.electrics.resistance import Resistor, resistance_between
from tests.outside.networks import ohms_between

# Elimination and pseudo-inverse both lose a few of sixteen figures.
ROUNDING = 1e-6
settings_ = settings(max_examples=150)


def random_network(rng: random.Random) -> list[Resistor]:
    """A tree with some ways closed into rings, some doubled, some ending nowhere."""
    count = rng.randint(2, 30)
    ohms = [rng.uniform(0.01, 60.0) for _ in range(3 * count)]
    edges: list[Resistor] = [(rng.randrange(n), n, ohms.pop()) for n in range(1, count)]
    for _ in range(rng.randint(0, count)):
        one, two = rng.sample(range(count), 2)
        edges.append((one, two, ohms.pop()))
    rng.shuffle(edges)
    return edges


@settings_
@given(st.randoms(use_true_random=False))
def test_random_networks(rng: random.Random) -> None:
    edges = random_network(rng)
    a, b = rng.sample(sorted({n for edge in edges for n in edge[:2]}, key=str), 2)
    ours = resistance_between(edges, a, b)
    assert ours == pytest.approx(ohms_between(edges, a, b), rel=ROUNDING)
    assert ours == pytest.approx(resistance_between(edges, b, a), rel=ROUNDING)


@settings_
@given(st.randoms(use_true_random=False))
def test_more_ohms_anywhere_never_mean_less_between_two_nodes(rng: random.Random) -> None:
    """Rayleigh's monotonicity law."""
    edges = random_network(rng)
    a, b = rng.sample(sorted({n for edge in edges for n in edge[:2]}, key=str), 2)
    index = rng.randrange(len(edges))
    one, two, ohms = edges[index]
    more = [*edges[:index], (one, two, 2 * ohms), *edges[index + 1 :]]
    assert resistance_between(more, a, b) >= resistance_between(edges, a, b) * (1 - ROUNDING)


@pytest.mark.parametrize("count", [2, 5, 60])
def test_a_ring_of_equal_resistors(count: int) -> None:
    # From one node to the next: 1 ohm beside (n - 1) ohms in series.
    ring = [(n, (n + 1) % count, 1.0) for n in range(count)]
    assert resistance_between(ring, 0, 1) == pytest.approx((count - 1) / count, rel=ROUNDING)
    assert ohms_between(ring, 0, 1) == pytest.approx((count - 1) / count, rel=ROUNDING)
