"""Turn what lies in a box into its joints, what passes uncut, what is capped, what is spare."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from cardgen.asbuilt import model
from cardgen.asbuilt.connectors import counts_in, held_by, in_words
from cardgen.asbuilt.marks import mark, marks
from cardgen.asbuilt.metal import Metal, leaves, toward
from cardgen.asbuilt.places import neighbours
from cardgen.asbuilt.sensors import sensor_joints
from cardgen.asbuilt.valves import valve
from cardgen.facts import Facts
from cardgen.job.model import Box, BoxKind
from cardgen.trade.colours import insulation
from cardgen.wiring.model import Conductor, End, Joint
from cardgen.wiring.uses import Role, Use


def boxes(facts: Facts, metal: Metal, spares: tuple[model.Spare, ...]) -> Iterator[model.Box]:
    """In the order of the file."""
    present: dict[str, list[Conductor]] = {}
    for conductor in facts.wiring.conductors.values():
        for place in conductor.places:
            present.setdefault(place, []).append(conductor)
    free: dict[str, list[model.Spare]] = {}
    for spare in spares:
        for place in spare.places:
            free.setdefault(place, []).append(spare)
    for box in facts.job.boxes.values():
        yield _box(facts, metal, box, present.get(box.id, []), free.get(box.id, []))


def _box(
    facts: Facts,
    metal: Metal,
    box: Box,
    present: list[Conductor],
    spares: list[model.Spare],
) -> model.Box:
    joints, unpaired, joined = _joints(facts, box)
    passing, capped = _apart(metal, present, box.id, joined)
    live = _live(metal, box.id, present)
    return model.Box(
        id=box.id,
        where=box.where,
        kind=str(box.kind or BoxKind.VALVE),
        size=box.size,
        ties=box.ties,
        coordinates=box.coordinates,
        buried=box.kind is BoxKind.BURIED,
        valves=tuple(valve(facts, load) for load in facts.loads_in.get(box.id, ())),
        joints=tuple(_joint(facts, metal, joint) for joint in joints),
        passing=tuple(passing),
        capped=tuple(capped),
        spares=tuple(_seen_from(box.id, spare) for spare in spares),
        commons=tuple(c for c in facts.job.controllers if Use(role=Role.COMMON, of=c) in live),
        neighbours=tuple(neighbours(facts.job, box.id)),
        unpaired=unpaired,
        controllers=tuple(_controllers(facts, live)),
        surge_unit=any(said.value == box.id for said in facts.job.surge_units),
    )


def _joints(facts: Facts, box: Box) -> tuple[list[Joint], tuple[model.Unpaired, ...], set[End]]:
    """All connectors, sensors without a pairing, and the ends that are in either."""
    joints = [joint for joint in facts.joints_at.get(box.id, ()) if len(joint.ends) > 1]
    joined = {end for joint in joints for end in joint.ends}
    unpaired: list[model.Unpaired] = []
    loose: set[End] = set()
    for sensor in facts.job.sensors.values():
        made, rest = sensor_joints(facts, sensor, box.id, joined)
        joints += made
        joined |= {end for joint in made for end in joint.ends}
        loose |= {end for c in rest for end in c.ends_at(box.id)}
        unpaired += [model.Unpaired(sensor=sensor.id, marks=marks(rest))] if rest else []
    return joints, tuple(unpaired), joined | loose


def _apart(
    metal: Metal, present: Iterable[Conductor], at: str, joined: set[End]
) -> tuple[list[model.Passing], list[model.Capped]]:
    """What is in use and passes uncut, and every end in no joint."""
    passing: list[model.Passing] = []
    capped: list[model.Capped] = []
    for conductor in present:
        ends = conductor.ends_at(at)
        if len(ends) == 2 and joined.isdisjoint(ends) and metal.is_uncut(*ends):
            uses = _union(metal, ends)
            if not all(use.role in (Role.SPARE, Role.DEAD) for use in uses):
                name = conductor.name
                passing.append(model.Passing(mark=mark(conductor), uses=uses, conductor=name))
            continue
        capped += [_capped(metal, conductor, end) for end in ends if end not in joined]
    return passing, capped


def _capped(metal: Metal, conductor: Conductor, end: End) -> model.Capped:
    stretch = metal.facts.uses.stretch_at(end)
    said = None if stretch.uses else metal.said_of(stretch)
    return model.Capped(
        mark=mark(conductor),
        toward=toward(conductor, end),
        uses=metal.uses(end),
        stops=len(conductor.ends_at(end.at)) == 1,
        conductor=conductor.name,
        reserved_for=said.reserved_for if said else "",
    )


def _seen_from(box: str, spare: model.Spare) -> model.Spare:
    return replace(spare, passes=box in spare.through and box not in spare.joined)


def _live(metal: Metal, at: str, present: Iterable[Conductor]) -> set[Use]:
    """All that is in use in a place."""
    uses = {use for c in present for end in c.ends_at(at) for use in metal.uses(end)}
    return {use for use in uses if use.role not in (Role.SPARE, Role.DEAD)}


def _controllers(facts: Facts, live: set[Use]) -> Iterator[str]:
    """Those whose terminals feed something here; of a shared master valve all of its own."""
    found: set[str] = set()
    for use in live:
        if use.role in (Role.HOT, Role.RETURN):
            owner = facts.loads_of[use.of][0]
            shared = getattr(owner.owner, "controllers", ())
            found |= {owner.controller, *(said.value for said in shared)}
        elif use.role is Role.SENSOR:
            found |= {said.value for said in facts.job.sensors[use.of].controllers}
        else:
            found.add(use.of)
    yield from (name for name in facts.job.controllers if name in found)


# ---- joints --------------------------------------------------------------------------------


def _joint(facts: Facts, metal: Metal, joint: Joint) -> model.Joint:
    counts = counts_in(facts, joint)
    held = held_by(facts, counts)
    return model.Joint(
        uses=_union(metal, joint.ends),
        members=tuple(_member(facts, metal, end) for end in joint.ends),
        held=held.id,
        as_built=joint.as_built,
        rating=held.rating,
        counts=in_words(counts),
    )


def _union(metal: Metal, ends: Iterable[End]) -> tuple[Use, ...]:
    """What their conductors are; a spare goes without saying beside a use.

    A lead says no more: the return of a master valve is its own up to C, where it meets the common.
    """
    conductors = [end for end in ends if end.of in metal.facts.wiring.conductors]
    found = tuple(dict.fromkeys(use for end in conductors for use in metal.uses(end)))
    used = tuple(use for use in found if use.role not in (Role.SPARE, Role.DEAD))
    return used or found


def _member(facts: Facts, metal: Metal, end: End) -> model.Member:
    """Leads that differ are told apart: by colour those of a coil, by side those of a decoder."""
    conductor = facts.wiring.conductors.get(end.of)
    if conductor is not None:
        return model.Member(
            mark=mark(conductor),
            lead="",
            side="",
            toward=toward(conductor, end),
            arrives=not leaves(end),
            gauge=str(conductor.gauge),
            conductor=conductor.name,
            feeds=metal.feeds(end),
        )
    differs = end.of in facts.job.decoders or insulation(end.side) is not None
    return model.Member(
        mark=None,
        lead=end.of,
        side=end.side if differs else "",
        toward="",
        arrives=False,
        gauge=_gauge_of_lead(facts, end),
    )


def _gauge_of_lead(facts: Facts, end: End) -> str:
    load, decoder = facts.wiring.loads.get(end.of), facts.job.decoders.get(end.of)
    if decoder is not None:
        return str(decoder.leads)
    return str(load.coil.leads) if load and load.coil else ""
