"""Patterns of volts and milliamperes: what ngspice says that a yard shows, and what that means.

Which pattern means what is common practice, no source; each is put into the worked tree of eight
stations (`trade_yard.py`), where all that a meter would show is solved at 60 Hz.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import pytest

from cardgen.diagnosis import Diagnosis, FaultKind, diagnose
from cardgen.results import Kind
from tests.diagnosis.ground import circuit_of
from tests.diagnosis.metal import Circuit, Element, added
from tests.diagnosis.plans import OHMS_PER_FOOT, Plan
from tests.diagnosis.running import running
from tests.diagnosis.trade_yard import CABLE, COMMON, hot, trade_yard
from tests.diagnosis.walks import built_of, first_valves, reading

BLOCK = ("leg", COMMON, "B2", "B3")
STATIONS = [f"A{number}" for number in range(1, 9)]
PLAN = trade_yard()
SOUND = circuit_of(PLAN)


def with_master_valve() -> Plan:
    """A ninth wire of the cable, to a master valve in B1."""
    plan = trade_yard()
    master = replace(plan.valves["A1"], id="MV-A", station="MV-A", terminal="MV", is_master=True)
    master.hots = [f"{CABLE} violet"]
    plan.cables[CABLE].hots["MV-A"] = master.hots[0]
    plan.valves["MV-A"] = master
    return plan


WITH_MASTER = with_master_valve()


def volts(plan: Plan, circuit: Circuit) -> dict[str, float]:
    """At each valve with its station on."""
    return {v.id: running(circuit, [v]).volts[v.id] for v in first_valves(plan)}


def milliamperes(plan: Plan, circuit: Circuit) -> dict[str, float]:
    """At C with each station on, and the master valve with it if there is one."""
    master = [v for v in plan.valves.values() if v.is_master]
    stations = [v for v in first_valves(plan) if not v.is_master]
    return {v.id: running(circuit, [v, *master]).in_all for v in stations}


def said(plan: Plan, values: Mapping[str, float], kind: Kind) -> Diagnosis:
    """As rounded by a meter; the volts at the terminals were read in the same walk."""
    readings = [
        replace(reading(plan, valve, round(value, 1), kind), conditions="terminals 24 V")
        for valve, value in values.items()
    ]
    return diagnose(built_of(plan), readings)


def sites(found: Diagnosis, *kinds: FaultKind) -> set[tuple[str, str, str]]:
    return {
        (site.conductor, site.start, site.end)
        for suspect in found.suspects
        for fault in suspect.faults
        if fault.kind in kinds
        for site in fault.sites
    }


def named(found: Diagnosis) -> set[str]:
    return {v for suspect in found.suspects for fault in suspect.faults for v in fault.valves}


def test_a_resistive_joint_has_full_volts_until_the_coil_draws() -> None:
    """150 ohms more, a coil of 28 ohms and 0.22 A, 640 ft of 18 AWG: 0.11 A and 12 V, by hand."""
    wire = 640 * OHMS_PER_FOOT["18 AWG"]
    circuit: Circuit = {
        ("leg", "hot"): Element("A:1", "A1 lead 1", wire + 150),
        ("leg", "common"): Element("A:C", "A1 lead 2", wire),
        ("coil", "A1"): Element("A1 lead 1", "A1 lead 2", 28.0),
    }
    found = running(circuit, [PLAN.valves["A1"]], holding=0.22)
    assert found.in_all == pytest.approx(110, abs=5)
    assert found.volts["A1"] == pytest.approx(12, abs=0.5)
    lifted: Circuit = {**circuit, ("coil", "A1"): Element("A1 lead 1", "A1 lead 2", 1e6)}
    assert running(lifted, [PLAN.valves["A1"]]).volts["A1"] == pytest.approx(24, abs=0.05)


@pytest.mark.parametrize("kind", [Kind.VOLTS, Kind.MILLIAMPERES])
def test_a_sound_yard_is_healthy_under_load(kind: Kind) -> None:
    values = (volts if kind is Kind.VOLTS else milliamperes)(PLAN, SOUND)
    assert said(PLAN, values, kind).is_healthy


def test_low_volts_at_one_valve_are_a_joint_of_its_own() -> None:
    values = volts(PLAN, added(SOUND, ("splice", hot(5), "B3", "in"), 150.0))
    assert values["A5"] < 15 and values["A6"] > 22
    found = said(PLAN, values, Kind.VOLTS)
    assert (hot(5), "A", "B3") in sites(found, FaultKind.RESISTIVE)
    assert not any(
        conductor == COMMON and end != "B3"
        for conductor, _, end in sites(found, FaultKind.RESISTIVE)
    )


def test_volts_lower_alike_in_all_of_a_block_are_the_common_before_it() -> None:
    values = volts(PLAN, added(SOUND, BLOCK, 150.0))
    assert all(values[name] < 15 for name in STATIONS[4:])
    found = said(PLAN, values, Kind.VOLTS)
    assert sites(found, FaultKind.RESISTIVE) == {(COMMON, "B2", "B3")}


def test_no_volts_in_a_block_are_the_common_open_before_it() -> None:
    values = volts(PLAN, added(SOUND, BLOCK, math.inf))
    assert all(values[name] < 0.1 for name in STATIONS[4:])
    found = said(PLAN, values, Kind.VOLTS)
    assert (COMMON, "B2", "B3") in sites(found, FaultKind.OPEN)
    assert {start for _, start, _ in sites(found, FaultKind.OPEN, FaultKind.CUT)} == {"B2"}


def test_as_much_as_the_master_valve_alone_means_that_the_station_is_open() -> None:
    circuit = circuit_of(WITH_MASTER)
    alone = running(circuit, [WITH_MASTER.valves["MV-A"]]).in_all
    values = milliamperes(WITH_MASTER, added(circuit, ("coil", "A5"), math.inf))
    assert values["A5"] == pytest.approx(alone, abs=1)
    found = said(WITH_MASTER, values, Kind.MILLIAMPERES)
    assert named(found) == {"A5"}
    assert {f.kind for s in found.suspects for f in s.faults} <= {
        FaultKind.OPEN,
        FaultKind.COIL_OPEN,
        FaultKind.WRONG_READING,
        FaultKind.NO_OUTPUT,
    }


def test_as_much_as_the_stations_alone_means_that_the_master_valve_is_open() -> None:
    circuit = circuit_of(WITH_MASTER)
    values = milliamperes(WITH_MASTER, added(circuit, ("coil", "MV-A"), math.inf))
    assert all(150 < value < 210 for value in values.values())
    found = said(WITH_MASTER, values, Kind.MILLIAMPERES)
    assert "MV-A" in named(found)


def test_nothing_at_all_means_that_the_common_is_open() -> None:
    circuit = circuit_of(WITH_MASTER)
    values = milliamperes(WITH_MASTER, added(circuit, ("leg", COMMON, "A", "B1"), math.inf))
    assert max(values.values()) < 1
    found = said(WITH_MASTER, values, Kind.MILLIAMPERES)
    assert (COMMON, "A", "B1") in sites(found, FaultKind.OPEN)


def test_twice_as_much_means_a_second_coil_or_a_touch() -> None:
    first = SOUND["coil", "A5"]
    circuit = {**SOUND, ("coil", "A5", "second"): replace(first)}
    values = milliamperes(PLAN, circuit)
    assert values["A5"] > 1.8 * values["A6"]
    found = said(PLAN, values, Kind.MILLIAMPERES)
    assert not found.is_healthy and named(found) == {"A5"}


def test_more_than_an_ampere_is_a_short_and_reads_under_twelve_ohms() -> None:
    circuit = {**SOUND, ("coil", "A5"): replace(SOUND["coil", "A5"], ohms=2.0)}
    short = {**circuit, ("touch", "A5"): Element("A5 lead 1", "A5 lead 2", 1.0)}
    values = milliamperes(PLAN, short)
    assert values["A5"] > 1000
    found = said(PLAN, values, Kind.MILLIAMPERES)
    assert not found.is_healthy and named(found) == {"A5"}
