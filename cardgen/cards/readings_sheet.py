"""Turn each controller into its test sheet: what is expected of each valve, and room to write."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cardgen.cards.facts import NOT_KNOWN, Printable
from cardgen.cards.measuring import BLANKS, RULES, TICKS
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Table
from cardgen.cards.valve_tags import area_of
from cardgen.checks.facts import listed
from cardgen.electrics.loops import Band, at_coil, hot_to_hot
from cardgen.job.model import Controller, MasterValve
from cardgen.units import SupplyKind
from cardgen.wiring.model import Circuit, Load, LoadKind

NONE = "–"  # nothing to measure here
BOUND = "\u00a0"  # no line ends there
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
        rules = RULES[kind]
        half = -(-len(rules) // 2)
        fields: dict[str, FieldValue] = {
            "title": f"TEST SHEET · CONTROLLER {controller.id}",
            "subtitle": f"{job.info.site.value} · {controller.where} · {controller.supply.value}",
            "blanks": BLANKS,
            "ticks": TICKS[kind],
            "rules": rules[:half],
            "rules_2": rules[half:],
            "valves": Table(columns=COLUMNS[kind], rows=tuple(_rows(job, controller))),
            "stamp": job.stamp,
        }
        between = tuple(between_hots(job, controller))
        if between:
            columns = ("box", "between", "expects, Ω", "read, Ω")
            fields["between"] = Table(columns=columns * 2, rows=_doubled(between))
        grounds = tuple(_grounds(job, controller))
        if grounds:
            columns = ("box", "expects, Ω to ground", "read, Ω", "date")
            fields["grounds"] = Table(columns=columns * 2, rows=_doubled(grounds))
        yield Card(
            kind=CardKind.TEST_SHEET, id=controller.id, place=controller.place, fields=fields
        )


def in_band(band: Band) -> str:
    """`31.1 (25–37)`: rounded outward, never below nothing."""
    ohms, low, high = band
    return f"{ohms:.1f}{BOUND}({max(math.floor(low), 0)}–{math.ceil(high)})"


def _rows(job: Printable, controller: Controller) -> Iterator[Row]:
    make = _ROWS[controller.supply.value.kind]
    for loads in job.owners.values():
        for load in loads:
            if load.controller == controller.id:
                yield make(job, load)
    yield from _common_rows(job, controller)


def _ohms(job: Printable, load: Load) -> str:
    reading = job.readings.get(load.owner.id)
    if reading is None or reading.ohms is None or reading.low is None or reading.high is None:
        return NOT_KNOWN
    return in_band((reading.ohms, reading.low, reading.high))


def _ac_row(job: Printable, load: Load) -> Row:
    running = job.facts.running.get(load.owner.id)
    volts = amperes = NOT_KNOWN
    if running is not None:
        low, high = running.low[load.id], running.high[load.id]
        volts = f"{math.floor(low * 10) / 10:.1f}–{math.ceil(high * 10) / 10:.1f}"
        amperes = f"{running.milliamperes:.0f}"
    said = (load.id, area_of(load), load.box, _ohms(job, load), "", volts, "", amperes, "", "", "")
    return (*said, "; ".join(_notes(job, load)))


def _latching_row(job: Printable, load: Load) -> Row:
    said = (load.id, area_of(load), load.box, _ohms(job, load), "", "", "", "", "")
    return (*said, "; ".join(_notes(job, load)))


def _decoder_row(job: Printable, load: Load) -> Row:
    decoder = load.decoder
    expected = in_band(at_coil(load.coil.resistance)) if load.coil else NOT_KNOWN
    name = decoder.id if decoder else NOT_KNOWN
    address = str(decoder.address.value) if decoder else NOT_KNOWN
    said = (load.id, area_of(load), load.box, name, address, expected, "", "", "", "", "")
    return (*said, "; ".join(_notes(job, load)))


_ROWS = {
    SupplyKind.AC: _ac_row,
    SupplyKind.LATCHING: _latching_row,
    SupplyKind.TWO_WIRE: _decoder_row,
}


def _notes(job: Printable, load: Load) -> Iterator[str]:
    loads = job.owners[load.owner.id]
    if len(loads) > 1:
        yield f"Ω and mA of all {len(loads)} valves"
    if isinstance(load.owner, MasterValve) and load.owner.normally_open:
        yield "normally open: power closes"
    if load.hot_end.of != load.controller:
        yield "Ω at the isolators"
    device = getattr(load.owner, "device", None)
    if device:
        yield f"{device.value}: ohms mean nothing"
    beside = [
        other.owner.id
        for other in job.facts.wiring.loads.values()
        if other.runs_beside_stations and other.controller == load.controller
    ]
    if beside and load.owner.id in job.facts.running and load.kind is LoadKind.VALVE:
        yield f"mA with {listed(beside)}"


def _common_rows(job: Printable, controller: Controller) -> Iterator[Row]:
    """The conductors that carry everything, for their insulation."""
    width = len(COLUMNS[controller.supply.value.kind])
    commons = [(f"COM-{controller.id}", la) for la in job.facts.wiring.commons[controller.id]]
    for number, landings in enumerate(job.facts.wiring.paths.get(controller.id, ()), 1):
        commons += [(f"path {number}", la) for la in landings]
    for name, la in commons:
        filler = (NONE,) * (width - 4)
        yield (name, la.conductor.name, *filler, "", "")


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
            names = f"{circuits[0].load.id} and {circuits[1].load.id}"
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
