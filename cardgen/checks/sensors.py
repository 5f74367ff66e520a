"""Check rain and flow sensors: where the contact is, and what the controller expects there."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.checks.reporting import error, note, warning
from cardgen.facts import Facts, named
from cardgen.job.model import Contact, Controller, Jumper, Sensor, SensorKind
from cardgen.lists import listed
from cardgen.problems import Problem
from cardgen.units import SupplyKind
from cardgen.wiring.model import Conductor, ThroughContact
from cardgen.wiring.uses import Role


def sensors(facts: Facts) -> Iterator[Problem]:
    """Each sensor by itself."""
    for sensor in facts.job.sensors.values():
        if sensor.id in facts.wiring.broken or not sensor.controllers:
            continue
        controller = facts.job.controllers[sensor.controllers[0].value]
        if len({said.value for said in sensor.controllers}) > 1:
            names = listed(said.value for said in sensor.controllers)
            yield error(
                "sensor-shared",
                sensor.controllers[1].span,
                f"{sensor.id} is on {names}: one contact ties their commons together",
                "give each controller its own sensor, or a relay with a contact for each",
            )
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
            yield warning(
                "flow-sensor-in-valve-cable",
                place,
                f"the flow sensor {sensor.id} runs in {conductor.cable.id} beside valve conductors",
                "give it a shielded cable of its own; its polarity matters",
            )
            return


def _users(facts: Facts, conductor: Conductor) -> Iterator[set[str]]:
    """Leg by leg who is said to use it."""
    for leg in range(len(conductor.legs)):
        yield {claim.owner for claim in facts.claimed.get((conductor.name, leg), ())}


def _in_common(facts: Facts, sensor: Sensor, controller: Controller) -> Iterator[Problem]:
    place = sensor.in_common[0].span
    if controller.supply.value.kind is SupplyKind.LATCHING:
        yield error(
            "sensor-in-latching-common",
            place,
            f"{sensor.id} is in the common of the latching controller {controller.id}: "
            "pulses would be lost",
            "put it into the controller's sensor loop",
        )
        return
    if sensor.contact and sensor.contact.value is Contact.OPEN:
        yield error(
            "sensor-contact",
            sensor.contact.span,
            f"{sensor.id} is normally open and in the common: nothing would ever run",
            "a contact in the common is normally closed",
        )
        return
    landed = {la.conductor.name for la in facts.wiring.commons[controller.id]}
    stray = [(c, at) for c, at in named(facts, sensor.in_common) if c.name not in landed]
    if stray:
        conductor, at = stray[0]
        yield error(
            "sensor-not-in-common",
            at,
            f"{sensor.id} is to be in {conductor.name}, which is no common of {controller.id}",
            f"its common is {listed(sorted(landed))}" if landed else "give it a 'common' first",
        )
        return
    circuits = [c for c in facts.circuits.values() if c.load.controller == controller.id]
    stations = [c for c in circuits if c.load.owner.id in facts.job.stations]
    behind = [c for c in stations if any(_is_contact(s, sensor.id) for s in c.back)]
    free = [c.load.owner.id for c in stations if c not in behind]
    if behind and free:
        yield warning(
            "sensor-in-one-common",
            place,
            f"{sensor.id} is in one common only: {listed(free)} will run in the rain",
            "put it between C and the point where the commons part",
        )
        return
    names = listed(c.load.owner.id for c in behind)
    yield note(
        "sensor-in-common",
        place,
        f"{sensor.id} is in the common of {controller.id}{f' ({names})' if names else ''}: "
        "if all stations read open, look at it first",
        "the legend says so",
    )
    past = [
        c.load.owner.id
        for c in circuits
        if c.load.owner.id not in facts.job.stations
        and c.load.hot_end.of == controller.id
        and not any(_is_contact(s, sensor.id) for s in c.back)
    ]
    if past:
        yield note(
            "sensor-passed-by",
            place,
            f"{sensor.id} in the common of {controller.id} does not stop {listed(past)}: "
            f"{'its return is its' if len(past) == 1 else 'their returns are their'} own",
            "with the contact open no station runs, and what is named here still does",
        )


def _is_contact(step: object, sensor: str) -> bool:
    return isinstance(step, ThroughContact) and step.sensor == sensor


def _on_terminals(sensor: Sensor, controller: Controller) -> Iterator[Problem]:
    expected = controller.sensor_contact
    if sensor.contact and expected and sensor.contact.value is not expected:
        yield error(
            "sensor-contact",
            sensor.contact.span,
            f"{sensor.id} is {sensor.contact.value}, but {controller.id} is set to {expected}: "
            "it would hold back watering for good, or never",
            f"set {controller.id} to {sensor.contact.value}, or fit the other contact",
        )
        return
    if controller.sensor_jumper and controller.sensor_jumper.value is Jumper.FITTED:
        yield warning(
            "sensor-jumper",
            controller.sensor_jumper.span,
            f"the sensor jumper of {controller.id} is fitted, so {sensor.id} is ignored",
            "take the jumper out",
        )
        return
    yield note(
        "sensor-on-terminals",
        sensor.span,
        f"{sensor.id} is on the SEN terminals of {controller.id}",
        "with it open, nothing runs though every valve reads well",
    )


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
        broken = any(s in facts.job.broken for s in facts.job.sensors)
        if not on_terminals and not broken and not lost:
            yield warning(
                "sensor-jumper",
                jumper.span,
                f"the sensor jumper of {controller.id} is out and no sensor is on SEN: "
                "nothing will run",
                "fit the jumper, or describe the sensor",
            )
