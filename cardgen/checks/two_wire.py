"""Check two-wire paths: decoders, their addresses, the path itself, surge units."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterator

from cardgen.checks.reporting import error, note, place_of_joints, warning
from cardgen.checks.rings import boxes_of, legs_of_rings
from cardgen.facts import Facts
from cardgen.job.model import Controller, Decoder, Station
from cardgen.lists import listed
from cardgen.problems import Also, Problem, Span
from cardgen.reading.shapes import Written
from cardgen.units import SupplyKind
from cardgen.wiring.model import End, Joint, Leg
from cardgen.wiring.written import PATH_SIDES


def decoders(facts: Facts) -> Iterator[Problem]:
    """Each station has its decoder, each decoder its own address and its station."""
    driven: dict[str, str] = {}
    faults = []
    for station in facts.job.stations.values():
        loads = facts.loads_of.get(station.id)
        if not loads:
            continue
        controller = facts.job.controllers[loads[0].controller]
        two_wire = controller.supply.value.kind is SupplyKind.TWO_WIRE
        if two_wire and station.decoder is None:
            faults.append(_without_decoder(station, controller))
        elif station.decoder and not two_wire:
            faults.append(_without_path(station, station.decoder, controller))
        elif station.decoder:
            other = driven.setdefault(station.decoder.value, station.id)
            if other != station.id:
                faults.append(_driven_twice(station.decoder, other, station))
    yield from faults
    yield from _addresses(facts)
    if faults or facts.job.broken or facts.wiring.broken & facts.job.stations.keys():
        return  # a decoder without station may be what is left of one of these
    for decoder in facts.job.decoders.values():
        if decoder.id not in driven:
            yield note(
                "decoder-without-station",
                decoder.span,
                f"{decoder.id} drives no station",
                "say which station it is for, or that it waits for one",
            )


def _without_decoder(station: Station, controller: Controller) -> Problem:
    return error(
        "station-without-decoder",
        station.span,
        f"{station.id} is on the two-wire path of {controller.id} and names no decoder",
        "write 'decoder: ...'",
    )


def _without_path(station: Station, said: Written[str], controller: Controller) -> Problem:
    return error(
        "decoder-without-path",
        said.span,
        f"{station.id} names a decoder, but {controller.id} is no two-wire controller",
        "leave 'decoder' out, or write 'supply: two-wire'",
    )


def _driven_twice(said: Written[str], first: str, station: Station) -> Problem:
    return error(
        "decoder-used-twice",
        said.span,
        f"{said.value} drives {first} and {station.id}",
        "two valves would run at once: one decoder entry for each address",
    )


def _addresses(facts: Facts) -> Iterator[Problem]:
    seen: dict[tuple[str, int], Decoder] = {}
    for decoder in facts.job.decoders.values():
        home = decoder.controller.value if decoder.controller else ""
        first = seen.setdefault((home, decoder.address.value), decoder)
        if first is not decoder:
            yield error(
                "address-twice",
                decoder.address.span,
                f"{first.id} and {decoder.id} both answer to address {decoder.address.value}",
                "two valves would run at once: give each its own address",
                Also(span=first.address.span, text=f"{first.id} has it here"),
            )


def decoder_wires(facts: Facts) -> Iterator[Problem]:
    """The wire from a decoder to its valve is longer than allowed."""
    for decoder in facts.job.decoders.values():
        controller = _controller_of(facts, decoder)
        limit = controller.decoder_limit if controller else None
        if decoder.to_valve and limit and decoder.to_valve.value.metres > limit.metres + 1e-6:
            yield warning(
                "decoder-too-far",
                decoder.to_valve.span,
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
            what = f"the output of {driven[0]} is joined with something else"
            if len(set(driven)) > 1:
                what = f"the outputs of {listed(driven)} are joined"
            yield error(
                "decoder-outputs-joined",
                joint.span,
                f"in '{joint.at}' {what}",
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
        place = controller.path_1[0].span if controller.path_1 else controller.span
        crossing = _crossing(facts, controller_id)
        if groups[0] == groups[1]:
            yield error(
                "path-shorted",
                crossing.span if crossing else place,
                f"the two sides of the path of {controller_id} are joined"
                + (f" in '{crossing.at}'" if crossing else ""),
                "part them",
            )
            continue
        if crossing and controller.path_polarity:
            yield error(
                "path-crossed",
                crossing.span,
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
                f"the path of {controller_id} is a ring over "
                f"{boxes_of(facts, legs_of_rings(facts, *groups))}: a break in it hides",
                "mark the box in the middle of the ring, so that it can be opened there",
            )
        yield from _surge(facts, controller, homes[0])


def _crossing(facts: Facts, controller: str) -> Joint | None:
    """A joint that holds conductors, or decoder leads, of both sides."""
    sides = [{la.conductor.name for la in side} for side in facts.wiring.paths[controller]]
    for joint in facts.wiring.joints:
        found = set()
        for end in joint.ends:
            found |= {number for number, side in enumerate(sides) if end.of in side}
            if end.of in facts.job.decoders:
                found.add(PATH_SIDES.index(end.side))
        if len(found) > 1:
            return joint
    return None


def _reach(facts: Facts, controller: str, groups: list[int]) -> Iterator[Problem]:
    """Decoders that the path does not reach, once for each break."""
    cut: dict[str, list[Decoder]] = defaultdict(list)
    for decoder in facts.job.decoders.values():
        home = _controller_of(facts, decoder)
        if home is None or home.id != controller or decoder.id in facts.wiring.broken:
            continue
        if decoder.box.value in facts.wiring.broken:
            continue
        leads = [End(decoder.id, decoder.box.value, side) for side in PATH_SIDES]
        reached = [facts.network.group(e) if facts.network.knows(e) else -1 for e in leads]
        if set(reached) != set(groups):
            at = decoder.box.value if decoder.box.value in facts.job.joints else ""
            if -1 not in reached:
                at = _break(facts, controller, groups, reached)
            cut[at].append(decoder)
    for at, found in cut.items():
        names = listed(decoder.id for decoder in found)
        stops = f"the path of {controller} "
        stops += f"stops in '{at}'" if at else f"does not come to '{found[0].box.value}'"
        yield error(
            "path-stops",
            place_of_joints(facts, at) or found[0].span,
            f"{stops}: {names} will not answer",
            "join both sides onward, each decoder with both"
            if at
            else "list every conductor of both sides under 'path 1' and 'path 2'",
        )


def _break(facts: Facts, controller: str, groups: list[int], reached: list[int]) -> str:
    """The box where a dead part of a side should have been joined with the live one."""
    for side, landings in enumerate(facts.wiring.paths[controller]):
        if reached[side] in groups:
            continue
        ends: dict[str, list[End]] = defaultdict(list)
        for la in landings:
            for at in la.conductor.places:
                ends[at].extend(la.conductor.ends_at(at))
        for at, here in ends.items():
            found = {facts.network.group(end) for end in here}
            if reached[side] in found and groups[side] in found:
                return at
    return ""


def _surge(facts: Facts, controller: Controller, home: End) -> Iterator[Problem]:
    """Along the path no decoder is farther from a surge unit than the maker allows."""
    interval, most = controller.surge_interval, controller.surge_decoders
    if interval is None and most is None:
        return
    units = {said.value for said in facts.job.surge_units}
    boxes = {d.box.value for d in facts.job.decoders.values()}
    span: Span = controller.span
    for box, metres, count in _since_surge(facts, controller.id, home, units, boxes):
        too_far = interval is not None and metres > interval.metres + 1e-6
        if too_far or (most is not None and count > most):
            reach = f"{metres / 0.3048:.0f} ft ({metres:.0f} m) and {count} decoders"
            yield warning(
                "surge-unit-missing",
                span,
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
