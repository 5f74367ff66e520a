"""Turn each controller into its schedules: stations, conductors stretch by stretch, splices."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from cardgen.asbuilt import BuiltBox, BuiltController, BuiltValve
from cardgen.asbuilt.model.built_conductors import BuiltConductor, BuiltStretch
from cardgen.cards.card import Card, CardKind, Cell, FieldValue, on_paper
from cardgen.cards.color_codes import own_codes_line
from cardgen.cards.expected import BOUND, NOTHING, at_controller
from cardgen.cards.lengths import beside_in, both, in_units
from cardgen.cards.printable import Printable
from cardgen.cards.tables import filled_table
from cardgen.cards.use_words import uses_in_words
from cardgen.cards.valve_tags import area_of, twin_line
from cardgen.units import NOT_KNOWN, LengthUnit, Meters
from cardgen.words import Said, apart

STATIONS = (
    *("station", "area", "box", "terminal", "decoder", "hot at the controller"),
    *("hot at the valve", "back at the valve", "reads, Ω", "notes"),
)
ONE_LOOK = {"hot at the valve": "hot"}  # where no hot changes on its way
CONDUCTORS = ("conductor", "gauge", "from", "through", "to", "length", "use")
SPLICES = (
    *("box", "kind", "place", "joints", "distance to a fixed point", "distance to another"),
    "coordinates",
)
TO_MEASURE = ("distance to a fixed point", "distance to another")
STATION_SCHEDULE = "station schedule"
CONDUCTOR_SCHEDULE = "conductor schedule"
SPLICE_REGISTER = "splice register"
# As they are called where no controller has them.
OTHERS = {CONDUCTOR_SCHEDULE: "other conductors", SPLICE_REGISTER: "other boxes"}
Row = tuple[Cell, ...]


def schedules(printable: Printable) -> Iterator[Card]:
    """Of each controller its stations, conductors and boxes; last what comes from none of them."""
    for controller in (*printable.asbuilt.controllers, None):
        yield from _stations(printable, controller) if controller else ()
        yield from _conductors(printable, controller.id if controller else "")
        yield from _boxes(printable, controller.id if controller else "")


def _card(
    printable: Printable, name: str, controller: str, about: Said, fields: Mapping[str, FieldValue]
) -> Card:
    said: dict[str, FieldValue] = {
        "title": printable.words(
            f"schedule.{name if controller else OTHERS[name]}", controller=controller
        ),
        "subtitle": apart((printable.asbuilt.site, about)),
        "stamp": printable.stamp,
        **fields,
    }
    return Card(
        kind=CardKind.SCHEDULE,
        id=f"{name} {controller}" if controller else OTHERS[name],
        controllers=(controller,) if controller else (),
        span=printable.spans.of(controller) if controller else printable.spans.job,
        fields=on_paper(said),
    )


# ---- stations ------------------------------------------------------------------------------


def _stations(printable: Printable, controller: BuiltController) -> Iterator[Card]:
    valves = printable.asbuilt.valves_of(controller.id)
    rows = [_station(printable, valve) for valve in valves]
    if not rows:
        return
    columns, ends = list(STATIONS), STATIONS.index("hot at the controller")
    if all(valve.hot == valve.hot_at_controller for valve in valves):
        columns = [ONE_LOOK.get(name, name) for name in columns if name != STATIONS[ends]]
        rows = [(*row[:ends], *row[ends + 1 :]) for row in rows]
    table = filled_table(printable.words, columns, rows)
    about = apart((printable.place_of(controller.id), printable.supply(controller.id)))
    yield _card(printable, STATION_SCHEDULE, controller.id, about, {"rows": table})


def _station(printable: Printable, valve: BuiltValve) -> Row:
    none = NOT_KNOWN if valve.hot_unknown else NOTHING
    hots: Row = (valve.hot_at_controller or none, valve.hot or none, valve.back or none)
    terminal: Said = valve.terminal
    ohms, decoder = at_controller(valve), NOTHING
    if valve.decoder is not None:
        terminal = printable.words("schedule.address", address=valve.decoder.address)
        ohms, decoder = NOTHING, valve.decoder.id
    notes = printable.words.joined(_notes(printable, valve), "; ")
    area = area_of(printable.words, valve)
    return (valve.id, area, valve.box, terminal, decoder, *hots, ohms, notes)


def _notes(printable: Printable, valve: BuiltValve) -> Iterator[Said]:
    words = printable.words
    if valve.normally_open:
        yield words("terms.normally open")
    if valve.isolators:
        yield words("terms.isolators")
    if valve.polarity:
        hot, common = (words.color(lead) for lead in valve.polarity)
        yield words("terms.to leads", hot=hot, common=common)
    if valve.others:
        yield twin_line(printable, valve)
    if valve.device:
        yield words("terms.behind", device=valve.device)
    yield from valve.notes


# ---- conductors ----------------------------------------------------------------------------


def _conductors(printable: Printable, controller: str) -> Iterator[Card]:
    """Of the cables that come from the controller; without one, of those that come from none."""
    rows = [
        _conductor(printable, conductor, stretch)
        for conductor in printable.asbuilt.conductors_of(controller)
        for stretch in conductor.stretches
    ]
    if rows:
        table = filled_table(printable.words, CONDUCTORS, rows, ["through"])
        about, codes = printable.words("schedule.outward"), own_codes_line(printable)
        fields: dict[str, FieldValue] = {"rows": table, **({"notes": codes} if codes else {})}
        yield _card(printable, CONDUCTOR_SCHEDULE, controller, about, fields)


def _conductor(printable: Printable, conductor: BuiltConductor, stretch: BuiltStretch) -> Row:
    """One piece of metal with one use makes one row."""
    usual = LengthUnit(printable.asbuilt.unit)
    return (
        conductor.mark,
        conductor.mark.gauge.replace(" ", BOUND) or NOT_KNOWN,
        stretch.first,
        ", ".join(stretch.through) or NOTHING,
        stretch.last,
        NOT_KNOWN
        if stretch.meters is None
        else both(*in_units(Meters(stretch.meters), usual, up=False)),
        printable.words.joined(uses_in_words(printable.words, stretch.uses)),
    )


# ---- splices -------------------------------------------------------------------------------


def _boxes(printable: Printable, controller: str) -> Iterator[Card]:
    """A box that two controllers share is in the register of both."""
    rows = [_splices(printable, box) for box in printable.asbuilt.boxes_of(controller)]
    if rows:
        table = filled_table(printable.words, SPLICES, rows, TO_MEASURE)
        about = printable.words("schedule.which")
        yield _card(printable, SPLICE_REGISTER, controller, about, {"register": table})


def _splices(printable: Printable, box: BuiltBox) -> Row:
    """Two distances as the job says them, else room for them."""
    ties = [beside_in(tie) for tie in box.ties]
    first, second = (*ties[:1], "")[0], "; ".join(ties[1:])
    count: Said = str(len(box.joints)) if box.joints else printable.words("terms.none")
    if box.splices_unknown:
        count = NOT_KNOWN
    if box.as_built:
        count = printable.words("schedule.as built", number=count)
    return (box.id, printable.kind(box), box.where, count, first, second, box.coordinates)
