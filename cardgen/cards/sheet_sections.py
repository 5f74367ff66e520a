"""Turn what is beside a controller's valves into tables: insulation, path, devices, grounds."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import chain

from cardgen.asbuilt import BuiltController, Role, Use
from cardgen.asbuilt.model.built_conductors import BuiltConductor
from cardgen.cards.card import FieldValue, Table
from cardgen.cards.expected import NOTHING, in_band
from cardgen.cards.measuring import FLOW, surge_units
from cardgen.cards.printable import Printable
from cardgen.cards.use_words import name_in_words, use_in_words
from cardgen.cards.valve_readings import TO_TICK, TO_WRITE, Row
from cardgen.units import SupplyKind, plain
from cardgen.words import Text

_COLUMNS = {
    "insulation": ("use", "conductor", "before hookup, MΩ", "after backfill, MΩ"),
    "path": ("place", "test", "measured"),
    "devices": ("device", "place", "test", "done", "notes"),
    "grounds": ("box", "read, Ω", "date"),
    "between": ("box", "between", "expects, Ω", "read, Ω"),
}
_SIDE_BY_SIDE = {"devices": 1, "grounds": 3, "between": 3}  # of the others 2


def sections(printable: Printable, controller: BuiltController) -> dict[str, FieldValue]:
    """The fields of a sheet that stand around its valves; those without a row are left out."""
    fields: dict[str, FieldValue] = {}
    for name, columns in _COLUMNS.items():
        rows = tuple(_ROWS[name](printable, controller))
        if rows:
            fields[name] = _table(printable, columns, rows, _SIDE_BY_SIDE.get(name, 2))
    if "insulation" in fields:
        fields["insulation_title"] = _insulation_title(printable)
    if "grounds" in fields:
        fields["grounds_title"] = _grounds_title(printable)
    return fields


def _table(
    printable: Printable, columns: tuple[str, ...], rows: tuple[Row, ...], most: int
) -> Table:
    """So many rows side by side, to save room; the last may have no neighbor."""
    count = min(most, len(rows))
    nothing = ((NOTHING,) * len(columns),) * (-len(rows) % count)
    filled = (*rows, *nothing)
    starts = range(0, len(filled), count)
    wide = tuple(tuple(chain.from_iterable(filled[at : at + count])) for at in starts)
    return Table.of(printable.words.named("columns", columns * count), wide)


# ---- insulation ----------------------------------------------------------------------------


def _insulation_title(printable: Printable) -> Text:
    """With voltage and least value, where the job says them."""
    words, asbuilt = printable.words, printable.asbuilt
    title = [words("test sheet.insulation title")]
    if asbuilt.insulation_test is not None:
        title.append(words("test sheet.at volts", volts=plain(asbuilt.insulation_test)))
    if asbuilt.least_insulation is not None:
        title.append(words("test sheet.at least", megohms=plain(asbuilt.least_insulation)))
    return words.joined(title)


def _insulated(printable: Printable, controller: BuiltController) -> Iterator[Row]:
    """What comes to the strip and has many wires behind it: commons, returns of their own, path."""
    back = (v for v in printable.asbuilt.valves_of(controller.id) if v.own_return)
    returns = (Use(role=Role.RETURN, of=valve.station) for valve in back)
    for use in dict.fromkeys((controller.common, *returns, *controller.paths)):
        name = use_in_words(printable.words, use)
        for conductor in printable.asbuilt.carrying(use, controller.id):
            yield name, _reach(printable, conductor, use), TO_WRITE, TO_WRITE


def _reach(printable: Printable, conductor: BuiltConductor, use: Use) -> Text:
    """Its name; of one that is something else elsewhere also from where to where."""
    name = name_in_words(printable.words, conductor)
    mine = [stretch for stretch in conductor.stretches if use in stretch.uses]
    if len(mine) == len(conductor.stretches):
        return name
    ways = [f"{stretch.first} → {stretch.last}" for stretch in mine]
    return printable.words.joined([name, *ways])


# ---- path, devices, grounds ----------------------------------------------------------------


def _path(printable: Printable, controller: BuiltController) -> Iterator[Row]:
    """Volts at both ends of a two-wire path, and what it takes while no valve is on."""
    if controller.supply_kind != SupplyKind.TWO_WIRE:
        return
    words = printable.words
    yield controller.id, words("test sheet.volts at the terminals"), TO_WRITE
    # Of a ring the crew looks for the farthest box.
    for place in printable.asbuilt.path_ends(controller) or (TO_WRITE,):
        if not printable.carries(place):
            continue
        yield place, words("test sheet.volts at the far end"), TO_WRITE
    yield controller.id, words("test sheet.path at rest"), TO_WRITE


def _devices(printable: Printable, controller: BuiltController) -> Iterator[Row]:
    """Sensors, then flow sensors, then master valves, then what starts the pump."""
    words = printable.words
    battery = controller.supply_kind == SupplyKind.LATCHING
    for sensor in sorted(controller.sensors, key=lambda sensor: sensor.kind == FLOW):
        test = words("test sheet.flow" if sensor.kind == FLOW else "test sheet.trip")
        yield sensor.id, sensor.where, test, TO_TICK, TO_WRITE
    asbuilt = printable.asbuilt
    served = [
        v for v in asbuilt.specials if controller.id in v.controllers and printable.carries(v.box)
    ]
    for valve in (valve for valve in served if valve.kind == "master valve"):
        test = words("test sheet.leak-by, powered" if valve.normally_open else "test sheet.leak-by")
        yield valve.id, valve.box, test, TO_TICK, TO_WRITE
    for valve in (valve for valve in served if valve.kind == "relay" and not battery):
        yield valve.id, valve.box, words("test sheet.pump"), TO_TICK, TO_WRITE


def _grounds_title(printable: Printable) -> Text:
    words, limit = printable.words, printable.asbuilt.ground_limit
    title = [words("test sheet.grounds title")]
    if limit is not None:
        title.append(words("test sheet.at most", ohms=plain(limit)))
    return words.joined(title)


def _grounds(printable: Printable, controller: BuiltController) -> Iterator[Row]:
    """Of the surge units on its path."""
    for place in filter(printable.carries, surge_units(printable, controller)):
        yield place, TO_WRITE, TO_WRITE


def _between_hots(printable: Printable, controller: BuiltController) -> Iterator[Row]:
    """For each box the first two stations that meet on its common: right while it is lost."""
    for pair in (each for each in controller.between if printable.carries(each.box)):
        yield pair.box, printable.words.list_of(pair.valves), in_band(pair.ohms), TO_WRITE


_ROWS: Mapping[str, Callable[[Printable, BuiltController], Iterator[Row]]] = {
    "insulation": _insulated,
    "path": _path,
    "devices": _devices,
    "grounds": _grounds,
    "between": _between_hots,
}
