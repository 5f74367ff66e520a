"""Find where written joints do not hold what the file says is known of a hot with a gap."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.checks.reporting import place_of_joints
from cardgen.facts import Facts
from cardgen.faults.circuit_faults import HOT_STOPS
from cardgen.faults.terminal_faults import HOT_NOT_LANDED
from cardgen.problems import Problem
from cardgen.wiring.wiring_parts import Hop, Load


def known_parts_not_joined(facts: Facts) -> Iterator[Problem]:
    """Each once: on no terminal, with no lead of its valve, or in no joint on the way."""
    for owner, (load, *_) in facts.loads_of.items():
        if owner not in facts.reported:
            yield from _out(facts, load)
            yield from _in(facts, load)


def _out(facts: Facts, load: Load) -> Iterator[Problem]:
    hops = load.known_out.hops if load.known_out else ()
    groups = {facts.network.group(load.hot_end)}
    stop = _first_apart(facts, hops, groups)
    if stop is None:
        return
    if stop is not hops[0]:
        yield _stops(facts, load, stop)
        return
    home = load.hot_end.at
    yield HOT_NOT_LANDED.at(
        place_of_joints(facts, home) or load.span,
        controller=home,
        stations=load.owner.id,
        landings=f"{stop.conductor.name} on {load.terminal}",
    )


def _in(facts: Facts, load: Load) -> Iterator[Problem]:
    hops = load.known_in.hops if load.known_in else ()
    of_owner = facts.loads_of[load.owner.id]
    leads = [lead for each in of_owner for lead in (each.hot_lead, each.back_lead)]
    groups = set(map(facts.network.group, leads)) - {facts.network.group(load.back_end)}
    stop = _first_apart(facts, hops, groups)
    if stop is None:
        return
    if stop is not hops[0]:
        yield _stops(facts, load, stop)
        return
    at = hops[0].departure.at
    yield HOT_STOPS.at(
        place_of_joints(facts, at) or load.span,
        variant="not joined",
        station=load.owner.id,
        conductor=stop.conductor.name,
        at=at,
        valves=load.id,
    )


def _first_apart(facts: Facts, hops: tuple[Hop, ...], groups: set[int]) -> Hop | None:
    """The first of which the end nearer to the known one is not joined with that."""
    return next((hop for hop in hops if facts.network.group(hop.departure) not in groups), None)


def _stops(facts: Facts, load: Load, stop: Hop) -> Problem:
    at = stop.departure.at
    return HOT_STOPS.at(
        place_of_joints(facts, at) or load.span,
        variant="not brought",
        hot=f"{load.owner.id}'s hot",
        at=at,
        conductor=stop.conductor.name,
    )
