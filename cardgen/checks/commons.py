"""Check the commons as a whole: several on one C, fed both ways, carried on by a spare."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cardgen.checks.reporting import error, note
from cardgen.facts import Facts
from cardgen.lists import listed
from cardgen.problems import Problem
from cardgen.units import SupplyKind
from cardgen.wiring.model import COMMON_TERMINAL, End, Landing, Leg


def commons_missing(facts: Facts) -> Iterator[Problem]:
    """A controller has valves and no common at all."""
    for controller in facts.job.controllers.values():
        two_wire = controller.supply.value.kind is SupplyKind.TWO_WIRE
        needy = [
            load.id
            for load in facts.wiring.loads.values()
            if load.controller == controller.id
            and load.back is None
            and not getattr(load.owner, "common", ())
        ]
        broken = controller.id in facts.job.broken
        if needy and not controller.common and not two_wire and not broken:
            yield error(
                "common-missing",
                controller.place,
                f"no common is written for {controller.id}, so {listed(needy)} have no return",
                f"name all conductors of its common: 'common: [{_example(facts, needy[0])}]'",
            )


def _example(facts: Facts, load: str) -> str:
    """A free conductor in the cable that brings the hot, white if there is one."""
    hot = facts.wiring.loads[load].hot
    cable = hot.hops[0].conductor.cable.id if hot and hot.hops else ""
    free = [c.name for c in facts.spares_of(cable)]
    white = [name for name in free if " white" in name]
    return (white or free or ["A-K1 white"])[0]


def several_commons(facts: Facts) -> Iterator[Problem]:
    """Two or more commons land on one C: one terminal holds one wire, so they need a pigtail."""
    for controller, landings in facts.wiring.commons.items():
        landed = [la for la in landings if _lands(facts, controller, la)]
        if len(landed) < 2:
            continue
        served = _stations_by_first_conductor(facts, controller)
        parts = [
            f"{la.conductor.name} ({listed(served[la.conductor.name])})"
            if served.get(la.conductor.name)
            else la.conductor.name
            for la in landed
        ]
        yield note(
            "several-commons",
            landed[1].place,
            f"{len(landed)} commons land on C of {controller}: {'; '.join(parts)}",
            "one terminal holds one conductor: join them in a connector with a pigtail to C",
        )


def _lands(facts: Facts, controller: str, landing: Landing) -> bool:
    if controller not in landing.conductor.places or landing.begins:
        return False
    terminal = End(controller, controller, COMMON_TERMINAL)
    end = landing.conductor.ends_at(controller)[0]
    if not facts.network.knows(terminal):
        return False
    return facts.network.group(end) == facts.network.group(terminal)


def _stations_by_first_conductor(facts: Facts, controller: str) -> dict[str, list[str]]:
    served: dict[str, list[str]] = defaultdict(list)
    for circuit in facts.circuits.values():
        if circuit.load.controller != controller or circuit.load.back is not None:
            continue
        legs = [step for step in circuit.back if isinstance(step, Leg)]
        if legs and circuit.load.owner.id not in served[legs[0].conductor.name]:
            served[legs[0].conductor.name].append(circuit.load.owner.id)
    return served


def common_rings(facts: Facts) -> Iterator[Problem]:
    """A common is fed from both ends: one break in it shows on no meter."""
    rings = facts.network.rings()
    homes = [End(name, name, COMMON_TERMINAL) for name in facts.wiring.commons]
    groups = [facts.network.group(end) for end in homes if facts.network.knows(end)]
    for controller, landings in facts.wiring.commons.items():
        terminal = End(controller, controller, COMMON_TERMINAL)
        if not landings or not facts.network.knows(terminal):
            continue
        group = facts.network.group(terminal)
        if group in rings and groups.count(group) == 1:  # joined commons are told by themselves
            yield note(
                "common-ring",
                landings[0].place,
                f"the common of {controller} is a ring: it is fed from more than one side",
                "a break in it is found only by opening the ring",
            )


def commons_on_spares(facts: Facts) -> Iterator[Problem]:
    """A spare carries a common on from some box: a repair that everyone must know."""
    for controller, landings in facts.wiring.commons.items():
        for la in landings:
            if la.begins:
                begins = la.conductor.places[la.begins]
                yield note(
                    "common-on-spare",
                    la.place,
                    f"from '{begins}' on, {la.conductor.name} carries the common of {controller}",
                    "strike it off the spares, flag it anew at every box and revise the tags",
                )
