"""Where a fault is to be put into a yard, and what is kept of it: kind, place, metal."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeVar

from tests.diagnosis.metal import Circuit, Part
from tests.diagnosis.plans import Plan, PlannedCable, PlannedValve

Thing = TypeVar("Thing")


@dataclass(frozen=True, slots=True, kw_only=True)
class Injected:
    """A fault with its place: on a leg from `start` to `end`, or at one place where both are it.

    Attributes:
        kind: one of `KINDS`.
        conductors: any of which may be named; all those in one connector; none for terminals.
        circuit: the metal with it.
        valves: whose reading, hot or coil it is.
        misread: what is written for a value of that valve instead of what the meter shows.
    """

    kind: str
    circuit: Circuit
    start: str
    end: str
    conductors: tuple[str, ...] = ()
    valves: tuple[str, ...] = ()
    name: str = ""
    ohms: float = math.inf
    misread: float = 1.0


class Impossible(Exception):
    """The yard has no place for it."""


@dataclass(frozen=True, slots=True)
class Site:
    """Where a fault is to be: the plan, the metal as it is by now, and the dice."""

    plan: Plan
    circuit: Circuit
    random: random.Random

    def pick(self, things: list[Thing]) -> Thing:
        if not things:
            raise Impossible
        return self.random.choice(things)

    def extra(self) -> float:
        """Of a wet or half-broken splice: 5 to 5,000 ohms, each decade alike."""
        return float(5 * 1000 ** self.random.random())

    def parts(self, kind: str, conductors: set[str]) -> list[Part]:
        return [part for part in self.circuit if part[0] == kind and part[1] in conductors]

    @property
    def hots(self) -> set[str]:
        return {hot for valve in self.plan.valves.values() for hot in valve.hots}

    @property
    def commons(self) -> set[str]:
        return {cable.common for cable in self.plan.cables.values() if not cable.is_link}

    def valve(self) -> PlannedValve:
        return self.pick(list(self.plan.valves.values()))

    def on(self, conductor: str) -> tuple[str, ...]:
        """The valves on a hot."""
        return tuple(v.id for v in self.plan.valves.values() if conductor in v.hots)

    def is_twin(self, valve: PlannedValve) -> bool:
        return sum(v.station == valve.station for v in self.plan.valves.values()) > 1

    def at_coil(self, kind: str, valve: PlannedValve, circuit: Circuit, ohms: float) -> Injected:
        """In a box, of a valve: its leads share the connectors of its hot and its common."""
        return Injected(
            kind=kind,
            circuit=circuit,
            start=valve.box,
            end=valve.box,
            conductors=(valve.hots[-1], self.plan.cables[valve.cable].common),
            valves=(valve.id,),
            ohms=ohms,
        )

    def legs(self, cable: PlannedCable) -> Iterator[tuple[str, str, list[str]]]:
        """Each leg with the hots in use on it."""
        for start, end in zip(cable.places, cable.places[1:], strict=False):
            used = [h for h in cable.hots.values() if ("leg", h, start, end) in self.circuit]
            yield start, end, used

    def cable(self) -> PlannedCable:
        return self.pick([c for c in self.plan.cables.values() if not c.is_link])
