"""Turn each controller into its test sheet: what is expected of each valve, and room to write."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from cardgen.asbuilt import BuiltController, BuiltValve, Use
from cardgen.asbuilt.model.built_conductors import BuiltConductor, BuiltStretch
from cardgen.cards.card import Card, CardKind, Cell, FieldValue, Table, on_paper
from cardgen.cards.expected import at_controller, in_band, milliamperes, volts_at_box
from cardgen.cards.measuring import BLANKS, RULES, TICKS
from cardgen.cards.printable import NOT_KNOWN, Printable
from cardgen.cards.use_words import name_in_words
from cardgen.cards.valve_tags import area_of
from cardgen.owners import common_of
from cardgen.units import SupplyKind
from cardgen.words import Said, Text, apart

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


def test_sheets(printable: Printable) -> Iterator[Card]:
    """A sheet for each controller, in the order of the file."""
    for controller in printable.asbuilt.controllers:
        kind = SupplyKind(controller.supply_kind)
        about = (printable.asbuilt.site, controller.where, printable.supply(controller.id))
        rules = printable.words.named("test sheet", RULES[kind])
        half = -(-len(rules) // 2)
        fields: dict[str, FieldValue] = {
            "title": printable.words("test sheet.title", controller=controller.id),
            "subtitle": apart((*about, *_beside_all(printable, controller))),
            "blanks": printable.words.named("blanks", BLANKS),
            "ticks": printable.words.named("blanks", TICKS[kind]),
            "rules": rules[:half],
            "rules_2": rules[half:],
            "valves": _table(printable, COLUMNS[kind], _rows(printable, controller)),
            "stamp": printable.stamp,
        }
        between = tuple(_between_hots(printable, controller))
        if between:
            columns = ("box", "between", "expects, Ω", "read, Ω")
            fields["between"] = _table(printable, columns * 2, _doubled(between))
        grounds = tuple(_grounds(printable, controller))
        if grounds:
            columns = ("box", "expects, Ω to ground", "read, Ω", "date")
            fields["grounds"] = _table(printable, columns * 2, _doubled(grounds))
        yield Card(
            kind=CardKind.TEST_SHEET,
            id=controller.id,
            controllers=(controller.id,),
            span=printable.spans.of(controller.id),
            fields=on_paper(fields),
        )


def _table(printable: Printable, columns: Iterable[str], rows: Iterable[Row]) -> Table:
    return Table.of(printable.words.named("columns", columns), rows)


def _beside_all(printable: Printable, controller: BuiltController) -> Iterator[Text]:
    """What counts in the milliamperes of every station, said once."""
    others = dict.fromkeys(
        name for valve in printable.asbuilt.valves_of(controller.id) for name in valve.beside
    )
    if others:
        yield printable.words("test sheet.with", others=printable.words.list_of(others))


def _rows(printable: Printable, controller: BuiltController) -> Iterator[Row]:
    kind = SupplyKind(controller.supply_kind)
    yield from (
        _ROWS[kind](printable, valve) for valve in printable.asbuilt.valves_of(controller.id)
    )
    yield from _common_rows(printable, controller, len(COLUMNS[kind]))


def _ac_row(printable: Printable, valve: BuiltValve) -> Row:
    read = _read(printable, valve)
    running = (volts_at_box(valve), read("volts"), milliamperes(valve), read("milliamperes"), "")
    return (*_ohms(printable, valve), *running, *_end(printable, valve))


def _latching_row(printable: Printable, valve: BuiltValve) -> Row:
    return (*_ohms(printable, valve), "", "", "", *_end(printable, valve))


def _ohms(printable: Printable, valve: BuiltValve) -> Row:
    read = _read(printable, valve)("ohms at the controller")
    return (valve.id, area_of(printable.words, valve), valve.box, at_controller(valve), read)


def _decoder_row(printable: Printable, valve: BuiltValve) -> Row:
    decoder = valve.decoder
    expected = in_band(valve.coil) if valve.coil else NOT_KNOWN
    name = decoder.id if decoder else NOT_KNOWN
    address = str(decoder.address) if decoder else NOT_KNOWN
    said = (valve.id, area_of(printable.words, valve), valve.box, name, address, expected)
    return (*said, _read(printable, valve)("ohms at the coil"), "", "", "", *_end(printable, valve))


_ROWS = {
    SupplyKind.AC: _ac_row,
    SupplyKind.LATCHING: _latching_row,
    SupplyKind.TWO_WIRE: _decoder_row,
}


def _read(printable: Printable, valve: BuiltValve) -> Callable[[str], str]:
    """What a crew read at a valve, by its kind; else room to write it."""
    measured = printable.measured.get(valve.id, {})
    return lambda kind: measured.get(kind, "")


def _end(printable: Printable, valve: BuiltValve) -> tuple[str, Text]:
    notes = printable.words.joined(_notes(printable, valve), "; ")
    return _read(printable, valve)("insulation"), notes


def _notes(printable: Printable, valve: BuiltValve) -> Iterator[Text]:
    words = printable.words
    if valve.others:
        yield words("test sheet.all valves", number=1 + len(valve.others))
    if valve.normally_open:
        yield words("terms.normally open")
    if valve.isolators:
        yield words("test sheet.at the isolators")
    if valve.device:
        yield words("terms.no ohms", device=valve.device)
    if valve.id in printable.measured:
        yield words("test sheet.read on", date=printable.measured[valve.id]["when"])


def _common_rows(printable: Printable, controller: BuiltController, width: int) -> Iterator[Row]:
    """The conductors that carry everything, for their insulation."""
    names: list[tuple[Said, Use]] = [(common_of(controller.id), controller.common)]
    if controller.supply_kind == SupplyKind.TWO_WIRE:
        paths = controller.paths
        names += [(printable.words("test sheet.path", number=path.side), path) for path in paths]
    for name, use in names:
        for conductor in printable.asbuilt.conductors:
            mine = [stretch for stretch in conductor.stretches if use in stretch.uses]
            if mine:
                said = _where(printable, conductor, mine)
                yield (name, said, *(NONE,) * (width - 4), "", "")


def _where(printable: Printable, conductor: BuiltConductor, mine: list[BuiltStretch]) -> Text:
    """Its name; of one that is something else elsewhere also from where to where."""
    name = name_in_words(printable.words, conductor)
    if len(mine) == len(conductor.stretches):
        return name
    ways = [f"{stretch.first} → {stretch.last}" for stretch in mine]
    return printable.words.joined([name, *ways])


# ---- beside the rows of the valves ---------------------------------------------------------


def _between_hots(printable: Printable, controller: BuiltController) -> Iterator[Row]:
    """For each box the first two stations that meet on its common: reads well while it is lost."""
    for each in controller.between:
        yield each.box, printable.words.list_of(each.valves), in_band(each.ohms), ""


def _grounds(printable: Printable, controller: BuiltController) -> Iterator[Row]:
    """Surge units on this controller's path; the job does not say what their ground must read."""
    stretches = (stretch for c in printable.asbuilt.conductors for stretch in c.stretches)
    on_path = (s for s in stretches if not set(controller.paths).isdisjoint(s.uses))
    places = {place for stretch in on_path for place in stretch.places}
    for place in printable.asbuilt.surge_units:
        if place in places:
            yield place, NOT_KNOWN, "", ""


def _doubled(rows: tuple[Row, ...]) -> tuple[Row, ...]:
    """Two rows side by side; the last may have no neighbor."""
    nothing = (NONE,) * len(rows[0])
    pairs = (rows[i : i + 2] for i in range(0, len(rows), 2))
    return tuple((*pair[0], *(pair[1] if len(pair) > 1 else nothing)) for pair in pairs)
