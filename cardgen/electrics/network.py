"""Resistance between two nodes of a network of resistors, rings and parallel ways included.

a --R1--+--R2-- b        conductance matrix G (siemens), one node at 0 V,
        |                1 A put in at the other: its voltage in volts is
        R3               the resistance in ohms
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable

from cardgen.units import Ohms

Resistor = tuple[Hashable, Hashable, float]
_LEAST = 1e-9  # ohm; a joint has none, and the matrix needs some


def resistance_between(resistors: Iterable[Resistor], a: Hashable, b: Hashable) -> Ohms:
    """Ohms between `a` and `b`, which the resistors must connect."""
    edges = _without_dead_ends([r for r in resistors if r[0] != r[1]], a, b)
    nodes = [n for n in dict.fromkeys(n for e in edges for n in e[:2]) if n != b]
    index = {node: i for i, node in enumerate(nodes)}
    size = len(nodes)
    matrix = [[0.0] * size + [0.0] for _ in range(size)]
    for one, two, ohms in edges:
        siemens = 1 / max(ohms, _LEAST)
        for here, there in ((one, two), (two, one)):
            if here in index:
                matrix[index[here]][index[here]] += siemens
                if there in index:
                    matrix[index[here]][index[there]] -= siemens
    matrix[index[a]][size] = 1.0
    return Ohms(_solve(matrix)[index[a]])


def _without_dead_ends(edges: list[Resistor], a: Hashable, b: Hashable) -> list[Resistor]:
    """Only what current can pass: ends that lead nowhere are taken off until none is left."""
    while True:
        degree: dict[Hashable, int] = {}
        for one, two, _ in edges:
            degree[one] = degree.get(one, 0) + 1
            degree[two] = degree.get(two, 0) + 1
        kept = [e for e in edges if all(degree[n] > 1 or n in (a, b) for n in e[:2])]
        if len(kept) == len(edges):
            return kept
        edges = kept


def _solve(matrix: list[list[float]]) -> list[float]:
    """Gauss elimination with pivoting of an augmented matrix, which is overwritten."""
    size = len(matrix)
    for column in range(size):
        pivot = max(range(column, size), key=lambda r: abs(matrix[r][column]))
        matrix[column], matrix[pivot] = matrix[pivot], matrix[column]
        top = matrix[column]
        for row in range(size):
            factor = matrix[row][column] / top[column]
            if row == column or factor == 0:
                continue
            line = matrix[row]
            for k in range(column, size + 1):
                line[k] -= factor * top[k]
    return [matrix[i][size] / matrix[i][i] for i in range(size)]
