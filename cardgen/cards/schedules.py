"""Turn a job into the schedules of the packet: stations, conductors stretch by stretch, splices."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import Box, Valve
from cardgen.asbuilt.model.conductors import Conductor, Stretch
from cardgen.cards.expected import BOUND, at_controller
from cardgen.cards.lengths import beside_in, both, in_units
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Table
from cardgen.cards.printable import Printable
from cardgen.cards.readings_sheet import NONE
from cardgen.cards.uses import uses_in_words
from cardgen.cards.valve_tags import area_of, twin_line
from cardgen.units import LengthUnit, Metres

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
    for controller in job.asbuilt.controllers:
        rows = tuple(_station(job, valve) for valve in job.asbuilt.valves_of(controller.id))
        if rows:
            name = f"station schedule {controller.id}"
            title = job.words("schedule.stations", controller=controller.id)
            table = Table(columns=job.words.named("columns", STATIONS), rows=rows)
            yield _card(job, name, title, controller.where, {"rows": table})
    rows = tuple(_conductor(job, c, part) for c in job.asbuilt.conductors for part in c.stretches)
    table = Table(columns=job.words.named("columns", CONDUCTORS), rows=rows)
    title, about = job.words("schedule.conductors"), job.words("schedule.outward")
    yield _card(job, "conductor schedule", title, about, {"rows": table})
    rows = tuple(_splices(job, box) for box in job.asbuilt.boxes)
    if rows:
        fields = {"register": Table(columns=job.words.named("columns", SPLICES), rows=rows)}
        title, about = job.words("schedule.splices"), job.words("schedule.which")
        yield _card(job, "splice register", title, about, fields)


def _card(job: Printable, name: str, title: str, about: str, fields: dict[str, Table]) -> Card:
    said: dict[str, FieldValue] = {
        "title": title,
        "subtitle": " · ".join(part for part in (job.asbuilt.site, about) if part),
        "stamp": job.stamp,
        **fields,
    }
    return Card(kind=CardKind.SCHEDULE, id=name, place=job.spans.job, fields=said)


# ---- stations ------------------------------------------------------------------------------


def _station(job: Printable, valve: Valve) -> Row:
    ohms: str = at_controller(valve)
    ends: Row = (job.words("schedule.path"), NONE, NONE)
    terminal: str = valve.terminal
    if valve.hot and valve.hot_at_controller and valve.back:
        ends = (valve.hot_at_controller, valve.hot, valve.back)
    elif valve.decoder is not None:
        terminal = job.words("schedule.address", address=valve.decoder.address)
        ohms = NONE
    notes = "; ".join(_notes(job, valve))
    return (valve.id, area_of(job.words, valve), valve.box, terminal, *ends, ohms, notes)


def _notes(job: Printable, valve: Valve) -> Iterator[str]:
    words = job.words
    if valve.normally_open:
        yield words("terms.normally open")
    if valve.isolators:
        yield words("terms.isolators")
    if valve.decoder is not None:
        yield valve.decoder.id
    if valve.polarity:
        hot, common = (words.colour(lead) for lead in valve.polarity)
        yield words("terms.to leads", hot=hot, common=common)
    if valve.others:
        yield twin_line(job, valve)
    if valve.device:
        yield words("terms.behind", device=valve.device)
    yield from valve.notes


# ---- conductors ----------------------------------------------------------------------------


def _conductor(job: Printable, conductor: Conductor, stretch: Stretch) -> Row:
    """One piece of metal with one use makes one row."""
    usual = LengthUnit(job.asbuilt.unit)
    return (
        conductor.mark,
        conductor.mark.gauge.replace(" ", BOUND),
        stretch.first,
        ", ".join(stretch.through) or NONE,
        stretch.last,
        both(*in_units(Metres(stretch.metres), usual, up=False)),
        job.words.joined(uses_in_words(job.words, stretch.uses)),
    )


# ---- splices -------------------------------------------------------------------------------


def _splices(job: Printable, box: Box) -> Row:
    """Two distances as the job says them, else room for them."""
    ties = [beside_in(tie) for tie in box.ties]
    first, second = (*ties[:1], "")[0], "; ".join(ties[1:])
    count: str = str(len(box.joints)) if box.joints else job.words("terms.none")
    if box.as_built:
        count = job.words("schedule.as built", number=count)
    return (box.id, job.kind(box), box.where, count, first, second, box.coordinates)
