"""Turn each controller into the legend for its door: what lands on which terminal, at this end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cardgen.cards.cautions import BEFORE, CAUTIONS
from cardgen.cards.expected import (
    BOUND,
    at_controller,
    beside,
    known,
    milliamperes,
    volts_at_box,
)
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Table
from cardgen.cards.of_loads import coil_alone
from cardgen.cards.printable import Printable, mark
from cardgen.cards.valve_tags import area_of
from cardgen.job.model import Controller, MasterValve, Sensor, Station
from cardgen.units import SupplyKind
from cardgen.wiring.model import COMMON_TERMINAL, Landing, Leg, Load, LoadKind
from cardgen.wiring.written import PATH_SIDES, terminals_of
from cardgen.words import Text

# In a door room is scarce: the station stands beside its terminal, the notes under the area.
COLUMNS = ("terminal", "area", "box", "colour at this end", "reads, Ω", "V at the box", "mA")
EMPTY = "–"
Row = tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Position:
    """What is on one terminal, or at one address of a path; empty where there is nothing."""

    terminal: str
    station: str = ""
    area: str = ""
    box: str = ""
    colour: Cell = ""
    ohms: str = ""
    volts: str = ""
    milliamperes: str = ""
    notes: tuple[str, ...] = ()


def legends(job: Printable) -> Iterator[Card]:
    """One legend for each controller."""
    for controller in job.job.controllers.values():
        positions = tuple(_positions(job, controller))
        supply = job.supply(controller.id)
        fields: dict[str, FieldValue] = {
            "title": job.words("terms.controller", controller=controller.id),
            "subtitle": f"{job.info.site.value} · {controller.where} · {supply}",
            "terminals": _filled(job, COLUMNS, [_in_door(each) for each in positions]),
            "before": job.words(f"cautions.{BEFORE}"),
            "cautions": job.words.named("cautions", CAUTIONS),
            "code": job.code_of(controller.id),
            "stamp": job.stamp,
            **job.warning,
        }
        readings = tuple(_readings(job, controller))
        if readings:
            fields["readings"] = readings
        sensors = tuple(_sensors(job, controller))
        if sensors:
            fields["sensors"] = sensors
        spares = tuple(_spares(job, controller))
        if spares:
            columns = ("spare", "conductor", "from", "reaches", "for")
            fields["spares"] = _filled(job, columns, spares)
        kind, at = CardKind.LEGEND, controller.id
        yield Card(kind=kind, id=at, at=at, place=controller.place, fields=fields)


def _in_door(at: Position) -> Row:
    named = f"{at.terminal} · {at.station}" if at.station not in ("", EMPTY) else at.terminal
    about = "; ".join(part for part in (at.area, *at.notes) if part)
    return named, about, at.box, at.colour, at.ohms, at.volts, at.milliamperes


def _filled(job: Printable, columns: tuple[str, ...], rows: Sequence[Row]) -> Table:
    """A column that says nothing in any row is left out."""
    kept = [i for i in range(len(columns)) if any(row[i] not in ("", EMPTY) for row in rows)]
    return Table(
        columns=job.words.named("columns", (columns[i] for i in kept)),
        rows=tuple(tuple(row[i] for i in kept) for row in rows),
    )


def _positions(job: Printable, controller: Controller) -> Iterator[Position]:
    if controller.supply.value.kind is SupplyKind.TWO_WIRE:
        yield from _on_path(job, controller)
        return
    sensors = [s for s in job.job.sensors.values() if _is_on_terminals(s, controller)]
    for terminal in terminals_of(job.job, controller.id):
        if terminal == COMMON_TERMINAL:
            yield from _commons(job, controller)
        elif terminal == "SEN":
            name = " ".join(s.id for s in sensors)
            area = job.words("legend.sensor" if name else "legend.empty")
            yield Position(terminal=terminal, station=name or EMPTY, area=area)
        else:
            yield _position(job, controller, terminal)


def _position(job: Printable, controller: Controller, terminal: str) -> Position:
    jumpers = tuple(_jumper_notes(job, controller, terminal))
    found = [loads for loads in job.owners.values() if _lands(loads[0], controller, terminal)]
    if not found:
        empty = job.words("legend.empty")
        return Position(terminal=terminal, station=EMPTY, area=empty, notes=jumpers)
    loads = found[0]
    load = loads[0]
    is_here = load.hot_end.of == controller.id
    isolated = job.words("legend.to the isolator")
    amperes = milliamperes(job, load)
    return Position(
        terminal=terminal,
        station=load.owner.id,
        area=area_of(job, load),
        box=" ".join(dict.fromkeys(each.box for each in loads)),
        colour=mark(job.circuits[load.id].hot_at_controller) if is_here else isolated,
        ohms=_said(at_controller(job, load.owner.id).replace(BOUND, " ")) if is_here else EMPTY,
        volts=_said(*(volts_at_box(job, each) for each in loads)),
        milliamperes=_said(amperes),
        notes=(*jumpers, *_notes(job, loads)),
    )


def _said(*words: str) -> str:
    return "; ".join(known(words)) or EMPTY


def _lands(load: Load, controller: Controller, terminal: str) -> bool:
    if isinstance(load.owner, MasterValve):
        names = [said.value for said in load.owner.controllers]
        return controller.id in names and load.terminal == terminal
    return load.controller == controller.id and load.terminal == terminal


def _notes(job: Printable, loads: list[Load]) -> Iterator[str]:
    words, load = job.words, loads[0]
    circuit = job.circuits[load.id]
    if len(loads) > 1:
        valves = words.listed(each.id for each in loads)
        yield words("legend.valves", number=len(loads), valves=valves)
    if isinstance(load.owner, MasterValve) and load.owner.normally_open:
        yield words("terms.normally open")
    if load.kind is LoadKind.RELAY:
        yield words("legend.relay only")
    if load.back is not None and load.hot_end.of == load.controller:
        back = job.name_of(circuit.back_at_controller)
        yield words("legend.own return", conductor=back)
    if circuit.hot_at_controller.insulation != circuit.hot_at_valve.insulation:
        colour = words.colour(circuit.hot_at_valve.insulation.word)
        yield words("legend.at the valve", colour=colour)
    if isinstance(load.owner, Station):
        if load.owner.device:
            yield words("terms.no ohms", device=load.owner.device.value)
        yield from (said.value for said in load.owner.notes)


def _jumper_notes(job: Printable, controller: Controller, terminal: str) -> Iterator[str]:
    for jumper in controller.jumpers:
        names = [said.value for said in jumper.value]
        if terminal in names:
            others = job.words.listed(n for n in names if n != terminal)
            yield job.words("legend.linked", terminals=others)


def _commons(job: Printable, controller: Controller) -> Iterator[Position]:
    landings = [
        la
        for la in job.facts.wiring.commons[controller.id]
        if controller.id in la.conductor.places and not la.begins
    ]
    words = job.words
    joined = words("legend.pigtail", number=len(landings)) if len(landings) > 1 else ""
    for la in landings:
        served = words.listed(_served(job, controller, la))
        what = words("legend.for", stations=served) if served else words("legend.common")
        text = "; ".join(part for part in (what, joined) if part)
        yield Position(terminal=COMMON_TERMINAL, area=text, colour=mark(la.conductor))


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


def _on_path(job: Printable, controller: Controller) -> Iterator[Position]:
    """The two sides of the path, then the stations by decoder address."""
    for side, landings in zip(PATH_SIDES, job.facts.wiring.paths[controller.id], strict=True):
        for la in landings:
            if controller.id in la.conductor.places:
                colour = mark(la.conductor)
                terminal, path = job.words(f"legend.{side}"), job.words("legend.path")
                yield Position(terminal=terminal, station=path, colour=colour)
    stations = [loads[0] for loads in job.owners.values() if loads[0].controller == controller.id]
    for load in stations:
        decoder = load.decoder
        assert decoder is not None
        yield Position(
            terminal=job.words("legend.address", address=decoder.address.value),
            station=load.owner.id,
            area=area_of(job, load),
            box=load.box,
            notes=(job.words("legend.serial", serial=decoder.serial),) if decoder.serial else (),
        )


def _is_on_terminals(sensor: Sensor, controller: Controller) -> bool:
    on_it = any(said.value == controller.id for said in sensor.controllers)
    return on_it and not sensor.in_common


def _readings(job: Printable, controller: Controller) -> Iterator[str]:
    """How the numbers of the rows are meant, and what a coil reads alone."""
    words = job.words
    mine = [load for loads in job.owners.values() for load in loads]
    mine = [load for load in mine if load.controller == controller.id]
    if known(at_controller(job, load.owner.id) for load in mine):
        yield words("legend.ohms")
    if known(milliamperes(job, load) for load in mine):
        others = words.listed(name for load in mine for name in beside(job, load))
        yield words("legend.volts beside", others=others) if others else words("legend.volts")
    coils: dict[str, list[str]] = {}
    for load in mine:
        if load.coil is not None:
            coils.setdefault(coil_alone(load.coil), []).append(load.id)
    if len(coils) == 1:
        yield words("legend.coil", bands=next(iter(coils)))
    elif coils:
        parts = (words.joined([words.listed(names), band], " ") for band, names in coils.items())
        yield words("legend.coil", bands=words.joined(parts, "; "))


def _sensors(job: Printable, controller: Controller) -> Iterator[str]:
    words = job.words
    for sensor in job.job.sensors.values():
        if not any(said.value == controller.id for said in sensor.controllers):
            continue
        said = _sensor(job, sensor)
        wires = words.joined(
            job.name_of(job.facts.wiring.conductors[job.facts.wiring.by_words[name.value]])
            for name in sensor.conductors
        )
        if sensor.in_common:
            yield words("legend.in common", sensor=said)
        elif wires:
            yield words("legend.on SEN by", sensor=said, wires=wires)
        else:
            yield words("legend.on SEN", sensor=said)


def _sensor(job: Printable, sensor: Sensor) -> Text:
    """`RS-1: rain sensor (roof), normally closed`."""
    words = job.words
    kind = words(f"legend.{sensor.kind} sensor")
    where = [f"({sensor.where})"] if sensor.where else []
    said = words.joined([f"{sensor.id}:", kind, *where], " ")
    contact = [words(f"legend.{sensor.contact.value}")] if sensor.contact else []
    return words.joined([said, *contact])


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
