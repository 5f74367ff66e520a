r"""Resistance between two nodes of a network of resistors, rings and parallel ways included.

    1             1   2        Star to mesh: a node is taken out and its neighbours are joined
    |             |\ /|        with each other, G(ij) = G(i) G(j) / (sum of all its G), until
4 --x-- 2   ->    | X |        only the two nodes are left.  A dead end goes out for nothing,
    |             |/ \|        a node in a row costs one sum: trees and rings take no longer
    3             4   3        than reading them.  All terms are positive, so nothing cancels.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from heapq import heapify, heappop, heappush
from itertools import combinations

from cardgen.units import Ohms

Resistor = tuple[Hashable, Hashable, float]
_LEAST = 1e-9  # ohm; a closed contact has none, and a conductance needs some


def resistance_between(resistors: Iterable[Resistor], a: Hashable, b: Hashable) -> Ohms:
    """Ohms between `a` and `b`, which the resistors must connect."""
    mesh = _Mesh(resistors)
    # By the number of neighbours, then in the order of the resistors: same network, same result.
    inner = [node for node in mesh.siemens if node not in (a, b)]
    number_of = {node: number for number, node in enumerate(inner)}
    queue = [(len(mesh.siemens[node]), number) for node, number in number_of.items()]
    heapify(queue)
    while queue:
        count, number = heappop(queue)
        node = inner[number]
        if node not in mesh.siemens or len(mesh.siemens[node]) != count:
            continue  # since then it has gone or been pushed again
        for neighbour in mesh.take_out(node):
            if neighbour in number_of:
                heappush(queue, (len(mesh.siemens[neighbour]), number_of[neighbour]))
    return Ohms(1 / mesh.siemens[a][b])


class _Mesh:
    """Conductance between neighbours."""

    def __init__(self, resistors: Iterable[Resistor]) -> None:
        self.siemens: dict[Hashable, dict[Hashable, float]] = {}
        for one, two, ohms in resistors:
            if one != two:
                self._add(one, two, 1 / max(ohms, _LEAST))

    def _add(self, one: Hashable, two: Hashable, siemens: float) -> None:
        for here, there in ((one, two), (two, one)):
            row = self.siemens.setdefault(here, {})
            row[there] = row.get(there, 0.0) + siemens

    def take_out(self, node: Hashable) -> tuple[Hashable, ...]:
        """Put a mesh of its neighbours in the place of a node; the neighbours."""
        star = self.siemens.pop(node)
        for neighbour in star:
            del self.siemens[neighbour][node]
        whole = sum(star.values())
        for (one, first), (two, second) in combinations(star.items(), 2):
            self._add(one, two, first * second / whole)
        return tuple(star)
