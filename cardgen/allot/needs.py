"""Find the stations of a job that name no conductor and need one."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.allot.allotment import Need
from cardgen.job.job_parts import Job, Station
from cardgen.units import SupplyKind
from cardgen.wiring.loads import landing_words
from cardgen.wiring.wiring_parts import End


def needs_of(job: Job) -> tuple[Need, ...]:
    """In the order of the file; on a two-wire path no station has a hot of its own.

    A hot that is not known (None) is in the ground already.
    """
    return tuple(_needs(job))


def _needs(job: Job) -> Iterator[Need]:
    for station in job.stations.values():
        controller, terminal = landing_words(station)
        entry = job.controllers.get(controller)
        valves = valves_of(station)
        if station.hot != () or entry is None or not terminal or not valves:
            continue
        if entry.supply.value.kind is not SupplyKind.TWO_WIRE:
            begin = End(controller, controller, terminal)
            yield Need(station=station, begin=begin, valves=valves)


def valves_of(station: Station) -> dict[str, str]:
    """Valve by valve the box it is in."""
    if station.valves:
        return {valve.id: valve.box.value for valve in station.valves.values()}
    return {station.id: station.box.value} if station.box else {}
