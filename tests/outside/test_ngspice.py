"""Ohms and volts of whole jobs against ngspice (Debian package): within 0.1 % everywhere."""

from __future__ import annotations

from functools import cache

import pytest

from cardgen.examine import examine_text
from cardgen.facts import Facts
from cardgen.wiring.wiring_parts import Load, LoadKind
from tests.jobs import SAMPLES, sample
from tests.outside.spice import ohms_by_ngspice, volts_by_ngspice
from tests.property.jobs import Wish, random_plan

TOLERANCE = 0.001  # of the value; ngspice's own tolerance is the same

# A common fed from both ends, a twin in two boxes, mixed gauges, a master valve on the common.
RING = """
job: {code: DEMO-1, site: Demo Court, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils: {usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.36 A, holding: 0.23 A}}
controllers:
  A:
    {place: shed, supply: 24 V AC, stations: 4, coil: usual, common: [K1 white, K2 white, K3 white]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 300 ft, VB-1, 200 ft, VB-2]}
  K2: {gauge: 14 AWG, colors: [white, red, orange], run: [A, 250 ft, VB-3]}
  K3: {gauge: 1.5 mm2, colors: [white, brown], run: [VB-2, 90 ft, VB-3]}
boxes: {VB-1: {}, VB-2: {}, VB-3: {}}
stations:
  A1: {area: lawn, box: VB-1, hot: K1 red}
  A2: {area: beds, hot: K1 blue, valves: {A2a: {box: VB-1}, A2b: {box: VB-2}}}
  A3: {area: trees, box: VB-3, hot: K2 red}
master valves:
  MV: {controllers: A, box: VB-1, hot: K1 green}
joints:
  VB-3:
    - [K2 red, A3]
    - [K2 white, K3 white, A3]
"""
# Two stations whose terminals a jumper links on purpose, so that both always run together.
LINKED = RING.replace("coil: usual,", "coil: usual, jumpers: [[1, 3]],").replace("DEMO-1", "DEMO-2")
JOBS = {**{name: sample(name) for name in SAMPLES}, "ring": RING, "linked": LINKED}


RANDOM = {
    f"random {seed}": random_plan(
        Wish(seed=seed, stations=12, controllers=2, twins=0.3, specials=0.8, metric=seed % 2 == 1)
    ).text
    for seed in range(6)
}
JOBS |= RANDOM


@cache
def facts_of(name: str) -> Facts:
    examined = examine_text(JOBS[name])
    assert not examined.has_errors, examined.problems
    assert examined.facts
    return examined.facts


def owners(facts: Facts) -> dict[str, list[Load]]:
    """Every third of many, but always the first and the last of a controller."""
    found = {k: v for k, v in facts.loads_of.items() if k in facts.readings}
    names = list(found)
    if len(names) < 40:
        return found
    return {name: found[name] for name in (*names[::3], names[-1])}


@pytest.mark.parametrize("name", JOBS)
def test_ohms_at_the_controller(name: str) -> None:
    facts = facts_of(name)
    first = {owner: loads[0] for owner, loads in owners(facts).items()}
    found = ohms_by_ngspice(facts, first.values())
    assert found
    for owner, load in first.items():
        ohms = facts.readings[owner].ohms
        assert ohms is not None
        assert ohms == pytest.approx(found[load.id], rel=TOLERANCE), owner


@pytest.mark.parametrize("name", [name for name in JOBS if name != "sandpiper"])
def test_volts_at_the_coil_while_it_holds(name: str) -> None:
    facts = facts_of(name)
    compared = 0
    for owner, loads in owners(facts).items():
        running = facts.running.get(owner)
        supply = facts.job.controllers[loads[0].controller].supply.value.volts
        if running is None or supply is None:
            continue
        beside = [
            load
            for load in facts.wiring.loads.values()
            if load.runs_beside_stations and load.controller == loads[0].controller
        ]
        net = facts.network.net(loads[0].hot_end)
        own = [x for x in facts.wiring.loads.values() if facts.network.net(x.hot_end) == net]
        on = [*own, *(beside if loads[0].kind is LoadKind.VALVE else [])]
        found = volts_by_ngspice(facts, on, supply)
        for load in loads:
            assert running.high[load.id] == pytest.approx(found[load.id], rel=TOLERANCE), load.id
            assert running.low[load.id] <= found[load.id] * (1 + TOLERANCE), load.id
            compared += 1
    assert compared
