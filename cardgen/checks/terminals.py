"""Check what hangs on each terminal: numbers, jumpers, twins, currents, volts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cardgen.checks.reporting import error, note, warning
from cardgen.checks.sizing import reach, ways_out
from cardgen.facts import Facts
from cardgen.job.model import Job, Station
from cardgen.lists import listed
from cardgen.problems import Also, Place, Problem
from cardgen.units import SupplyKind, plain
from cardgen.wiring.loads import landing_words
from cardgen.wiring.model import COMMON_TERMINAL, Load, LoadKind
from cardgen.wiring.written import terminals_of


def terminals_that_are_not_there(facts: Facts) -> Iterator[Problem]:
    """A station is on a terminal that its controller does not have."""
    for station, controller, terminal in _landed(facts.job):
        place = station.terminal.place if station.terminal else station.place
        yield from _not_there(facts, station.id, controller, terminal, place)
    for owner, loads in facts.loads_of.items():
        load = loads[0]
        if load.kind is not LoadKind.VALVE and load.hot and load.hot_end.of == load.controller:
            place = load.owner.terminal.place if load.owner.terminal else load.place
            yield from _not_there(facts, owner, load.controller, load.terminal, place)


def _landed(job: Job) -> Iterator[tuple[Station, str, str]]:
    """Stations with controller and terminal, whatever is wrong with their box or conductors."""
    for station in job.stations.values():
        controller, terminal = landing_words(station)
        entry = job.controllers.get(controller)
        if entry is None or not terminal or controller in job.broken:
            continue
        if entry.supply.value.kind is not SupplyKind.TWO_WIRE:
            yield station, controller, terminal


def _not_there(
    facts: Facts, owner: str, controller: str, terminal: str, place: Place
) -> Iterator[Problem]:
    strip = terminals_of(facts.job, controller)
    if terminal not in strip:
        yield error(
            "no-such-terminal",
            place,
            f"{owner} is on terminal {terminal}, which {controller} does not have",
            f"{controller} has {listed(strip)}",
        )


def terminals_used_twice(facts: Facts) -> Iterator[Problem]:
    """Two stations share one terminal, so they cannot run apart."""
    seen: dict[tuple[str, str], Station] = {}
    for station, controller, terminal in _landed(facts.job):
        first = seen.setdefault((controller, terminal), station)
        if first.id != station.id:
            yield error(
                "terminal-used-twice",
                station.place,
                f"{first.id} and {station.id} are both on terminal {terminal} of {controller}",
                "give each its own terminal, or describe them as one station with 'valves'",
                Also(place=first.place, text=f"{first.id} is described here"),
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
            if not unknown and COMMON_TERMINAL not in names:
                yield note(
                    "jumper",
                    jumper.place,
                    f"the terminals {listed(names)} of {controller.id} are linked",
                    "the legend shows it, so that nobody hunts for a short",
                )
        for joint in facts.joints_at.get(controller.id, ()):
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
        names = listed(load.id for load in loads)
        if len(loads) > _most_valves(facts, loads):
            yield _too_many(facts, owner, loads)
        elif len({load.box for load in loads}) > 1:
            boxes = listed(dict.fromkeys(f"'{load.box}'" for load in loads))
            yield note(
                "twin-in-two-boxes",
                loads[0].place,
                f"{owner} has {len(loads)} valves ({names}) in {boxes}; its hot goes on",
                "do not cap the hot in the first box",
            )
        elif getattr(loads[0].owner, "device", None) is None:
            yield note(
                "twin",
                loads[0].place,
                f"{owner} has {len(loads)} valves ({names}) in '{loads[0].box}'",
                "it takes the current of both, and reads about half the ohms of one",
            )


def _most_valves(facts: Facts, loads: list[Load]) -> int:
    controller = facts.job.controllers[loads[0].controller]
    latching = controller.supply.value.kind is SupplyKind.LATCHING
    return controller.valves_per_station or (1 if latching else len(loads))


def _too_many(facts: Facts, owner: str, loads: list[Load]) -> Problem:
    controller = facts.job.controllers[loads[0].controller]
    reason = f"{controller.id} allows {controller.valves_per_station}"
    if controller.valves_per_station is None:
        reason = "a latching controller drives one unless its maker says more"
    return error(
        "too-many-valves",
        loads[0].place,
        f"{owner} has {len(loads)} valves ({listed(load.id for load in loads)}); {reason}",
        "give each its own station, or write what the maker allows: 'valves per station'",
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
        if load.runs_beside_stations and load.coil:
            beside[load.controller] += load.coil.holding or 0.0
    in_all: dict[tuple[str, float], list[Load]] = defaultdict(list)
    on_one: dict[tuple[str, float], list[Load]] = defaultdict(list)
    for loads in facts.loads_of.values():
        current = _starting_current(facts, loads)
        if current is None:
            continue
        controller = facts.job.controllers[loads[0].controller]
        valve = loads[0].kind is LoadKind.VALVE
        total = current + (beside[controller.id] if valve else 0.0)
        if valve and controller.station_limit and current > controller.station_limit + 1e-9:
            on_one[controller.id, round(current, 6)].append(loads[0])
        elif controller.total_limit and total > controller.total_limit + 1e-9:
            in_all[controller.id, round(total, 6)].append(loads[0])
    for (name, current), found in on_one.items():
        limit = facts.job.controllers[name].station_limit
        assert limit is not None
        yield error(
            "terminal-overloaded",
            found[0].place,
            f"{_each_of(found)} takes {plain(current)} A when it starts; a terminal of {name} "
            f"gives {plain(limit)} A",
            "one valve to a station, or a relay",
        )
    for (name, total), found in in_all.items():
        limit = facts.job.controllers[name].total_limit
        assert limit is not None
        yield error(
            "controller-overloaded",
            found[0].place,
            f"{_each_of(found)} with what runs beside it takes {plain(total)} A; {name} "
            f"gives {plain(limit)} A in all",
            "fewer coils at once, or a relay for the pump start",
        )


def transformers(facts: Facts) -> Iterator[Problem]:
    """All that may run together takes more than the transformer gives, the last one starting."""
    for controller in facts.job.controllers.values():
        volts, limit = controller.supply.value.volts, controller.transformer
        if volts is None or limit is None:
            continue
        on = [load for load in facts.wiring.loads.values() if load.controller == controller.id]
        beside = sum(_holding(load) for load in on if load.runs_beside_stations)
        stations = [loads for loads in facts.loads_of.values() if loads[0] in on]
        valves = [loads for loads in stations if loads[0].kind is LoadKind.VALVE]
        held = sorted((sum(map(_holding, loads)) for loads in valves), reverse=True)
        starting = [current for loads in valves if (current := _starting_current(facts, loads))]
        amperes = beside + sum(held[: controller.stations_at_once - 1]) + max(starting, default=0)
        if volts * amperes > limit + 1e-9:
            yield error(
                "transformer-overloaded",
                controller.place,
                f"{controller.id} takes {volts * amperes:.1f} VA when its last valve starts; "
                f"its transformer gives {plain(limit)} VA",
                "run fewer stations at once, or fit a larger transformer of the same kind "
                "(line side: a licensed electrician)",
            )


def _holding(load: Load) -> float:
    return load.coil.holding or 0.0 if load.coil else 0.0


def _each_of(loads: list[Load]) -> str:
    names = listed(load.owner.id for load in loads)
    return names if len(loads) == 1 else f"each of {names}"


def _starting_current(facts: Facts, loads: list[Load]) -> float | None:
    """None where it is unknown, not the controller's, or not what runs at once."""
    starting = [load.coil.inrush for load in loads if load.coil and load.coil.inrush]
    first = loads[0]
    if len(starting) < len(loads) or first.hot_end.of != first.controller:
        return None
    if len(loads) > _most_valves(facts, loads):
        return None  # that there are too many valves is told by itself
    if getattr(first.owner, "device", None) is not None:
        return max(starting)
    return sum(starting)


def volts(facts: Facts) -> Iterator[Problem]:
    """Too few volts are left at the coil when it starts; stations on one cable are told once."""
    short: dict[str, list[str]] = defaultdict(list)
    for owner in facts.readings:
        if short_of_volts(facts, owner):
            leg = facts.readings[owner].costliest
            kind = facts.loads_of[owner][0].kind
            # A twin is its own fault: one coil fewer mends it.
            alone = kind is not LoadKind.VALVE or len(facts.loads_of[owner]) > 1
            short[owner if alone or leg is None else leg.conductor.cable.id].append(owner)
    for owners in short.values():
        yield _too_low(facts, owners)


def short_of_volts(facts: Facts, owner: str) -> bool:
    """Whether a coil has fewer volts than it needs to open."""
    reading, coil = facts.readings.get(owner), facts.loads_of[owner][0].coil
    if reading is None or coil is None or coil.minimum is None or not reading.volts:
        return False
    if getattr(facts.loads_of[owner][0].owner, "device", None) is not None:
        return False  # what the device lets run at once is not known
    return min(reading.volts.values()) < coil.minimum


def _too_low(facts: Facts, owners: list[str]) -> Problem:
    worst = min(owners, key=lambda name: min(facts.readings[name].volts.values()))
    reading, loads = facts.readings[worst], facts.loads_of[worst]
    leg, coil = reading.costliest, loads[0].coil
    assert leg is not None and coil is not None and coil.minimum is not None
    name = min(reading.volts, key=lambda load: reading.volts[load])
    left = max(reading.volts[name], 0.0)
    relay = loads[0].kind is LoadKind.RELAY
    twin = f" with {len(loads)} valves" if len(loads) > 1 else ""
    others = f"; {listed(owners)} may not open" if len(owners) > 1 else ": it may not open"
    what = ": the relay will chatter" if relay else others
    return error(
        "relay-chatter" if relay else "volts-too-low",
        loads[0].place,
        f"{name}{twin} has {left:.1f} V at inrush and needs {plain(coil.minimum)} V{what}",
        f"most is lost in {leg.conductor.name} from '{leg.start}' to '{leg.end}' "
        f"({leg.conductor.gauge}, {leg.length}); {ways_out(facts, worst)}; "
        f"one such coil alone reaches {_reach(facts, worst)}",
    )


def _reach(facts: Facts, owner: str) -> str:
    load, leg = facts.loads_of[owner][0], facts.readings[owner].costliest
    supply = facts.job.controllers[load.controller].supply.value.volts
    assert load.coil is not None and leg is not None and supply is not None
    return reach(facts, load.coil, supply, leg.conductor.gauge, leg.length.unit)
