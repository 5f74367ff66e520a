"""Turn what lies in a box into its joints, what passes uncut, what is capped, what is spare."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt.free_ends import maybe_hots, passing_and_capped
from cardgen.asbuilt.joints import made_joints
from cardgen.asbuilt.live_metal import LiveMetal
from cardgen.asbuilt.marks import marks, pigtails
from cardgen.asbuilt.metal import Metal
from cardgen.asbuilt.model import built_boxes as model
from cardgen.asbuilt.model.built_conductors import BuiltSpare
from cardgen.asbuilt.places import neighbors
from cardgen.asbuilt.sensor_leads import sensor_joints
from cardgen.asbuilt.valves import Steps, valve
from cardgen.facts import Facts
from cardgen.job.job_parts import Box, BoxKind
from cardgen.light_dataclass import replace
from cardgen.wiring.uses import Role
from cardgen.wiring.wiring_parts import End, Joint


def boxes(
    facts: Facts, metal: Metal, live: LiveMetal, spares: tuple[BuiltSpare, ...]
) -> Iterator[model.BuiltBox]:
    """In the order of the file."""
    free: dict[str, list[BuiltSpare]] = {}
    for spare in spares:
        for place in spare.places:
            free.setdefault(place, []).append(spare)
    steps: Steps = {}
    for box in facts.job.boxes.values():
        yield _box(facts, metal, live, box, free.get(box.id, []), steps)


def _box(
    facts: Facts,
    metal: Metal,
    live: LiveMetal,
    box: Box,
    spares: list[BuiltSpare],
    steps: Steps,
) -> model.BuiltBox:
    joints, unpaired, joined = _joints(facts, box)
    passing, capped = passing_and_capped(metal, live.present(box.id), box.id, joined)
    maybe = maybe_hots(metal, live.present(box.id), box.id, joined)
    commons = {use.of for use in live.uses(box.id) if use.role is Role.COMMON}
    return model.BuiltBox(
        id=box.id,
        where=box.where or "",
        where_unknown=box.where is None,
        kind=str(box.kind or BoxKind.VALVE),
        size=box.size or "",
        ties=box.ties or (),
        coordinates=box.coordinates,
        buried=box.kind is BoxKind.BURIED,
        valves=tuple(valve(facts, load, steps) for load in facts.loads_in.get(box.id, ())),
        joints=tuple(made_joints(facts, metal, joints)),
        passing=passing,
        capped=capped,
        spares=tuple(_seen_from(box.id, spare) for spare in spares),
        commons=live.in_order(commons),
        neighbors=tuple(neighbors(facts.cables_at.get(box.id, ()), box.id)),
        unpaired=unpaired,
        controllers=live.controllers(box.id),
        rings=live.rings(box.id),
        surge_unit=any(listed.value == box.id for listed in facts.job.surge_units),
        pigtails=tuple(pigtails(facts.job, box.id)),
        maybe_hots=tuple(maybe),
    )


def _joints(facts: Facts, box: Box) -> tuple[list[Joint], tuple[model.Unpaired, ...], set[End]]:
    """All connectors, sensors without a pairing, and the ends that are in either."""
    joints = [joint for joint in facts.joints_at.get(box.id, ()) if _is_joint(facts, joint)]
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


def _is_joint(facts: Facts, joint: Joint) -> bool:
    """Something is joined in it; with a pigtail that leads to it there is."""
    return len(joint.ends) > 1 or any(end.of in facts.job.pigtails for end in joint.ends)


def _seen_from(box: str, spare: BuiltSpare) -> BuiltSpare:
    return replace(spare, passes=box in spare.through and box not in spare.joined)
