"""Turn joints and conductors into nets, and nets into groups that conduct: a plain graph.

A *net* is all ends that touch each other (a joint, or a conductor passing uncut).  A *group* is
all nets that conductors, pigtails or closed contacts connect; coils do not count.  Colors play
no part.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cached_property
from heapq import heappop, heappush
from itertools import count
from typing import NamedTuple

from cardgen.light_dataclass import dataclass
from cardgen.trade.copper import of_conductor, of_pigtail
from cardgen.wiring.wiring_parts import (
    End,
    Leg,
    Step,
    ThroughContact,
    ThroughPigtail,
    Wiring,
)
from cardgen.wiring.written import CONTACT_SIDES, PIGTAIL_SIDES

_UNKNOWN = 1e6  # ohms; more than all the legs of a job have together


class _Sets:
    """Disjoint sets with path halving."""

    def __init__(self, count: int) -> None:
        self.parent = list(range(count))

    def find(self, item: int) -> int:
        parent = self.parent
        while parent[item] != item:
            parent[item] = parent[parent[item]]
            item = parent[item]
        return item

    def join(self, one: int, two: int) -> None:
        self.parent[self.find(two)] = self.find(one)


class Edge(NamedTuple):
    """One way between two nets; `step` is how it reads when traveled from `one` to `two`.

    `weight` is what ranks one way against another: its ohms at 20 C, very many where they are
    not known, so that a way that is known goes before.
    """

    one: int
    two: int
    step: Step
    weight: float

    def traveled_from(self, net: int) -> tuple[int, Step]:
        if net == self.one:
            return self.two, self.step
        return self.one, self.step.turned if isinstance(self.step, Leg) else self.step


@dataclass(frozen=True, slots=True)
class Tree:
    """Ways of least ohms from one net: for each net reached, the edge that leads to it."""

    root: int
    reached_by: dict[int, Edge]

    def way_to(self, net: int) -> tuple[Step, ...]:
        """The steps from the root to `net`, which must be reached."""
        steps: list[Step] = []
        while net != self.root:
            edge = self.reached_by[net]
            net = edge.one if net == edge.two else edge.two
            steps.append(edge.traveled_from(net)[1])
        return tuple(reversed(steps))


class Network:
    """The graph of a Wiring."""

    def __init__(self, wiring: Wiring) -> None:
        self.wiring = wiring
        ends = dict.fromkeys(self._all_ends())
        self._index = {end: number for number, end in enumerate(ends)}
        self._nets = _Sets(len(ends))
        self._join_ends()
        self._net_of = {end: self._nets.find(number) for end, number in self._index.items()}
        self.edges: dict[int, list[Edge]] = {}
        self._groups = _Sets(len(ends))
        self.every_edge = tuple(self._all_edges())
        for edge in self.every_edge:
            self.edges.setdefault(edge.one, []).append(edge)
            self.edges.setdefault(edge.two, []).append(edge)
            self._groups.join(edge.one, edge.two)
        self._group_of = {end: self._groups.find(net) for end, net in self._net_of.items()}

    def _all_ends(self) -> Iterator[End]:
        for joint in self.wiring.joints:
            yield from joint.ends
        for conductor in self.wiring.conductors.values():
            for ends in conductor.ends:
                yield from ends
        for load in self.wiring.loads.values():
            yield from (load.hot_lead, load.back_lead, load.hot_end, load.back_end)

    def _join_ends(self) -> None:
        joined: set[End] = set()
        for joint in self.wiring.joints:
            joined.update(joint.ends)
            first = self._index[joint.ends[0]]
            for end in joint.ends[1:]:
                self._nets.join(first, self._index[end])
        for conductor in self.wiring.conductors.values():
            for ends in conductor.ends:
                if len(ends) == 2 and joined.isdisjoint(ends):  # passes uncut
                    self._nets.join(self._index[ends[0]], self._index[ends[1]])

    def _all_edges(self) -> Iterator[Edge]:
        for c in self.wiring.conductors.values():
            rate = of_conductor(c.gauge, c.construction, c.resistance)
            per_meter = rate / 1000 if rate is not None else None
            for number, length in enumerate(c.legs):
                start, end = c.ends[number][-1], c.ends[number + 1][0]
                leg = Leg(c, start.at, end.at, length, number)
                weight = _UNKNOWN
                if length is not None and per_meter is not None:
                    weight = per_meter * length.meters
                yield Edge(self.net(start), self.net(end), leg, weight)
        for sensor in self.wiring.job.sensors.values():
            at = sensor.controllers[0].value
            sides = [End(sensor.id, at, side) for side in CONTACT_SIDES]
            if all(end in self._index for end in sides):
                step = ThroughContact(sensor.id, at)
                yield Edge(self.net(sides[0]), self.net(sides[1]), step, 0.0)
        for pigtail in self.wiring.job.pigtails.values():
            at = pigtail.at.value
            sides = [End(pigtail.id, at, side) for side in PIGTAIL_SIDES]
            if all(end in self._index for end in sides):
                ohms = of_pigtail(pigtail.gauge, pigtail.length)
                link = ThroughPigtail(pigtail, at)
                yield Edge(self.net(sides[0]), self.net(sides[1]), link, ohms)

    def edges_of(self, groups: Iterable[int]) -> Iterator[Edge]:
        """Every leg, pigtail and contact in these groups, each once."""
        for group in dict.fromkeys(groups):
            yield from self._edges_by_group.get(group, ())

    @cached_property
    def _edges_by_group(self) -> dict[int, list[Edge]]:
        found: dict[int, list[Edge]] = {}
        for net, edges in self.edges.items():
            mine = found.setdefault(self._groups.find(net), [])
            mine += [edge for edge in edges if edge.one == net]
        return found

    @property
    def ends(self) -> tuple[End, ...]:
        """Everything that conducts, in the order of the joints and then of the conductors."""
        return tuple(self._index)

    def knows(self, end: End) -> bool:
        return end in self._index

    def net(self, end: End) -> int:
        return self._net_of[end]

    def group(self, end: End) -> int:
        """A number that two ends share if metal connects them."""
        return self._group_of[end]

    def members(self) -> dict[int, list[End]]:
        """The ends of every group."""
        found: dict[int, list[End]] = {}
        for end, group in self._group_of.items():
            found.setdefault(group, []).append(end)
        return found

    def tree(self, root: End) -> Tree:
        """The ways of least ohms from `root` through whatever conducts.

        Of equal ways the one found first, in the order of the edges.
        """
        start = self.net(root)
        reached: dict[int, Edge] = {}
        cost = {start: 0.0}
        number = count(1)
        queue = [(0.0, 0, start)]
        while queue:
            so_far, _, net = heappop(queue)
            if so_far > cost[net]:
                continue  # since then a better way was found
            for edge in self.edges.get(net, ()):
                further = edge.two if net == edge.one else edge.one
                whole = so_far + edge.weight
                if further not in cost or whole < cost[further]:
                    cost[further] = whole
                    reached[further] = edge
                    heappush(queue, (whole, next(number), further))
        return Tree(start, reached)

    def rings(self) -> frozenset[int]:
        """Groups in which some way closes on itself: as many legs as nets, or more."""
        return self._rings

    @cached_property
    def _rings(self) -> frozenset[int]:
        nets: Counter[int] = Counter()
        ends_of_edges: Counter[int] = Counter()
        for net, found in self.edges.items():
            group = self._groups.find(net)
            nets[group] += 1
            ends_of_edges[group] += len(found)
        return frozenset(g for g, count in nets.items() if ends_of_edges[g] // 2 >= count)
