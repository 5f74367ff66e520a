"""Turn sensors into plain values, and their wires that end in a box into joints with leads."""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Set as AbstractSet

from cardgen.asbuilt.marks import mark
from cardgen.asbuilt.model import built_controllers as model
from cardgen.facts import Facts, named
from cardgen.job.job_parts import Sensor
from cardgen.wiring.uses import Role, Stretch
from cardgen.wiring.wiring_parts import IN, OUT, Conductor, End, Joint

LEAD = "lead"


def sensors(facts: Facts) -> Iterator[model.BuiltSensor]:
    """In the order of the file."""
    for sensor in facts.job.sensors.values():
        wires = [conductor for conductor, _ in named(facts, sensor.conductors)]
        yield model.BuiltSensor(
            id=sensor.id,
            kind=str(sensor.kind),
            where=sensor.where or "",
            contact=str(sensor.contact.value) if sensor.contact else "",
            in_common=bool(sensor.in_common),
            wires=tuple(wire.name for wire in wires),
            marks=tuple(mark(wire) for wire in wires),
            behind=tuple(conductor.name for conductor, _ in named(facts, sensor.in_common)),
            controllers=tuple(name.value for name in sensor.controllers),
        )


def sensor_joints(
    facts: Facts, sensor: Sensor, at: str, joined: AbstractSet[End]
) -> tuple[list[Joint], tuple[Conductor, ...]]:
    """The joints with its leads, and the wires that go on here with nothing that pairs them."""
    arriving = _ending(facts, sensor, at, IN, joined)
    leaving = _ending(facts, sensor, at, OUT, joined)
    if leaving:
        return [], (*arriving.values(), *leaving.values())
    pairs = [(end, End(sensor.id, at, LEAD)) for end in arriving]
    made = [Joint(at=at, ends=pair, span=sensor.span, as_built=False) for pair in pairs]
    return made, ()


def _ending(
    facts: Facts, sensor: Sensor, at: str, side: str, joined: AbstractSet[End]
) -> dict[End, Conductor]:
    """The free ends of its wires that come in and stop here, or begin here."""
    found: dict[End, Conductor] = {}
    for conductor, _ in named(facts, sensor.conductors):
        for stretch in facts.uses.stretches[conductor.name]:
            end = stretch.ends[1 if side == IN else 0]
            if end.at == at and end not in joined and _serves(stretch, sensor):
                found[end] = conductor
    return found


def _serves(stretch: Stretch, sensor: Sensor) -> bool:
    return any(use.role is Role.SENSOR and use.of == sensor.id for use in stretch.uses)
