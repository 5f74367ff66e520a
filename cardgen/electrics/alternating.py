"""Voltages in a small network of impedances whose ends are held at known voltages.

24 V o--R(hot)--+--[ R + jX coil ]--+--R(common)--o 0 V      Y U = I at every free node,
                n1                  n2                       solved by Gauss elimination
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping

Impedance = tuple[Hashable, Hashable, complex]
_LEAST = 1e-9  # ohm; a closed contact has none, and an admittance needs some


def voltages(
    impedances: Iterable[Impedance], held: Mapping[Hashable, complex]
) -> dict[Hashable, complex]:
    """The voltage of every node; each must be connected with a held one.

    Args:
        impedances: in ohms, between two nodes.
        held: volts of the nodes whose voltage is given, at least two.
    """
    edges = [(a, b, 1 / (z if abs(z) > _LEAST else _LEAST)) for a, b, z in impedances if a != b]
    free = [n for n in dict.fromkeys(n for a, b, _ in edges for n in (a, b)) if n not in held]
    index = {node: i for i, node in enumerate(free)}
    matrix = [[0j] * (len(free) + 1) for _ in free]
    for a, b, siemens in edges:
        for here, there in ((a, b), (b, a)):
            if here not in index:
                continue
            row = matrix[index[here]]
            row[index[here]] += siemens
            if there in index:
                row[index[there]] -= siemens
            else:
                row[-1] += siemens * held[there]
    found = dict(held)
    found.update(zip(free, _solved(matrix), strict=True))
    return found


def _solved(matrix: list[list[complex]]) -> list[complex]:
    """Gauss-Jordan with pivoting of an augmented matrix, which is overwritten."""
    size = len(matrix)
    for column in range(size):
        pivot = max(range(column, size), key=lambda r: abs(matrix[r][column]))
        matrix[column], matrix[pivot] = matrix[pivot], matrix[column]
        top = matrix[column]
        for row, line in enumerate(matrix):
            factor = line[column] / top[column]
            if row != column and factor:
                for k in range(column, size + 1):
                    line[k] -= factor * top[k]
    return [matrix[i][size] / matrix[i][i] for i in range(size)]
