"""Say what a cable has at the controller that it leaves: what lands there, what holds for it."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import Role
from cardgen.asbuilt.model.conductors import Cable, Conductor
from cardgen.asbuilt.model.controllers import Sensor
from cardgen.cards import Printable
from cardgen.drawing.coils import COMMON_TERMINAL, terminal
from cardgen.drawing.model import Line, LineKind
from cardgen.units import SupplyKind


def lines_at_start(job: Printable, cable: Cable) -> Iterator[Line]:
    """Commons, paths and sensors; the hots are shown where their valves are."""
    start = cable.run[0].at
    conductors = [c for c in job.asbuilt.conductors if c.mark.cable == cable.id]
    yield from _commons(job, conductors, start)
    yield from _paths(job, conductors, start)
    controller = job.asbuilt.controller.get(start)
    if controller is None:
        return
    for sensor in controller.sensors:
        yield from _sensor(job, sensor, cable, start)
    if controller.polarity and controller.supply_kind == SupplyKind.LATCHING:
        hot, common = (job.words.colour(colour) for colour in controller.polarity)
        text = job.words("drawing.latching", hot=hot, common=common)
        yield Line(place=job.spans.of(start), kind=LineKind.NOTE, text=text)


def _commons(job: Printable, conductors: list[Conductor], start: str) -> Iterator[Line]:
    """What is a common where the cable begins, of whichever controller."""
    for owner in job.asbuilt.controllers:
        for conductor in conductors:
            stretch = conductor.at(start, onward=True)
            if stretch is not None and stretch.serves(Role.COMMON, owner.id):
                yield Line(
                    place=job.spans.of(owner.id),
                    kind=LineKind.COMMON,
                    marks=(conductor.mark,),
                    lands=terminal(job, COMMON_TERMINAL, "" if owner.id == start else owner.id),
                    name=f"{job.words('drawing.common')} {owner.id}",
                )


def _paths(job: Printable, conductors: list[Conductor], start: str) -> Iterator[Line]:
    for side in ("1", "2"):
        for conductor in conductors:
            stretch = conductor.at(start, onward=True)
            for use in stretch.uses if stretch else ():
                if use.role is Role.PATH and use.side == side:
                    yield Line(
                        place=job.spans.of(use.of),
                        kind=LineKind.PATH,
                        marks=(conductor.mark,),
                        name=job.words(f"drawing.path {side}"),
                    )


def _sensor(job: Printable, sensor: Sensor, cable: Cable, start: str) -> Iterator[Line]:
    """A sensor with conductors of its own is shown where they end."""
    if sensor.wires:
        return
    cables = {job.asbuilt.conductor[name].mark.cable for name in sensor.behind}
    if cables and cable.id not in cables:
        return
    where = job.words("drawing.on SEN")
    if cables:
        where = job.words("drawing.in common", controller=start)
    parts = (job.words(f"drawing.{sensor.kind} sensor"), sensor.where, where)
    yield Line(
        place=job.spans.sensors[sensor.id],
        kind=LineKind.SENSOR,
        name=f"{job.words('drawing.sensor')} {sensor.id}",
        what="sensor",
        text=" · ".join(part for part in parts if part),
    )
