"""How likely the values are, for what is expected: the batch of the coils and the warmth fitted.

All coils of one kind are alike a part too high or too low, and so is all wire; each part is
unknown, near 1, and goes into the likelihood with all that it may be (a linear Gaussian model:
marginal likelihood, Bishop, Pattern Recognition and Machine Learning, 3.5.1).
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from functools import cached_property
from types import MappingProxyType

from cardgen.diagnosis.evidence import Coils, Evidence
from cardgen.diagnosis.weights import (
    COIL_BATCH,
    COIL_SCATTER,
    METER_OHMS,
    METER_PART,
    UNEXPLAINED,
    WIRE_PART,
)
from cardgen.results import OL, Kind

Row = tuple[float, tuple[float, ...], float]  # what is left, shares of coils and wire, variance
NO_OTHERS: Mapping[int, Coils] = MappingProxyType({})
_STEPS = 8
_MOST_PRIORS = 2.5  # standard deviations: no batch is further off, whatever its values show
OFF = 4.5  # standard deviations: beyond them a sound yard does not explain a value
_FAR_BATCH = 1.5  # standard deviations
_LOST = 5.3  # standard deviations: beyond them a value is not explained
_ROUNDING = 0.01  # more than the logs of sums lose
_MOST_FARTHER = 3  # values: with more the fault is another


class Fit:
    """Of one walk.

    Attributes:
        kinds: of coils.
        factors: by how much of its ohms each kind is off, and last all wire.
        off: the values that a sound yard does not explain, by index.
        log_sound: how likely all values are where nothing is wrong.
    """

    def __init__(self, evidence: Sequence[Evidence]) -> None:
        self.evidence = evidence
        self.kinds = tuple(dict.fromkeys(kind for each in evidence for kind, _ in each.coils))
        self._place = {kind: number for number, kind in enumerate(self.kinds)}
        self._none = (0.0,) * (len(self.kinds) + 1)
        self._priors = (*(COIL_BATCH for _ in self.kinds), WIRE_PART)
        self._rows = {
            index: self._row(index, each.sound)
            for index, each in enumerate(evidence)
            if each.value < OL and each.sound < OL
        }
        self.factors = (0.0,) * len(self._priors)
        self.off = self._find_off()
        self._sound = {i: row for i, row in self._rows.items() if i not in self.off}
        self._sums = _Sums(self._priors)
        for row in self._sound.values():
            self._sums.add(row)
        self.log_sound = self.log_likelihood({})

    @property
    def is_batch_far_off(self) -> bool:
        """So far that all values may have another reason: few ohms more in each of them."""
        return any(abs(factor) > _FAR_BATCH * COIL_BATCH for factor in self.factors[:-1])

    def most_log(self, changed: Iterable[int]) -> float:
        """No less than how likely all values are, whatever is expected of these and not of others.

        Each of these is then one of a Gaussian that is no narrower than its meter's.
        """
        free = self._beside_controller.union(changed)
        tops = sum([self._tops[index] for index in free])
        log_of_others = self._sums_but(free).log_evidence()
        return UNEXPLAINED * len(self.off - free) + log_of_others + tops + _ROUNDING

    @cached_property
    def _beside_controller(self) -> frozenset[int]:
        """What is read elsewhere is asked of every hypothesis, whatever its maker looks at."""
        kinds = (each.kind is Kind.CONTROLLER for each in self.evidence)
        return frozenset(index for index, is_there in enumerate(kinds) if not is_there)

    @cached_property
    def _tops(self) -> tuple[float, ...]:
        """By index the log of the most of its Gaussian, none where it is less."""
        least = (each.spread or METER_OHMS for each in self.evidence)
        return tuple(max(-math.log(math.sqrt(2 * math.pi) * d), 0.0) for d in least)

    def most_lost(self, indices: Iterable[int], least: float) -> float:
        """How many of these may be lost, each with its own coils at least, to be as likely yet."""
        if least == -math.inf:
            return math.inf
        tops = [self._tops_with_coils[index] for index in indices]
        most = sum(tops) + sum(self._tops) + _ROUNDING
        return (most - least) / (min(tops) - UNEXPLAINED)  # the top of a lost one does not count

    @cached_property
    def _tops_with_coils(self) -> tuple[float, ...]:
        least = (
            METER_OHMS**2 + sum((COIL_SCATTER * ohms) ** 2 for _, ohms in each.coils)
            for each in self.evidence
        )
        return tuple(-0.5 * math.log(2 * math.pi * variance) for variance in least)

    def is_lost(self, index: int, expected: float, coils: Coils) -> bool:
        """Whatever else is so, this value is not explained."""
        value = self.evidence[index].value
        if OL in (expected, value):
            return expected != value
        return self._far(self._row(index, expected, coils), spread=True) > _LOST

    def _row(self, index: int, expected: float, coils: Coils | None = None) -> Row:
        each = self.evidence[index]
        own, wire = each.in_loop(expected, coils)
        shares = self._shares(own, wire) if not each.spread else self._none
        return each.value - expected, shares, each.variance_of(expected, own, wire)

    def shares(self, index: int, expected: float) -> tuple[float, ...]:
        """Ohms of each kind of coil, and last of wire, in what is expected."""
        return self._row(index, expected)[1] if expected < OL else self._none

    def _shares(self, coils: Coils, wire: float) -> tuple[float, ...]:
        found = [0.0] * len(self.kinds)
        for kind, ohms in coils:
            if kind in self._place:  # of a valve that was not measured there may be none
                found[self._place[kind]] += ohms
        return (*found, wire)

    def half_squares(self, index: int, expected: float, coils: Coils | None = None) -> float:
        """Of the standard deviations between value and expected, the batch as fitted."""
        if coils is None:
            value, sound, added, scatter = self._by_value[index]
            if sound < OL:
                part = min(expected / sound, 1.0) if sound else 1.0
                variance = (METER_OHMS + METER_PART * expected) ** 2 + part**2 * scatter
                return (value - expected - part * added) ** 2 / variance / 2
        left, shares, variance = self._row(index, expected, coils)
        for factor, share in zip(self.factors, shares, strict=True):
            left -= factor * share
        return left**2 / variance / 2

    @cached_property
    def _by_value(self) -> tuple[tuple[float, float, float, float], ...]:
        """By index the value, and of sound wiring its ohms, what batch and warmth add, the scatter.

        The ohms are endless where the value is a rough one: that has no such parts.
        """
        found = []
        for index, each in enumerate(self.evidence):
            sound, added, scatter = OL, 0.0, 0.0
            if each.sound < OL and not each.spread:
                _, shares, variance = self._row(index, each.sound)
                sound = each.sound
                added = sum(f * s for f, s in zip(self.factors, shares, strict=True))
                scatter = variance - (METER_OHMS + METER_PART * sound) ** 2
            found.append((each.value, sound, added, scatter))
        return tuple(found)

    def half_squares_of_other(self, index: int, other: int) -> float:
        """The same where the sound wires and coils of another value, both in ohms, are there."""
        sound, added, variance = self._parts_of_sound[other]
        left = self.evidence[index].value - sound
        for ohms in added:
            left -= ohms
        return left**2 / variance / 2

    @cached_property
    def _parts_of_sound(self) -> tuple[tuple[float, tuple[float, ...], float], ...]:
        """By index the ohms as built, what the batch and the warmth add, the variance."""
        found = []
        for index, each in enumerate(self.evidence):
            _, shares, variance = self._row(index, each.sound)
            added = tuple(f * s for f, s in zip(self.factors, shares, strict=True))
            found.append((each.sound, added, variance))
        return tuple(found)

    def _find_off(self) -> frozenset[int]:
        """By weights that fall to nothing where a value is far off (Tukey's biweight)."""
        wrong = {
            index
            for index, each in enumerate(self.evidence)
            if (each.value == OL) != (each.sound == OL)
        }
        far = {index: self._far(row, spread=True) for index, row in self._rows.items()}
        for step in range(_STEPS):
            sums = _Sums(self._priors)
            for index, row in self._rows.items():
                weight = max(0.0, 1 - (far[index] / 5) ** 2) ** 2
                if weight:
                    sums.add(row, weight)
            self.factors = tuple(
                max(-_MOST_PRIORS * prior, min(_MOST_PRIORS * prior, factor))
                for factor, prior in zip(sums.factors(), self._priors, strict=True)
            )
            spread = step < 2
            far = {index: self._far(row, spread=spread) for index, row in self._rows.items()}
        return frozenset(wrong | {index for index, z in far.items() if z > OFF})

    def _far(
        self, row: Row, *, spread: bool = False, factors: Sequence[float] | None = None
    ) -> float:
        """In standard deviations, from what the factors expect."""
        left, shares, variance = row
        if spread:
            for prior, share in zip(self._priors, shares, strict=True):
                variance += (prior * share) ** 2
        for factor, share in zip(factors or self.factors, shares, strict=True):
            left -= factor * share
        return abs(left) / math.sqrt(variance)

    def expected(self, index: int) -> tuple[float, float] | None:
        """Ohms of a sound wiring in this yard on this day, and one standard deviation."""
        each = self.evidence[index]
        if each.sound == OL:
            return None
        _, shares, variance = self._row(index, each.sound)
        added = sum(f * s for f, s in zip(self.factors, shares, strict=True))
        return each.sound + added, math.sqrt(variance)

    def left(self, index: int) -> float:
        """Ohms that the value has more than a sound wiring would show."""
        expected = self.expected(index)
        assert expected is not None
        return self.evidence[index].value - expected[0]

    def log_likelihood(self, changed: Mapping[int, float]) -> float:
        """Of all values, where some are expected otherwise; what fits nothing is unexplained."""
        return self.weighed(changed)[0]

    def weighed(
        self, changed: Mapping[int, float], coils: Mapping[int, Coils] = NO_OTHERS
    ) -> tuple[float, frozenset[int]]:
        """That likelihood, and the values that are still off where some are expected otherwise.

        Args:
            coils: by index, where they are others than as built.
        """
        sums = self._sums_but(changed)
        lost = {index for index in self.off if index not in changed}
        rows: dict[int, Row] = {}
        for index, expected in changed.items():
            value = self.evidence[index].value
            if OL in (expected, value):
                lost |= {index} if expected != value else set()
                continue
            row = self._row(index, expected, coils.get(index))
            if self._far(row, spread=True) > _LOST:
                lost.add(index)
            else:
                rows[index] = row
                sums.add(row)
        lost |= self._farther(sums, rows)
        return UNEXPLAINED * len(lost) + sums.log_evidence(), frozenset(lost)

    def _sums_but(self, changed: Collection[int]) -> _Sums:
        """Of what a sound yard explains, some left out: from all down or from none up."""
        if 2 * len(changed) < len(self._sound):
            sums = self._sums.copy()
            for index in changed:
                if index in self._sound:
                    sums.add(self._sound[index], -1.0)
            return sums
        sums = _Sums(self._priors)
        for index, row in self._sound.items():
            if index not in changed:
                sums.add(row)
        return sums

    def _farther(self, sums: _Sums, rows: dict[int, Row]) -> set[int]:
        """Values that the batch of all others does not explain, the farthest first."""
        found: set[int] = set()
        while rows and len(found) < _MOST_FARTHER:
            factors = sums.factors()
            far = {index: self._far(row, factors=factors) for index, row in rows.items()}
            worst = max(far, key=far.__getitem__)
            if far[worst] <= _LOST:
                break
            sums.add(rows.pop(worst), -1.0)
            found.add(worst)
        return found


class _Sums:
    """Of the linear model, kept so that a value can be added and taken away again."""

    def __init__(self, priors: Sequence[float]) -> None:
        self.size = len(priors)
        self.squares = 0.0
        self.logs = -sum(math.log(prior**-2) for prior in priors)
        self.right = [0.0] * self.size
        self.table = [
            [priors[i] ** -2 if i == k else 0.0 for k in range(self.size)] for i in range(self.size)
        ]

    def copy(self) -> _Sums:
        other = _Sums.__new__(_Sums)
        other.size, other.squares, other.logs = self.size, self.squares, self.logs
        other.right = list(self.right)
        other.table = [list(row) for row in self.table]
        return other

    def add(self, row: Row, weight: float = 1.0) -> None:
        left, shares, variance = row
        weight_of = weight / variance
        self.squares += weight_of * left**2
        self.logs += weight * math.log(2 * math.pi * variance)
        for i, share in enumerate(shares):
            if share:
                self.right[i] += weight_of * share * left
                line = self.table[i]
                for k, other in enumerate(shares):
                    line[k] += weight_of * share * other

    def factors(self) -> tuple[float, ...]:
        return tuple(_cholesky(self.table, self.right)[0])

    def log_evidence(self) -> float:
        solved, log_determinant = _cholesky(self.table, self.right)
        explained = sum(r * f for r, f in zip(self.right, solved, strict=True))
        return -0.5 * (self.squares - explained + self.logs + log_determinant)


def _cholesky(
    table: Sequence[Sequence[float]], right: Sequence[float]
) -> tuple[list[float], float]:
    """The solution, and the log of the determinant, of a table that is positive definite."""
    size = len(right)
    lower = [[0.0] * size for _ in range(size)]
    for i in range(size):
        for k in range(i + 1):
            left = table[i][k] - sum(lower[i][j] * lower[k][j] for j in range(k))
            lower[i][k] = math.sqrt(left) if i == k else left / lower[k][k]
    half: list[float] = []
    for i in range(size):
        half.append((right[i] - sum(lower[i][j] * half[j] for j in range(i))) / lower[i][i])
    found = [0.0] * size
    for i in reversed(range(size)):
        known = sum(lower[j][i] * found[j] for j in range(i + 1, size))
        found[i] = (half[i] - known) / lower[i][i]
    return found, 2 * sum(math.log(lower[i][i]) for i in range(size))
