"""Nets, groups, trees and rings of a graph of conductors."""

from __future__ import annotations

from random import Random

import networkx as nx
import pytest

from cardgen.wiring.network import Network
from cardgen.wiring.wiring_parts import IN, OUT, End, Leg
from tests.for_each import for_each
from tests.wiring.trench import job, way, wired

CABLES = """
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 10 ft, VB-1, 10 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [tan], run: [A, 50 ft, VB-2]}
boxes: {VB-1: {}, VB-2: {}}
stations: {A1: {area: a, box: VB-1, hot: K1 red}}
"""
RING = CABLES + "joints: {VB-2: [[K1 white, K2 tan]]}\n"


def network(body: str, common: str = "K1 white") -> Network:
    wiring, problems = wired(job(body, common))
    assert not problems
    return Network(wiring)


def test_a_conductor_that_passes_uncut_is_one_net() -> None:
    net = network(CABLES)
    ends = [End("K1 blue", "VB-1", side) for side in (IN, OUT)]
    assert net.net(ends[0]) == net.net(ends[1])


def test_a_conductor_that_something_takes_is_cut() -> None:
    net = network(CABLES)
    ends = [End("K1 red", "VB-1", side) for side in (IN, OUT)]
    assert net.net(ends[0]) != net.net(ends[1])
    assert net.group(ends[0]) != net.group(ends[1])


def test_what_metal_joins_is_one_group_and_coils_do_not_join() -> None:
    net = network(CABLES)
    assert net.group(End("A", "A", "1")) == net.group(End("A1", "VB-1", "lead 1"))
    assert net.group(End("A", "A", "C")) == net.group(End("A1", "VB-1", "lead 2"))
    assert net.group(End("A", "A", "C")) != net.group(End("A", "A", "1"))


def test_the_ends_of_a_group() -> None:
    net = network(CABLES)
    hot = net.members()[net.group(End("A", "A", "1"))]
    assert set(hot) == {
        End("A", "A", "1"),
        End("K1 red", "A", OUT),
        End("K1 red", "VB-1", IN),
        End("A1", "VB-1", "lead 1"),
    }


def test_a_tree_is_no_ring() -> None:
    assert network(CABLES).rings() == frozenset()


def test_a_common_fed_from_both_ends_is_a_ring() -> None:
    net = network(RING, "[K1 white, K2 tan]")
    assert net.rings() == {net.group(End("A", "A", "C"))}


def test_two_conductors_side_by_side_are_a_ring() -> None:
    body = CABLES + (
        "joints:\n"
        "  A: [[C, K1 white], ['1', K1 red, K1 blue]]\n"
        "  VB-1: [[K1 red in, K1 blue in, A1], [K1 white in, A1]]\n"
    )
    net = network(body)
    assert net.rings() == {net.group(End("A", "A", "1"))}


def shown(body: str, common: str, end: End) -> str:
    net = network(body, common)
    return way(net.tree(End("A", "A", "C")).way_to(net.net(end)))


def test_of_two_ways_the_shorter_is_shown_though_it_has_more_legs() -> None:
    """10 ft + 10 ft of white against 50 ft of tan, all of one gauge."""
    end = End("K2 tan", "VB-2", IN)
    assert shown(RING, "[K1 white, K2 tan]", end) == "A - K1 white - VB-1 - K1 white - VB-2"


def test_of_two_ways_the_one_of_least_ohms_is_shown() -> None:
    """50 ft of 10 AWG have less than 20 ft of 18 AWG: 0.999 and 6.385 ohm per 1000 ft (NBS 100)."""
    body = RING.replace("K2: {gauge: 18 AWG", "K2: {gauge: 10 AWG")
    assert shown(body, "[K1 white, K2 tan]", End("K2 tan", "VB-2", IN)) == "A - K2 tan - VB-2"


def test_of_equal_ways_the_first_of_the_file_is_shown() -> None:
    body = RING.replace("50 ft", "20 ft")
    end = End("K1 white", "VB-2", IN)
    assert shown(body, "[K1 white, K2 tan]", end) == "A - K2 tan - VB-2"


OHMS_PER_1000_FT = {10: 0.9989, 12: 1.588, 14: 2.525, 16: 4.016, 18: 6.385}  # NBS Handbook 100


@for_each("seed", range(40))
def test_the_way_in_random_rings_is_networkx_own(seed: int) -> None:
    """A common of single wires from box to box, each box one joint; oracle: networkx 3.6."""
    random = Random(seed)
    places = ["A", *(f"VB-{n}" for n in range(1, random.randint(4, 12)))]
    graph: nx.Graph[str] = nx.Graph()
    cables = []
    pairs = {(random.choice(places[:n]), places[n]) for n in range(1, len(places))}
    pairs |= {
        (places[one], places[two])
        for one, two in (sorted(random.sample(range(len(places)), 2)) for _ in range(8))
    }
    for number, (one, two) in enumerate(sorted(pairs), 1):
        gauge, feet = random.choice(list(OHMS_PER_1000_FT)), random.randint(10, 400)
        cables.append(
            f"  K{number}: {{gauge: {gauge} AWG, colors: [white], run: [{one}, {feet} ft, {two}]}}"
        )
        graph.add_edge(one, two, ohms=feet * OHMS_PER_1000_FT[gauge] / 1000)
    at = {
        p: [f"K{n} white" for n, pair in enumerate(sorted(pairs), 1) if p in pair] for p in places
    }
    body = (
        "cables:\n" + "\n".join(cables) + "\n"
        f"boxes: {{{', '.join(f'{p}: {{}}' for p in places[1:])}}}\n"
        "joints:\n" + "".join(f"  {p}: [[{', '.join(at[p])}]]\n" for p in places[1:])
    )
    net = network(body, f"[{', '.join(at['A'])}]")
    tree = net.tree(End("A", "A", "C"))
    for box in places[1:]:
        first = at[box][0]
        side = IN if f", {box}]" in cables[int(first[1:].split()[0]) - 1] else OUT
        steps = tree.way_to(net.net(End(first, box, side)))
        passed = ["A", *(step.end for step in steps if isinstance(step, Leg))]
        assert passed[-1] == box
        ours = nx.path_weight(graph, passed, "ohms")
        assert ours == pytest.approx(nx.dijkstra_path_length(graph, "A", box, "ohms"), rel=1e-3)


def test_a_way_is_traveled_from_its_root() -> None:
    net = network(CABLES)
    tree = net.tree(End("K1 white", "VB-2", IN))
    steps = tree.way_to(net.net(End("A", "A", "C")))
    assert [(s.start, s.end) for s in steps if isinstance(s, Leg)] == [
        ("VB-2", "VB-1"),
        ("VB-1", "A"),
    ]


def test_each_leg_of_a_group_is_listed_once() -> None:
    net = network(RING, "[K1 white, K2 tan]")
    group = net.group(End("A", "A", "C"))
    legs = [e.step for e in net.edges_of([group, group]) if isinstance(e.step, Leg)]
    assert sorted((leg.conductor.name, leg.start) for leg in legs) == [
        ("K1 white", "A"),
        ("K1 white", "VB-1"),
        ("K2 tan", "A"),
    ]


def test_what_is_nowhere_is_not_known() -> None:
    net = network(CABLES)
    assert net.knows(End("A", "A", "1"))
    assert not net.knows(End("A", "A", "7"))
