"""Turn each valve of a controller into the row of its readings: expected, and room to write."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from cardgen.asbuilt import BuiltController, BuiltValve
from cardgen.cards.card import Cell, Table
from cardgen.cards.expected import NOTHING, at_controller, in_band, milliamperes, volts_at_valve
from cardgen.cards.printable import Printable
from cardgen.cards.valve_tags import area_of
from cardgen.units import NOT_KNOWN, SupplyKind
from cardgen.words import Text

TO_WRITE = ""
TO_TICK = "☐"
Row = tuple[Cell, ...]

_FIRST = ("station", "area", "box")
_OHMS = ("expects, Ω", "read, Ω", "after backfill, Ω")
_LAST = ("walk test", "insulation, MΩ", "notes")
COLUMNS = {
    SupplyKind.AC: (
        *(*_FIRST, *_OHMS, "read, V at the controller", "expects, V at the box", "read, V"),
        *("expects, mA in the hot", "expects, mA", "read, mA", *_LAST),
    ),
    SupplyKind.LATCHING: (*_FIRST, *_OHMS, "pulse opens", "pulse closes", *_LAST),
    SupplyKind.TWO_WIRE: (
        *(*_FIRST, "decoder", "address", "expects, Ω at the decoder", "read, Ω"),
        *("address test", *_LAST),
    ),
}


def valve_readings(printable: Printable, controller: BuiltController) -> Table | None:
    """A row for each valve; a column that says nothing and takes nothing is left out."""
    kind = SupplyKind(controller.supply_kind)
    rows = [_ROWS[kind](printable, valve) for valve in printable.valves_of(controller.id)]
    names = printable.words.named("columns", COLUMNS[kind])
    used = [
        at for at in range(len(names)) if any(row[at] not in (NOTHING, NOT_KNOWN) for row in rows)
    ]
    if not used:
        return None
    columns = tuple(names[at] for at in used)
    return Table.of(columns, (tuple(row[at] for at in used) for row in rows))


def _ac_row(printable: Printable, valve: BuiltValve) -> Row:
    read = _read(printable, valve)
    at_valve = (volts_at_valve(valve), read("volts"))
    running = (TO_WRITE, *at_valve, _in_hot(printable, valve), milliamperes(valve))
    if valve.kind == "relay":  # alone it would run the pump against closed valves
        return (*_ohms(printable, valve), *(NOTHING,) * 6, *_last(printable, valve))
    if valve.line_voltage:
        running = (TO_WRITE, NOTHING, NOTHING, *running[3:])
    return (*_ohms(printable, valve), *running, read("milliamperes"), *_last(printable, valve))


def _latching_row(printable: Printable, valve: BuiltValve) -> Row:
    return (*_ohms(printable, valve), TO_TICK, TO_TICK, *_last(printable, valve))


def _decoder_row(printable: Printable, valve: BuiltValve) -> Row:
    decoder = valve.decoder
    expected = in_band(valve.coil) if valve.coil else NOT_KNOWN
    name = decoder.id if decoder else NOT_KNOWN
    address = str(decoder.address) if decoder else NOT_KNOWN
    at_decoder = (name, address, expected, _read(printable, valve)("ohms at the coil"))
    return (*_first(printable, valve), *at_decoder, TO_TICK, *_last(printable, valve))


_ROWS = {
    SupplyKind.AC: _ac_row,
    SupplyKind.LATCHING: _latching_row,
    SupplyKind.TWO_WIRE: _decoder_row,
}


def _first(printable: Printable, valve: BuiltValve) -> Row:
    return valve.id, area_of(printable.words, valve), valve.box


def _ohms(printable: Printable, valve: BuiltValve) -> Row:
    read = _read(printable, valve)("ohms at the controller")
    return (*_first(printable, valve), at_controller(valve), read, TO_WRITE)


def _in_hot(printable: Printable, valve: BuiltValve) -> str:
    """Where it is, for all valves of the controller, the same as at C there is nothing to add."""
    beside = printable.asbuilt.valves_of(valve.controller)
    if not any(other.has_two_currents for other in beside if other.kind != "relay"):
        return NOTHING
    return str(valve.in_hot) if valve.in_hot is not None else NOT_KNOWN


def _last(printable: Printable, valve: BuiltValve) -> Row:
    walk = TO_TICK if valve.kind == "valve" else NOTHING
    insulation = _read(printable, valve)("insulation") or NOTHING
    return walk, insulation, printable.words.joined(_notes(printable, valve), "; ")


def _read(printable: Printable, valve: BuiltValve) -> Callable[[str], str]:
    """What a crew read at a valve, by its kind; else room to write it."""
    measured = printable.measured.get(valve.id, {})
    return lambda kind: measured.get(kind, TO_WRITE)


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
