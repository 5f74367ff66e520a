"""Find the legs that lie in a ring: those without which their ends still hang together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.wiring.network import Edge
from cardgen.wiring.wiring_parts import Leg


def legs_of_rings(facts: Facts, *groups: int) -> list[Leg]:
    """In the order of the network."""
    edges = (edge for group in groups for edge in _edges_of_rings(facts, group))
    return [edge.step for edge in edges if isinstance(edge.step, Leg)]


def boxes_of(facts: Facts, legs: Iterable[Leg]) -> str:
    """`'VB-1', 'VB-2' and 'VB-3'`, in the order of the file."""
    places = {place for leg in legs for place in (leg.start, leg.end)}
    return english_list(f"'{box}'" for box in facts.job.boxes if box in places)


def _edges_of_rings(facts: Facts, group: int) -> Iterator[Edge]:
    """Those without which their ends still hang together."""
    every = list(facts.network.edges_of([group]))
    for edge in every:
        reached, queue = {edge.one}, [edge.one]
        while queue:
            net = queue.pop()
            for other in facts.network.edges.get(net, ()):
                further = other.traveled_from(net)[0]
                if other is not edge and further not in reached:
                    reached.add(further)
                    queue.append(further)
        if edge.two in reached:
            yield edge
