"""What a current at one node of a network does to the volts of another, for many questions.

A network is taken apart once, node by node, star to mesh; each question then follows only the
few stars that lie between its nodes and the last node of its part, which has 0 V:

    green(a, b)   volts at b while 1 A goes in at a and out at the last node;  green(a, b) =
                  green(b, a), and ohms between a and b = green(a, a) + green(b, b) - 2 green(a, b)
"""

from __future__ import annotations

from collections.abc import Iterable
from heapq import heappop, heappush

from cardgen.electrics.mesh import Mesh

Node = int
Resistor = tuple[Node, Node, float]


class Green:
    """Of resistors in ohms, each more than none."""

    def __init__(self, resistors: Iterable[Resistor]) -> None:
        mesh: Mesh[float] = Mesh((one, two, 1 / ohms) for one, two, ohms in resistors)
        mesh.reduce_to(())
        self._order: dict[Node, int] = {}
        self._stars: list[tuple[tuple[int, float], ...]] = []  # by order; shares of the neighbors
        self._ohms: list[float] = []  # of a star's arms side by side
        for number, (node, _) in enumerate(mesh.stars):
            assert isinstance(node, int)
            self._order[node] = number
        for _, star in mesh.stars:
            whole = sum(star.values())
            arms = ((self._order[node], y / whole) for node, y in star.items())  # type: ignore[index]
            self._stars.append(tuple(arms))
            self._ohms.append(1 / whole if whole else 0.0)
        self._parts = self._last_nodes()
        self._injected: dict[int, dict[int, float]] = {}
        self._volts: dict[int, dict[int, float]] = {}

    def _last_nodes(self) -> list[int]:
        """By node the last one of its part: its own neighbors are taken out later, all in it."""
        parts = list(range(len(self._stars)))
        for number in reversed(parts):
            if self._stars[number]:
                parts[number] = parts[self._stars[number][0][0]]
        return parts

    def part(self, node: Node) -> int:
        """A number that nodes share if anything connects them; below zero for one of no edge."""
        return self._parts[self._order[node]] if node in self._order else -1 - node

    def are_connected(self, one: Node, two: Node) -> bool:
        return self.part(one) == self.part(two)

    def __call__(self, one: Node, two: Node) -> float:
        """Volts at `two` for 1 A into `one`; none where nothing connects them."""
        if not self.are_connected(one, two):
            return 0.0
        source = self._order.get(one)
        if source is None:
            return 0.0
        if source not in self._volts:
            self._inject(source)
        return self._volts_at(source, self._order[two])

    def _inject(self, source: int) -> None:
        """Amperes that come to each node as those before it are taken out."""
        amperes = {source: 1.0}
        queue = [source]
        while queue:
            number = heappop(queue)
            for neighbor, share in self._stars[number]:
                if neighbor not in amperes:
                    amperes[neighbor] = 0.0
                    heappush(queue, neighbor)
                amperes[neighbor] += amperes[number] * share
        self._injected[source] = amperes
        self._volts[source] = {}

    def _volts_at(self, source: int, number: int) -> float:
        volts, amperes = self._volts[source], self._injected[source]
        stack = [number]
        while stack:
            top = stack[-1]
            if top in volts:
                stack.pop()
                continue
            unknown = [neighbor for neighbor, _ in self._stars[top] if neighbor not in volts]
            if unknown:
                stack += unknown
                continue
            own = amperes.get(top, 0.0) * self._ohms[top]
            volts[top] = own + sum([share * volts[n] for n, share in self._stars[top]])
            stack.pop()
        return volts[number]
