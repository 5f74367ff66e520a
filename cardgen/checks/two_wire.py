"""Check two-wire paths: decoders, their addresses, the path itself, surge units."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterator

from cardgen.checks.reporting import place_of_joints
from cardgen.checks.rings import boxes_of, legs_of_rings
from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.two_wire_faults import (
    ADDRESS_TWICE,
    DECODER_OUTPUTS_JOINED,
    DECODER_TOO_FAR,
    DECODER_USED_TWICE,
    DECODER_WITHOUT_PATH,
    DECODER_WITHOUT_STATION,
    PATH_CROSSED,
    PATH_RING,
    PATH_SHORTED,
    PATH_STOPS,
    STATION_WITHOUT_DECODER,
    SURGE_UNIT_MISSING,
)
from cardgen.job.job_parts import Controller, Decoder
from cardgen.problems import Also, Problem, Span
from cardgen.units import SupplyKind, known_length
from cardgen.wiring.wiring_parts import End, Joint, Leg
from cardgen.wiring.written import PATH_SIDES


def decoders(facts: Facts) -> Iterator[Problem]:
    """Each station has its decoder, each decoder its own address and its station."""
    driven: dict[str, str] = {}
    found = []
    for station in facts.job.stations.values():
        loads = facts.loads_of.get(station.id)
        if not loads:
            continue
        controller = facts.job.controllers[loads[0].controller]
        two_wire = controller.supply.value.kind is SupplyKind.TWO_WIRE
        if two_wire and station.decoder is None:
            found.append(
                STATION_WITHOUT_DECODER.at(
                    station.span, station=station.id, controller=controller.id
                )
            )
        elif station.decoder and not two_wire:
            found.append(
                DECODER_WITHOUT_PATH.at(
                    station.decoder.span, station=station.id, controller=controller.id
                )
            )
        elif station.decoder:
            other = driven.setdefault(station.decoder.value, station.id)
            if other != station.id:
                decoder_name = station.decoder
                found.append(
                    DECODER_USED_TWICE.at(
                        decoder_name.span,
                        decoder=decoder_name.value,
                        first=other,
                        second=station.id,
                    )
                )
    yield from found
    yield from _addresses(facts)
    if found or facts.job.reported or facts.wiring.reported & facts.job.stations.keys():
        return  # a decoder without station may be what is left of one of these
    for decoder in facts.job.decoders.values():
        if decoder.id not in driven:
            yield DECODER_WITHOUT_STATION.at(decoder.span, decoder=decoder.id)


def _addresses(facts: Facts) -> Iterator[Problem]:
    seen: dict[tuple[str, int], Decoder] = {}
    for decoder in facts.job.decoders.values():
        home = decoder.controller.value if decoder.controller else ""
        first = seen.setdefault((home, decoder.address.value), decoder)
        if first is not decoder:
            yield ADDRESS_TWICE.at(
                decoder.address.span,
                first=first.id,
                second=decoder.id,
                address=decoder.address.value,
                also=(Also(span=first.address.span, text=f"{first.id} has it here"),),
            )


def decoder_wires(facts: Facts) -> Iterator[Problem]:
    """The wire from a decoder to its valve is longer than allowed."""
    for decoder in facts.job.decoders.values():
        controller = _controller_of(facts, decoder)
        limit = controller.decoder_limit if controller else None
        if decoder.to_valve and limit and decoder.to_valve.value.meters > limit.meters + 1e-6:
            yield DECODER_TOO_FAR.at(
                decoder.to_valve.span,
                decoder=decoder.id,
                length=decoder.to_valve.value,
                limit=limit,
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
            several = len(set(driven)) > 1
            yield DECODER_OUTPUTS_JOINED.at(
                joint.span,
                variant="several" if several else "",
                at=joint.at,
                decoders=english_list(driven) if several else driven[0],
            )


def paths(facts: Facts) -> Iterator[Problem]:
    """The two sides of a path stay apart, reach every decoder, and are not crossed."""
    for controller_id, sides in facts.wiring.paths.items():
        controller = facts.job.controllers[controller_id]
        named = (controller.path_1, controller.path_2)
        if any(len(words) > len(side) for words, side in zip(named, sides, strict=True)):
            continue  # a name that names none is told
        homes = [End(controller_id, controller_id, side.upper()) for side in PATH_SIDES]
        groups = [_group(facts, home, none=-2 - side) for side, home in enumerate(homes)]
        place = controller.path_1[0].span if controller.path_1 else controller.span
        crossing = _crossing(facts, controller_id)
        if groups[0] == groups[1]:
            yield PATH_SHORTED.at(
                crossing.span if crossing else place,
                controller=controller_id,
                where=f" in '{crossing.at}'" if crossing else "",
            )
            continue
        if crossing and controller.path_polarity:
            yield PATH_CROSSED.at(crossing.span, at=crossing.at, controller=controller_id)
            continue
        yield from _reach(facts, controller_id, groups)
        if set(groups) & facts.network.rings():
            yield PATH_RING.at(
                place,
                controller=controller_id,
                boxes=boxes_of(facts, legs_of_rings(facts, *groups)),
            )
        if facts.network.knows(homes[0]):
            yield from _surge(facts, controller, homes[0])


def _group(facts: Facts, end: End, none: int) -> int:
    """What conducts with an end; `none`, which is no group, where nothing is joined there."""
    return facts.network.group(end) if facts.network.knows(end) else none


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
        if home is None or home.id != controller or decoder.id in facts.wiring.reported:
            continue
        if decoder.box.value in facts.wiring.reported:
            continue
        leads = [End(decoder.id, decoder.box.value, side) for side in PATH_SIDES]
        reached = [_group(facts, lead, none=-1) for lead in leads]
        if set(reached) != set(groups):
            at = decoder.box.value if decoder.box.value in facts.job.joints else ""
            if -1 not in reached:
                at = _break(facts, controller, groups, reached)
            cut[at].append(decoder)
    for at, found in cut.items():
        yield PATH_STOPS.at(
            place_of_joints(facts, at) or found[0].span,
            variant="" if at else "does not come",
            controller=controller,
            at=at,
            box=found[0].box.value,
            decoders=english_list(decoder.id for decoder in found),
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
    units = {name.value for name in facts.job.surge_units}
    boxes = {d.box.value for d in facts.job.decoders.values()}
    span: Span = controller.span
    for box, meters, count in _since_surge(facts, controller.id, home, units, boxes):
        too_far = interval is not None and meters > interval.meters + 1e-6
        if too_far or (most is not None and count > most):
            yield SURGE_UNIT_MISSING.at(
                span,
                variant="" if interval else "by decoders",
                box=box,
                reach=f"{meters / 0.3048:.0f} ft ({meters:.0f} m) and {count} decoders",
                controller=controller.id,
                interval=interval,
                most=most,
            )
            return


def _since_surge(
    facts: Facts, controller: str, home: End, units: set[str], boxes: set[str]
) -> Iterator[tuple[str, float, int]]:
    """For each decoder box: meters of path and decoders since the last surge unit before it.

    At least so many meters: a leg that is not known adds nothing.
    """
    start = facts.network.net(home)
    queue = deque([(start, controller, 0.0, 0)])
    seen = {start}
    while queue:
        net, _, meters, count = queue.popleft()
        for edge in facts.network.edges.get(net, ()):
            further, step = edge.traveled_from(net)
            if further in seen or not isinstance(step, Leg):
                continue
            seen.add(further)
            there, more = meters + known_length([step.length]), count + (step.end in boxes)
            if step.end in boxes:
                yield step.end, there, more
            if step.end in units:
                there, more = 0.0, 0
            queue.append((further, step.end, there, more))
