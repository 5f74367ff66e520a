"""Turn the wires of a sensor that end in a box into joints with its leads."""

from __future__ import annotations

from collections.abc import Set as AbstractSet

from cardgen.cards.printable import Printable
from cardgen.job.model import Sensor
from cardgen.wiring.model import IN, OUT, Conductor, End, Joint

LEAD = "lead"


def sensor_joints(
    job: Printable, sensor: Sensor, at: str, joined: AbstractSet[End]
) -> tuple[list[Joint], tuple[Conductor, ...]]:
    """The joints with its leads, and the wires that go on here with nothing that pairs them."""
    arriving, leaving = _ending(job, sensor, at, IN, joined), _ending(job, sensor, at, OUT, joined)
    if leaving:
        return [], (*arriving.values(), *leaving.values())
    pairs = [(end, End(sensor.id, at, LEAD)) for end in arriving]
    made = [Joint(at=at, ends=pair, place=sensor.place, as_built=False) for pair in pairs]
    return made, ()


def _ending(
    job: Printable, sensor: Sensor, at: str, side: str, joined: AbstractSet[End]
) -> dict[End, Conductor]:
    """The free ends of its wires that come in and stop here, or begin here."""
    wiring = job.facts.wiring
    found: dict[End, Conductor] = {}
    for said in sensor.conductors:
        conductor = wiring.conductors[wiring.by_words[said.value]]
        ends = conductor.ends_at(at) if at in conductor.places else ()
        if len(ends) == 1 and ends[0].side == side and ends[0] not in joined:
            found[ends[0]] = conductor
    return found
