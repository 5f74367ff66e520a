"""A planned yard as metal, spliced the usual way, and as the text of its job file."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator
from typing import Any

from tests.diagnosis.metal import Circuit, Element, Part
from tests.diagnosis.plans import (
    COLORS,
    COMMON,
    OHMS_PER_FOOT,
    Plan,
    PlannedCable,
    PlannedValve,
)


def hot_end(valve: PlannedValve) -> str:
    """The node of its terminal."""
    return f"{valve.controller}:{valve.terminal}"


def common_end(controller: str) -> str:
    """The node of C."""
    return f"{controller}:C"


def hot_joint(station: str, box: str) -> str:
    return f"joint {box} hot {station}"


def common_joint(controller: str, box: str) -> str:
    return f"joint {box} common {controller}"


def circuit_of(plan: Plan) -> Circuit:
    """All that is in use, at 20 C."""
    return dict(_Ground(plan).elements())


class _Ground:
    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.cables_at: dict[tuple[str, str], list[str]] = defaultdict(list)
        for cable in plan.cables.values():
            for place in cable.places[1:] if cable.places[0] == cable.controller else cable.places:
                self.cables_at[cable.controller, place].append(cable.id)
        self.with_valves = {(valve.controller, valve.box) for valve in plan.valves.values()}

    def elements(self) -> Iterator[tuple[Part, Element]]:
        for controller, sensor in self.plan.sensors.items():
            yield ("contact", sensor), Element(common_end(controller), f"{controller}:behind")
        for cable in self.plan.cables.values():
            yield from self._conductor(cable, cable.common, self._common_joints(cable))
            for station, conductor in cable.hots.items():
                yield from self._conductor(cable, conductor, self._hot_joints(cable, station))
        for valve in self.plan.valves.values():
            hot, back = f"{valve.id} lead 1", f"{valve.id} lead 2"
            one, two = (
                hot_joint(valve.station, valve.box),
                common_joint(valve.controller, valve.box),
            )
            yield ("lead", valve.id, "hot"), Element(one, hot)
            yield ("lead", valve.id, "back"), Element(two, back)
            ohms = self.plan.coils[valve.coil]
            yield ("coil", valve.id), Element(hot, back, ohms, copper=True)

    def _common_joints(self, cable: PlannedCable) -> dict[str, str]:
        """By place the joint in which its common is."""
        joints = {}
        for place in cable.places:
            at = cable.controller, place
            if place == cable.controller:
                has_sensor = cable.controller in self.plan.sensors
                joints[place] = f"{place}:behind" if has_sensor else common_end(place)
            elif at in self.with_valves or len(self.cables_at[at]) > 1:
                joints[place] = common_joint(cable.controller, place)
        return joints

    def _hot_joints(self, cable: PlannedCable, station: str) -> dict[str, str]:
        valves = [v for v in self.plan.valves.values() if v.station == station]
        conductor, hots = cable.hots[station], valves[0].hots
        joints = {cable.places[0]: hot_joint(station, cable.places[0])}
        if hots[0] == conductor:
            joints = {cable.places[0]: hot_end(valves[0])}
        if hots[-1] == conductor:
            return joints | {v.box: hot_joint(station, v.box) for v in valves}
        onward = self.plan.cables[hots[hots.index(conductor) + 1].split(maxsplit=1)[0]]
        return joints | {onward.places[0]: hot_joint(station, onward.places[0])}

    def _conductor(
        self, cable: PlannedCable, name: str, joints: dict[str, str]
    ) -> Iterator[tuple[Part, Element]]:
        """Its legs to the last joint, and the splice of each end that is in one."""
        last = max(cable.places.index(place) for place in joints)
        per_foot = OHMS_PER_FOOT[cable.gauge_of(name)]
        for number, (start, end) in enumerate(
            zip(cable.places[:last], cable.places[1:], strict=False)
        ):
            one = f"{name} {start} out" if start in joints else f"{name} {start}"
            two = f"{name} {end} in" if end in joints else f"{name} {end}"
            ohms = cable.feet[number] * per_foot
            yield ("leg", name, start, end), Element(one, two, ohms, copper=True)
            if start in joints:
                yield ("splice", name, start, "out"), Element(joints[start], one)
            if end in joints:
                yield ("splice", name, end, "in"), Element(joints[end], two)


# -- the job file ----------------------------------------------------------------------------------


def job_text(plan: Plan) -> str:
    sections: dict[str, Any] = {
        "job": {"code": "YARD-1", "site": f"Yard {plan.seed}", "revision": 1, "date": "2026-03-14"},
        "record": {"address": "https://jobs.example.com", "key": "7Q2F9KX4M3T8"},
        "coils": {name: _coil(ohms) for name, ohms in plan.coils.items()},
        "controllers": {name: _controller(plan, name) for name in plan.controllers},
        "cables": {cable.id: _cable(cable) for cable in plan.cables.values()},
        "boxes": {box: {"place": f"spot {box}"} for box in plan.boxes},
        "stations": {},
        "master valves": {},
        "sensors": {name: _sensor(plan, of) for of, name in plan.sensors.items()},
        "joints": {box: joints_at(plan, box) for box in plan.written},
    }
    for valve in plan.valves.values():
        section = "master valves" if valve.is_master else "stations"
        entry = sections[section].setdefault(valve.station, _station(valve))
        if valve.id != valve.station:
            entry.setdefault("valves", {})[valve.id] = {"box": valve.box}
            entry.pop("box", None)
    return "".join(_lines(sections))


def joints_at(plan: Plan, box: str) -> list[list[str]]:
    """What is in each connector there, in the words of a job file."""
    joints: dict[str, list[str]] = defaultdict(list)
    for part, element in circuit_of(plan).items():
        if part[0] == "splice" and part[2] == box:
            joints[element.one].append(f"{part[1]} {part[3]}")
        elif part[0] == "lead" and plan.valves[part[1]].box == box:
            joints[element.one].append(part[1])
    return list(joints.values())


def _coil(ohms: float) -> dict[str, str]:
    common = {"supply": "24 V AC", "inrush": "0.36 A", "holding": "0.20 A"}
    return {**common, "resistance": f"{ohms:g} ohm"}


def _controller(plan: Plan, name: str) -> dict[str, Any]:
    stations = sum(1 for valve in plan.of(name) if not valve.is_master)
    return {
        "place": f"shed {name}",
        "supply": "24 V AC",
        "stations": stations,
        "terminals": ["C", f"1 to {stations}", "MV"],
        "coil": "usual",
        "common": [cable.common for cable in plan.commons(name)],
    }


def _cable(cable: PlannedCable) -> dict[str, Any]:
    run: list[str] = [cable.places[0]]
    for feet, place in zip(cable.feet, cable.places[1:], strict=True):
        run += [f"{feet:g} ft", place]
    if not cable.is_bundle:
        colors = [COMMON, *COLORS[: len(cable.hots) + 1]]
        return {"gauge": cable.gauge, "colors": colors, "band": f"tape {cable.id}", "run": run}
    singles = [
        {"color": "red", "gauge": cable.gauge, "flags": list(cable.hots)},
        {"color": COMMON, "gauge": cable.common_gauge},
    ]
    return {"singles": singles, "band": f"tape {cable.id}", "run": run}


def _sensor(plan: Plan, controller: str) -> dict[str, Any]:
    return {
        "kind": "rain",
        "controllers": controller,
        "contact": "normally closed",
        "place": f"eave of shed {controller}",
        "in common": [c.common for c in plan.commons(controller) if c.places[0] == controller],
    }


def _station(valve: PlannedValve) -> dict[str, Any]:
    entry: dict[str, Any] = {"box": valve.box, "hot": valve.hots, "coil": valve.coil}
    if valve.is_master:
        return {"controllers": valve.controller, **entry}
    return {"area": f"area {valve.station}", **entry}


def _lines(sections: dict[str, Any]) -> Iterator[str]:
    for section, body in sections.items():
        if section in ("job", "record"):
            yield f"{section}: {json.dumps(body)}\n"
        elif body:
            yield f"{section}:\n"
            yield from (f"  {name}: {json.dumps(entry)}\n" for name, entry in body.items())
