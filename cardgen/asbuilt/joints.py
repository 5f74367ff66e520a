"""Turn joints into what is in each connector: conductors, leads, pigtails, and what takes them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from cardgen.asbuilt.connectors import counts_in, held_by, in_words
from cardgen.asbuilt.marks import mark, pigtail_mark
from cardgen.asbuilt.metal import Metal, leaves, toward
from cardgen.asbuilt.model import built_boxes as model
from cardgen.asbuilt.model.built_conductors import in_use
from cardgen.facts import Facts
from cardgen.job.job_parts import Pigtail
from cardgen.trade.colors import insulation
from cardgen.wiring.uses import Use
from cardgen.wiring.wiring_parts import End, Joint


def made_joints(facts: Facts, metal: Metal, joints: Sequence[Joint]) -> Iterator[model.BuiltJoint]:
    """In their order, numbered from 1: so a pigtail says where it leads."""
    numbers: dict[str, list[int]] = defaultdict(list)
    for number, joint in enumerate(joints, 1):
        for end in joint.ends:
            if end.of in facts.job.pigtails:
                numbers[end.of].append(number)
    for number, joint in enumerate(joints, 1):
        beyond = {name: n for name, both in numbers.items() for n in both if n != number}
        yield _joint(facts, metal, joint, beyond)


def _joint(facts: Facts, metal: Metal, joint: Joint, beyond: Mapping[str, int]) -> model.BuiltJoint:
    """A joint that holds no conductor is what those are with which pigtails link it."""
    counts = counts_in(facts, joint)
    held = held_by(facts, counts)
    return model.BuiltJoint(
        uses=union(metal, joint.ends) or union(metal, metal.joined_with(joint.ends[0])),
        members=tuple(_member(facts, metal, end, beyond) for end in joint.ends),
        held=held.id,
        as_built=joint.as_built,
        rating=held.rating,
        counts=in_words(counts),
    )


def union(metal: Metal, ends: Iterable[End]) -> tuple[Use, ...]:
    """What their conductors are; a spare goes without saying beside a use.

    A lead says no more: the return of a master valve is its own up to C, where it meets the common.
    """
    conductors = [end for end in ends if end.of in metal.facts.wiring.conductors]
    found = tuple(dict.fromkeys(use for end in conductors for use in metal.uses(end)))
    return in_use(found) or found


def _member(facts: Facts, metal: Metal, end: End, beyond: Mapping[str, int]) -> model.Member:
    """Leads that differ are told apart: by color those of a coil, by side those of a decoder."""
    conductor = facts.wiring.conductors.get(end.of)
    if conductor is not None:
        shown = mark(conductor)
        return model.Member(
            mark=shown,
            lead="",
            side="",
            toward=toward(conductor, end),
            arrives=not leaves(end),
            gauge=shown.gauge,
            conductor=conductor.name,
            feeds=metal.feeds(end),
        )
    pigtail = facts.job.pigtails.get(end.of)
    if pigtail is not None:
        return _end_of_pigtail(metal, pigtail, end, beyond)
    differs = end.of in facts.job.decoders or insulation(end.side) is not None
    return model.Member(
        mark=None,
        lead=end.of,
        side=end.side if differs else "",
        toward="",
        arrives=False,
        gauge=_gauge_of_lead(facts, end),
    )


def _end_of_pigtail(
    metal: Metal, pigtail: Pigtail, end: End, beyond: Mapping[str, int]
) -> model.Member:
    feeds = metal.pigtail_feeds(end)
    return model.Member(
        mark=pigtail_mark(pigtail),
        lead=pigtail.id,
        side="",
        toward="",
        arrives=feeds,
        gauge=str(pigtail.gauge),
        feeds=feeds,
        pigtail=True,
        length=str(pigtail.length) if pigtail.length else "",
        joint=beyond.get(pigtail.id, 0),
    )


def _gauge_of_lead(facts: Facts, end: End) -> str:
    load, decoder = facts.wiring.loads.get(end.of), facts.job.decoders.get(end.of)
    if decoder is not None:
        return str(decoder.leads)
    return str(load.coil.leads or "") if load and load.coil else ""
