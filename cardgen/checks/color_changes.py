"""Find the joints at which one thing goes on in another color."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations, pairwise

from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.conductor_faults import COLOR_CHANGE
from cardgen.owners import OwnerKind
from cardgen.problems import Problem
from cardgen.wiring.uses import Role, Use
from cardgen.wiring.wiring_parts import Circuit, Conductor, End, Joint, Leg, Step

_Change = tuple[str, str]  # the two colors, in the direction away from the terminal


def color_changes(facts: Facts) -> Iterator[Problem]:
    """A conductor goes on in another color; one note for each box."""
    served = _served(facts)
    for box in facts.job.boxes.values():
        changed: dict[_Change, dict[str, None]] = dict(served.get(box.id, {}))
        for joint in facts.linked_joints(box.id):
            for change, who in _unserved(facts, joint):
                changed.setdefault(change, {})[who] = None
        if changed:
            parts = [
                f"{one} to {two} ({english_list(_in_order(facts, who))})"
                for (one, two), who in changed.items()
            ]
            yield COLOR_CHANGE.at(
                facts.job.joints[box.id].span if box.id in facts.job.joints else box.span,
                box=box.id,
                changes=", ".join(parts),
            )


def _in_order(facts: Facts, who: Iterable[str]) -> list[str]:
    """Stations in the order of the file, then the rest."""
    return sorted(who, key=lambda name: facts.order.get(name, len(facts.order)))


def _served(facts: Facts) -> dict[str, dict[_Change, dict[str, None]]]:
    """By box the changes on the ways of coils, with whose they are."""
    found: dict[str, dict[_Change, dict[str, None]]] = {}
    commons = {(c.conductor, c.leg) for c in facts.claims if c.role is Role.COMMON}
    others = {(c.conductor, c.leg) for c in facts.claims if c.role in (Role.HOT, Role.RETURN)}
    for circuit in (*facts.circuits.values(), *facts.half_circuits.values()):
        ways = [(circuit.hot, circuit.load.owner.id, commons)]
        if len(_commons_on(facts, circuit)) < 2:  # joined commons are a fault of their own
            shared = circuit.load.back is None
            ways.append((circuit.back, _back(circuit), others if shared else commons))
        for steps, who, foreign in ways:
            for one, two in _changes(facts, steps):
                if {(leg.conductor.name, leg.number) for leg in (one, two)} & foreign:
                    continue  # a wrong joint is no change of color
                change = (one.conductor.insulation.word, two.conductor.insulation.word)
                found.setdefault(one.end, {}).setdefault(change, {})[who] = None
    return found


def _commons_on(facts: Facts, circuit: Circuit) -> list[Use]:
    uses = facts.uses.of_end(circuit.load.back_end)
    return [use for use in uses if use.role is Role.COMMON]


def _back(circuit: Circuit) -> str:
    if circuit.load.back is None:
        return f"common of {circuit.load.controller}"
    return f"return of {circuit.load.owner.id}"


def _changes(facts: Facts, steps: Iterable[Step]) -> Iterator[tuple[Leg, Leg]]:
    legs = [step for step in steps if isinstance(step, Leg)]
    for one, two in pairwise(legs):
        if _differ(facts, one.conductor, two.conductor, one.end):
            yield one, two


def _differ(facts: Facts, one: Conductor, two: Conductor, box: str) -> bool:
    if one.insulation.word == two.insulation.word:
        return False
    # That a spare carries a common on from some box is told by itself.
    return facts.takeovers.isdisjoint((c.name, box) for c in (one, two))


def _unserved(facts: Facts, joint: Joint) -> Iterator[tuple[_Change, str]]:
    """Changes of what no coil is on: sensors, paths, spares, a common that only goes on."""
    conductors = facts.wiring.conductors
    ends = [end for end in joint.ends if end.of in conductors]
    if len({conductors[end.of].insulation.word for end in ends}) < 2:
        return
    for one, two in combinations(ends, 2):
        first, second = conductors[one.of], conductors[two.of]
        who = _shared(facts, one, two)
        if who and _differ(facts, first, second, joint.at):
            yield (first.insulation.word, second.insulation.word), who


def _shared(facts: Facts, one: End, two: End) -> str:
    """What both ends serve and no coil's way shows; empty if nothing."""
    written = facts.users.get(one.of, set()) & facts.users.get(two.of, set())
    uses = [use for use in facts.uses.of_end(one) if use in facts.uses.of_end(two)]
    if len(uses) == 1 and uses[0].role is Role.SENSOR:
        return uses[0].owner.words
    if len(uses) == 1 and uses[0].role is Role.PATH:
        crossed = facts.job.controllers[uses[0].of].path_polarity and not written
        return "" if crossed else uses[0].owner.words
    spares = {owner.id for owner in written if owner.kind is OwnerKind.SPARE}
    return next((name for name in facts.job.spares if name in spares), "")
