"""Turn what lies in a box into its joints, what passes uncut, and what is capped."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.cards.printable import Printable
from cardgen.cards.sensor_joints import sensor_joints
from cardgen.facts import Claim
from cardgen.job.model import Box, Sensor
from cardgen.wiring.model import IN, Conductor, End, Joint
from cardgen.words import Text


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxWires:
    """The conductors of one box.

    Attributes:
        joints: those of two ends or more; a sensor's wire that ends here is in one with its lead.
        passing: conductors in use or spare whose both sides are in no joint.
        capped: ends in no joint, of conductors that are cut here or end here.
        unsaid: sensors whose wires go on here, with those that the job does not pair.
    """

    box: Box
    joints: tuple[Joint, ...]
    passing: tuple[Conductor, ...]
    capped: tuple[tuple[Conductor, End], ...]
    unsaid: tuple[tuple[Sensor, tuple[Conductor, ...]], ...]

    @property
    def as_built(self) -> bool:
        return any(joint.as_built for joint in self.joints)


def box_wires(job: Printable, box: Box) -> BoxWires:
    joints = [j for j in job.facts.wiring.joints if j.at == box.id and len(j.ends) > 1]
    joined = {end for joint in joints for end in joint.ends}
    unsaid: list[tuple[Sensor, tuple[Conductor, ...]]] = []
    for sensor in job.job.sensors.values():
        made, rest = sensor_joints(job, sensor, box.id, joined)
        joints += made
        unsaid += [(sensor, rest)] if rest else []
    joined |= {end for joint in joints for end in joint.ends}
    joined |= {end for _, rest in unsaid for c in rest for end in c.ends_at(box.id)}
    passing: list[Conductor] = []
    capped: list[tuple[Conductor, End]] = []
    for conductor in job.facts.wiring.conductors.values():
        if box.id not in conductor.places:
            continue
        ends = conductor.ends_at(box.id)
        if len(ends) == 2 and joined.isdisjoint(ends):
            passing.append(conductor)
        else:
            capped += [(conductor, end) for end in ends if end not in joined]
    return BoxWires(
        box=box,
        joints=tuple(joints),
        passing=tuple(passing),
        capped=tuple(capped),
        unsaid=tuple(unsaid),
    )


def claims_on(job: Printable, conductor: Conductor, end: End) -> list[Claim]:
    """Who uses the leg that leads to this end."""
    index = conductor.places.index(end.at)
    leg = index - 1 if end.side == IN else index
    return job.facts.claimed.get((conductor.name, leg), [])


def users(job: Printable, claims: list[Claim]) -> list[Text]:
    """`hot A1`, `common A`, `spare SP-1`; a spare goes without saying beside a use."""
    used = [claim for claim in claims if claim.role != "spare"] or claims
    return list(dict.fromkeys(_user(job, claim) for claim in used))


def _user(job: Printable, claim: Claim) -> Text:
    if claim.role in ("common", "path"):
        return called(job, claim.owner)
    return job.words(f"roles.{claim.role}", of=claim.owner)


def called(job: Printable, owner: str) -> Text:
    """`COM-A` is common A, `path 1 of A` in the words of the print; all else has its own name."""
    if owner.startswith("COM-"):
        return job.words("roles.common", of=owner.removeprefix("COM-"))
    if owner.startswith("path "):
        _, number, _, controller = owner.split(" ", 3)
        return job.words("roles.path", number=number, controller=controller)
    return job.words.same(owner)
