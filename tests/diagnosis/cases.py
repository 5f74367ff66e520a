"""One yard on one day with its faults, walked and diagnosed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from cardgen.asbuilt import AsBuilt
from cardgen.diagnosis import Diagnosis, diagnose
from cardgen.results import Measured
from tests.diagnosis.kinds import inject, together
from tests.diagnosis.plans import Plan, random_plan
from tests.diagnosis.scoring import Shown, Ways, shown, ways_of
from tests.diagnosis.sites import Injected
from tests.diagnosis.walks import (
    Truth,
    built_of,
    ends_of,
    first_valves,
    readings_of,
    truth_of,
)


@dataclass(frozen=True, slots=True)
class Ground:
    """A yard before anything is wrong in it."""

    plan: Plan
    asbuilt: AsBuilt
    ways: Ways


@lru_cache(maxsize=64)
def ground_of(seed: int, stations: int | None = None) -> Ground:
    plan = random_plan(seed, stations)
    return Ground(plan, built_of(plan), ways_of(plan))


@dataclass(slots=True)
class Case:
    """Attributes:
    faults: none of a sound yard.
    readings: of the walk, then of what was measured after it.
    """

    ground: Ground
    seed: int
    faults: tuple[Injected, ...]
    truth: Truth
    readings: list[Measured] = field(default_factory=list)

    def diagnosed(self) -> Diagnosis:
        return diagnose(self.ground.asbuilt, self.readings)

    @property
    def shown(self) -> Shown:
        """What a walk without a meter's error could show of it."""
        if any(fault.misread != 1 for fault in self.faults):
            return Shown.CLEAR
        return shown(self.ground.plan, *self.true_walks())

    def true_walks(self) -> tuple[Mapping[str, float], Mapping[str, float]]:
        """By the first valve of each station the true ohms without the faults, and with them."""
        ends = {v.id: ends_of(v) for v in first_valves(self.ground.plan)}
        sound = truth_of(self.ground.plan, self.seed).ohms(ends.values())
        bad = self.truth.ohms(ends.values())
        return (
            {valve: sound[pair] for valve, pair in ends.items()},
            {valve: bad[pair] for valve, pair in ends.items()},
        )

    def mended(self, fault: Injected) -> Case:
        """The same yard and day without one of its faults, walked again."""
        rest = tuple(other for other in self.faults if other is not fault)
        found = _case(self.ground, self.seed, rest)
        assert found is not None
        return found


def case_of(seed: int, kinds: Sequence[str], stations: int | None = None) -> Case | None:
    """The case of a seed; None where its yard has no place for the faults."""
    ground = ground_of(seed, stations)
    faults = [inject(ground.plan, kind, seed + n) for n, kind in enumerate(kinds)]
    placed = tuple(fault for fault in faults if fault is not None)
    return _case(ground, seed, placed) if len(placed) == len(faults) else None


def _case(ground: Ground, seed: int, faults: tuple[Injected, ...]) -> Case | None:
    circuit = together(ground.ways.circuit, faults)
    if circuit is None:
        return None
    truth = truth_of(ground.plan, seed, circuit)
    truth.misread = {f.valves[0]: f.misread for f in faults if f.misread != 1}
    return Case(ground, seed, faults, truth, readings_of(ground.plan, truth.walk()))
