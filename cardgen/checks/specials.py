"""Check master valves and pump start relays: what hangs on a controller beside its stations."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardgen.checks.terminals import short_of_volts
from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.special_faults import (
    MASTER_VALVE,
    MASTER_VALVE_ON_STATION,
    MASTER_VALVE_SHARED,
    MASTER_VALVE_TIED,
    NORMALLY_OPEN,
    NORMALLY_OPEN_ON_MV,
    PUMP_RELAY,
    RELAY_SHARES_COMMON,
    RELAY_TOO_NEAR,
)
from cardgen.job.job_parts import MasterValve
from cardgen.problems import Problem, Verdict
from cardgen.units import METERS_PER_FOOT, beside, whole_length
from cardgen.wiring.wiring_parts import Leg, LoadKind

LEAST_RELAY_WIRE = 15 * METERS_PER_FOOT  # meters; common practice, no source


def master_valves(facts: Facts) -> Iterator[Problem]:
    """A master valve runs with every station: on MV, and apart from other controllers."""
    for valve in facts.job.master_valves.values():
        if valve.id not in facts.wiring.loads:
            continue
        if valve.terminal and valve.terminal.value.isdigit():
            yield MASTER_VALVE_ON_STATION.at(
                valve.terminal.span, valve=valve.id, terminal=valve.terminal.value
            )
            continue
        if len({name.value for name in valve.controllers}) > 1:
            shared = _shared(valve)
            yield shared
            if shared.verdict is Verdict.ERROR:
                continue
        if valve.normally_open:
            yield _normally_open(facts, valve)
        else:
            yield MASTER_VALVE.at(
                valve.span,
                valve=valve.id,
                box=valve.box.value,
                controllers=english_list(c.value for c in valve.controllers),
            )


def _normally_open(facts: Facts, valve: MasterValve) -> Problem:
    """MV of most controllers is live while a station runs, which would shut the water off."""
    if not valve.live_only_to_close:
        return NORMALLY_OPEN_ON_MV.at(
            valve.span,
            valve=valve.id,
            box=valve.box.value,
            terminal=facts.wiring.loads[valve.id].terminal,
            controllers=english_list(said.value for said in valve.controllers),
        )
    return NORMALLY_OPEN.at(valve.span, valve=valve.id, box=valve.box.value)


def _shared(valve: MasterValve) -> Problem:
    names = [name.value for name in valve.controllers]
    bare = [name for name in names if name not in {name.value for name in valve.isolators}]
    if bare:
        return MASTER_VALVE_TIED.at(
            valve.controllers[1].span,
            valve=valve.id,
            controllers=english_list(names),
            bare=english_list(bare),
            names=", ".join(names),
        )
    return MASTER_VALVE_SHARED.at(
        valve.span, valve=valve.id, box=valve.box.value, controllers=english_list(names)
    )


def stations_that_are_master_valves(facts: Facts) -> Iterator[Problem]:
    """A station whose area says that it is a master valve."""
    for station in facts.job.stations.values():
        area = station.area
        if area and re.search(r"\bmaster\s+valve\b|\bMV\b", area.value, re.IGNORECASE):
            yield MASTER_VALVE_ON_STATION.at(
                area.span, variant="by its area", station=station.id, area=area.value
            )


def relays(facts: Facts) -> Iterator[Problem]:
    """A pump start relay: never the pump itself, not too near, not on the valves' common."""
    for relay in facts.job.relays.values():
        load = facts.wiring.loads.get(relay.id)
        if load is None or load.kind is not LoadKind.RELAY:
            continue
        yield PUMP_RELAY.at(
            relay.span,
            relay=relay.id,
            box=load.box,
            terminal=load.terminal,
            controller=load.controller,
        )
        if not relay.return_path and not short_of_volts(facts, relay.id):
            yield RELAY_SHARES_COMMON.at(relay.span, relay=relay.id)
        circuit = facts.circuits.get(relay.id)
        way = circuit.hot if circuit else ()
        wire = whole_length(s.length for s in way if isinstance(s, Leg)) if circuit else None
        if wire is not None and wire < LEAST_RELAY_WIRE - 1e-6:
            yield RELAY_TOO_NEAR.at(
                relay.span,
                relay=relay.id,
                feet=beside(wire / METERS_PER_FOOT, 15, 0),
                controller=load.controller,
            )
