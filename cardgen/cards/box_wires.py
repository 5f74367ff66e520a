"""Turn what lies in a box into its joints, what passes uncut, and what is capped."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from cardgen.cards.facts import Printable
from cardgen.checks.facts import Claim
from cardgen.job.model import Box
from cardgen.wiring.model import IN, Conductor, End, Joint


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxWires:
    """The conductors of one box.

    Attributes:
        joints: those of two ends or more, each only with ends that come into the box.
        passing: conductors in use or spare whose both sides are in no joint.
        capped: ends in no joint, of conductors that are cut here or end here.
    """

    box: Box
    joints: tuple[Joint, ...]
    passing: tuple[Conductor, ...]
    capped: tuple[tuple[Conductor, End], ...]

    @property
    def as_built(self) -> bool:
        return any(joint.as_built for joint in self.joints)


def box_wires(job: Printable, box: Box) -> BoxWires:
    joints = tuple(_joints(job, box))
    joined = {end for joint in joints for end in joint.ends}
    passing: list[Conductor] = []
    capped: list[tuple[Conductor, End]] = []
    for conductor in job.facts.wiring.conductors.values():
        if box.id not in conductor.places:
            continue
        ends = conductor.ends_at(box.id)
        if len(ends) == 2 and joined.isdisjoint(ends):
            passing.append(conductor)
        else:
            capped += [(conductor, end) for end in ends if _is_capped(job, conductor, end, joined)]
    return BoxWires(box=box, joints=joints, passing=tuple(passing), capped=tuple(capped))


def _joints(job: Printable, box: Box) -> Iterator[Joint]:
    """A single that goes no further has no onward side, whatever a joint says of it."""
    conductors = job.facts.wiring.conductors
    for joint in job.facts.wiring.joints:
        if joint.at != box.id:
            continue
        ends = tuple(
            end
            for end in joint.ends
            if end.of not in conductors or end in conductors[end.of].ends_at(box.id)
        )
        if len(ends) > 1:
            yield Joint(at=joint.at, ends=ends, place=joint.place, as_built=joint.as_built)


def _is_capped(job: Printable, conductor: Conductor, end: End, joined: set[End]) -> bool:
    """A conductor that ends at a sensor is joined with it; the job does not say how."""
    if end in joined:
        return False
    roles = {claim.role for claim in claims_on(job, conductor, end)}
    return "sensor" not in roles


def claims_on(job: Printable, conductor: Conductor, end: End) -> list[Claim]:
    """Who uses the leg that leads to this end."""
    index = conductor.places.index(end.at)
    leg = index - 1 if end.side == IN else index
    return job.facts.claimed.get((conductor.name, leg), [])


def users(claims: list[Claim]) -> list[str]:
    """`hot A1`, `common A`, `spare SP-1`; a spare goes without saying beside a use."""
    used = [claim for claim in claims if claim.role != "spare"] or claims
    return list(dict.fromkeys(_user(claim) for claim in used))


def _user(claim: Claim) -> str:
    owner = claim.owner.removeprefix("COM-") if claim.role == "common" else claim.owner
    return owner if claim.role == "path" else f"{claim.role} {owner}"
