"""One thing that may be wrong, put into the network: what each meter would read then."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType
from typing import NamedTuple

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.evidence import Coils, Evidence
from cardgen.diagnosis.likelihood import NO_OTHERS, Fit
from cardgen.diagnosis.one_resistor import by_ohms
from cardgen.diagnosis.walk_tests import WalkTest
from cardgen.diagnosis.weights import LOG_WEIGHT
from cardgen.diagnosis.yard import (
    NetworkChange,
    NetworkEdge,
    Port,
    Probe,
    Yard,
    between,
    in_series,
    opened,
)
from cardgen.light_dataclass import replace
from cardgen.results import OL, Kind

Expected = Callable[[float], Mapping[int, float]]  # by ohms: by index what is read
_SOME = 10.0  # ohms, any that are neither none nor very many
_GOLDEN = (math.sqrt(5) - 1) / 2


class Place(NamedTuple):
    site: SuspectSite
    changes: tuple[NetworkChange, ...]


@dataclass(frozen=True, kw_only=True)
class Hypothesis:
    """Attributes:
    expected: by index of the evidence, ohms of what it changes.
    changes, exchanged: how it changes any other reading: edges, and the wires on terminals.
    log_weight: with all that the search for its ohms could have found besides.
    places: alike for what was read, each with the changes as they would be there.
    coils: by index of the evidence those of its loop, where they are others than as built.
    """

    fault: SuspectedFault
    expected: Mapping[int, float]
    log_weight: float
    changes: tuple[NetworkChange, ...] = ()
    exchanged: Mapping[int, int] = field(default_factory=dict)
    places: tuple[Place, ...] = ()
    coils: Mapping[int, Coils] = field(default_factory=dict)


def moved(probe: Probe, exchanged: Mapping[int, int]) -> Probe:
    """The meter on the same terminals, when the wires on them are exchanged."""
    if not exchanged:
        return probe
    one, two = (exchanged.get(node, node) for node in (probe.one, probe.two))
    return replace(probe, one=one, two=two)


@dataclass(frozen=True, eq=False)
class Question:
    """What is asked: these values, where `before` is known to be wrong already.

    Attributes:
        evidence: `sound` is what the meters read with `before` made.
        through: by number of an edge the indices of the values whose current goes through, and
            how much of it.
        walks: what was seen to run.
        least: log of how likely a hypothesis must be, at least, to be asked for.
    """

    yard: Yard
    evidence: Sequence[Evidence]
    before: tuple[NetworkChange, ...] = ()
    exchanged: Mapping[int, int] = field(default_factory=dict)
    through: Mapping[int, tuple[tuple[int, float], ...]] = field(default_factory=dict)
    walks: Sequence[WalkTest] = ()
    least: float = -math.inf

    def is_hopeless(self, changed: Iterable[int], log_weight: float) -> bool:
        """No hypothesis of that weight, or less, that changes these values reaches the least."""
        return self.least > -math.inf and self.fit.most_log(changed) + log_weight < self.least

    @cached_property
    def fit(self) -> Fit:
        return Fit(self.evidence)

    @cached_property
    def off(self) -> frozenset[int]:
        return self.fit.off

    def reading(
        self,
        index: int,
        changes: Sequence[NetworkChange],
        exchanged: Mapping[int, int] = MappingProxyType({}),
    ) -> float:
        """Ohms of one value's meter with these changes, too."""
        probe = moved(moved(self.evidence[index].probe, self.exchanged), exchanged)
        return self.yard.reading(probe, (*self.before, *changes), len(self.before))

    def readings(self, indices: Iterable[int], *changes: NetworkChange) -> dict[int, float]:
        return {index: self.reading(index, changes) for index in indices}

    def by_ohms_between(self, indices: Iterable[int], one: Port, two: Port) -> Expected:
        """What is read when two points touch, by the ohms between them."""
        reads = {
            index: by_ohms(
                self.evidence[index].sound,
                (0.0, self.reading(index, [between(one, two, 0.0)])),
                (_SOME, self.reading(index, [between(one, two, _SOME)])),
            )
            for index in indices
        }
        return lambda ohms: {index: read.at(ohms) for index, read in reads.items()}

    def by_ohms_in(self, indices: Iterable[int], edge: NetworkEdge) -> Expected:
        """What is read by the ohms of an edge."""
        reads = {
            index: by_ohms(
                self.reading(index, [opened(edge)]),
                (edge.ohms, self.evidence[index].sound),
                (edge.ohms + _SOME, self.reading(index, [in_series(edge, _SOME)])),
            )
            for index in indices
        }
        return lambda ohms: {index: read.at(ohms) for index, read in reads.items()}

    def at_controller(self, index: int) -> bool:
        """Measured between a terminal and C."""
        return self.evidence[index].kind is Kind.CONTROLLER

    def valves_of(self, indices: Iterable[int]) -> tuple[str, ...]:
        """Those of some values, each once."""
        return tuple(dict.fromkeys(v for index in indices for v in self.evidence[index].valves))

    def at_strip(self, index: int) -> SuspectSite:
        """At the terminals of its controller."""
        at = self.yard.asbuilt.valve[self.evidence[index].valves[0]].controller
        return SuspectSite(conductor="", start=at, end=at)

    def is_of_one_coil(self, index: int) -> bool:
        return self.at_controller(index) and len(self.evidence[index].valves) == 1

    def is_finite(self, index: int) -> bool:
        """Neither is OL: what was read, and what should be."""
        each = self.evidence[index]
        return max(each.value, each.sound) < OL

    def is_low(self, index: int) -> bool:
        """The value is off, and there is less of it than there should be."""
        each = self.evidence[index]
        is_less = each.value < each.sound < OL
        return is_less and index in self.off and self.at_controller(index)

    def misfit(
        self, expected: Mapping[int, float], coils: Mapping[int, Coils] = NO_OTHERS
    ) -> float:
        """Half the squares of what is left, in standard deviations; beyond all bounds for OL."""
        whole = 0.0
        for index, ohms in expected.items():
            value = self.evidence[index].value
            if OL in (ohms, value):
                whole += 0.0 if ohms == value else 1e6
            else:
                whole += self.fit.half_squares(index, ohms, coils.get(index))
        return whole

    def far(
        self, index: int, expected: float | None = None, coils: Mapping[int, Coils] = NO_OTHERS
    ) -> float:
        """Standard deviations of a value from what is expected; from the sound ohms if None."""
        if expected is None:
            return self._far_from_sound[index]
        return math.sqrt(2 * self.misfit({index: expected}, coils))

    @cached_property
    def _far_from_sound(self) -> tuple[float, ...]:
        return tuple(self.far(index, each.sound) for index, each in enumerate(self.evidence))

    @cached_property
    def _variances(self) -> tuple[float, ...]:
        return tuple(each.variance(each.sound) for each in self.evidence)

    def are_apart(self, one: int, other: int, deviations: float) -> bool:
        """The sound ohms of two values, by more than coils and meters scatter."""
        apart = self.evidence[one].sound - self.evidence[other].sound
        return abs(apart) ** 2 > deviations**2 * self._variances[one]

    def misfit_of_other(self, index: int, other: int) -> float:
        """As `misfit` of one value where the wires of another are at its terminal."""
        value = self.evidence[index].value
        if OL in (value, self.evidence[other].sound):
            return 0.0 if value == self.evidence[other].sound else 1e6
        return self.fit.half_squares_of_other(index, other)

    def fits(self, index: int, ohms: float) -> bool:
        """The sound wiring would show that value instead."""
        expected = self.fit.expected(index)
        return expected is not None and abs(ohms - expected[0]) < 3 * expected[1]

    def best_ohms(self, expected: Expected, least: float, most: float) -> float:
        """Those that fit best: first of steps in equal ratios, then by golden section."""
        count = 25
        ratio = (most / least) ** (1 / (count - 1))
        steps = [least * ratio**number for number in range(count)]
        fits = [self.misfit(expected(ohms)) for ohms in steps]
        middle = min(range(count), key=fits.__getitem__)
        low, high = steps[max(middle - 1, 0)], steps[min(middle + 1, count - 1)]
        one, two = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        left, right = self.misfit(expected(one)), self.misfit(expected(two))
        for _ in range(14):
            if left <= right:
                high, two, right = two, one, left
                one = high - _GOLDEN * (high - low)
                left = self.misfit(expected(one))
            else:
                low, one, left = one, two, right
                two = low + _GOLDEN * (high - low)
                right = self.misfit(expected(two))
        return float(low + high) / 2

    def spread(self, indices: Iterable[int], slope: float = 1.0) -> float:
        """Ohms, one standard deviation, to which these values tell what adds `slope` each."""
        weights = [
            slope**2 / self.evidence[index].variance(self.evidence[index].value)
            for index in indices
            if self.evidence[index].value < OL
        ]
        return 1 / math.sqrt(sum(weights)) if sum(weights) else math.inf


def question_of(
    yard: Yard, evidence: Sequence[Evidence], walks: Sequence[WalkTest] = ()
) -> Question:
    found: dict[int, list[tuple[int, float]]] = {}
    for index, each in enumerate(evidence):
        for edge, amperes in each.currents:
            found.setdefault(edge.number, []).append((index, amperes))
    through = {number: tuple(values) for number, values in found.items()}
    return Question(yard=yard, evidence=evidence, through=through, walks=walks)


def log_narrowed(spread: float, ohms: float, ratio: float) -> float:
    """Log of the part of all ohms, alike in every ratio, that the values leave: no free choice."""
    part = math.sqrt(2 * math.pi) * spread / ohms / math.log(ratio)
    return math.log(min(1.0, max(part, 1e-9)))


def log_of_range(spread: float, most: float) -> float:
    """The same where all ohms up to `most` are alike likely."""
    return math.log(min(1.0, max(math.sqrt(2 * math.pi) * spread / most, 1e-9)))


def weight_of(kind: FaultKind, count: float = 1.0) -> float:
    """Log weight of as many things that may have it."""
    return LOG_WEIGHT[kind] + math.log(max(count, 1e-6))


def sites_of(edges: Sequence[NetworkEdge], outward: Mapping[int, bool]) -> tuple[SuspectSite, ...]:
    """Legs of one conductor that follow each other are one; each from the controller outward."""
    found: list[SuspectSite] = []
    legs = sorted((e for e in edges if e.conductor), key=lambda e: (e.conductor, e.leg))
    run: list[NetworkEdge] = []
    for edge in (*legs, None):
        if run and (
            edge is None or edge.conductor != run[-1].conductor or edge.leg != run[-1].leg + 1
        ):
            forward = outward.get(run[0].number, True)
            start, end = (run[0].start, run[-1].end) if forward else (run[-1].end, run[0].start)
            found.append(SuspectSite(conductor=run[0].conductor, start=start, end=end))
            run = []
        if edge is not None:
            run.append(edge)
    found += [
        SuspectSite(conductor=edge.link, start=edge.start, end=edge.end)
        for edge in edges
        if edge.link
    ]
    return tuple(found)
