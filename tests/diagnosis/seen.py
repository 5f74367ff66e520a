"""What somebody sees who runs each station and looks: by the volts at every coil, from ngspice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cardgen.results import Kind, Measured
from tests.diagnosis.cases import Case
from tests.diagnosis.running import SUPPLY, running
from tests.diagnosis.walks import first_valves, reading

RUNS_FROM = 0.75 * SUPPLY  # volts at a coil; common practice, no source


def seen_running(case: Case) -> Iterator[Measured]:
    """A walk test of each station: its own valve, or that which runs with most volts, or none."""
    plan = case.ground.plan
    for valve in first_valves(plan):
        volts = running(case.truth.circuit, [valve], asked=tuple(plan.valves.values())).volts
        wet = {name: v for name, v in volts.items() if v >= RUNS_FROM}
        ran = valve.id if valve.id in wet else max(wet, key=wet.__getitem__, default="")
        found = reading(plan, valve.id, 1.0 if ran else 0.0, Kind.WALK_TEST)
        yield replace(found, to=ran)
