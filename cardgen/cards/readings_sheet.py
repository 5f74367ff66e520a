"""Turn each controller into its test sheet: what is expected of each valve, and room to write."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from cardgen.cards.expected import at_controller, beside, in_band, milliamperes, volts_at_box
from cardgen.cards.measuring import BLANKS, RULES, TICKS
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Table
from cardgen.cards.printable import NOT_KNOWN, Printable
from cardgen.cards.valve_tags import area_of
from cardgen.electrics.loops import at_coil, hot_to_hot
from cardgen.job.model import Controller, MasterValve
from cardgen.units import SupplyKind
from cardgen.wiring.model import Circuit, Landing, Load
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
    for controller in job.job.controllers.values():
        kind = controller.supply.value.kind
        about = (job.info.site.value, controller.where, job.supply(controller.id))
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
        between = tuple(between_hots(job, controller))
        if between:
            columns = ("box", "between", "expects, Ω", "read, Ω")
            fields["between"] = _table(job, columns * 2, _doubled(between))
        grounds = tuple(_grounds(job, controller))
        if grounds:
            columns = ("box", "expects, Ω to ground", "read, Ω", "date")
            fields["grounds"] = _table(job, columns * 2, _doubled(grounds))
        yield Card(
            kind=CardKind.TEST_SHEET, id=controller.id, place=controller.place, fields=fields
        )


def _table(job: Printable, columns: Iterable[str], rows: Iterable[Row]) -> Table:
    return Table(columns=job.words.named("columns", columns), rows=tuple(rows))


def _beside_all(job: Printable, controller: Controller) -> Iterator[Text]:
    """What counts in the milliamperes of every station, said once."""
    mine = (load for loads in job.owners.values() for load in loads)
    others = [
        name for load in mine if load.controller == controller.id for name in beside(job, load)
    ]
    if others:
        yield job.words("test sheet.with", others=job.words.listed(dict.fromkeys(others)))


def _rows(job: Printable, controller: Controller) -> Iterator[Row]:
    make = _ROWS[controller.supply.value.kind]
    for loads in job.owners.values():
        for load in loads:
            if load.controller == controller.id:
                yield make(job, load)
    yield from _common_rows(job, controller)


def _ac_row(job: Printable, load: Load) -> Row:
    read, expected = _read(job, load), at_controller(job, load.owner.id)
    said = (load.id, area_of(job, load), load.box, expected, read("ohms at the controller"))
    running = (volts_at_box(job, load), read("volts"), milliamperes(job, load))
    return (*said, *running, read("milliamperes"), "", *_end(job, load))


def _latching_row(job: Printable, load: Load) -> Row:
    read, expected = _read(job, load), at_controller(job, load.owner.id)
    said = (load.id, area_of(job, load), load.box, expected, read("ohms at the controller"))
    return (*said, "", "", "", *_end(job, load))


def _decoder_row(job: Printable, load: Load) -> Row:
    decoder = load.decoder
    expected = in_band(at_coil(load.coil.resistance)) if load.coil else NOT_KNOWN
    name = decoder.id if decoder else NOT_KNOWN
    address = str(decoder.address.value) if decoder else NOT_KNOWN
    said = (load.id, area_of(job, load), load.box, name, address, expected)
    return (*said, _read(job, load)("ohms at the coil"), "", "", "", *_end(job, load))


_ROWS = {
    SupplyKind.AC: _ac_row,
    SupplyKind.LATCHING: _latching_row,
    SupplyKind.TWO_WIRE: _decoder_row,
}


def _read(job: Printable, load: Load) -> Callable[[str], str]:
    """What a crew read at a valve, by its kind; else room to write it."""
    measured = job.measured.get(load.id, {})
    return lambda kind: measured.get(kind, "")


def _end(job: Printable, load: Load) -> tuple[str, str]:
    return _read(job, load)("insulation"), "; ".join(_notes(job, load))


def _notes(job: Printable, load: Load) -> Iterator[Text]:
    words = job.words
    loads = job.owners[load.owner.id]
    if len(loads) > 1:
        yield words("test sheet.all valves", number=len(loads))
    if isinstance(load.owner, MasterValve) and load.owner.normally_open:
        yield words("terms.normally open")
    if load.hot_end.of != load.controller:
        yield words("test sheet.at the isolators")
    device = getattr(load.owner, "device", None)
    if device:
        yield words("terms.no ohms", device=device.value)
    if load.id in job.measured:
        yield words("test sheet.read on", date=job.measured[load.id]["when"])


def _common_rows(job: Printable, controller: Controller) -> Iterator[Row]:
    """The conductors that carry everything, for their insulation."""
    width = len(COLUMNS[controller.supply.value.kind])
    commons: list[tuple[str, Landing]] = [
        (f"COM-{controller.id}", la) for la in job.facts.wiring.commons[controller.id]
    ]
    for number, landings in enumerate(job.facts.wiring.paths.get(controller.id, ()), 1):
        commons += [(job.words("test sheet.path", number=number), la) for la in landings]
    for name, la in commons:
        filler = (NONE,) * (width - 4)
        yield (name, job.name_of(la.conductor), *filler, "", "")


# ---- beside the rows of the valves ---------------------------------------------------------


def between_hots(job: Printable, controller: Controller) -> Iterator[Row]:
    """For each box the first two stations that meet on its common: reads well while it is lost."""
    by_box: dict[str, list[Circuit]] = {}
    for circuit in job.circuits.values():
        load = circuit.load
        single = len(job.owners[load.owner.id]) == 1 and not getattr(load.owner, "device", None)
        if load.controller == controller.id and load.back is None and single:
            by_box.setdefault(load.box, []).append(circuit)
    for box, circuits in by_box.items():
        if len(circuits) < 2:
            continue
        band = hot_to_hot(circuits[0], circuits[1], job.facts.network)
        if band is not None:
            names = job.words.listed((circuits[0].load.id, circuits[1].load.id))
            yield box, names, in_band(band), ""


def _grounds(job: Printable, controller: Controller) -> Iterator[Row]:
    """Surge units on this controller's path; the job does not say what their ground must read."""
    sides = job.facts.wiring.paths.get(controller.id, ())
    places = {place for landings in sides for la in landings for place in la.conductor.places}
    for said in job.job.surge_units:
        if said.value in places:
            yield said.value, NOT_KNOWN, "", ""


def _doubled(rows: tuple[Row, ...]) -> tuple[Row, ...]:
    """Two rows side by side; the last may have no neighbour."""
    nothing = (NONE,) * len(rows[0])
    pairs = (rows[i : i + 2] for i in range(0, len(rows), 2))
    return tuple((*pair[0], *(pair[1] if len(pair) > 1 else nothing)) for pair in pairs)
