"""What ran in a simulated yard is explained by the fault that is in it, and finds more of them."""

from __future__ import annotations

from statistics import mean

import pytest

from tests.diagnosis.cases import Case, case_of
from tests.diagnosis.scoring import is_kept
from tests.diagnosis.seen import seen_running

STATIONS = 12
SEEDS = range(400, 405)


def walked(kind: str) -> list[Case]:
    """Measured and then run, station by station."""
    found = [case for seed in SEEDS if (case := case_of(seed, [kind], STATIONS))]
    for case in found:
        case.readings += seen_running(case)
    return found


def test_in_a_sound_yard_each_runs_its_own() -> None:
    case = case_of(SEEDS.start, [], STATIONS)
    assert case is not None
    ran = list(seen_running(case))
    assert ran and all(each.to == each.valve for each in ran)
    case.readings += ran
    assert case.diagnosed().is_healthy


@pytest.mark.parametrize("kind", ["exchanged", "three moved on"])
def test_whose_hots_are_exchanged_is_certain(kind: str) -> None:
    """By ohms alone some are hidden, and some have stations that would read the same."""
    cases = walked(kind)
    assert len(cases) >= 4
    for case in cases:
        assert is_kept(case.ground.ways, case.diagnosed(), case.faults[0]), case.seed


def test_a_round_of_four_is_named_though_no_value_is_alike() -> None:
    for case in walked("four moved on"):
        named = [set(fault.valves) for s in case.diagnosed().suspects for fault in s.faults]
        stations = case.ground.ways.station_set(case.faults[0].valves)
        assert any(case.ground.ways.station_set(tuple(each)) == stations for each in named)


@pytest.mark.parametrize(
    "kind",
    ["hot open", "common open", "coil open", "common exchanged", "between two hots", "hots touch"],
)
def test_what_ran_speaks_for_the_fault_that_is_there(kind: str) -> None:
    cases = walked(kind)
    assert mean(is_kept(c.ground.ways, c.diagnosed(), c.faults[0]) for c in cases) >= 0.8
