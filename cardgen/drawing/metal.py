"""Answer what becomes of a conductor in a box: does it go on, is it spliced, who returns on it."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.facts import Facts
from cardgen.wiring.model import Conductor, Joint


def goes_on(facts: Facts, conductor: Conductor, box: str) -> bool:
    """Whether it passes the box, uncut or joined with itself."""
    ends = conductor.ends_at(box)
    return len({facts.network.net(end) for end in ends}) < len(ends)


def in_joint(facts: Facts, joint: Joint) -> list[Conductor]:
    """The conductors of a joint, each once."""
    conductors = facts.wiring.conductors
    return list({e.of: conductors[e.of] for e in joint.ends if e.of in conductors}.values())


def is_spliced(facts: Facts, conductor: Conductor, box: str) -> bool:
    """In a joint with a conductor of another name: then the joint has its own line."""
    joints = (facts.joint_of.get(end) for end in conductor.ends_at(box))
    return any(joint and len(in_joint(facts, joint)) > 1 for joint in joints)


def returning(facts: Facts, conductors: Iterable[Conductor], box: str) -> list[str]:
    """The valves in a box whose way back begins with one of these and is the common."""
    names = {c.name for c in conductors}
    return [
        circuit.load.id
        for circuit in facts.circuits.values()
        if circuit.load.box == box
        and circuit.load.back is None
        and circuit.back_at_valve.name in names
    ]
