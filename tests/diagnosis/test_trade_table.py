"""Every row of a worked table of ohms: measured by ngspice as the table says, then diagnosed."""

from __future__ import annotations

from functools import cache

import pytest

from cardgen.diagnosis import Diagnosis, FaultKind, diagnose
from cardgen.results import Kind, Measured
from tests.diagnosis.ground import common_end, hot_end
from tests.diagnosis.metal import ohms_of
from tests.diagnosis.scoring import kept_places, names, ways_of
from tests.diagnosis.trade_rows import ROWS
from tests.diagnosis.trade_yard import PLAN
from tests.diagnosis.walks import built_of, reading

HALF_A_DIGIT = 0.05 + 1e-6  # the table has one decimal
FAULTS = [name for name in ROWS if name != "healthy"]


@pytest.mark.parametrize("name", ROWS)
def test_ngspice_measures_what_the_table_says(name: str) -> None:
    row = ROWS[name]
    ends = {v.id: (hot_end(v), common_end("A")) for v in PLAN.valves.values()}
    pairs = {key: tuple(f"A:{n}" for n in key.split("-")) for key in row.between}
    found = ohms_of(row.circuit, [*ends.values(), *((one, two) for one, two in pairs.values())])
    for valve, value in row.values.items():
        assert found[ends[valve]] == pytest.approx(value, abs=HALF_A_DIGIT), valve
    for key, (one, two) in pairs.items():
        assert found[one, two] == pytest.approx(row.between[key], abs=HALF_A_DIGIT), key


@cache
def said(name: str, between: bool) -> Diagnosis:
    row = ROWS[name]
    readings = [reading(PLAN, valve, value) for valve, value in row.values.items()]
    if between:
        readings += [_between(key, value) for key, value in row.between.items()]
    return diagnose(built_of(PLAN), readings)


def _between(key: str, value: float) -> Measured:
    one, two = (f"A{number}" for number in key.split("-"))
    return Measured(
        id=key,
        when="2026-05-04",
        record_key="7Q2F9KX4M3T8",
        box="A",
        valve=one,
        kind=Kind.HOT_TO_HOT,
        value=value,
        to=two,
    )


@pytest.mark.parametrize("between", [False, True], ids=["walk", "hot to hot"])
def test_sound_values_are_called_healthy(between: bool) -> None:
    assert said("healthy", between).is_healthy
    assert not said("healthy", between).suspects


@pytest.mark.parametrize("between", [False, True], ids=["walk", "hot to hot"])
@pytest.mark.parametrize("name", FAULTS)
def test_the_fault_of_the_row_is_said_with_its_place(name: str, between: bool) -> None:
    row, ways, found = ROWS[name], ways_of(PLAN), said(name, between)
    assert not found.is_healthy and not found.is_several
    assert any(names(ways, suspect, row.injected) for suspect in found.suspects), found.suspects
    likeliest = found.suspects[0]
    assert [fault.kind for fault in likeliest.faults] == [
        kind for kind in row.first if kind is likeliest.faults[0].kind
    ]
    assert kept_places(ways, found) <= row.places


def test_hot_to_hot_tells_a_common_from_a_cut_cable() -> None:
    """Two coils and their wire between the dead: their hots are whole."""
    kinds = {fault.kind for s in said("common open B2 to B3", True).suspects for fault in s.faults}
    assert kinds == {FaultKind.OPEN}
