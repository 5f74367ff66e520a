"""Volts anywhere in a network for currents that go in and out at a few nodes, asked many times.

A network is taken apart once, node by node, star to mesh; each question then follows only the
few stars that its currents come through until they have met.  Behind the last of these nothing
flows, so that all is at 0 V there; what only hangs on has the volts of where it hangs:

    ohms between a and b  =  volts(a) - volts(b), while 1 A goes in at a and comes out at b
"""

from __future__ import annotations

from collections.abc import Iterable
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


class Volts:
    """At every node, while these amperes go in: in each part as many as come out.

    Only differences within a part mean anything.
    """

    def __init__(self, green: Green, amperes: Amperes) -> None:
        self._order, self._stars, self._ohms = green.order, green.stars, green.ohms
        self._volts: dict[int, float] = {}
        self._through: dict[int, float] = {}  # what comes to each as those before are taken out
        for node, share in amperes:
            if node in self._order:
                number = self._order[node]
                self._through[number] = self._through.get(number, 0.0) + share
        self._last = self._follow(self._through)

    def _follow(self, through: dict[int, float]) -> int:
        """The last node that something comes through; below zero where there is none."""
        queue, last = list(through), -1
        heapify(queue)
        while queue:
            number = heappop(queue)
            here = through[number]
            if -_NONE < here < _NONE:
                continue
            last = number
            for neighbor, share in self._stars[number]:
                if neighbor not in through:
                    through[neighbor] = 0.0
                    heappush(queue, neighbor)
                through[neighbor] += here * share
        return last

    def __call__(self, node: Node) -> float:
        """None for a node of no edge."""
        number = self._order.get(node)
        if number is None or number > self._last:
            return 0.0
        if number not in self._volts:
            self._find(number)
        return self._volts[number]

    def _find(self, number: int) -> None:
        """The mean of its neighbors, and what its own amperes add."""
        volts, last, stack = self._volts, self._last, [number]
        while stack:
            top = stack[-1]
            star = self._stars[top]
            unknown = [n for n, _ in star if n <= last and n not in volts]
            if unknown:
                stack += unknown
                continue
            stack.pop()
            own = self._through.get(top, 0.0) * self._ohms[top]
            volts[top] = own + sum([share * volts[n] for n, share in star if n <= last])
