"""Turn each controller into the legend for its door: what lands on which terminal, at this end."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.cards.cautions import BEFORE, CAUTIONS
from cardgen.cards.facts import Printable, mark
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Table
from cardgen.cards.valve_tags import area_of
from cardgen.checks.facts import listed
from cardgen.job.model import Controller, MasterValve, Sensor, Station
from cardgen.units import SupplyKind
from cardgen.wiring.model import COMMON_TERMINAL, Landing, Leg, Load, LoadKind
from cardgen.wiring.written import PATH_SIDES, terminals_of

COLUMNS = ("terminal", "station", "area", "box", "colour at this end", "reads, Ω", "notes")
EMPTY = "–"
Row = tuple[Cell, ...]


def legends(job: Printable) -> Iterator[Card]:
    """One legend for each controller."""
    for controller in job.job.controllers.values():
        fields: dict[str, FieldValue] = {
            "title": f"CONTROLLER {controller.id}",
            "subtitle": f"{job.info.site.value} · {controller.where} · {controller.supply.value}",
            "terminals": _without_empty_columns(tuple(_rows(job, controller))),
            "before": BEFORE,
            "cautions": CAUTIONS,
            "code": job.code_of(controller.id),
            "stamp": job.stamp,
        }
        sensors = tuple(_sensors(job, controller))
        if sensors:
            fields["sensors"] = sensors
        spares = tuple(_spares(job, controller))
        if spares:
            columns = ("spare", "conductor", "from", "reaches", "for")
            fields["spares"] = Table(columns=columns, rows=spares)
        kind, at = CardKind.LEGEND, controller.id
        yield Card(kind=kind, id=at, at=at, place=controller.place, fields=fields)


def _without_empty_columns(rows: tuple[Row, ...]) -> Table:
    """Room is scarce in a door: a column that says nothing in any row is left out."""
    kept = [i for i in range(len(COLUMNS)) if any(row[i] not in ("", EMPTY) for row in rows)]
    return Table(
        columns=tuple(COLUMNS[i] for i in kept),
        rows=tuple(tuple(row[i] for i in kept) for row in rows),
    )


def _rows(job: Printable, controller: Controller) -> Iterator[Row]:
    if controller.supply.value.kind is SupplyKind.TWO_WIRE:
        yield from _path_rows(job, controller)
        return
    sensors = [s for s in job.job.sensors.values() if _is_on_terminals(s, controller)]
    for terminal in terminals_of(job.job, controller.id):
        if terminal == COMMON_TERMINAL:
            yield from _common_rows(job, controller)
        elif terminal == "SEN":
            name = " ".join(s.id for s in sensors)
            yield terminal, name or EMPTY, "sensor" if name else "empty", "", "", "", ""
        else:
            yield _terminal_row(job, controller, terminal)


def _terminal_row(job: Printable, controller: Controller, terminal: str) -> Row:
    notes = list(_jumper_notes(controller, terminal))
    found = [loads for loads in job.owners.values() if _lands(loads[0], controller, terminal)]
    if not found:
        return terminal, EMPTY, "empty", "", "", "", "; ".join(notes)
    loads = found[0]
    load = loads[0]
    circuit = job.circuits[load.id]
    reading = job.readings.get(load.owner.id)
    ohms = f"{reading.ohms:.1f}" if reading and reading.ohms is not None else EMPTY
    boxes = " ".join(dict.fromkeys(each.box for each in loads))
    notes.extend(_notes(job, loads))
    colour: Cell = mark(circuit.hot_at_controller)
    if load.hot_end.of != controller.id:
        colour, ohms = "to the isolator", EMPTY
    return terminal, load.owner.id, area_of(load), boxes, colour, ohms, "; ".join(notes)


def _lands(load: Load, controller: Controller, terminal: str) -> bool:
    if isinstance(load.owner, MasterValve):
        names = [said.value for said in load.owner.controllers]
        return controller.id in names and load.terminal == terminal
    return load.controller == controller.id and load.terminal == terminal


def _notes(job: Printable, loads: list[Load]) -> Iterator[str]:
    load = loads[0]
    circuit = job.circuits[load.id]
    if len(loads) > 1:
        yield f"{len(loads)} valves: {listed(each.id for each in loads)}"
    if isinstance(load.owner, MasterValve):
        yield "normally open: power closes" if load.owner.normally_open else "master valve"
    if load.kind is LoadKind.RELAY:
        yield "relay only, no pump here"
    if load.back is not None and load.hot_end.of == load.controller:
        yield f"own return: {circuit.back_at_controller.name} on C"
    if circuit.hot_at_controller.insulation != circuit.hot_at_valve.insulation:
        yield f"{circuit.hot_at_valve.insulation.word} at the valve"
    if isinstance(load.owner, Station):
        if load.owner.device:
            yield f"{load.owner.device.value}: ohms mean nothing"
        yield from (said.value for said in load.owner.notes)


def _jumper_notes(controller: Controller, terminal: str) -> Iterator[str]:
    for jumper in controller.jumpers:
        names = [said.value for said in jumper.value]
        if terminal in names:
            yield f"linked with {listed(n for n in names if n != terminal)}"


def _common_rows(job: Printable, controller: Controller) -> Iterator[Row]:
    landings = [
        la
        for la in job.facts.wiring.commons[controller.id]
        if controller.id in la.conductor.places and not la.begins
    ]
    joined = f"{len(landings)} in one connector, pigtail to C" if len(landings) > 1 else ""
    for la in landings:
        served = _served(job, controller, la)
        words = f"for {listed(served)}" if served else ""
        text = "; ".join(part for part in (words, joined) if part)
        yield COMMON_TERMINAL, "common", text, "", mark(la.conductor), "", ""


def _served(job: Printable, controller: Controller, landing: Landing) -> list[str]:
    """The stations whose way back lands on this conductor."""
    found: dict[str, None] = {}
    for circuit in job.circuits.values():
        legs = [step for step in circuit.back if isinstance(step, Leg)]
        if circuit.load.controller != controller.id or circuit.load.back is not None:
            continue
        if legs and legs[0].conductor.name == landing.conductor.name:
            found[circuit.load.owner.id] = None
    return list(found)


def _path_rows(job: Printable, controller: Controller) -> Iterator[Row]:
    """The two sides of the path, then the stations by decoder address."""
    for side, landings in zip(PATH_SIDES, job.facts.wiring.paths[controller.id], strict=True):
        for la in landings:
            if controller.id in la.conductor.places:
                yield side.upper(), "path", "", "", mark(la.conductor), EMPTY, ""
    stations = [loads[0] for loads in job.owners.values() if loads[0].controller == controller.id]
    for load in stations:
        decoder = load.decoder
        assert decoder is not None
        serial = f"serial {decoder.serial}" if decoder.serial else ""
        address = f"address {decoder.address.value}"
        yield address, load.owner.id, area_of(load), load.box, "", EMPTY, serial


def _is_on_terminals(sensor: Sensor, controller: Controller) -> bool:
    on_it = any(said.value == controller.id for said in sensor.controllers)
    return on_it and not sensor.in_common


def _sensors(job: Printable, controller: Controller) -> Iterator[str]:
    for sensor in job.job.sensors.values():
        if not any(said.value == controller.id for said in sensor.controllers):
            continue
        contact = f", {sensor.contact.value}" if sensor.contact else ""
        where = f" ({sensor.where})" if sensor.where else ""
        words = f"{sensor.id}: {sensor.kind} sensor{where}{contact}"
        if sensor.in_common:
            yield f"{words}, in the common. If all stations read open, check it first."
        else:
            wires = ", ".join(job.facts.wiring.by_words[said.value] for said in sensor.conductors)
            yield f"{words}, on SEN" + (f" by {wires}." if wires else ".")


def _spares(job: Printable, controller: Controller) -> Iterator[Row]:
    """Every free conductor that starts at this controller."""
    promised = {
        job.facts.wiring.by_words[said.value]: spare
        for spare in job.job.spares.values()
        for said in spare.conductor
    }
    for conductor in job.facts.wiring.conductors.values():
        if conductor.places[0] != controller.id or conductor.name in job.facts.used_conductors:
            continue
        spare = promised.get(conductor.name)
        name = spare.id if spare else EMPTY
        use = spare.reserved_for if spare else ""
        yield name, mark(conductor), conductor.places[0], conductor.places[-1], use
