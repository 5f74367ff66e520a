"""Turn a job into the schedules of the packet: stations, conductors leg by leg, splices."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from cardgen.cards.box_wires import box_wires, users
from cardgen.cards.facts import NOT_KNOWN, Printable, mark
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Table
from cardgen.cards.readings_sheet import BOUND, NONE, in_band
from cardgen.cards.slack import in_units, usual_unit, words
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
            title = f"STATION SCHEDULE · CONTROLLER {controller.id}"
            table = Table(columns=STATIONS, rows=rows)
            yield _card(job, name, title, controller.where, {"rows": table})
    rows = tuple(row for c in job.facts.wiring.conductors.values() for row in _stretches(job, c))
    table = Table(columns=CONDUCTORS, rows=rows)
    about = "cable by cable, from the controller outward"
    yield _card(job, "conductor schedule", "CONDUCTOR SCHEDULE", about, {"rows": table})
    rows = tuple(_splices(job, box) for box in job.job.boxes.values())
    if rows:
        fields = {"register": Table(columns=SPLICES, rows=rows)}
        about = "which with which: see the splice cards"
        yield _card(job, "splice register", "SPLICE REGISTER", about, fields)


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
    reading = job.readings.get(load.owner.id)
    ohms = NOT_KNOWN
    if reading and reading.ohms is not None and reading.low is not None and reading.high:
        ohms = in_band((reading.ohms, reading.low, reading.high))
    ends: Row = ("two-wire path", NONE, NONE)
    terminal = load.terminal
    if circuit is not None:
        marks = (circuit.hot_at_controller, circuit.hot_at_valve, circuit.back_at_valve)
        ends = tuple(mark(each) for each in marks)
    elif load.decoder is not None:
        terminal = f"address {load.decoder.address.value}"
        ohms = NONE
    notes = "; ".join(_notes(job, load))
    return (load.id, area_of(load), load.box, terminal, *ends, ohms, notes)


def _notes(job: Printable, load: Load) -> Iterator[str]:
    owner, polarity = load.owner, job.job.controllers[load.controller].polarity
    if isinstance(owner, MasterValve) and owner.normally_open:
        yield "normally open: power closes"
    if load.hot_end.of != load.controller:
        yield "through isolators"
    if load.decoder is not None:
        yield load.decoder.id
    if polarity is not None:
        yield f"{polarity.hot} lead to hot, {polarity.common} to the way back"
    if len(job.owners[owner.id]) > 1:
        yield twin_line(job, load)
    if isinstance(owner, Station):
        if owner.device:
            yield f"behind a {owner.device.value}"
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
            words(in_units(length, usual, up=False)),
            use,
        )


def _use(job: Printable, conductor: Conductor, leg: int) -> str:
    claims = job.facts.claimed.get((conductor.name, leg), [])
    if claims:
        return ", ".join(users(claims))
    return "free" if conductor.name in job.facts.used_conductors else "spare"


# ---- splices -------------------------------------------------------------------------------


def _splices(job: Printable, box: Box) -> Row:
    """Two distances as the job says them, else room for them."""
    wires = box_wires(job, box)
    first, second = (*box.ties[:1], "")[0], "; ".join(box.ties[1:])
    count = str(len(wires.joints)) if wires.joints else "none"
    built = ", as built" if wires.as_built else ""
    kind = ", ".join(part for part in (box.kind or BoxKind.VALVE, box.size) if part)
    return (box.id, kind, box.where, f"{count}{built}", first, second, box.coordinates)
