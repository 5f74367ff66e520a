"""Volts in a network for currents that go in and out at a few nodes, asked many times.

A network is taken apart once, node by node, star to mesh; each current is then followed only
through the few stars that it comes through until all of it has met.  The volts that one current
makes where another goes in and out are a sum over the stars that both come through:

    volts  =  sum of  amperes of one  *  ohms of the star's arms side by side  *  amperes of other

(The network's matrix is L D L' with one column of L for each star; Golub and Van Loan, Matrix
Computations, 4.1.2; from memory.)
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from heapq import heapify, heappop, heappush

from cardgen.electrics.mesh import Mesh

Node = int
Resistor = tuple[Node, Node, float]
Amperes = tuple[tuple[Node, float], ...]
_NONE = 1e-13  # of 1 A: what rounding leaves where currents have met
_Star = tuple[tuple[int, float], ...]  # the neighbors, taken out later, and the share of each


class Green:
    """Of resistors in ohms, each more than none."""

    def __init__(self, resistors: Iterable[Resistor]) -> None:
        mesh: Mesh[float] = Mesh((one, two, 1 / ohms) for one, two, ohms in resistors)
        mesh.reduce_to(())
        self.order: dict[Node, int] = {}
        self.stars: list[_Star] = []  # by order
        self.ohms: list[float] = []  # of a star's arms side by side
        for number, (node, _) in enumerate(mesh.stars):
            assert isinstance(node, int)
            self.order[node] = number
        for _, star in mesh.stars:
            whole = sum(star.values())
            arms = ((self.order[node], y / whole) for node, y in star.items())  # type: ignore[index]
            self.stars.append(tuple(arms))
            self.ohms.append(1 / whole if whole else 0.0)
        self._parts = self._last_nodes()

    def _last_nodes(self) -> list[int]:
        """By node the last one of its part: its own neighbors are taken out later, all in it."""
        parts = list(range(len(self.stars)))
        for number in reversed(parts):
            if self.stars[number]:
                parts[number] = parts[self.stars[number][0][0]]
        return parts

    def part(self, node: Node) -> int:
        """A number that nodes share if anything connects them; below zero for one of no edge."""
        return self._parts[self.order[node]] if node in self.order else -1 - node

    def are_connected(self, one: Node, two: Node) -> bool:
        return self.part(one) == self.part(two)


class Current:
    """These amperes, followed: in each part as many go in as come out.

    Attributes:
        amperes: by star what comes through it.
        volts: by star what that makes across its arms.
    """

    def __init__(self, green: Green, amperes: Amperes) -> None:
        through: dict[int, float] = {}
        for node, share in amperes:
            if node in green.order:
                number = green.order[node]
                through[number] = through.get(number, 0.0) + share
        self.amperes = _followed(through, green.stars)
        self.volts = {number: here * green.ohms[number] for number, here in self.amperes.items()}
        self.ohms = self.across(self)

    def across(self, other: Current) -> float:
        """Volts where the other goes in and out; as many as the other makes where this one does."""
        few, many = self.amperes, other.volts
        if len(many) < len(few):
            few, many = other.amperes, self.volts
        return sum([here * many[number] for number, here in few.items() if number in many])


def _followed(through: dict[int, float], stars: Sequence[_Star]) -> dict[int, float]:
    """Star by star as they were taken out, what comes to each from those before it."""
    found: dict[int, float] = {}
    queue = list(through)
    heapify(queue)
    while queue:
        number = heappop(queue)
        here = through[number]
        if -_NONE < here < _NONE:
            continue
        found[number] = here
        for neighbor, share in stars[number]:
            if neighbor not in through:
                through[neighbor] = 0.0
                heappush(queue, neighbor)
            through[neighbor] += here * share
    return found
