"""Check rain and flow sensors: where the contact is, and what the controller expects there."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.english_lists import english_list
from cardgen.facts import Facts, named
from cardgen.faults.sensor_faults import (
    FLOW_SENSOR_IN_VALVE_CABLE,
    SENSOR_CONTACT,
    SENSOR_IN_COMMON,
    SENSOR_IN_LATCHING_COMMON,
    SENSOR_IN_ONE_COMMON,
    SENSOR_JUMPER,
    SENSOR_NOT_IN_COMMON,
    SENSOR_ON_TERMINALS,
    SENSOR_PASSED_BY,
    SENSOR_SHARED,
)
from cardgen.job.job_parts import Contact, Controller, Jumper, Sensor, SensorKind
from cardgen.owners import Owner
from cardgen.problems import Problem
from cardgen.units import SupplyKind
from cardgen.wiring.uses import Role
from cardgen.wiring.wiring_parts import Conductor, ThroughContact


def sensors(facts: Facts) -> Iterator[Problem]:
    """Each sensor by itself."""
    for sensor in facts.job.sensors.values():
        if sensor.id in facts.wiring.reported:
            continue
        controller = facts.job.controllers[sensor.controllers[0].value]
        if len({name.value for name in sensor.controllers}) > 1:
            names = english_list(name.value for name in sensor.controllers)
            place = sensor.controllers[1].span
            yield SENSOR_SHARED.at(place, sensor=sensor.id, controllers=names)
        elif sensor.kind is SensorKind.FLOW:
            yield from _flow(facts, sensor)
        elif sensor.in_common:
            yield from _in_common(facts, sensor, controller)
        else:
            yield from _on_terminals(sensor, controller)


def _flow(facts: Facts, sensor: Sensor) -> Iterator[Problem]:
    hots = {
        stretch.conductor.cable.id
        for stretches in facts.uses.stretches.values()
        for stretch in stretches
        if any(use.role is Role.HOT for use in stretch.uses)
    }
    for conductor, place in named(facts, sensor.conductors):
        if any(len(owners) > 1 for owners in _users(facts, conductor)):
            return  # that it serves something else is told by itself
        if conductor.cable.id in hots:
            yield FLOW_SENSOR_IN_VALVE_CABLE.at(place, sensor=sensor.id, cable=conductor.cable.id)
            return


def _users(facts: Facts, conductor: Conductor) -> Iterator[set[Owner]]:
    """Leg by leg who is said to use it."""
    for leg in range(len(conductor.legs)):
        yield {claim.owner for claim in facts.claimed.get((conductor.name, leg), ())}


def _in_common(facts: Facts, sensor: Sensor, controller: Controller) -> Iterator[Problem]:
    place = sensor.in_common[0].span
    if controller.supply.value.kind is SupplyKind.LATCHING:
        yield SENSOR_IN_LATCHING_COMMON.at(place, sensor=sensor.id, controller=controller.id)
        return
    if sensor.contact and sensor.contact.value is Contact.OPEN:
        yield SENSOR_CONTACT.at(sensor.contact.span, variant="open in common", sensor=sensor.id)
        return
    landed = {la.conductor.name for la in facts.wiring.commons[controller.id]}
    found = list(named(facts, sensor.in_common))
    if len(found) < len(sensor.in_common):
        return  # what names no conductor is told by itself
    stray = [(c, at) for c, at in found if c.name not in landed]
    if stray:
        conductor, at = stray[0]
        yield SENSOR_NOT_IN_COMMON.at(
            at,
            variant="" if landed else "no common",
            sensor=sensor.id,
            conductor=conductor.name,
            controller=controller.id,
            conductors=english_list(sorted(landed)),
        )
        return
    circuits = facts.returning_to.get(controller.id, [])
    stations = [c for c in circuits if c.load.owner.id in facts.job.stations]
    behind = [c for c in stations if any(_is_contact(s, sensor.id) for s in c.back)]
    free = [c.load.owner.id for c in stations if c not in behind]
    if behind and free:
        yield SENSOR_IN_ONE_COMMON.at(place, sensor=sensor.id, stations=english_list(free))
        return
    names = english_list(c.load.owner.id for c in behind)
    yield SENSOR_IN_COMMON.at(
        place,
        sensor=sensor.id,
        controller=controller.id,
        stations=f" ({names})" if names else "",
    )
    past = [
        c.load.owner.id
        for c in circuits
        if c.load.owner.id not in facts.job.stations
        and c.load.hot_end.of == controller.id
        and not any(_is_contact(s, sensor.id) for s in c.back)
    ]
    if past:
        yield SENSOR_PASSED_BY.at(
            place,
            variant="one" if len(past) == 1 else "",
            sensor=sensor.id,
            controller=controller.id,
            others=english_list(past),
        )


def _is_contact(step: object, sensor: str) -> bool:
    return isinstance(step, ThroughContact) and step.sensor == sensor


def _on_terminals(sensor: Sensor, controller: Controller) -> Iterator[Problem]:
    expected = controller.sensor_contact
    if sensor.contact and expected and sensor.contact.value is not expected:
        yield SENSOR_CONTACT.at(
            sensor.contact.span,
            sensor=sensor.id,
            contact=sensor.contact.value,
            controller=controller.id,
            expected=expected,
        )
        return
    if controller.sensor_jumper and controller.sensor_jumper.value is Jumper.FITTED:
        yield SENSOR_JUMPER.at(
            controller.sensor_jumper.span, sensor=sensor.id, controller=controller.id
        )
        return
    yield SENSOR_ON_TERMINALS.at(sensor.span, sensor=sensor.id, controller=controller.id)


def jumpers_without_sensor(facts: Facts) -> Iterator[Problem]:
    """The jumper is out and no sensor takes its place: nothing will run."""
    for controller in facts.job.controllers.values():
        jumper = controller.sensor_jumper
        if jumper is None or jumper.value is Jumper.FITTED:
            continue
        on_terminals = [
            s
            for s in facts.job.sensors.values()
            if not s.in_common
            and s.kind is not SensorKind.FLOW
            and any(c.value == controller.id for c in s.controllers)
        ]
        lost = controller.supply.value.kind is SupplyKind.LATCHING and any(
            s.in_common for s in facts.job.sensors.values()
        )  # a sensor in a latching common is told by itself: its place is on SEN
        broken = bool(facts.job.unread)  # one that could not be read may be the sensor
        if not on_terminals and not broken and not lost:
            yield SENSOR_JUMPER.at(jumper.span, variant="no sensor", controller=controller.id)
