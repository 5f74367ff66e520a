r"""Take the inner nodes out of a network, star to mesh, and remember each star.

    1             1   2        A node is taken out and its neighbors are joined with each
    |             |\ /|        other, Y(ij) = Y(i) Y(j) / (sum of all its Y).  A dead end goes
4 --x-- 2   ->    | X |        out for nothing, a node in a row costs one sum: trees and rings
    |             |/ \|        take no longer than reading them.
    3             4   3
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Hashable, Iterable
from heapq import heapify, heappop, heappush
from itertools import combinations
from typing import Generic, TypeVar

# Siemens, at direct current or as a phasor.
Y = TypeVar("Y", float, complex)
LEAST = 1e-9  # ohm; a closed contact has none, and an admittance needs some


class Mesh(Generic[Y]):
    """The admittances between neighbors, in siemens.

    Attributes:
        stars: the nodes taken out, in that order, each with what it had toward its neighbors.
    """

    def __init__(self, edges: Iterable[tuple[Hashable, Hashable, Y]]) -> None:
        self.siemens: dict[Hashable, dict[Hashable, Y]] = defaultdict(dict)
        self.stars: list[tuple[Hashable, dict[Hashable, Y]]] = []
        for one, two, siemens in edges:
            if one != two:
                self._add(one, two, siemens)

    def reduce_to(self, kept: Collection[Hashable]) -> None:
        """Take out every other node, always one with the fewest neighbors."""
        inner = [node for node in self.siemens if node not in kept]
        # Among equals in the order of the edges: same network, same result to the last bit.
        number_of = {node: number for number, node in enumerate(inner)}
        queue = [(len(self.siemens[node]), number) for number, node in enumerate(inner)]
        heapify(queue)
        while queue:
            count, number = heappop(queue)
            node = inner[number]
            if node not in self.siemens or len(self.siemens[node]) != count:
                continue  # since then it has gone or been pushed again
            for neighbor in self._take_out(node):
                if neighbor in number_of:
                    heappush(queue, (len(self.siemens[neighbor]), number_of[neighbor]))

    def _add(self, one: Hashable, two: Hashable, siemens: Y) -> None:
        row = self.siemens[one]
        both = row[two] + siemens if two in row else siemens
        row[two] = self.siemens[two][one] = both

    def _take_out(self, node: Hashable) -> Iterable[Hashable]:
        star = self.siemens.pop(node)
        self.stars.append((node, star))
        for neighbor in star:
            del self.siemens[neighbor][node]
        whole = sum(star.values())
        for (one, first), (two, second) in combinations(star.items(), 2):
            self._add(one, two, first * second / whole)
        return star
