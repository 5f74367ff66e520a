"""Turn a job into the schedules of the packet: stations, conductors stretch by stretch, splices."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import BuiltBox, BuiltValve
from cardgen.asbuilt.model.built_conductors import BuiltConductor, BuiltStretch
from cardgen.cards.card import Card, CardKind, Cell, FieldValue, Table, on_paper
from cardgen.cards.expected import BOUND, at_controller
from cardgen.cards.lengths import beside_in, both, in_units
from cardgen.cards.printable import Printable
from cardgen.cards.readings_sheet import NONE
from cardgen.cards.use_words import uses_in_words
from cardgen.cards.valve_tags import area_of, twin_line
from cardgen.units import LengthUnit, Meters
from cardgen.words import Said, Text, apart

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


def schedules(printable: Printable) -> Iterator[Card]:
    """Stations of each controller, then all conductors, then all boxes."""
    for controller in printable.asbuilt.controllers:
        rows = tuple(
            _station(printable, valve) for valve in printable.asbuilt.valves_of(controller.id)
        )
        if rows:
            name = f"station schedule {controller.id}"
            title = printable.words("schedule.stations", controller=controller.id)
            table = Table.of(printable.words.named("columns", STATIONS), rows)
            yield _card(printable, name, title, controller.where, {"rows": table})
    rows = tuple(
        _conductor(printable, c, part) for c in printable.asbuilt.conductors for part in c.stretches
    )
    table = Table.of(printable.words.named("columns", CONDUCTORS), rows)
    title, about = printable.words("schedule.conductors"), printable.words("schedule.outward")
    yield _card(printable, "conductor schedule", title, about, {"rows": table})
    rows = tuple(_splices(printable, box) for box in printable.asbuilt.boxes)
    if rows:
        fields = {"register": Table.of(printable.words.named("columns", SPLICES), rows)}
        title, about = printable.words("schedule.splices"), printable.words("schedule.which")
        yield _card(printable, "splice register", title, about, fields)


def _card(
    printable: Printable, name: str, title: Text, about: Said, fields: dict[str, Table]
) -> Card:
    said: dict[str, FieldValue] = {
        "title": title,
        "subtitle": apart((printable.asbuilt.site, about)),
        "stamp": printable.stamp,
        **fields,
    }
    return Card(kind=CardKind.SCHEDULE, id=name, span=printable.spans.job, fields=on_paper(said))


# ---- stations ------------------------------------------------------------------------------


def _station(printable: Printable, valve: BuiltValve) -> Row:
    ohms: str = at_controller(valve)
    ends: Row = (printable.words("schedule.path"), NONE, NONE)
    terminal: Said = valve.terminal
    if valve.hot and valve.hot_at_controller and valve.back:
        ends = (valve.hot_at_controller, valve.hot, valve.back)
    elif valve.decoder is not None:
        terminal = printable.words("schedule.address", address=valve.decoder.address)
        ohms = NONE
    notes = printable.words.joined(_notes(printable, valve), "; ")
    return (valve.id, area_of(printable.words, valve), valve.box, terminal, *ends, ohms, notes)


def _notes(printable: Printable, valve: BuiltValve) -> Iterator[Said]:
    words = printable.words
    if valve.normally_open:
        yield words("terms.normally open")
    if valve.isolators:
        yield words("terms.isolators")
    if valve.decoder is not None:
        yield valve.decoder.id
    if valve.polarity:
        hot, common = (words.color(lead) for lead in valve.polarity)
        yield words("terms.to leads", hot=hot, common=common)
    if valve.others:
        yield twin_line(printable, valve)
    if valve.device:
        yield words("terms.behind", device=valve.device)
    yield from valve.notes


# ---- conductors ----------------------------------------------------------------------------


def _conductor(printable: Printable, conductor: BuiltConductor, stretch: BuiltStretch) -> Row:
    """One piece of metal with one use makes one row."""
    usual = LengthUnit(printable.asbuilt.unit)
    return (
        conductor.mark,
        conductor.mark.gauge.replace(" ", BOUND),
        stretch.first,
        ", ".join(stretch.through) or NONE,
        stretch.last,
        both(*in_units(Meters(stretch.meters), usual, up=False)),
        printable.words.joined(uses_in_words(printable.words, stretch.uses)),
    )


# ---- splices -------------------------------------------------------------------------------


def _splices(printable: Printable, box: BuiltBox) -> Row:
    """Two distances as the job says them, else room for them."""
    ties = [beside_in(tie) for tie in box.ties]
    first, second = (*ties[:1], "")[0], "; ".join(ties[1:])
    count: Said = str(len(box.joints)) if box.joints else printable.words("terms.none")
    if box.as_built:
        count = printable.words("schedule.as built", number=count)
    return (box.id, printable.kind(box), box.where, count, first, second, box.coordinates)
