"""Check what hangs on each terminal: numbers, jumpers, twins, currents, volts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cardgen.checks.facts import Facts, error, listed, note, warning
from cardgen.job.model import Station
from cardgen.problems import Also, Problem
from cardgen.units import SupplyKind, plain
from cardgen.wiring.model import Load, LoadKind
from cardgen.wiring.written import terminals_of


def terminals_that_are_not_there(facts: Facts) -> Iterator[Problem]:
    """A station is on a terminal that its controller does not have."""
    for owner, loads in facts.loads_of.items():
        load = loads[0]
        strip = terminals_of(facts.job, load.controller)
        two_wire = load.decoder is not None or load.hot is None
        if load.terminal in strip or two_wire or load.hot_end.of != load.controller:
            continue
        numbers = [t for t in strip if t.isdigit()]
        span = f"1 to {numbers[-1]}" if numbers else "none"
        place = load.place
        if isinstance(load.owner, Station) and load.owner.terminal:
            place = load.owner.terminal.place
        yield error(
            "no-such-terminal",
            place,
            f"{owner} is on terminal {load.terminal}, which {load.controller} does not have",
            f"{load.controller} has the station terminals {span} and "
            + ", ".join(dict.fromkeys(t for t in strip if not t.isdigit())),
        )


def terminals_used_twice(facts: Facts) -> Iterator[Problem]:
    """Two stations share one terminal, so they cannot run apart."""
    seen: dict[tuple[str, str], Load] = {}
    for loads in facts.loads_of.values():
        load = loads[0]
        if load.kind is not LoadKind.VALVE or load.hot is None:
            continue
        first = seen.setdefault((load.controller, load.terminal), load)
        if first.owner.id != load.owner.id:
            yield error(
                "terminal-used-twice",
                load.place,
                f"{first.owner.id} and {load.owner.id} are both on terminal {load.terminal} "
                f"of {load.controller}",
                "give each its own terminal, or describe them as one station with 'valves'",
                Also(place=first.place, text=f"{first.owner.id} is described here"),
            )


def jumpers(facts: Facts) -> Iterator[Problem]:
    """Terminals that are linked: known where it is declared, suspicious where it is not."""
    for controller in facts.job.controllers.values():
        strip = terminals_of(facts.job, controller.id)
        declared = []
        for jumper in controller.jumpers:
            names = [said.value for said in jumper.value]
            declared.append(set(names))
            unknown = [said for said in jumper.value if said.value not in strip]
            for said in unknown:
                yield error(
                    "no-such-terminal",
                    said.place,
                    f"the jumper names terminal {said.value}, which {controller.id} does not have",
                    "it has " + listed(dict.fromkeys(strip)),
                )
            if not unknown:
                yield note(
                    "jumper",
                    jumper.place,
                    f"the terminals {listed(names)} of {controller.id} are linked",
                    "the legend shows it, so that nobody hunts for a short",
                )
        for joint in facts.wiring.joints:
            linked = {e.side for e in joint.ends if e.of == controller.id and e.side.isdigit()}
            if joint.as_built and len(linked) > 1 and not any(linked <= d for d in declared):
                yield warning(
                    "jumper-undeclared",
                    joint.place,
                    f"the terminals {listed(sorted(linked, key=int))} of {controller.id} "
                    "are linked and nothing says why",
                    f"declare it under {controller.id}: 'jumpers: [[...]]', or take it out",
                )


def twins(facts: Facts) -> Iterator[Problem]:
    """Several valves on one terminal: said on each tag; more than the maker allows is a fault."""
    for owner, loads in facts.loads_of.items():
        if len(loads) < 2:
            continue
        controller = facts.job.controllers[loads[0].controller]
        latching = controller.supply.value.kind is SupplyKind.LATCHING
        most = controller.valves_per_station or (1 if latching else len(loads))
        names = listed(load.id for load in loads)
        if len(loads) > most:
            reason = f"{controller.id} allows {most}"
            if latching and controller.valves_per_station is None:
                reason = "a latching controller drives one unless its maker says more"
            yield error(
                "too-many-valves",
                loads[0].place,
                f"{owner} has {len(loads)} valves ({names}); {reason}",
                "give each its own station, or write what the maker allows: 'valves per station'",
            )
        elif len({load.box for load in loads}) > 1:
            boxes = listed(dict.fromkeys(load.box for load in loads))
            yield note(
                "twin-in-two-boxes",
                loads[0].place,
                f"{owner} has {len(loads)} valves ({names}) in {boxes}; its hot goes on",
                "do not cap the hot in the first box",
            )
        else:
            yield note(
                "twin",
                loads[0].place,
                f"{owner} has {len(loads)} valves ({names}) in '{loads[0].box}'",
                "it takes the current of both, and reads about half the ohms of one",
            )


def devices(facts: Facts) -> Iterator[Problem]:
    """Something sits between terminal and valve, so ohms mean nothing."""
    for station in facts.job.stations.values():
        if station.device is not None:
            yield note(
                "device-in-circuit",
                station.device.place,
                f"a {station.device.value} is in the circuit of {station.id}: "
                "ohms measured through it mean nothing",
                "its tag and the legend give no ohms",
            )


def overloads(facts: Facts) -> Iterator[Problem]:
    """The coils on a terminal, or all that runs together, take more than the controller gives."""
    beside: dict[str, float] = defaultdict(float)
    for load in facts.wiring.loads.values():
        if load.kind is not LoadKind.VALVE and load.hot_end.of == load.controller and load.coil:
            beside[load.controller] += load.coil.holding or 0.0
    for owner, loads in facts.loads_of.items():
        controller = facts.job.controllers[loads[0].controller]
        starting = [load.coil.inrush for load in loads if load.coil and load.coil.inrush]
        if len(starting) < len(loads) or loads[0].hot_end.of != controller.id:
            continue
        current = sum(starting)
        valve = loads[0].kind is LoadKind.VALVE
        if valve and controller.station_limit and current > controller.station_limit + 1e-9:
            yield error(
                "terminal-overloaded",
                loads[0].place,
                f"{owner} takes {plain(current)} A when it starts; a terminal of {controller.id} "
                f"gives {plain(controller.station_limit)} A",
                "one valve to a station, or a relay",
            )
        total = current + (beside[controller.id] if valve else 0.0)
        if controller.total_limit and total > controller.total_limit + 1e-9:
            yield error(
                "controller-overloaded",
                loads[0].place,
                f"{owner} with what runs beside it takes {plain(total)} A; {controller.id} "
                f"gives {plain(controller.total_limit)} A in all",
                "fewer coils at once, or a relay for the pump start",
            )


def volts(facts: Facts) -> Iterator[Problem]:
    """Too few volts are left at the coil when it starts."""
    for owner, reading in facts.readings.items():
        loads = facts.loads_of[owner]
        coil = loads[0].coil
        if coil is None or coil.minimum is None or not reading.volts:
            continue
        worst = min(reading.volts, key=lambda name: reading.volts[name])
        left = reading.volts[worst]
        if left >= coil.minimum:
            continue
        relay = loads[0].kind is LoadKind.RELAY
        leg = reading.costliest
        assert leg is not None
        what = "the relay will chatter" if relay else "it may not open"
        twin = f" with {len(loads)} valves" if len(loads) > 1 else ""
        yield error(
            "relay-chatter" if relay else "volts-too-low",
            loads[0].place,
            f"{worst}{twin} has {left:.1f} V at inrush and needs {plain(coil.minimum)} V: {what}",
            f"most is lost in {leg.conductor.name} from '{leg.start}' to '{leg.end}' "
            f"({leg.conductor.gauge}, {leg.length}): use a thicker conductor or one coil fewer",
        )
