"""Find the stations whose hot and common lie in different cables: either one cut, both are dead."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.common_faults import WAYS_APART
from cardgen.problems import Problem
from cardgen.wiring.uses import Role
from cardgen.wiring.wiring_parts import Circuit, Leg, Step


def ways_apart(facts: Facts) -> Iterator[Problem]:
    """Once for all stations of the same cables."""
    found: dict[tuple[tuple[str, ...], tuple[str, ...]], dict[str, Circuit]] = defaultdict(dict)
    for circuit in facts.circuits.values():
        load = circuit.load
        if load.owner.id not in facts.job.stations or circuit.ring or _joined(facts, circuit):
            continue
        if load.controller in facts.wiring.asked:
            continue  # which way it returns is not known
        hots, backs = _cables(circuit.hot), _cables(circuit.back)
        apart = tuple(cable for cable in backs if cable not in hots)
        if apart:
            found[tuple(hots), apart].setdefault(load.owner.id, circuit)
    for (cables, apart), circuits in found.items():
        one = len(circuits) == 1
        first = next(iter(circuits.values())).load
        yield WAYS_APART.at(
            first.span,
            stations=english_list(circuits),
            have="has its hot" if one else "have their hots",
            cables=english_list(cables),
            return_="returns" if one else "return",
            others=english_list(apart),
            they="it is" if one else "they are",
        )


def _cables(steps: Iterable[Step]) -> list[str]:
    return list(dict.fromkeys(s.conductor.cable.id for s in steps if isinstance(s, Leg)))


def _joined(facts: Facts, circuit: Circuit) -> bool:
    """Joined commons are a fault of their own."""
    uses = facts.uses.of_end(circuit.load.back_end)
    return len([use for use in uses if use.role is Role.COMMON]) > 1
