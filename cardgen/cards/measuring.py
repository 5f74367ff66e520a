"""How to measure: what a test sheet asks for, by the names of its texts in the catalogues.

The order of the work, and what is ticked before and after it, is common practice, no source.  Power
off first and one station at a time are public safety advice; nothing here claims that a job meets
any code.
"""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import BuiltController
from cardgen.cards.printable import Printable
from cardgen.trade.copper import AWG_COEFFICIENT
from cardgen.units import SupplyKind, plain
from cardgen.words import Text

BLANKS = ("temperature", "meter", "weather", "initials", "date")
STEPS = {
    SupplyKind.AC: ("insulation", "ohms", "volts", "milliamperes", "walk"),
    SupplyKind.LATCHING: ("insulation", "ohms, battery", "pulse", "walk"),
    SupplyKind.TWO_WIRE: ("insulation of path", "decoder", "path", "address", "walk"),
}
# Of a copper coil, in percent; the catalogues say for how many degrees.
PER_TEN_DEGREES = round(100 * 10 * AWG_COEFFICIENT)
FLOW = "flow"  # a kind of sensor that is in no loop: nothing to bridge


def blanks(printable: Printable, controller: BuiltController) -> Iterator[Text]:
    """What is written once; limits of the specification only where the job does not say them."""
    words, asbuilt = printable.words, printable.asbuilt
    yield from words.named("blanks", BLANKS)
    if asbuilt.insulation_test is None:
        yield words("blanks.test voltage")
    if asbuilt.least_insulation is None:
        yield words("blanks.least insulation")
    if controller.supply_kind == SupplyKind.LATCHING:
        return
    if asbuilt.ground_limit is None:
        yield words("blanks.ground limit")
        yield words("blanks.ground")
    else:
        yield words("blanks.limited ground", limit=plain(asbuilt.ground_limit))


def rules(printable: Printable, controller: BuiltController) -> tuple[Text, ...]:
    """The steps in their order, numbered, and what counts in all of them."""
    words = printable.words
    steps = words.named("test sheet", STEPS[SupplyKind(controller.supply_kind)])
    numbered = (words.joined([f"{number}.", step], " ") for number, step in enumerate(steps, 1))
    return *numbered, words("test sheet.write"), words("test sheet.band", percent=PER_TEN_DEGREES)


def ticks(printable: Printable, controller: BuiltController) -> Iterator[Text]:
    """What must be done before anything is measured."""
    words, kind = printable.words, SupplyKind(controller.supply_kind)
    yield words("blanks.battery out" if kind is SupplyKind.LATCHING else "blanks.power off")
    others = _live_beside(printable, controller)
    if others:
        yield words("blanks.others off", controllers=words.list_of(others))
    if any(v.kind == "relay" for v in printable.asbuilt.valves_of(controller.id)):
        yield words("blanks.pump off")
    yield words("blanks.path lifted" if kind is SupplyKind.TWO_WIRE else "blanks.wires lifted")
    if kind is SupplyKind.TWO_WIRE:
        yield words("blanks.valve leads off")
    if _in_loop(controller):
        yield words("blanks.sensor out")
    if _surge_units(printable, controller):
        yield words("blanks.surge units off")
    yield words("blanks.leads zeroed")


def last_ticks(printable: Printable, controller: BuiltController) -> Iterator[Text]:
    """What must be as it was before anybody leaves."""
    words, kind = printable.words, SupplyKind(controller.supply_kind)
    if kind is SupplyKind.TWO_WIRE:
        yield words("blanks.valve leads on")
    if _surge_units(printable, controller):
        yield words("blanks.surge units back")
    if _in_loop(controller):
        yield words("blanks.sensor back")
    yield words("blanks.wires back")
    if kind is SupplyKind.LATCHING:
        yield words("blanks.battery in")


def surge_units(printable: Printable, controller: BuiltController) -> Iterator[str]:
    """The boxes with one on the path of a controller."""
    known, paths = printable.asbuilt, controller.paths
    for place in known.surge_units:
        if any(known.carrying(path, place) for path in paths):
            yield place


def _surge_units(printable: Printable, controller: BuiltController) -> bool:
    return any(surge_units(printable, controller))


def _in_loop(controller: BuiltController) -> bool:
    return any(sensor.kind != FLOW for sensor in controller.sensors)


def _live_beside(printable: Printable, controller: BuiltController) -> tuple[str, ...]:
    """Other controllers whose wires are live in a box where its own are."""
    asbuilt = printable.asbuilt
    live = asbuilt.boxes_live_from(controller.id)
    return asbuilt.controllers_among(
        {name for box in live for name in box.controllers} - {controller.id}
    )
