"""Find conductors that are joined with a hot and lead nowhere: live wires that look free.

1 --- red --------.--- [A1]
                  `--- green ------------x      green is live up to its end
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import field

from cardgen.checks.reporting import place_of_joint
from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.circuit_faults import LIVE_STUB
from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem
from cardgen.wiring.network import Edge
from cardgen.wiring.uses import Role
from cardgen.wiring.wiring_parts import IN, OUT, Leg


@dataclass(slots=True)
class _Stub:
    """What hangs on one net by one conductor."""

    net: int
    conductor: str
    at: str
    tips: dict[str, None] = field(default_factory=dict)
    legs: set[tuple[str, int]] = field(default_factory=set)
    sides: set[str] = field(default_factory=set)


def live_stubs(facts: Facts, reported: set[str]) -> Iterator[Problem]:
    """Each conductor that a joint makes live and that serves nothing."""
    promised = {(c.conductor, c.leg) for c in facts.claims if c.role is Role.SPARE}
    anchors = _anchors(facts)
    edges_at = facts.network.edges
    loose = {net for net, edges in edges_at.items() if len(edges) == 1 and net not in anchors}
    groups = dict.fromkeys(
        facts.network.group(load.hot_end)
        for load in facts.wiring.loads.values()
        if load.decoder is None and facts.network.knows(load.hot_end)
    )
    for group in groups:
        uses = facts.uses.of_end(facts.members[group][0])
        owners = [use.of for use in uses]
        if any(use.role is not Role.HOT for use in uses) or reported.intersection(owners):
            continue
        loads = [load for owner in owners for load in facts.loads_of[owner]]
        if any(load.id not in facts.circuits for load in loads):
            continue
        is_unknown = any(load.hot_unknown for load in loads)
        edges = list(facts.network.edges_of([group]))
        if loose.isdisjoint(edge.one for edge in edges) and loose.isdisjoint(
            edge.two for edge in edges
        ):
            continue
        for stub in _stubs(edges, anchors):
            # How far a single was pulled is seen by its hot.
            is_pulled = is_unknown and facts.wiring.conductors[stub.conductor].cable.singles
            if not is_pulled and promised.isdisjoint(stub.legs):  # a spare in use is told by itself
                yield _told(facts, stub, owners)


def _anchors(facts: Facts) -> set[int]:
    """Nets at which something is that is no conductor: leads, terminals, contacts."""
    conductors = facts.wiring.conductors
    return {facts.network.net(end) for end in facts.network.ends if end.of not in conductors}


def _stubs(edges: list[Edge], anchors: set[int]) -> list[_Stub]:
    """Dead ends are taken off one by one; what they hung on is where the stub begins."""
    touching: dict[int, dict[int, Edge]] = defaultdict(dict)
    for number, edge in enumerate(edges):
        touching[edge.one][number] = edge
        touching[edge.two][number] = edge
    taken: dict[int, tuple[int, Edge]] = {}  # by the net taken off: its feeder
    queue = [net for net, found in touching.items() if len(found) == 1 and net not in anchors]
    while queue:
        net = queue.pop()
        if len(touching[net]) != 1:
            continue
        ((number, edge),) = touching.pop(net).items()
        feeder = edge.one if net == edge.two else edge.two
        del touching[feeder][number]
        taken[net] = (feeder, edge)
        if len(touching[feeder]) == 1 and feeder not in anchors:
            queue.append(feeder)
    return _gathered(taken)


def _gathered(taken: dict[int, tuple[int, Edge]]) -> list[_Stub]:
    """By the net and the conductor on which they hang."""
    found: dict[tuple[int, str], _Stub] = {}
    feeders = {feeder for feeder, _ in taken.values()}
    for net in taken:
        way = [_leg(taken, net)]
        here = taken[net][0]
        while here in taken:
            way.append(_leg(taken, here))
            here = taken[here][0]
        tip, first = way[0].end, way[-1]
        name, places = first.conductor.name, first.conductor.places
        stub = found.setdefault((here, name), _Stub(here, name, first.start))
        stub.legs |= {(leg.conductor.name, leg.number) for leg in way}
        stub.sides.add(OUT if places.index(first.end) > places.index(first.start) else IN)
        if net not in feeders:
            stub.tips[tip] = None
    return list(found.values())


def _leg(taken: dict[int, tuple[int, Edge]], net: int) -> Leg:
    """The leg that leads to a net taken off."""
    feeder, edge = taken[net]
    step = edge.traveled_from(feeder)[1]
    assert isinstance(step, Leg)  # a contact has a terminal on either side
    return step


def _told(facts: Facts, stub: _Stub, owners: list[str]) -> Problem:
    joint = next(
        (j for j in facts.joints_at.get(stub.at, ()) if facts.network.net(j.ends[0]) == stub.net),
        None,
    )
    entry = facts.job.boxes.get(stub.at) or facts.job.controllers[stub.at]
    return LIVE_STUB.at(
        place_of_joint(joint) or entry.span,
        variant="goes on" if _carries_on(facts, stub, owners) else "",
        conductor=stub.conductor,
        hot=f"{owners[0]}'s hot" if len(owners) == 1 else f"the hots of {english_list(owners)}",
        at=stub.at,
        tips=english_list(f"'{tip}'" for tip in stub.tips),
        side=OUT if IN in stub.sides else IN,
    )


def _carries_on(facts: Facts, stub: _Stub, owners: list[str]) -> bool:
    """The same conductor brings the hot to that place."""
    return any(
        isinstance(step, Leg) and step.conductor.name == stub.conductor
        for owner in owners
        for load in facts.loads_of[owner]
        for step in facts.circuits[load.id].hot
    )
