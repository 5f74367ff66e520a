"""Say what a cable has at the controller that it leaves: what lands there, what holds for it."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt.model import BuiltCable, BuiltConductor, BuiltSensor, Role
from cardgen.cards import Printable
from cardgen.drawing.coil_lines import COMMON_TERMINAL, terminal
from cardgen.drawing.model import BoxLine, LineKind
from cardgen.units import SupplyKind


def lines_at_start(printable: Printable, cable: BuiltCable) -> Iterator[BoxLine]:
    """Commons, paths and sensors; the hots are shown where their valves are."""
    start = cable.run[0].at
    conductors = [c for c in printable.asbuilt.conductors if c.mark.cable == cable.id]
    yield from _commons(printable, conductors, start)
    yield from _paths(printable, conductors, start)
    controller = printable.asbuilt.controller.get(start)
    if controller is None:
        return
    for sensor in controller.sensors:
        yield from _sensor(printable, sensor, cable, start)
    if controller.polarity and controller.supply_kind == SupplyKind.LATCHING:
        hot, common = (printable.words.colour(colour) for colour in controller.polarity)
        text = printable.words("drawing.latching", hot=hot, common=common)
        yield BoxLine(span=printable.spans.of(start), kind=LineKind.NOTE, text=text)


def _commons(
    printable: Printable, conductors: list[BuiltConductor], start: str
) -> Iterator[BoxLine]:
    """What is a common where the cable begins, of whichever controller."""
    for owner in printable.asbuilt.controllers:
        for conductor in conductors:
            stretch = conductor.at(start, onward=True)
            if stretch is not None and stretch.serves(Role.COMMON, owner.id):
                yield BoxLine(
                    span=printable.spans.of(owner.id),
                    kind=LineKind.COMMON,
                    marks=(conductor.mark,),
                    lands=terminal(
                        printable, COMMON_TERMINAL, "" if owner.id == start else owner.id
                    ),
                    name=f"{printable.words('drawing.common')} {owner.id}",
                )


def _paths(printable: Printable, conductors: list[BuiltConductor], start: str) -> Iterator[BoxLine]:
    for side in ("1", "2"):
        for conductor in conductors:
            stretch = conductor.at(start, onward=True)
            for use in stretch.uses if stretch else ():
                if use.role is Role.PATH and use.side == side:
                    yield BoxLine(
                        span=printable.spans.of(use.of),
                        kind=LineKind.PATH,
                        marks=(conductor.mark,),
                        name=printable.words(f"drawing.path {side}"),
                    )


def _sensor(
    printable: Printable, sensor: BuiltSensor, cable: BuiltCable, start: str
) -> Iterator[BoxLine]:
    """A sensor with conductors of its own is shown where they end."""
    if sensor.wires:
        return
    cables = {printable.asbuilt.conductor[name].mark.cable for name in sensor.behind}
    if cables and cable.id not in cables:
        return
    where = printable.words("drawing.on SEN")
    if cables:
        where = printable.words("drawing.in common", controller=start)
    parts = (printable.words(f"drawing.{sensor.kind} sensor"), sensor.where, where)
    yield BoxLine(
        span=printable.spans.sensors[sensor.id],
        kind=LineKind.SENSOR,
        name=f"{printable.words('drawing.sensor')} {sensor.id}",
        what="sensor",
        text=" · ".join(part for part in parts if part),
    )
