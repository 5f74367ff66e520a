"""Turn a checked job into what its record says: boxes, controllers, spares, changes."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.cards import Printable
from cardgen.cards.box_wires import BoxWires, box_wires, claims_on
from cardgen.cards.connectors import connector_for, counts_in
from cardgen.cards.printable import mark
from cardgen.cards.spares import FreeConductor, free_conductors, joined_in, loop
from cardgen.facts import Claim
from cardgen.job.model import Box as JobBox
from cardgen.job.model import BoxKind, Water
from cardgen.record.gather_controllers import controllers, neighbours
from cardgen.record.gather_valves import valve
from cardgen.record.model import (
    Band,
    Box,
    Capped,
    Change,
    Joint,
    Member,
    Passing,
    Revision,
    Spare,
)
from cardgen.trade.colours import insulation
from cardgen.wiring.model import IN, Conductor, End
from cardgen.wiring.model import Joint as WiredJoint


def gather(job: Printable) -> Revision:
    """Everything that the record says of this revision."""
    spares = tuple(free_conductors(job))
    return Revision(
        job=job.info.code.value,
        site=job.info.site.value,
        key=job.record.key.value,
        address=f"{job.record.address.value}/{job.record.key.value}",
        revision=job.info.revision,
        date=job.info.date,
        boxes=tuple(_box(job, box, spares) for box in job.job.boxes.values()),
        controllers=tuple(controllers(job)),
        spares=tuple(_spare(job, each, "") for each in spares),
        changes=tuple(
            Change(revision=c.revision, date=c.date, text=c.text.value) for c in job.job.changes
        ),
        water=str(Water.RECLAIMED) if job.info.water is Water.RECLAIMED else "",
    )


def _box(job: Printable, box: JobBox, spares: tuple[FreeConductor, ...]) -> Box:
    wires = box_wires(job, box)
    free = {each.conductor.name for each in spares}
    return Box(
        id=box.id,
        where=box.where,
        kind=str(box.kind or BoxKind.VALVE),
        size=box.size,
        ties=box.ties,
        coordinates=box.coordinates,
        buried=box.kind is BoxKind.BURIED,
        valves=tuple(valve(job, load) for load in job.facts.loads_in.get(box.id, ())),
        joints=tuple(_joint(job, joint) for joint in wires.joints),
        passing=tuple(_passing(job, wires, free)),
        capped=tuple(
            Capped(mark=mark(c), toward=_toward(c, end))
            for c, end in wires.capped
            if c.name not in free
        ),
        spares=tuple(
            _spare(job, each, box.id) for each in spares if box.id in each.conductor.places
        ),
        commons=tuple(
            controller
            for controller, landings in job.facts.wiring.commons.items()
            if any(box.id in la.conductor.places[la.begins :] for la in landings)
        ),
        neighbours=tuple(neighbours(job, box.id)),
    )


# ---- conductors ----------------------------------------------------------------------------


def _joint(job: Printable, joint: WiredJoint) -> Joint:
    conductors = job.facts.wiring.conductors
    claims = [
        claim
        for end in joint.ends
        if end.of in conductors
        for claim in claims_on(job, conductors[end.of], end)
    ]
    counts = counts_in(job, joint)
    found = connector_for(job, counts) if counts is not None else None
    return Joint(
        uses=tuple(_uses(claims)),
        members=tuple(_member(job, conductors.get(end.of), end) for end in joint.ends),
        held=found[0] if found else "",
        as_built=joint.as_built,
    )


def _uses(claims: list[Claim]) -> Iterator[str]:
    """`hot A1`, `common A`, `path 1 of D`; a spare goes without saying beside a use."""
    used = [claim for claim in claims if claim.role != "spare"] or claims
    yield from dict.fromkeys(_use(claim) for claim in used)


def _use(claim: Claim) -> str:
    owner = claim.owner.removeprefix("COM-") if claim.role == "common" else claim.owner
    return owner if claim.role == "path" else f"{claim.role} {owner}"


def _member(job: Printable, conductor: Conductor | None, end: End) -> Member:
    """Leads that differ are told apart: by colour those of a coil, by side those of a decoder."""
    if conductor is None:
        differs = end.of in job.job.decoders or insulation(end.side) is not None
        side = end.side if differs else ""
        return Member(mark=None, lead=end.of, side=side, toward="", arrives=False)
    return Member(
        mark=mark(conductor),
        lead="",
        side="",
        toward=_toward(conductor, end),
        arrives=end.side == IN,
    )


def _toward(conductor: Conductor, end: End) -> str:
    index = conductor.places.index(end.at)
    return conductor.places[index - 1 if end.side == IN else index + 1]


def _passing(job: Printable, wires: BoxWires, free: set[str]) -> Iterator[Passing]:
    """What is free goes under the spares."""
    for conductor in wires.passing:
        if conductor.name not in free:
            ends = conductor.ends_at(wires.box.id)
            claims = [claim for end in ends for claim in claims_on(job, conductor, end)]
            yield Passing(mark=mark(conductor), uses=tuple(_uses(claims)))


def _spare(job: Printable, free: FreeConductor, box: str) -> Spare:
    """The loop is that of the spare list."""
    places = free.conductor.places
    band = loop(job, free.conductor)
    return Spare(
        id=free.name,
        mark=mark(free.conductor),
        first=places[0],
        last=places[-1],
        passes=box in places[1:-1],
        reserved_for=free.said.reserved_for if free.said else "",
        loop=Band(expected=band[0], low=band[1], high=band[2]) if band else None,
        joined=tuple(joined_in(job, free.conductor)),
    )
