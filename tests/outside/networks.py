"""Resistance between two nodes by networkx and numpy: the pseudo-inverse of the Laplacian.

R(a, b) = L+[a,a] + L+[b,b] - 2 L+[a,b]  (Klein and Randic, J. Math. Chem. 12, 1993), which shares
no step with an elimination at one grounded node.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable

import networkx as nx
import numpy as np


def ohms_between(
    resistors: Iterable[tuple[Hashable, Hashable, float]], a: Hashable, b: Hashable
) -> float:
    """Ohms between `a` and `b` in a network in which every resistor hangs together."""
    graph: nx.MultiGraph[Hashable] = nx.MultiGraph()
    for one, two, ohms in resistors:
        graph.add_edge(one, two, siemens=1 / ohms)
    nodes = list(graph)
    siemens = nx.to_numpy_array(graph, nodelist=nodes, weight="siemens")  # parallel ones summed
    laplacian = np.diag(siemens.sum(axis=1)) - siemens
    inverse = np.linalg.pinv(laplacian, hermitian=True)
    i, j = nodes.index(a), nodes.index(b)
    return float(inverse[i, i] + inverse[j, j] - 2 * inverse[i, j])
