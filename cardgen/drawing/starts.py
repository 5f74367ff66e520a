"""Say what a cable has at the controller that it leaves: what lands there, what holds for it."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt.model.conductors import Cable
from cardgen.asbuilt.model.controllers import Sensor
from cardgen.cards import Printable
from cardgen.drawing.coils import COMMON_TERMINAL, terminal
from cardgen.drawing.model import Line, LineKind, as_text
from cardgen.units import SupplyKind


def lines_at_start(job: Printable, cable: Cable) -> Iterator[Line]:
    """Commons, paths and sensors; the hots are shown where their valves are."""
    start = cable.run[0].at
    yield from _shared(job, cable, start)
    controller = job.asbuilt.controller.get(start)
    if controller is None:
        return
    for sensor in controller.sensors:
        yield from _sensor(job, sensor, cable, start)
    if controller.polarity and controller.supply_kind == SupplyKind.LATCHING:
        hot, common = (job.words.colour(colour) for colour in controller.polarity)
        text = job.words("drawing.latching", hot=hot, common=common)
        yield Line(place=job.spans.of(start), kind=LineKind.NOTE, text=text)


def _shared(job: Printable, cable: Cable, start: str) -> Iterator[Line]:
    """What is a common or a path where the cable begins, of whichever controller."""
    for owner in job.asbuilt.controllers:
        for conductor in job.asbuilt.carrying(owner.common, start, cable.id):
            yield Line(
                place=job.spans.of(owner.id),
                kind=LineKind.COMMON,
                marks=(conductor.mark,),
                lands=terminal(job, COMMON_TERMINAL, "" if owner.id == start else owner.id),
                name=f"{job.words('drawing.common')} {owner.id}",
            )
    paths = (path for owner in job.asbuilt.controllers for path in owner.paths)
    for path in sorted(paths, key=lambda path: path.side):
        for conductor in job.asbuilt.carrying(path, start, cable.id):
            name = job.words(f"drawing.path {path.side}")
            place = job.spans.of(path.of)
            yield Line(place=place, kind=LineKind.PATH, marks=(conductor.mark,), name=name)


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
        text=as_text(*parts),
    )
