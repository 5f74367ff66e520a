"""Ohms between two nodes by the pseudoinverse of the Laplacian, as numpy has it."""

from __future__ import annotations

from collections.abc import Hashable, Sequence

import numpy as np

Resistor = tuple[Hashable, Hashable, float]


def ohms_by_numpy(resistors: Sequence[Resistor], one: Hashable, two: Hashable) -> float:
    nodes = {node: n for n, node in enumerate({end: 0 for r in resistors for end in r[:2]})}
    laplacian = np.zeros((len(nodes), len(nodes)))
    for a, b, ohms in resistors:
        i, k = nodes[a], nodes[b]
        laplacian[i, i] += 1 / ohms
        laplacian[k, k] += 1 / ohms
        laplacian[i, k] -= 1 / ohms
        laplacian[k, i] -= 1 / ohms
    inverse = np.linalg.pinv(laplacian, hermitian=True)
    i, k = nodes[one], nodes[two]
    return float(inverse[i, i] + inverse[k, k] - 2 * inverse[i, k])
