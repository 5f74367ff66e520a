"""What one value shows by itself."""

from __future__ import annotations

import pytest

from cardgen.diagnosis import FaultKind, diagnose_each
from cardgen.results import OL, Kind, Measured
from tests.diagnosis.small_yard import TREE, as_built_of, measured, walk
from tests.jobs import sample


def apart(text: str, *readings: Measured) -> list[tuple[FaultKind, str]]:
    asbuilt = as_built_of(text)
    found = diagnose_each(asbuilt, readings)
    return [(fault.kind, fault.name) for each in found for fault in each.apart]


@pytest.mark.parametrize(("megohms", "leaks"), [(0.02, True), (0.9, True), (1.0, False)])
def test_a_conductor_that_leaks_is_told_beside_good_ohms(megohms: float, leaks: bool) -> None:
    found = apart(TREE, *walk({}), measured("A3", Kind.INSULATION, megohms))
    assert found == ([(FaultKind.GROUND, "A-K1 green")] if leaks else [])


def test_the_newest_counts() -> None:
    leak, dry = (measured("A3", Kind.INSULATION, value) for value in (0.02, 50.0))
    assert apart(TREE, leak, dry) == []


def test_commons_that_nothing_should_join() -> None:
    """Controllers A and B of the sample share no metal."""
    joined = measured("", Kind.COMMON_TO_COMMON, 2.5, start="A", to="B")
    good = measured("", Kind.COMMON_TO_COMMON, OL, start="A", to="B")
    assert apart(sample("heron"), joined) == [(FaultKind.COMMONS_JOINED, "B")]
    assert apart(sample("heron"), good) == []
