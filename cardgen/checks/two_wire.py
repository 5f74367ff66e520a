"""Check two-wire paths: decoders, their addresses, the path itself, surge units."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator

from cardgen.checks.facts import Facts, error, listed, note, warning
from cardgen.job.model import Controller, Decoder
from cardgen.problems import Also, Place, Problem
from cardgen.units import SupplyKind
from cardgen.wiring.model import End, Joint, Leg
from cardgen.wiring.written import PATH_SIDES


def decoders(facts: Facts) -> Iterator[Problem]:
    """Each station has its decoder, each decoder its own address and its station."""
    driven: dict[str, str] = {}
    for station in facts.job.stations.values():
        loads = facts.loads_of.get(station.id)
        if not loads:
            continue
        controller = facts.job.controllers[loads[0].controller]
        two_wire = controller.supply.value.kind is SupplyKind.TWO_WIRE
        if two_wire and station.decoder is None:
            yield error(
                "station-without-decoder",
                station.place,
                f"{station.id} is on the two-wire path of {controller.id} and names no decoder",
                "write 'decoder: ...'",
            )
        elif station.decoder and not two_wire:
            yield error(
                "decoder-without-path",
                station.decoder.place,
                f"{station.id} names a decoder, but {controller.id} is no two-wire controller",
                "leave 'decoder' out, or write 'supply: two-wire'",
            )
        elif station.decoder:
            other = driven.setdefault(station.decoder.value, station.id)
            if other != station.id:
                yield error(
                    "decoder-used-twice",
                    station.decoder.place,
                    f"{station.decoder.value} drives {other} and {station.id}",
                    "two valves would run at once: one decoder entry for each address",
                )
    yield from _addresses(facts)
    for decoder in facts.job.decoders.values():
        if decoder.id not in driven and not facts.job.broken:
            yield note(
                "decoder-without-station",
                decoder.place,
                f"{decoder.id} drives no station",
                "say which station it is for, or that it waits for one",
            )


def _addresses(facts: Facts) -> Iterator[Problem]:
    seen: dict[tuple[str, int], Decoder] = {}
    for decoder in facts.job.decoders.values():
        home = decoder.controller.value if decoder.controller else ""
        first = seen.setdefault((home, decoder.address.value), decoder)
        if first is not decoder:
            yield error(
                "address-twice",
                decoder.address.place,
                f"{first.id} and {decoder.id} both answer to address {decoder.address.value}",
                "two valves would run at once: give each its own address",
                Also(place=first.address.place, text=f"{first.id} has it here"),
            )


def decoder_wires(facts: Facts) -> Iterator[Problem]:
    """The wire from a decoder to its valve is longer than allowed."""
    for decoder in facts.job.decoders.values():
        controller = _controller_of(facts, decoder)
        limit = controller.decoder_limit if controller else None
        if decoder.to_valve and limit and decoder.to_valve.value.metres > limit.metres + 1e-6:
            yield warning(
                "decoder-too-far",
                decoder.to_valve.place,
                f"{decoder.id} is {decoder.to_valve.value} from its valve; the limit is {limit}",
                "move the decoder to the valve",
            )


def _controller_of(facts: Facts, decoder: Decoder) -> Controller | None:
    if decoder.controller:
        return facts.job.controllers.get(decoder.controller.value)
    return next((facts.job.controllers[c] for c in facts.wiring.paths), None)


def decoder_outputs(facts: Facts) -> Iterator[Problem]:
    """Leads of decoder valves joined with each other or with the path."""
    for joint in facts.wiring.joints:
        driven = [
            end.of
            for end in joint.ends
            if (load := facts.wiring.loads.get(end.of)) and load.decoder is not None
        ]
        if driven and len(joint.ends) > 1:
            yield error(
                "decoder-outputs-joined",
                joint.place,
                f"in '{joint.at}' the output of {listed(driven)} is joined with something else",
                "each decoder output goes to its own valve by its own pair and nowhere else",
            )


def paths(facts: Facts) -> Iterator[Problem]:
    """The two sides of a path stay apart, reach every decoder, and are not crossed."""
    for controller_id in facts.wiring.paths:
        controller = facts.job.controllers[controller_id]
        homes = [End(controller_id, controller_id, side.upper()) for side in PATH_SIDES]
        if not all(facts.network.knows(home) for home in homes):
            continue
        groups = [facts.network.group(home) for home in homes]
        place = controller.path_1[0].place if controller.path_1 else controller.place
        crossing = _crossing(facts, controller_id)
        if groups[0] == groups[1]:
            yield error(
                "path-shorted",
                crossing.place if crossing else place,
                f"the two sides of the path of {controller_id} are joined"
                + (f" in '{crossing.at}'" if crossing else ""),
                "part them",
            )
            continue
        if crossing and controller.path_polarity:
            yield error(
                "path-crossed",
                crossing.place,
                f"in '{crossing.at}' the path of {controller_id} is crossed: "
                "nothing beyond will answer",
                "join like with like",
            )
            continue
        yield from _reach(facts, controller_id, groups)
        if set(groups) & facts.network.rings():
            yield note(
                "path-ring",
                place,
                f"the path of {controller_id} is a ring: a break in it hides",
                "mark the box in the middle of the ring, so that it can be opened there",
            )
        yield from _surge(facts, controller, homes[0])


def _crossing(facts: Facts, controller: str) -> Joint | None:
    """A joint that holds conductors of both sides."""
    sides = [{la.conductor.name for la in side} for side in facts.wiring.paths[controller]]
    for joint in facts.wiring.joints:
        names = {end.of for end in joint.ends}
        if names & sides[0] and names & sides[1]:
            return joint
    return None


def _reach(facts: Facts, controller: str, groups: list[int]) -> Iterator[Problem]:
    for decoder in facts.job.decoders.values():
        home = _controller_of(facts, decoder)
        if home is None or home.id != controller or decoder.id in facts.wiring.broken:
            continue
        if decoder.box.value in facts.wiring.broken:
            continue
        leads = [End(decoder.id, decoder.box.value, side) for side in PATH_SIDES]
        reached = [facts.network.group(e) if facts.network.knows(e) else -1 for e in leads]
        if set(reached) != set(groups):
            yield error(
                "path-stops",
                decoder.place,
                f"the path of {controller} does not reach {decoder.id} in '{decoder.box.value}'",
                "list every conductor of both sides under 'path 1' and 'path 2', "
                "or mend the joints",
            )


def _surge(facts: Facts, controller: Controller, home: End) -> Iterator[Problem]:
    """Along the path no decoder is farther from a surge unit than the maker allows."""
    interval, most = controller.surge_interval, controller.surge_decoders
    if interval is None and most is None:
        return
    units = {said.value for said in facts.job.surge_units}
    boxes = {d.box.value for d in facts.job.decoders.values()}
    place: Place = controller.place
    for box, metres, count in _since_surge(facts, controller.id, home, units, boxes):
        too_far = interval is not None and metres > interval.metres + 1e-6
        if too_far or (most is not None and count > most):
            reach = f"{metres / 0.3048:.0f} ft ({metres:.0f} m) and {count} decoders"
            yield warning(
                "surge-unit-missing",
                place,
                f"'{box}' is {reach} of path beyond the last surge unit of {controller.id}",
                f"set one within {interval}" if interval else f"set one at every {most} decoders",
            )
            return


def _since_surge(
    facts: Facts, controller: str, home: End, units: set[str], boxes: set[str]
) -> Iterator[tuple[str, float, int]]:
    """For each decoder box: metres of path and decoders since the last surge unit before it."""
    start = facts.network.net(home)
    queue = deque([(start, controller, 0.0, 0)])
    seen = {start}
    while queue:
        net, _, metres, count = queue.popleft()
        for edge in facts.network.edges.get(net, ()):
            further, step = edge.travelled_from(net)
            if further in seen or not isinstance(step, Leg):
                continue
            seen.add(further)
            there, more = metres + step.length.metres, count + (step.end in boxes)
            if step.end in boxes:
                yield step.end, there, more
            if step.end in units:
                there, more = 0.0, 0
            queue.append((further, step.end, there, more))
