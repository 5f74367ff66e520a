"""The likelihood of a walk, against the same Gaussian written out by numpy."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest

from cardgen.diagnosis.evidence import evidence_of
from cardgen.diagnosis.likelihood import Fit
from cardgen.diagnosis.weights import COIL_BATCH, UNEXPLAINED, WIRE_PART
from cardgen.diagnosis.yard import Yard
from cardgen.results import OL
from tests.diagnosis.small_yard import as_built_of, walk


def fit_of(changed: dict[int, float]) -> Fit:
    asbuilt = as_built_of()
    assert asbuilt.network is not None
    return Fit(evidence_of(Yard(asbuilt, asbuilt.network), walk(changed)))


def gaussian(fit: Fit, expected: dict[int, float]) -> float:
    """Log density of the values around what is expected; batch and warmth are in the covariance."""
    indices = sorted(expected)
    left = np.array([fit.evidence[i].value - expected[i] for i in indices])
    shares = np.array([fit.shares(i, expected[i]) for i in indices])
    own = np.diag([fit.evidence[i].variance(expected[i]) for i in indices])
    covariance = own + shares @ np.diag([COIL_BATCH**2, WIRE_PART**2]) @ shares.T
    _, log_determinant = np.linalg.slogdet(2 * math.pi * covariance)
    return float(-0.5 * (log_determinant + left @ np.linalg.solve(covariance, left)))


def test_a_sound_walk_is_as_likely_as_its_gaussian() -> None:
    fit = fit_of({3: 36.0, 8: 43.0})
    assert fit.off == frozenset()
    sound = {i: each.sound for i, each in enumerate(fit.evidence)}
    assert fit.log_likelihood({}) == pytest.approx(gaussian(fit, sound))


def test_where_some_are_expected_otherwise() -> None:
    fit = fit_of({4: 94.5})
    assert fit.off == {3}
    expected = {i: each.sound for i, each in enumerate(fit.evidence)} | {3: 94.0}
    assert fit.log_likelihood({3: 94.0}) == pytest.approx(gaussian(fit, expected))


def test_what_fits_nothing_is_unexplained() -> None:
    fit = fit_of({4: 94.5})
    rest = {i: each.sound for i, each in enumerate(fit.evidence) if i != 3}
    assert fit.weighed({})[1] == {3}
    assert fit.log_likelihood({}) == pytest.approx(gaussian(fit, rest) + UNEXPLAINED)
    assert fit.weighed({3: OL})[1] == {3}


def test_a_batch_that_is_high_and_a_warm_yard_are_no_alarm() -> None:
    """All coils a tenth over: 3 ohm more each, the wire 8 % warmer (40 C)."""
    warm = {n: 33.0 + 1.08 * wire for n, wire in zip(range(1, 9), WIRES, strict=True)}
    fit = fit_of(warm)
    assert fit.off == frozenset()
    assert fit.factors[0] == pytest.approx(0.1, abs=0.02)


# Ohms of both ways of the worked tree, by hand: 0.00638 ohm a foot of 18 AWG at 20 C, twice.
WIRES = (2.6, 2.6, 4.5, 4.5, 7.7, 7.7, 11.5, 11.5)


def test_one_that_is_far_off_pulls_nothing() -> None:
    assert fit_of({4: 94.5}).factors[0] == pytest.approx(fit_of({}).factors[0], abs=0.01)


def test_a_batch_that_high_may_be_something_else() -> None:
    """10 ohm more on every station, as where a common is on the terminal of a twin."""
    assert fit_of({n: 10.0 + 30.0 + wire for n, wire in enumerate(WIRES, 1)}).is_batch_far_off
    assert not fit_of({n: 33.0 + wire for n, wire in enumerate(WIRES, 1)}).is_batch_far_off


def test_what_the_batch_of_all_others_does_not_explain_is_off() -> None:
    """All read two coils but one, 15 ohm less: near enough to a batch, too far from this one."""
    two = {n: 60.0 + wire for n, wire in enumerate(WIRES, 1)} | {6: 51.0}
    fit = fit_of(two)
    expected = {index: 60.0 + wire for index, wire in enumerate(WIRES)}
    coils = dict.fromkeys(expected, (("usual", 30.0), ("usual", 30.0)))
    assert fit.weighed(expected, coils)[1] == {5}


@pytest.mark.parametrize("seed", range(20))
def test_nothing_that_some_values_may_be_is_likelier_than_the_most(seed: int) -> None:
    """Of two or three values any ohms are expected, those that were read, too: the likeliest."""
    chance = random.Random(seed)
    fit = fit_of({4: 94.5, chance.randint(1, 3): OL, chance.randint(5, 8): 12.0})
    finite = [i for i, each in enumerate(fit.evidence) if each.value < OL]
    changed = chance.sample(finite, chance.randint(2, 3))
    left_off = fit.off - set(changed)
    sound = {i: each.sound for i, each in enumerate(fit.evidence) if i not in left_off}
    for factor in (0.0, 0.5, 1.0, 1.0, 3.0):
        expected = {i: factor * chance.uniform(0.9, 1.1) * fit.evidence[i].value for i in changed}
        likely = gaussian(fit, sound | expected) + UNEXPLAINED * len(left_off)
        assert likely <= fit.most_log(changed)
    exactly = {i: fit.evidence[i].value for i in changed}
    assert fit.log_likelihood(exactly) <= fit.most_log(changed)


@pytest.mark.parametrize("lost", range(1, 8))
def test_as_many_as_may_be_lost_are_lost_where_the_rest_is_as_likely_as_can_be(lost: int) -> None:
    """Each keeps its coil at least: none is likelier than where it reads just what is expected."""
    fit = fit_of({})
    rest = {i: fit.evidence[i].value for i in range(lost, len(fit.evidence))}
    likely = gaussian(fit, rest) + UNEXPLAINED * lost
    assert fit.most_lost(range(len(fit.evidence)), likely) >= lost
    assert fit.most_lost(range(len(fit.evidence)), UNEXPLAINED * (lost - 1)) < lost
