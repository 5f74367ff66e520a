"""Turn a job into the schedules of the packet: stations, conductors leg by leg, splices."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from cardgen.cards.box_wires import box_wires, users
from cardgen.cards.expected import BOUND, at_controller
from cardgen.cards.lengths import beside_in, both, in_units, usual_unit
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Table
from cardgen.cards.printable import Printable, mark
from cardgen.cards.readings_sheet import NONE
from cardgen.cards.valve_tags import area_of, twin_line
from cardgen.job.model import Box, BoxKind, Controller, MasterValve, Station
from cardgen.units import Metres
from cardgen.wiring.model import Conductor, Load

STATIONS = (
    *("station", "area", "box", "terminal", "hot at the controller", "hot at the valve"),
    *("back at the valve", "reads, Ω", "notes"),
)
CONDUCTORS = ("conductor", "gauge", "from", "through", "to", "length", "use")
SPLICES = (
    *("box", "kind", "place", "joints", "distance to a fixed point", "distance to another"),
    "coordinates",
)
Row = tuple[Cell, ...]


def schedules(job: Printable) -> Iterator[Card]:
    """Stations of each controller, then all conductors, then all boxes."""
    for controller in job.job.controllers.values():
        rows = tuple(_stations(job, controller))
        if rows:
            name = f"station schedule {controller.id}"
            title = job.words("schedule.stations", controller=controller.id)
            table = Table(columns=job.words.named("columns", STATIONS), rows=rows)
            yield _card(job, name, title, controller.where, {"rows": table})
    rows = tuple(row for c in job.facts.wiring.conductors.values() for row in _stretches(job, c))
    table = Table(columns=job.words.named("columns", CONDUCTORS), rows=rows)
    title, about = job.words("schedule.conductors"), job.words("schedule.outward")
    yield _card(job, "conductor schedule", title, about, {"rows": table})
    rows = tuple(_splices(job, box) for box in job.job.boxes.values())
    if rows:
        fields = {"register": Table(columns=job.words.named("columns", SPLICES), rows=rows)}
        title, about = job.words("schedule.splices"), job.words("schedule.which")
        yield _card(job, "splice register", title, about, fields)


def _card(job: Printable, name: str, title: str, about: str, fields: dict[str, Table]) -> Card:
    said: dict[str, FieldValue] = {
        "title": title,
        "subtitle": " · ".join(part for part in (job.info.site.value, about) if part),
        "stamp": job.stamp,
        **fields,
    }
    return Card(kind=CardKind.SCHEDULE, id=name, place=job.info.place, fields=said)


# ---- stations ------------------------------------------------------------------------------


def _stations(job: Printable, controller: Controller) -> Iterator[Row]:
    for loads in job.owners.values():
        for load in loads:
            if load.controller == controller.id:
                yield _station(job, load)


def _station(job: Printable, load: Load) -> Row:
    circuit = job.circuits.get(load.id)
    ohms = at_controller(job, load.owner.id)
    ends: Row = (job.words("schedule.path"), NONE, NONE)
    terminal: str = load.terminal
    if circuit is not None:
        marks = (circuit.hot_at_controller, circuit.hot_at_valve, circuit.back_at_valve)
        ends = tuple(mark(each) for each in marks)
    elif load.decoder is not None:
        terminal = job.words("schedule.address", address=load.decoder.address.value)
        ohms = NONE
    notes = "; ".join(_notes(job, load))
    return (load.id, area_of(job, load), load.box, terminal, *ends, ohms, notes)


def _notes(job: Printable, load: Load) -> Iterator[str]:
    words = job.words
    owner, polarity = load.owner, job.job.controllers[load.controller].polarity
    if isinstance(owner, MasterValve) and owner.normally_open:
        yield words("terms.normally open")
    if load.hot_end.of != load.controller:
        yield words("terms.isolators")
    if load.decoder is not None:
        yield load.decoder.id
    if polarity is not None:
        hot, common = words.colour(polarity.hot), words.colour(polarity.common)
        yield words("terms.to leads", hot=hot, common=common)
    if len(job.owners[owner.id]) > 1:
        yield twin_line(job, load)
    if isinstance(owner, Station):
        if owner.device:
            yield words("terms.behind", device=owner.device.value)
        yield from (said.value for said in owner.notes)


# ---- conductors ----------------------------------------------------------------------------


def _stretches(job: Printable, conductor: Conductor) -> Iterator[Row]:
    """Neighbouring legs with the same use make one row."""
    legs = range(len(conductor.legs))
    usual = usual_unit(job.job)
    for use, found in groupby(legs, key=lambda leg: _use(job, conductor, leg)):
        indices = list(found)
        first, last = indices[0], indices[-1]
        between = conductor.places[first + 1 : last + 1]
        length = Metres(sum(conductor.legs[i].metres for i in indices))
        yield (
            mark(conductor),
            str(conductor.gauge).replace(" ", BOUND),
            conductor.places[first],
            ", ".join(between) or NONE,
            conductor.places[last + 1],
            both(*in_units(length, usual, up=False)),
            use,
        )


def _use(job: Printable, conductor: Conductor, leg: int) -> str:
    claims = job.facts.claimed.get((conductor.name, leg), [])
    if claims:
        return job.words.joined(users(job, claims))
    free = conductor.name in job.facts.used_conductors
    return job.words("roles.free" if free else "roles.a spare")


# ---- splices -------------------------------------------------------------------------------


def _splices(job: Printable, box: Box) -> Row:
    """Two distances as the job says them, else room for them."""
    wires = box_wires(job, box)
    ties = [beside_in(tie) for tie in box.ties]
    first, second = (*ties[:1], "")[0], "; ".join(ties[1:])
    count: str = str(len(wires.joints)) if wires.joints else job.words("terms.none")
    if wires.as_built:
        count = job.words("schedule.as built", number=count)
    said = job.words(f"box kinds.{box.kind or BoxKind.VALVE}")
    kind = ", ".join(part for part in (said, box.size) if part)
    return (box.id, kind, box.where, count, first, second, box.coordinates)
