"""Find what is left of a hot or a common where metal no longer feeds it, and joints of one end.

C --- white ---.         .--- white ---       white is the common on both sides and dead between:
           [A1]  (dead)  [A2]                 who takes the dead part for the common finds nothing
             `--- gray ---'
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from cardgen.checks.reporting import place_of_joints
from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.facts import named as named_in
from cardgen.faults.circuit_faults import JOINT_OF_ONE_END
from cardgen.faults.common_faults import DEAD_STRETCH
from cardgen.problems import Problem
from cardgen.wiring.uses import Role, Stretch, Use
from cardgen.wiring.wiring_parts import IN, Conductor, Joint, Leg, Load

_LIVE = (Role.HOT, Role.COMMON, Role.RETURN)


def dead_stretches(facts: Facts) -> Iterator[Problem]:
    """A part of a conductor in use that nothing feeds, where no valve is the reason."""
    found: dict[tuple[str, str, str], list[tuple[str, Use]]] = defaultdict(list)
    promised = {(c.conductor, c.leg) for c in facts.claims if c.role is Role.SPARE}
    for stretches in facts.uses.stretches.values():
        for number, stretch in enumerate(stretches):
            legs = {(stretch.conductor.name, leg) for leg in range(stretch.start, stretch.end)}
            if stretch.uses or legs & (facts.unproved | promised):
                continue
            use = _left_over(facts, stretches, number)
            if use is not None:
                words = _what(use)
                found[stretch.first, stretch.last, words].append((stretch.conductor.name, use))
    for (first, last, words), conductors in found.items():
        names = english_list(name for name, _ in conductors)
        entry = facts.job.boxes.get(first) or facts.job.controllers[first]
        place = place_of_joints(facts, first) or place_of_joints(facts, last) or entry.span
        one = len(conductors) == 1
        yield DEAD_STRETCH.at(
            place,
            conductors=names,
            what=words,
            are="is" if one else "are",
            first=first,
            last=last,
        )


def _what(use: Use) -> str:
    return use.owner.words if use.role is Role.COMMON else f"the {use.role} of {use.of}"


def _left_over(facts: Facts, stretches: Sequence[Stretch], number: int) -> Use | None:
    """What the rest of its conductor serves, if this part was to serve it too."""
    stretch = stretches[number]
    before = _live(stretches[number - 1]) if number else ()
    after = _live(stretches[number + 1]) if number + 1 < len(stretches) else ()
    between = [use for use in before if use in after]
    if between:
        return between[0]
    if _was_taken_over(facts, stretch):
        return None
    written = {
        claim.owner
        for leg in range(stretch.start, stretch.end)
        for claim in facts.claimed.get((stretch.conductor.name, leg), ())
        if claim.role is Role.COMMON
    }
    for use in (*before, *after):
        common = use.role is Role.COMMON and use.owner in written
        if common and not (use in before and not after and _cut_by_valve(facts, stretch)):
            return use
    for use in before if not after else ():
        if _ends_on(facts, use, stretch.conductor) and _goes_on_beside(facts, stretch, use):
            return use
    return None


def _ends_on(facts: Facts, use: Use, conductor: Conductor) -> bool:
    """Of its cable the file names that conductor last, so who reads it looks for it on that."""
    if use.role is Role.COMMON:
        words = facts.job.controllers[use.of].common
    else:
        owner = facts.loads_of[use.of][0].owner
        words = owner.hot or () if use.role is Role.HOT else getattr(owner, "return_path", ())
    cable = conductor.cable.id
    return [c for c, _ in named_in(facts, words) if c.cable.id == cable][-1:] == [conductor]


def _live(stretch: Stretch) -> tuple[Use, ...]:
    return tuple(use for use in stretch.uses if use.role in _LIVE)


def _joint_before(facts: Facts, stretch: Stretch) -> Joint | None:
    """The joint of the live side, where the dead one begins."""
    return facts.joint_of.get(stretch.ends[0]._replace(side=IN))


def _cut_by_valve(facts: Facts, stretch: Stretch) -> bool:
    joint = _joint_before(facts, stretch)
    return joint is not None and any(end.of in facts.wiring.loads for end in joint.ends)


def _goes_on_beside(facts: Facts, stretch: Stretch, use: Use) -> bool:
    """The same thing goes on in another conductor of the same cable."""
    joint = _joint_before(facts, stretch)
    mine = stretch.conductor
    for end in joint.ends if joint else ():
        other = facts.wiring.conductors.get(end.of)
        if other is not None and other is not mine and other.cable.id == mine.cable.id:
            found = facts.uses.stretch_at(end)
            if use in found.uses and stretch.last in found.places and _carries(facts, found):
                return True
    return False


def _carries(facts: Facts, stretch: Stretch) -> bool:
    """A coil's way runs in it; what is joined and leads nowhere does not count."""
    return any(
        isinstance(step, Leg)
        and step.conductor is stretch.conductor
        and {step.start, step.end} <= set(stretch.places)
        for circuit in (*facts.circuits.values(), *facts.half_circuits.values())
        for step in (*circuit.hot, *circuit.back)
    )


def _was_taken_over(facts: Facts, stretch: Stretch) -> bool:
    """A spare of the cable carries the common on from there, which is told by itself."""
    return any(
        la.begins == stretch.start and la.conductor.cable.id == stretch.conductor.cable.id
        for landings in facts.wiring.commons.values()
        for la in landings
        if la.begins
    )


def _is_dead(facts: Facts, load: Load) -> bool:
    return load.decoder is None and load.id not in facts.circuits


def joints_of_one_end(facts: Facts) -> Iterator[Problem]:
    """A joint that holds one conductor end: a cap, or something is missing in it."""
    dead = {load.box for load in facts.wiring.loads.values() if _is_dead(facts, load)}
    promised = {(c.conductor, c.leg) for c in facts.claims if c.role is Role.SPARE}
    for joint in facts.wiring.joints:
        if len(joint.ends) != 1 or not joint.as_built or joint.at in dead | facts.wiring.reported:
            continue
        end = joint.ends[0]
        conductor = facts.wiring.conductors.get(end.of)
        if conductor is None or (end.of, conductor.leg_of(end)) in promised | facts.unproved:
            continue
        uses = facts.uses.of_end(end)
        hot = any(use.role in (Role.HOT, Role.MAYBE_HOT) for use in uses)
        if hot or len(conductor.ends_at(end.at)) > 1:
            continue  # a live stub is told by itself; one side of what passes is a cut on purpose
        serving = f", {uses[0].owner.words}," if uses else ""
        yield JOINT_OF_ONE_END.at(joint.span, at=joint.at, conductor=end.of, serving=serving)
