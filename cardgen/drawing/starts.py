"""Say what a cable has at the controller that it leaves: what lands there, what holds for it."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import AsBuilt, BuiltController, ConductorMark, Role, Use
from cardgen.asbuilt.model.built_conductors import BuiltCable, BuiltConductor
from cardgen.asbuilt.model.built_controllers import BuiltSensor
from cardgen.cards import Printable
from cardgen.drawing.coil_lines import COMMON_TERMINAL, terminal
from cardgen.drawing.drawing_parts import BoxLine, LineKind, as_text
from cardgen.units import SupplyKind
from cardgen.words import Said


def lines_at_start(printable: Printable, cable: BuiltCable) -> Iterator[BoxLine]:
    """Commons, paths and sensors; the hots are shown where their valves are."""
    start = cable.run[0].at
    yield from _shared(printable, cable, start)
    controller = printable.asbuilt.controller.get(start)
    if controller is None:
        return
    for sensor in controller.sensors:
        yield from _sensor(printable, sensor, cable, start)
    if controller.polarity and controller.supply_kind == SupplyKind.LATCHING:
        hot, common = (printable.words.color(color) for color in controller.polarity)
        text = printable.words("drawing.latching", hot=hot, common=common)
        yield BoxLine(span=printable.spans.of(start), kind=LineKind.NOTE, text=text.printed)


def _shared(printable: Printable, cable: BuiltCable, start: str) -> Iterator[BoxLine]:
    """What is a common or a path where the cable begins, of whichever controller."""
    owners = _owners(printable.asbuilt, cable.id, start)
    for owner in owners:
        of = "" if owner.id == start else owner.id
        lands = terminal(printable, COMMON_TERMINAL, of).printed
        for conductor in printable.asbuilt.carrying(owner.common, start, cable.id):
            yield shared_line(printable, owner.common, conductor, lands=lands)
    paths = (path for owner in owners for path in owner.paths)
    for path in sorted(paths, key=lambda path: path.side):
        for conductor in printable.asbuilt.carrying(path, start, cable.id):
            yield shared_line(printable, path, conductor)


def _owners(asbuilt: AsBuilt, cable: str, at: str) -> list[BuiltController]:
    """The controllers whose commons or paths are in a cable there, in the order of the file."""
    stretches = (s for conductor in asbuilt.inside[cable] for s in conductor.stretches)
    uses = (use for stretch in stretches if at in stretch.places for use in stretch.uses)
    shared = (use.of for use in uses if use.role in (Role.COMMON, Role.PATH))
    return [asbuilt.controller[name] for name in asbuilt.controllers_among(shared)]


def shared_line(
    printable: Printable, use: Use, conductor: BuiltConductor, *, lands: str = "", text: str = ""
) -> BoxLine:
    """The line of a common or a side of a path."""
    is_path, words = use.role is Role.PATH, printable.words
    common = words.labeled("drawing.common", use.of)
    return BoxLine(
        span=printable.spans.of(use.of),
        kind=LineKind.PATH if is_path else LineKind.COMMON,
        marks=(conductor.mark,),
        lands=lands,
        name=(words(f"drawing.path {use.side}") if is_path else common).printed,
        text=text,
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
    yield sensor_line(printable, sensor, where=where)


def sensor_line(
    printable: Printable,
    sensor: BuiltSensor,
    marks: tuple[ConductorMark, ...] = (),
    *,
    lands: str = "",
    where: Said = "",
) -> BoxLine:
    return BoxLine(
        span=printable.spans.sensors[sensor.id],
        kind=LineKind.SENSOR,
        marks=marks,
        lands=lands,
        name=printable.words.labeled("drawing.sensor", sensor.id).printed,
        what="sensor",
        text=as_text(printable.words(f"drawing.{sensor.kind} sensor"), sensor.where, where),
    )
