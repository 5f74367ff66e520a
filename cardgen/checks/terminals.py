"""Check what hangs on each terminal: numbers, twins, volts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from cardgen.checks.jumpers import run_together
from cardgen.checks.sizing import reach, ways_out
from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.special_faults import RELAY_CHATTER
from cardgen.faults.terminal_faults import (
    DEVICE_IN_CIRCUIT,
    NO_SUCH_TERMINAL,
    TERMINAL_USED_TWICE,
    TOO_MANY_VALVES,
    TWIN,
    TWIN_IN_TWO_BOXES,
    VOLTS_TOO_LOW,
)
from cardgen.job.job_parts import Job, Station
from cardgen.problems import Also, Problem, Span
from cardgen.units import SupplyKind, beside, plain
from cardgen.wiring.loads import landing_words
from cardgen.wiring.wiring_parts import Load, LoadKind


def terminals_that_are_not_there(facts: Facts) -> Iterator[Problem]:
    """A station is on a terminal that its controller does not have."""
    for station, controller, terminal in _landed(facts.job):
        place = station.terminal.span if station.terminal else station.span
        yield from _not_there(facts, station.id, controller, terminal, place)
    for owner, loads in facts.loads_of.items():
        load = loads[0]
        if load.kind is not LoadKind.VALVE and load.hot and load.hot_end.of == load.controller:
            place = load.owner.terminal.span if load.owner.terminal else load.span
            yield from _not_there(facts, owner, load.controller, load.terminal, place)


def _landed(job: Job) -> Iterator[tuple[Station, str, str]]:
    """Stations with controller and terminal, whatever is wrong with their box or conductors."""
    for station in job.stations.values():
        controller, terminal = landing_words(station)
        entry = job.controllers.get(controller)
        if entry is None or not terminal or controller in job.reported:
            continue
        if entry.supply.value.kind is not SupplyKind.TWO_WIRE:
            yield station, controller, terminal


def _not_there(
    facts: Facts, owner: str, controller: str, terminal: str, span: Span
) -> Iterator[Problem]:
    strip = facts.strips[controller]
    if terminal not in strip:
        yield NO_SUCH_TERMINAL.at(
            span,
            owner=owner,
            terminal=terminal,
            controller=controller,
            terminals=english_list(strip),
        )


def terminals_used_twice(facts: Facts) -> Iterator[Problem]:
    """Two stations share one terminal, so they cannot run apart."""
    seen: dict[tuple[str, str], Station] = {}
    for station, controller, terminal in _landed(facts.job):
        first = seen.setdefault((controller, terminal), station)
        if first.id != station.id:
            yield TERMINAL_USED_TWICE.at(
                station.span,
                first=first.id,
                second=station.id,
                terminal=terminal,
                controller=controller,
                also=(Also(span=first.span, text=f"{first.id} is described here"),),
            )


def twins(facts: Facts) -> Iterator[Problem]:
    """Several valves on one terminal: said on each tag; more than the maker allows is a fault."""
    for loads in run_together(facts):
        if len(loads) > most_valves(facts, loads):
            yield _too_many(facts, loads)
            continue
        for owner in dict.fromkeys(load.owner.id for load in loads):
            yield from _twin(owner, facts.loads_of[owner])


def _twin(owner: str, loads: list[Load]) -> Iterator[Problem]:
    if len(loads) < 2:
        return
    names = english_list(load.id for load in loads)
    if len({load.box for load in loads}) > 1:
        boxes = english_list(dict.fromkeys(f"'{load.box}'" for load in loads))
        yield TWIN_IN_TWO_BOXES.at(
            loads[0].span, station=owner, count=len(loads), valves=names, boxes=boxes
        )
    elif getattr(loads[0].owner, "device", None) is None:
        yield TWIN.at(
            loads[0].span, station=owner, count=len(loads), valves=names, box=loads[0].box
        )


def most_valves(facts: Facts, loads: Sequence[Load]) -> int:
    controller = facts.job.controllers[loads[0].controller]
    latching = controller.supply.value.kind is SupplyKind.LATCHING
    return controller.valves_per_station or (1 if latching else len(loads))


def _too_many(facts: Facts, loads: Sequence[Load]) -> Problem:
    controller = facts.job.controllers[loads[0].controller]
    owners = list(dict.fromkeys(load.owner.id for load in loads))
    looks = ["linked"] if len(owners) > 1 else []
    looks += ["latching"] if controller.valves_per_station is None else []
    return TOO_MANY_VALVES.at(
        loads[0].span,
        variant=" ".join(looks),
        station=english_list(owners),
        count=len(loads),
        valves=english_list(load.id for load in loads),
        controller=controller.id,
        limit=controller.valves_per_station,
    )


def devices(facts: Facts) -> Iterator[Problem]:
    """Something sits between terminal and valve, so ohms mean nothing."""
    for station in facts.job.stations.values():
        if station.device is not None:
            yield DEVICE_IN_CIRCUIT.at(
                station.device.span, device=station.device.value, station=station.id
            )


def volts(facts: Facts) -> Iterator[Problem]:
    """Too few volts are left at the coil when it starts; stations on one cable are told once."""
    short: dict[str, list[str]] = defaultdict(list)
    for loads in run_together(facts):
        for owner in dict.fromkeys(load.owner.id for load in loads):
            if short_of_volts(facts, owner):
                leg = facts.readings[owner].costliest
                # Several coils at once are their own fault: one fewer is the way out.
                alone = loads[0].kind is not LoadKind.VALVE or len(loads) > 1
                key = loads[0].owner.id if alone or leg is None else leg.conductor.cable.id
                short[key].append(owner)
    for owners in short.values():
        yield _too_low(facts, owners)


def short_of_volts(facts: Facts, owner: str) -> bool:
    """Whether a coil has fewer volts than it needs to open."""
    reading, coil = facts.readings.get(owner), facts.loads_of[owner][0].coil
    if reading is None or coil is None or coil.minimum is None or not reading.volts:
        return False
    if getattr(facts.loads_of[owner][0].owner, "device", None) is not None:
        return False  # what the device lets run at once is not known
    return min(reading.volts.values()) < coil.minimum


def _too_low(facts: Facts, owners: list[str]) -> Problem:
    worst = min(owners, key=lambda name: min(facts.readings[name].volts.values()))
    reading, loads = facts.readings[worst], facts.loads_of[worst]
    leg, coil = reading.costliest, loads[0].coil
    assert leg is not None and coil is not None and coil.minimum is not None
    name = min(reading.volts, key=lambda load: reading.volts[load])
    left = max(reading.volts[name], 0.0)
    ways = ways_out(facts, worst)
    fault = RELAY_CHATTER if loads[0].kind is LoadKind.RELAY else VOLTS_TOO_LOW
    return fault.at(
        loads[0].span,
        variant="" if ways else "no gauge",
        coil=name,
        beside=_with_others(facts, worst),
        volts=beside(left, coil.minimum),
        least=plain(coil.minimum),
        stations=english_list(owners) if len(owners) > 1 else "it",
        conductor=leg.conductor.name,
        start=leg.start,
        end=leg.end,
        gauge=leg.conductor.gauge or "gauge not known",
        length=leg.length,
        ways=ways,
        reach=_reach(facts, worst),
    )


def _with_others(facts: Facts, owner: str) -> str:
    """What else starts with it."""
    loads = facts.together[owner]
    others = english_list(load.owner.id for load in loads if load.owner.id != owner)
    if others:
        return f" together with {others}"
    return f" with {len(loads)} valves" if len(loads) > 1 else ""


def _reach(facts: Facts, owner: str) -> str:
    load, leg = facts.loads_of[owner][0], facts.readings[owner].costliest
    supply = facts.job.controllers[load.controller].supply.value.volts
    assert load.coil is not None and leg is not None and supply is not None
    assert leg.length is not None  # else the volts would not be known
    return reach(facts, load.coil, supply, leg.conductor.gauge, leg.length.unit)
