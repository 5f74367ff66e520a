"""Say what stands beside the strip in a door: readings, the controller itself, boxes, sensors."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import Band, BuiltController, BuiltValve, rounding
from cardgen.asbuilt.model.built_controllers import BuiltSensor
from cardgen.cards.expected import at_controller, coil_alone, known, milliamperes
from cardgen.cards.printable import Printable
from cardgen.units import plain
from cardgen.words import Said, Text

BOXES_IN_A_LINE = 10  # an entry of a list is not parted where a sheet ends
LIMITS = ("transformer", "fuse", "station limit", "total limit")


# ---- what a meter shows --------------------------------------------------------------------


def brackets(printable: Printable, controller: BuiltController) -> Said:
    """What a range in brackets means, by the first that stands there; empty where none does."""
    valves = printable.asbuilt.valves_of(controller.id)
    band = next(_bands(valves), None)
    return printable.words("legend.brackets", range=rounding.between(band)) if band else ""


def _bands(valves: tuple[BuiltValve, ...]) -> Iterator[Band]:
    yield from (valve.ohms for valve in valves if valve.ohms and not valve.isolators)
    yield from (valve.coil for valve in valves if valve.coil)


def readings(printable: Printable, controller: BuiltController) -> Iterator[Text]:
    """How the numbers of the rows are meant, and what a coil reads alone."""
    words = printable.words
    valves = printable.asbuilt.valves_of(controller.id)
    if known(at_controller(valve) for valve in valves):
        yield words("legend.battery ohms" if controller.battery else "legend.ohms")
    if known(milliamperes(valve) for valve in valves):
        others = words.list_of(name for valve in valves for name in valve.beside)
        more = printable.asbuilt.more_at_c.get(controller.id)
        name = "volts, more at C" if more else "volts beside" if others else "volts"
        yield words(f"legend.{name}", others=others, more=more)
    coils: dict[str, list[str]] = {}
    for valve in valves:
        for coil in known((coil_alone(valve),)):
            coils.setdefault(coil, []).append(valve.id)
    if len(coils) == 1:
        yield words("legend.coil", bands=next(iter(coils)))
    elif coils:
        parts = (words.joined([words.list_of(names), band], " ") for band, names in coils.items())
        yield words("legend.coil", bands=words.joined(parts, "; "))


# ---- the controller and its boxes ----------------------------------------------------------


def about(printable: Printable, controller: BuiltController) -> Iterator[Text]:
    """What it can give, how many of its stations are used, with whom it shares boxes."""
    words = printable.words
    amounts = {name: getattr(controller, name.replace(" ", "_")) for name in LIMITS}
    limits = [
        words(f"legend.{name}", amount=plain(amount)) for name, amount in amounts.items() if amount
    ]
    if limits:
        yield words("legend.limits", limits=words.joined(limits, "; "))
    yield from _stations(printable, controller)
    live = printable.asbuilt.boxes_live_from(controller.id)
    sharing = {name for box in live for name in box.controllers} - {controller.id}
    for other in printable.asbuilt.controllers_among(sharing):
        shared = words.list_of(box.id for box in live if other in box.controllers)
        yield words("legend.shared boxes", controller=other, boxes=shared)


def _stations(printable: Printable, controller: BuiltController) -> Iterator[Text]:
    used, count = len(controller.used_stations), controller.station_count
    free = printable.words.list_of(terminal.name for terminal in controller.free_stations)
    if free:
        yield printable.words("legend.stations free", used=used, count=count, free=free)
    elif count:
        yield printable.words("legend.stations", used=used, count=count)


def boxes(printable: Printable, controller: BuiltController) -> Iterator[str]:
    """Its boxes with their places, several in a line."""
    live = printable.asbuilt.boxes_live_from(controller.id)
    placed = [f"{b.id} {b.where}" for b in live if b.where]
    for start in range(0, len(placed), BOXES_IN_A_LINE):
        yield " · ".join(placed[start : start + BOXES_IN_A_LINE])


# ---- sensors -------------------------------------------------------------------------------


def sensors(printable: Printable, controller: BuiltController) -> Iterator[Text]:
    """Each with how it is bypassed for a test."""
    for sensor in controller.sensors:
        off = printable.words("legend.off battery" if controller.battery else "legend.off power")
        parts = [_in_words(printable, sensor), *_bypass(printable, sensor, off)]
        yield printable.words.joined(parts, " ")


def _in_words(printable: Printable, sensor: BuiltSensor) -> Text:
    """`RS-1: rain sensor (roof), normally closed, on SEN.`"""
    words = printable.words
    kind = words(f"legend.{sensor.kind} sensor")
    where = [f"({sensor.where})"] if sensor.where else []
    named = words.joined([f"{sensor.id}:", kind, *where], " ")
    contact = [words(f"legend.{sensor.contact}")] if sensor.contact else []
    named = words.joined([named, *contact])
    if sensor.in_common:
        return words("legend.in common", sensor=named)
    wires = words.joined(printable.named(mark) for mark in sensor.marks)
    if wires:
        return words("legend.on SEN by", sensor=named, wires=wires)
    return words("legend.on SEN", sensor=named)


def _bypass(printable: Printable, sensor: BuiltSensor, off: Text) -> Iterator[Text]:
    """What to link or to lift, by where its contact is; a meter of flow has none.

    `off` is how its controller is put out of work first.
    """
    words = printable.words
    if sensor.in_common:
        marks = (printable.asbuilt.conductor[name].mark for name in sensor.behind)
        wires = words.list_of(map(printable.named, marks))
        yield words("legend.bypass in common", off=off, wires=wires)
    elif sensor.contact:
        yield words(f"legend.bypass {sensor.contact}", off=off)
    elif sensor.kind != "flow":
        yield words("legend.bypass unknown", off=off)
