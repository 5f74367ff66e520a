"""Say what a cable has at the controller that it leaves: what lands there, what holds for it."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import ConductorMark, Role, Use
from cardgen.asbuilt.model.conductors import Cable, Conductor
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
        lands = terminal(job, COMMON_TERMINAL, "" if owner.id == start else owner.id)
        for conductor in job.asbuilt.carrying(owner.common, start, cable.id):
            yield shared_line(job, owner.common, conductor, lands=lands)
    paths = (path for owner in job.asbuilt.controllers for path in owner.paths)
    for path in sorted(paths, key=lambda path: path.side):
        for conductor in job.asbuilt.carrying(path, start, cable.id):
            yield shared_line(job, path, conductor)


def shared_line(
    job: Printable, use: Use, conductor: Conductor, *, lands: str = "", text: str = ""
) -> Line:
    """The line of a common or a side of a path."""
    is_path = use.role is Role.PATH
    common = f"{job.words('drawing.common')} {use.of}"
    return Line(
        place=job.spans.of(use.of),
        kind=LineKind.PATH if is_path else LineKind.COMMON,
        marks=(conductor.mark,),
        lands=lands,
        name=job.words(f"drawing.path {use.side}") if is_path else common,
        text=text,
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
    yield sensor_line(job, sensor, where=where)


def sensor_line(
    job: Printable,
    sensor: Sensor,
    marks: tuple[ConductorMark, ...] = (),
    *,
    lands: str = "",
    where: str = "",
) -> Line:
    return Line(
        place=job.spans.sensors[sensor.id],
        kind=LineKind.SENSOR,
        marks=marks,
        lands=lands,
        name=f"{job.words('drawing.sensor')} {sensor.id}",
        what="sensor",
        text=as_text(job.words(f"drawing.{sensor.kind} sensor"), sensor.where, where),
    )
