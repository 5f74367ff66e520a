"""Check that the wires of a sensor go on in each box where some of them end and others begin."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.sensor_faults import SENSOR_WIRES_NOT_JOINED
from cardgen.job.job_parts import Sensor
from cardgen.problems import Problem
from cardgen.wiring.wiring_parts import IN, OUT, Conductor, End


def sensor_wires_not_joined(facts: Facts) -> Iterator[Problem]:
    """Once for each sensor and box: what is made up as usual joins like colors only."""
    for sensor in facts.job.sensors.values():
        if sensor.id in facts.wiring.reported:
            continue
        ending: dict[str, list[Conductor]] = defaultdict(list)
        beginning: dict[str, list[Conductor]] = defaultdict(list)
        for conductor, first, last in _stretches(facts, sensor):
            ending[last].append(conductor)
            beginning[first].append(conductor)
        for box, arriving in ending.items():
            if box in facts.job.boxes and box in beginning:
                yield from _not_joined(facts, sensor, box, arriving, beginning[box])


def _stretches(facts: Facts, sensor: Sensor) -> Iterator[tuple[Conductor, str, str]]:
    """Each of its wires with the places where it begins and ends, from the controller outward."""
    for said in sensor.conductors:
        name = facts.wiring.by_words.get(said.value)
        if name is None:
            continue  # what names none has been reported
        conductor = facts.wiring.conductors[name]
        begin, end = conductor.between(said.begins, said.ends)
        if begin < end:
            yield conductor, conductor.places[begin], conductor.places[end]


def _not_joined(
    facts: Facts, sensor: Sensor, box: str, ending: list[Conductor], beginning: list[Conductor]
) -> Iterator[Problem]:
    group = facts.network.group
    arrived = {group(End(c.name, box, IN)) for c in ending}
    onward = {group(End(c.name, box, OUT)) for c in beginning}
    ends = [c.name for c in ending if group(End(c.name, box, IN)) not in onward]
    begins = [c.name for c in beginning if group(End(c.name, box, OUT)) not in arrived]
    if ends or begins:
        yield SENSOR_WIRES_NOT_JOINED.at(
            facts.job.joints[box].span if box in facts.job.joints else sensor.conductors[0].span,
            variant="" if ends and begins else "one side",
            sensor=sensor.id,
            box=box,
            ends=english_list(ends),
            begins=english_list(begins),
            wires=english_list((*ends, *begins)),
            one=ends[0] if ends else "",
            two=begins[0] if begins else "",
        )
