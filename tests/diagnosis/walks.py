"""A day in a yard: how warm it is, what its coils have, and what a meter shows on a walk."""

from __future__ import annotations

import math
import random
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from cardgen.asbuilt import AsBuilt, as_built, network_values
from cardgen.examine import examine_text
from cardgen.results import Kind, Measured
from tests.diagnosis.ground import circuit_of, common_end, hot_end, job_text
from tests.diagnosis.metal import Circuit, Ends, ohms_of
from tests.diagnosis.plans import Plan, PlannedValve

METER_OHMS = 1.0  # a hand-held meter with its leads; the larger of both, evenly spread
METER_SHARE = 0.01
SCATTER = 0.05  # of one coil from its batch, evenly spread
BATCH = 0.10  # of a batch from what the job says
COLD, WARM = -5.0, 45.0  # C of the conductors


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """Attributes:
    batches: by kind of coil its factor; coils: by valve that of its own.
    """

    celsius: float
    batches: Mapping[str, float]
    coils: Mapping[str, float]


def day_of(plan: Plan, seed: int) -> Day:
    rng = random.Random(f"day {plan.seed} {seed}")
    return Day(
        celsius=rng.uniform(COLD, WARM),
        batches={kind: 1 + rng.uniform(-BATCH, BATCH) for kind in plan.coils},
        coils={valve: 1 + rng.uniform(-SCATTER, SCATTER) for valve in plan.valves},
    )


@dataclass(slots=True, kw_only=True)
class Truth:
    """A yard as it lies today, which a meter can be put to."""

    plan: Plan
    circuit: Circuit
    day: Day
    meter: random.Random
    misread: Mapping[str, float] = field(default_factory=dict)

    def ohms(self, ends: Iterable[Ends]) -> dict[Ends, float]:
        """True ohms, warm as they are."""
        return ohms_of(self._today(), ends, self.day.celsius)

    def measured(self, one: str, two: str) -> float:
        """What the meter shows between two nodes."""
        return self.shown(self.ohms([(one, two)])[one, two])

    def shown(self, ohms: float) -> float:
        if math.isinf(ohms):
            return ohms
        most = max(METER_OHMS, METER_SHARE * ohms)
        shown = max(0.0, ohms + self.meter.uniform(-most, most))
        return round(shown, 1 if shown < 1000 else 0)

    def _today(self) -> Circuit:
        found = dict(self.circuit)
        for part, element in self.circuit.items():
            if part[0] == "coil":
                kind = self.plan.valves[part[1]].coil
                factor = self.day.batches[kind] * self.day.coils[part[1]]
                found[part] = replace(element, ohms=element.ohms * factor)
        return found

    def walk(self) -> dict[str, float]:
        """By the first valve of each station what is read at the controller."""
        ends = {v.id: ends_of(v) for v in first_valves(self.plan)}
        ohms = self.ohms(ends.values())
        return {
            valve: round(self.shown(ohms[pair]) * self.misread.get(valve, 1.0), 2)
            for valve, pair in ends.items()
        }


def first_valves(plan: Plan) -> list[PlannedValve]:
    """One of each station."""
    return list({v.station: v for v in reversed(plan.valves.values())}.values())[::-1]


def ends_of(valve: PlannedValve) -> Ends:
    return hot_end(valve), common_end(valve.controller)


def truth_of(plan: Plan, seed: int, circuit: Circuit | None = None) -> Truth:
    """The yard on some day, sound if no metal is given."""
    circuit = circuit_of(plan) if circuit is None else circuit
    meter = random.Random(f"meter {plan.seed} {seed}")
    return Truth(plan=plan, circuit=circuit, day=day_of(plan, seed), meter=meter)


def reading(plan: Plan, valve: str, value: float, kind: Kind = Kind.CONTROLLER) -> Measured:
    box = plan.valves[valve].box
    return Measured(
        id=f"{kind} {valve}",
        when="2026-05-04",
        record_key="7Q2F9KX4M3T8",
        box=box,
        valve=valve,
        kind=kind,
        value=value,
    )


def readings_of(plan: Plan, walk: Mapping[str, float]) -> list[Measured]:
    return [reading(plan, valve, value) for valve, value in walk.items()]


def built(text: str) -> AsBuilt:
    """The job as built, with its network."""
    examined = examine_text(text)
    assert examined.facts and not examined.has_errors, examined.problems[:3]
    return replace(as_built(examined.facts), network=network_values(examined.facts))


def built_of(plan: Plan) -> AsBuilt:
    return built(job_text(plan))
