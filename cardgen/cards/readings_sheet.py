"""Turn each controller into its test sheet: what is expected of each valve, and room to write."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from cardgen.asbuilt import Controller, Valve
from cardgen.asbuilt.model.conductors import Conductor, Stretch
from cardgen.cards.expected import at_controller, in_band, milliamperes, volts_at_box
from cardgen.cards.measuring import BLANKS, RULES, TICKS
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Table
from cardgen.cards.printable import NOT_KNOWN, Printable
from cardgen.cards.uses import name_in_words
from cardgen.cards.valve_tags import area_of
from cardgen.units import SupplyKind
from cardgen.words import Text

NONE = "–"  # nothing to measure here
Row = tuple[Cell, ...]

COLUMNS = {
    SupplyKind.AC: (
        *("station", "area", "box", "expects, Ω", "read, Ω", "expects, V at the box"),
        *("read, V", "expects, mA", "read, mA", "walk test", "insulation, MΩ", "notes"),
    ),
    SupplyKind.LATCHING: (
        *("station", "area", "box", "expects, Ω", "read, Ω", "pulse opens", "pulse closes"),
        *("walk test", "insulation, MΩ", "notes"),
    ),
    SupplyKind.TWO_WIRE: (
        *("station", "area", "box", "decoder", "address", "expects, Ω at the decoder"),
        *("read, Ω", "opens", "closes", "walk test", "insulation, MΩ", "notes"),
    ),
}


def test_sheets(job: Printable) -> Iterator[Card]:
    """A sheet for each controller, in the order of the file."""
    for controller in job.asbuilt.controllers:
        kind = SupplyKind(controller.supply_kind)
        about = (job.asbuilt.site, controller.where, job.supply(controller.id))
        rules = job.words.named("test sheet", RULES[kind])
        half = -(-len(rules) // 2)
        fields: dict[str, FieldValue] = {
            "title": job.words("test sheet.title", controller=controller.id),
            "subtitle": " · ".join((*about, *_beside_all(job, controller))),
            "blanks": job.words.named("blanks", BLANKS),
            "ticks": job.words.named("blanks", TICKS[kind]),
            "rules": rules[:half],
            "rules_2": rules[half:],
            "valves": _table(job, COLUMNS[kind], _rows(job, controller)),
            "stamp": job.stamp,
        }
        between = tuple(_between_hots(job, controller))
        if between:
            columns = ("box", "between", "expects, Ω", "read, Ω")
            fields["between"] = _table(job, columns * 2, _doubled(between))
        grounds = tuple(_grounds(job, controller))
        if grounds:
            columns = ("box", "expects, Ω to ground", "read, Ω", "date")
            fields["grounds"] = _table(job, columns * 2, _doubled(grounds))
        yield Card(
            kind=CardKind.TEST_SHEET,
            id=controller.id,
            controllers=(controller.id,),
            place=job.spans.of(controller.id),
            fields=fields,
        )


def _table(job: Printable, columns: Iterable[str], rows: Iterable[Row]) -> Table:
    return Table(columns=job.words.named("columns", columns), rows=tuple(rows))


def _beside_all(job: Printable, controller: Controller) -> Iterator[Text]:
    """What counts in the milliamperes of every station, said once."""
    others = dict.fromkeys(
        name for valve in job.asbuilt.valves_of(controller.id) for name in valve.beside
    )
    if others:
        yield job.words("test sheet.with", others=job.words.listed(others))


def _rows(job: Printable, controller: Controller) -> Iterator[Row]:
    kind = SupplyKind(controller.supply_kind)
    yield from (_ROWS[kind](job, valve) for valve in job.asbuilt.valves_of(controller.id))
    yield from _common_rows(job, controller, len(COLUMNS[kind]))


def _ac_row(job: Printable, valve: Valve) -> Row:
    read = _read(job, valve)
    running = (volts_at_box(valve), read("volts"), milliamperes(valve), read("milliamperes"), "")
    return (*_ohms(job, valve), *running, *_end(job, valve))


def _latching_row(job: Printable, valve: Valve) -> Row:
    return (*_ohms(job, valve), "", "", "", *_end(job, valve))


def _ohms(job: Printable, valve: Valve) -> Row:
    read = _read(job, valve)("ohms at the controller")
    return (valve.id, area_of(job.words, valve), valve.box, at_controller(valve), read)


def _decoder_row(job: Printable, valve: Valve) -> Row:
    decoder = valve.decoder
    expected = in_band(valve.coil) if valve.coil else NOT_KNOWN
    name = decoder.id if decoder else NOT_KNOWN
    address = str(decoder.address) if decoder else NOT_KNOWN
    said = (valve.id, area_of(job.words, valve), valve.box, name, address, expected)
    return (*said, _read(job, valve)("ohms at the coil"), "", "", "", *_end(job, valve))


_ROWS = {
    SupplyKind.AC: _ac_row,
    SupplyKind.LATCHING: _latching_row,
    SupplyKind.TWO_WIRE: _decoder_row,
}


def _read(job: Printable, valve: Valve) -> Callable[[str], str]:
    """What a crew read at a valve, by its kind; else room to write it."""
    measured = job.measured.get(valve.id, {})
    return lambda kind: measured.get(kind, "")


def _end(job: Printable, valve: Valve) -> tuple[str, str]:
    return _read(job, valve)("insulation"), "; ".join(_notes(job, valve))


def _notes(job: Printable, valve: Valve) -> Iterator[Text]:
    words = job.words
    if valve.others:
        yield words("test sheet.all valves", number=1 + len(valve.others))
    if valve.normally_open:
        yield words("terms.normally open")
    if valve.isolators:
        yield words("test sheet.at the isolators")
    if valve.device:
        yield words("terms.no ohms", device=valve.device)
    if valve.id in job.measured:
        yield words("test sheet.read on", date=job.measured[valve.id]["when"])


def _common_rows(job: Printable, controller: Controller, width: int) -> Iterator[Row]:
    """The conductors that carry everything, for their insulation."""
    names = [(f"COM-{controller.id}", controller.common)]
    if controller.supply_kind == SupplyKind.TWO_WIRE:
        paths = controller.paths
        names += [(job.words("test sheet.path", number=path.side), path) for path in paths]
    for name, use in names:
        for conductor in job.asbuilt.conductors:
            mine = [stretch for stretch in conductor.stretches if use in stretch.uses]
            if mine:
                said = _where(job, conductor, mine)
                yield (name, said, *(NONE,) * (width - 4), "", "")


def _where(job: Printable, conductor: Conductor, mine: list[Stretch]) -> Text:
    """Its name; of one that is something else elsewhere also from where to where."""
    name = name_in_words(job.words, conductor)
    if len(mine) == len(conductor.stretches):
        return name
    ways = [f"{stretch.first} → {stretch.last}" for stretch in mine]
    return job.words.joined([name, *ways])


# ---- beside the rows of the valves ---------------------------------------------------------


def _between_hots(job: Printable, controller: Controller) -> Iterator[Row]:
    """For each box the first two stations that meet on its common: reads well while it is lost."""
    for each in controller.between:
        yield each.box, job.words.listed(each.valves), in_band(each.ohms), ""


def _grounds(job: Printable, controller: Controller) -> Iterator[Row]:
    """Surge units on this controller's path; the job does not say what their ground must read."""
    stretches = (stretch for c in job.asbuilt.conductors for stretch in c.stretches)
    on_path = (s for s in stretches if not set(controller.paths).isdisjoint(s.uses))
    places = {place for stretch in on_path for place in stretch.places}
    for place in job.asbuilt.surge_units:
        if place in places:
            yield place, NOT_KNOWN, "", ""


def _doubled(rows: tuple[Row, ...]) -> tuple[Row, ...]:
    """Two rows side by side; the last may have no neighbour."""
    nothing = (NONE,) * len(rows[0])
    pairs = (rows[i : i + 2] for i in range(0, len(rows), 2))
    return tuple((*pair[0], *(pair[1] if len(pair) > 1 else nothing)) for pair in pairs)
