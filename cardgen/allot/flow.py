"""Send units through a network at the least cost: shortest ways one after the other.

Jewell, Iri, Busacker and Gowen (1958 to 1961), with the potentials of Edmonds and Karp (1972): a
way found may turn back units that were sent before, so the whole stays the cheapest of its size.
"""

from __future__ import annotations

from collections.abc import Hashable
from heapq import heappop, heappush

_FAR = -1


class Flow:
    """A network of arcs with room and cost; costs are whole numbers, none below 0."""

    def __init__(self) -> None:
        self._index: dict[Hashable, int] = {}
        self._arcs_from: list[list[int]] = []
        self._head: list[int] = []
        self._room: list[int] = []
        self._cost: list[int] = []

    @property
    def arcs(self) -> int:
        return len(self._head) // 2

    def arc(self, one: Hashable, two: Hashable, room: int, cost: int = 0) -> None:
        """An arc and, behind it, the way back that opens as it fills."""
        a, b = self._node(one), self._node(two)
        for start, end, space, price in ((a, b, room, cost), (b, a, 0, -cost)):
            self._arcs_from[start].append(len(self._head))
            self._head.append(end)
            self._room.append(space)
            self._cost.append(price)

    def _node(self, name: Hashable) -> int:
        if name not in self._index:
            self._index[name] = len(self._arcs_from)
            self._arcs_from.append([])
        return self._index[name]

    def send(self, source: Hashable, goal: Hashable, units: int) -> int | None:
        """The least cost of so many units; None if they do not all get through."""
        start, end = self._node(source), self._node(goal)
        potential = [0] * len(self._arcs_from)
        total = 0
        for _ in range(units):
            distance, came = self._shortest(start, potential)
            if distance[end] == _FAR:
                return None
            for node, far in enumerate(distance):
                potential[node] += max(far, 0)  # what is not reached now never is
            node = end
            while node != start:
                arc = came[node]
                self._room[arc] -= 1
                self._room[arc ^ 1] += 1
                total += self._cost[arc]
                node = self._head[arc ^ 1]
        return total

    def _shortest(self, start: int, potential: list[int]) -> tuple[list[int], list[int]]:
        """Reduced distance from the start by node, and the arc by which each is reached."""
        distance, came = [_FAR] * len(self._arcs_from), [_FAR] * len(self._arcs_from)
        done = [False] * len(self._arcs_from)
        distance[start] = 0
        heap = [(0, start)]
        while heap:
            far, here = heappop(heap)
            if done[here]:
                continue
            done[here] = True
            for arc in self._arcs_from[here]:
                there = self._head[arc]
                if not self._room[arc] or done[there]:
                    continue
                longer = far + self._cost[arc] + potential[here] - potential[there]
                if distance[there] == _FAR or longer < distance[there]:
                    distance[there], came[there] = longer, arc
                    heappush(heap, (longer, there))
        return distance, came

    def ways(self, source: Hashable, goal: Hashable) -> list[list[Hashable]]:
        """The units that were sent, each with the nodes that it passes."""
        names = list(self._index)
        start, end = self._node(source), self._node(goal)
        sent = [self._room[arc ^ 1] if arc % 2 == 0 else 0 for arc in range(len(self._head))]
        found: list[list[Hashable]] = []
        while True:
            node, way = start, [names[start]]
            while node != end:
                arc = next((a for a in self._arcs_from[node] if sent[a]), None)
                if arc is None:
                    return found
                sent[arc] -= 1
                node = self._head[arc]
                way.append(names[node])
            found.append(way)
