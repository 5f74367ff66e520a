"""Voltages in networks small enough to solve on paper, and in random ones by numpy."""

from __future__ import annotations

import random
from collections.abc import Hashable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.electrics.alternating import Impedance, voltages

HELD: dict[Hashable, complex] = {"supply": 24 + 0j, "return": 0j}


@pytest.mark.parametrize(
    ("impedances", "volts"),
    [
        pytest.param([("supply", "x", 3), ("x", "return", 1)], 6, id="divider"),
        pytest.param([("supply", "x", 0), ("x", "return", 1)], 24, id="a contact without ohms"),
        pytest.param([("supply", "x", 3), ("x", "y", 5)], 24, id="nothing flows"),
        pytest.param(
            [("supply", "x", 4), ("x", "return", 4), ("x", "return", 4)], 8, id="side by side"
        ),
        # 3 ohm of wire and a coil of 4j: a fifth of the volts is not lost but turned.
        pytest.param([("supply", "x", 3), ("x", "return", 4j)], 24 * 4j / (3 + 4j), id="phasor"),
    ],
)
def test_volts_at_a_node(impedances: list[Impedance], volts: complex) -> None:
    assert voltages(impedances, HELD)["x"] == pytest.approx(volts)


def test_what_is_held_stays() -> None:
    found = voltages([("supply", "x", 3), ("x", "return", 1)], HELD)
    assert {node: found[node] for node in HELD} == HELD


@settings(max_examples=100)
@given(st.randoms(use_true_random=False))
def test_random_networks(rng: random.Random) -> None:
    count = rng.randint(3, 25)
    pairs = [(rng.randrange(n), n) for n in range(1, count)]
    for _ in range(rng.randint(0, count)):
        one, two = rng.sample(range(count), 2)
        pairs.append((one, two))
    edges = [(a, b, complex(rng.uniform(0.1, 40), rng.uniform(0, 99))) for a, b in pairs]
    held: dict[Hashable, complex] = {0: 24 + 0j, count - 1: 0j}
    # Kirchhoff at each free node, node by node as an equation of numpy's.
    matrix = np.eye(count, dtype=complex)
    known = np.array([held.get(node, 0j) for node in range(count)])
    for node in range(1, count - 1):
        matrix[node, node] = 0
        for a, b, ohms in edges:
            if node in (a, b):
                matrix[node, node] += 1 / ohms
                matrix[node, a + b - node] -= 1 / ohms
    expected = np.linalg.solve(matrix, known)
    found = voltages(edges, held)
    assert [found[node] for node in range(count)] == pytest.approx(list(expected), abs=1e-7)
