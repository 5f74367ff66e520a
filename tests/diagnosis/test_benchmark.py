"""A seeded part of the benchmark: random yards, faults of all kinds, ngspice, a meter with errors.

`python -m tests.benchmarks.diagnosis` has the whole of it and its tables.  Kinds and weights are
common practice, no source; what must hold is less than the aims, for few cases scatter.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice
from statistics import mean

import pytest

from tests.diagnosis.cases import case_of
from tests.diagnosis.kinds import KINDS, STRANGE
from tests.diagnosis.scoring import Shown
from tests.diagnosis.tally import FEW, KEPT, Tally, pair_found, pairs_from, tally_of

STATIONS = 12
SEEDS = range(100, 102)
PAIRS = 10
SOUND_SEEDS = range(300, 310)


@pytest.fixture(scope="module")
def tallies() -> dict[str, Tally]:
    return {kind: tally_of(kind, SEEDS, stations=STATIONS) for kind in KINDS}


@pytest.fixture(scope="module")
def whole(tallies: dict[str, Tally]) -> Tally:
    return Tally.of(tallies.values())


def share(values: Iterable[bool]) -> float:
    return mean(map(float, values))


def test_the_true_place_is_kept(whole: Tally) -> None:
    assert len(whole.stands) >= 25
    assert share(stand.is_true for stand in whole.after(0)) >= 0.95


def test_few_places_are_left(whole: Tally) -> None:
    for readings, least in ((0, 0.7), (1, 0.85), (2, 0.9)):
        few = share(s.is_true and s.places <= FEW for s in whole.after(readings))
        assert few >= least, readings


def test_what_ohms_cannot_show_is_not_made_up(whole: Tally) -> None:
    hidden = whole.right[Shown.HIDDEN]
    assert hidden
    assert all(hidden)


def test_advice_takes_fewer_readings_than_always_halving(whole: Tally) -> None:
    advised, halved = zip(*whole.readings, strict=True)
    assert mean(advised) < 0.75 * mean(halved)


def test_sound_yards_are_called_healthy() -> None:
    for seed in SOUND_SEEDS:
        case = case_of(seed, [], STATIONS)
        assert case is not None
        found = case.diagnosed()
        assert found.is_healthy and not found.suspects, seed


@pytest.mark.parametrize("kind", STRANGE)
def test_a_kind_that_nobody_thought_of_is_not_called_healthy(kind: str) -> None:
    tally = tally_of(kind, range(100, 106), stations=STATIONS)
    assert tally.stands
    assert tally.healthy == 0


def test_pairs() -> None:
    """Both in one suspect, or one now, and so said, and the other when that is mended."""
    found = [pair_found(case) for case in islice(pairs_from(200, STATIONS), PAIRS)]
    assert mean(each in KEPT for each in found) >= 0.85
