"""Turn each controller of a checked job into what the record says of its terminals and sensors."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.cards import Printable
from cardgen.cards.printable import mark
from cardgen.job.model import Controller as JobController
from cardgen.job.model import MasterValve
from cardgen.job.model import Sensor as JobSensor
from cardgen.record.model import Controller, Neighbour, Sensor, Terminal
from cardgen.units import SupplyKind
from cardgen.wiring.model import COMMON_TERMINAL, Load
from cardgen.wiring.written import PATH_SIDES, terminals_of

SENSOR_TERMINAL = "SEN"


def controllers(job: Printable) -> Iterator[Controller]:
    """All controllers, in the order of the file."""
    for controller in job.job.controllers.values():
        yield Controller(
            id=controller.id,
            where=controller.where,
            supply=str(controller.supply.value),
            box=controller.box.value if controller.box else "",
            terminals=tuple(_terminals(job, controller)),
            sensors=tuple(_sensors(job, controller)),
            neighbours=tuple(neighbours(job, controller.id)),
        )


def neighbours(job: Printable, place: str) -> Iterator[Neighbour]:
    """The stops before and after it on every cable, those toward the controller first."""
    found = []
    for cable in job.job.cables.values():
        run = cable.run
        for index, stop in enumerate(run):
            if stop.at != place:
                continue
            for upstream, other in ((True, index - 1), (False, index + 1)):
                if not 0 <= other < len(run):
                    continue
                leg = run[max(index, other)].leg
                found.append(
                    Neighbour(
                        cable=cable.id,
                        band=cable.band,
                        place=run[other].at,
                        length=str(leg.value) if leg else "",
                        upstream=upstream,
                    )
                )
    yield from sorted(found, key=lambda n: not n.upstream)


# ---- terminals -----------------------------------------------------------------------------


def _terminals(job: Printable, controller: JobController) -> Iterator[Terminal]:
    if controller.supply.value.kind is SupplyKind.TWO_WIRE:
        yield from _on_path(job, controller)
        return
    for name in terminals_of(job.job, controller.id):
        if name == COMMON_TERMINAL:
            yield from _commons(job, controller)
        elif name == SENSOR_TERMINAL:
            found = tuple(s.id for s in _sensors(job, controller) if not s.in_common)
            yield Terminal(name=name, use="sensor" if found else "empty", owners=found)
        else:
            yield _terminal(job, controller, name)


def _terminal(job: Printable, controller: JobController, name: str) -> Terminal:
    found = (owner for owner, loads in job.owners.items() if _lands(loads[0], controller, name))
    owner = next(found, None)
    return Terminal(
        name=name,
        use="station" if owner else "empty",
        owners=(owner,) if owner else (),
        linked=tuple(_linked(controller, name)),
    )


def _lands(load: Load, controller: JobController, terminal: str) -> bool:
    """A master valve behind isolators is on a terminal of each of its controllers."""
    if load.terminal != terminal:
        return False
    if isinstance(load.owner, MasterValve):
        return controller.id in [said.value for said in load.owner.controllers]
    return load.controller == controller.id


def _linked(controller: JobController, terminal: str) -> Iterator[str]:
    for jumper in controller.jumpers:
        names = [said.value for said in jumper.value]
        if terminal in names:
            yield from (name for name in names if name != terminal)


def _commons(job: Printable, controller: JobController) -> Iterator[Terminal]:
    for la in job.facts.wiring.commons[controller.id]:
        if controller.id in la.conductor.places and not la.begins:
            yield Terminal(name=COMMON_TERMINAL, use="common", wire=mark(la.conductor))


def _on_path(job: Printable, controller: JobController) -> Iterator[Terminal]:
    """The two sides of the path, then the stations by decoder address."""
    for side, landings in zip(PATH_SIDES, job.facts.wiring.paths[controller.id], strict=True):
        for la in landings:
            if controller.id in la.conductor.places:
                yield Terminal(name=side, use="path", wire=mark(la.conductor))
    for owner, loads in job.owners.items():
        decoder = loads[0].decoder
        if loads[0].controller == controller.id and decoder is not None:
            yield Terminal(name=str(decoder.address.value), use="address", owners=(owner,))


# ---- sensors -------------------------------------------------------------------------------


def _sensors(job: Printable, controller: JobController) -> Iterator[Sensor]:
    for sensor in job.job.sensors.values():
        if any(said.value == controller.id for said in sensor.controllers):
            yield _sensor(job, sensor)


def _sensor(job: Printable, sensor: JobSensor) -> Sensor:
    named = job.facts.wiring.by_words
    return Sensor(
        id=sensor.id,
        kind=str(sensor.kind),
        where=sensor.where,
        contact=str(sensor.contact.value) if sensor.contact else "",
        in_common=bool(sensor.in_common),
        wires=tuple(named[said.value] for said in sensor.conductors),
    )
