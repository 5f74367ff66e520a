"""Say what a cable has at the controller that it leaves: what lands there, what holds for it."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.cards import Printable
from cardgen.cards.printable import mark
from cardgen.drawing.coils import terminal
from cardgen.drawing.model import Line, LineKind
from cardgen.job.model import Cable, Sensor
from cardgen.units import SupplyKind
from cardgen.wiring.model import COMMON_TERMINAL
from cardgen.wiring.written import PATH_SIDES


def lines_at_start(job: Printable, cable: Cable) -> Iterator[Line]:
    """Commons, paths and sensors; the hots are shown where their valves are."""
    start = cable.run[0].at
    yield from _commons(job, cable, start)
    yield from _paths(job, cable)
    controller = job.job.controllers.get(start)
    if controller is None:
        return
    for sensor in job.job.sensors.values():
        yield from _sensor(job, sensor, cable, start)
    if controller.supply.value.kind is SupplyKind.LATCHING and controller.polarity:
        rule = controller.polarity
        hot, common = job.words.colour(rule.hot), job.words.colour(rule.common)
        text = job.words("drawing.latching", hot=hot, common=common)
        yield Line(place=rule.place, kind=LineKind.NOTE, text=text)


def _commons(job: Printable, cable: Cable, start: str) -> Iterator[Line]:
    for owner, landings in job.facts.wiring.commons.items():
        for la in landings:
            if la.conductor.cable.id == cable.id and not la.begins:
                yield Line(
                    place=la.place,
                    kind=LineKind.COMMON,
                    marks=(mark(la.conductor),),
                    lands=terminal(job, COMMON_TERMINAL, "" if owner == start else owner),
                    name=f"{job.words('drawing.common')} {owner}",
                )


def _paths(job: Printable, cable: Cable) -> Iterator[Line]:
    for sides in job.facts.wiring.paths.values():
        for side, landings in zip(PATH_SIDES, sides, strict=True):
            for la in landings:
                if la.conductor.cable.id == cable.id and not la.begins:
                    found = (mark(la.conductor),)
                    name = job.words(f"drawing.{side}")
                    yield Line(place=la.place, kind=LineKind.PATH, marks=found, name=name)


def _sensor(job: Printable, sensor: Sensor, cable: Cable, start: str) -> Iterator[Line]:
    """A sensor with conductors of its own is shown where they end."""
    if sensor.conductors or all(said.value != start for said in sensor.controllers):
        return
    wires = [job.facts.wiring.by_words[said.value] for said in sensor.in_common]
    cables = {job.facts.wiring.conductors[name].cable.id for name in wires}
    if wires and cable.id not in cables:
        return
    where = job.words("drawing.on SEN")
    if wires:
        where = job.words("drawing.in common", controller=start)
    parts = (job.words(f"drawing.{sensor.kind} sensor"), sensor.where, where)
    yield Line(
        place=sensor.place,
        kind=LineKind.SENSOR,
        name=f"{job.words('drawing.sensor')} {sensor.id}",
        what="sensor",
        text=" · ".join(part for part in parts if part),
    )
