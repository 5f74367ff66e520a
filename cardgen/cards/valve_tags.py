"""Turn each coil into the tag that hangs beside it."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.cards.expected import (
    BOUND,
    OHMS,
    beside,
    coil_alone,
    known,
    milliamperes,
    volts_at_box,
)
from cardgen.cards.expected import at_controller as ohms_at_controller
from cardgen.cards.facts import Printable, mark
from cardgen.cards.model import Card, CardKind, FieldValue
from cardgen.checks.facts import listed
from cardgen.job.model import MasterValve, Station
from cardgen.units import SupplyKind
from cardgen.wiring.model import Load, LoadKind


def valve_tags(job: Printable) -> Iterator[Card]:
    """One tag for each valve and relay, in the order of the file."""
    for loads in job.owners.values():
        for load in loads:
            yield Card(
                kind=CardKind.VALVE_TAG,
                id=load.id,
                at=load.box,
                owner=load.owner.id,
                place=load.place,
                fields=_fields(job, load),
            )


def _fields(job: Printable, load: Load) -> dict[str, FieldValue]:
    fields: dict[str, FieldValue] = {
        "headline": load.id,
        "box": load.box,
        "area": _what(load),
        "terminal": _landing(load),
        "code": job.code_of(load.box),
        "stamp": job.stamp,
    }
    fields |= _conductors(job, load)
    lines = boxed_lines(job, load)
    if lines:
        fields["boxed"] = lines
    twin = twin_line(job, load)
    if twin:
        fields["twin"] = twin
    return fields | {name: said for name, said in _readings(job, load) if said}


def _landing(load: Load) -> str:
    """Where its hot lands: on a terminal, or on the isolators of the controllers that share it."""
    if load.hot_end.of != load.controller and isinstance(load.owner, MasterValve):
        names = " and ".join(said.value for said in load.owner.controllers)
        return f"{load.terminal} of {names}, through isolators"
    return f"controller {load.controller}, terminal {load.terminal}"


def _conductors(job: Printable, load: Load) -> dict[str, FieldValue]:
    circuit = job.circuits.get(load.id)
    if circuit is None:
        assert load.decoder is not None  # a job without errors has a circuit for all others
        return {"terminal": f"controller {load.controller}, two-wire path"}
    return {
        "hot_label": "HOT",
        "hot": mark(circuit.hot_at_valve),
        "common_label": f"COMMON {load.controller}" if load.back is None else "RETURN",
        "common": mark(circuit.back_at_valve),
    }


def _what(load: Load) -> str:
    """What it waters; in capitals, where it is no common valve."""
    return area_of(load) if isinstance(load.owner, Station) else area_of(load).upper()


def area_of(load: Load) -> str:
    """What it waters, or what it is."""
    if isinstance(load.owner, Station):
        return load.owner.area.value
    return "master valve" if load.kind is LoadKind.MASTER_VALVE else "pump start relay"


def boxed_lines(job: Printable, load: Load) -> tuple[str, ...]:
    """What a hand must know before it touches this one."""
    lines: list[str] = []
    if isinstance(load.owner, MasterValve) and load.owner.normally_open:
        lines.append("NORMALLY OPEN: POWER CLOSES")
    if load.kind is LoadKind.RELAY:
        lines.append("PUMP SIDE: LICENSED ELECTRICIAN")
    controller = job.job.controllers[load.controller]
    if controller.supply.value.kind is SupplyKind.LATCHING and controller.polarity:
        rule = controller.polarity
        lines.append(f"LATCHING DC: {rule.hot} lead to hot, {rule.common} to common")
    circuit = job.circuits.get(load.id)
    if circuit and circuit.hot_at_controller.insulation != circuit.hot_at_valve.insulation:
        first = circuit.hot_at_controller
        lines.append(f"at controller: {first.cable.id} {first.insulation.word}")
    if load.decoder is not None:
        lines.append(f"DECODER {load.decoder.address.value}")
        if load.decoder.serial:
            lines.append(f"serial {load.decoder.serial}")
    if isinstance(load.owner, Station) and load.owner.device:
        lines.append(f"BEHIND A {load.owner.device.value.upper()}")
    return tuple(lines)


def twin_line(job: Printable, load: Load) -> str:
    """`1 of 2, other valve A10b in VB-9`."""
    loads = job.owners[load.owner.id]
    if len(loads) < 2:
        return ""
    number = loads.index(load) + 1
    others = ", ".join(f"{o.id} in {o.box}" for o in loads if o is not load)
    return f"{number} of {len(loads)} on this terminal; other: {others}"


def _readings(job: Printable, load: Load) -> Iterator[tuple[str, str]]:
    """What a meter must show at the controller, at the coil alone, and at the box while it runs."""
    for ohms in known((ohms_at_controller(job, load.owner.id, OHMS),)):
        where = "controller" if load.hot_end.of == load.controller else "isolators"
        yield "ohms", f"{ohms} at {where}"
    if load.coil is not None:
        yield "coil", f"coil {coil_alone(load.coil)}"
    for volts in known((volts_at_box(job, load),)):
        others = beside(job, load)
        with_them = f" with {listed(others)}" if others else ""
        yield "running", f"on: {volts}{BOUND}V, {milliamperes(job, load)}{BOUND}mA{with_them}"
