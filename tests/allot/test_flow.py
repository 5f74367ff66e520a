"""The least cost of a flow against networkx 3.6 (network simplex, by other hands)."""

from __future__ import annotations

import itertools
import random

import networkx as nx
import pytest

from cardgen.allot.flow import Flow


@pytest.mark.parametrize("seed", range(60))
def test_cost_and_ways_of_a_random_network(seed: int) -> None:
    rng = random.Random(seed)
    nodes = range(rng.randint(3, 9))
    units = rng.randint(1, 5)
    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from(nodes)
    graph.nodes[0]["demand"], graph.nodes[1]["demand"] = -units, units
    flow = Flow()
    costs = {}
    for one in nodes:
        for two in nodes:
            if one != two and rng.random() < 0.5:
                room, cost = rng.randint(1, 3), rng.randint(0, 9)
                graph.add_edge(one, two, capacity=room, weight=cost)
                flow.arc(one, two, room, cost)
                costs[one, two] = cost
    found = flow.send(0, 1, units)
    try:
        expected = nx.cost_of_flow(graph, nx.min_cost_flow(graph))
    except nx.NetworkXUnfeasible:
        assert found is None
        return
    assert found == expected
    ways = flow.ways(0, 1)
    assert len(ways) == units
    assert all((way[0], way[-1]) == (0, 1) for way in ways)
    legs = [leg for way in ways for leg in itertools.pairwise(way)]
    assert all(leg in costs for leg in legs)


def test_a_unit_that_was_sent_is_turned_back_for_a_better_whole() -> None:
    """The cheapest way of one unit stands in the way of two: a to d goes by b alone at first."""
    flow = Flow()
    for one, two, cost in (
        ("a", "b", 1),
        ("b", "d", 1),
        ("a", "c", 5),
        ("c", "d", 5),
        ("b", "c", 0),
    ):
        flow.arc(one, two, 1, cost)
    assert flow.send("a", "d", 2) == 12


def test_more_units_than_room() -> None:
    flow = Flow()
    flow.arc("a", "b", 1)
    assert flow.send("a", "b", 2) is None
