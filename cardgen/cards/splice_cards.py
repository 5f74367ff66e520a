"""Turn each box with joints into a splice card: what is joined, what passes, what is capped."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace

from cardgen.cards.box_wires import BoxWires, box_wires, claims_on, users
from cardgen.cards.connectors import connectors_of, held_by
from cardgen.cards.facts import NOT_KNOWN, Printable, mark
from cardgen.cards.model import Card, CardKind, Cell, ConductorMark, FieldValue, Splice, Table, Wire
from cardgen.cards.sensor_joints import LEAD
from cardgen.checks.facts import listed
from cardgen.job.model import BoxKind
from cardgen.trade.colours import insulation
from cardgen.wiring.model import IN, Conductor, End, Joint

# Common practice, no source.
STEPS = (
    "Power off and locked. Look before you reach in. Open a jacket along its rip cord, away from "
    "you. Strip to bright copper, twist a stranded lead round the solid conductor, cut the ends "
    "level. One joint, one connector, sealed and listed for wet places and direct burial; its own "
    "label decides. Tape alone is no joint. Do not over-twist; tug each one. Coil the slack, "
    "joints up from the floor."
)
BLANKS = ("made: initials", "date", "checked: initials", "date")


def splice_cards(job: Printable) -> Iterator[Card]:
    """A card for each box that has joints, in the order of the file."""
    for box in job.job.boxes.values():
        wires = box_wires(job, box)
        if wires.joints or wires.unsaid:
            fields = _fields(job, wires)
            kind = CardKind.SPLICE_CARD
            yield Card(kind=kind, id=box.id, at=box.id, place=box.place, fields=fields)


def _fields(job: Printable, wires: BoxWires) -> dict[str, FieldValue]:
    box = wires.box
    kind = ", ".join(part for part in (box.kind or BoxKind.VALVE, box.size) if part)
    used = [c for c in wires.passing if _is_live(job, c, box.id)]
    spare = [c for c in wires.passing if not _is_live(job, c, box.id)]
    fields: dict[str, FieldValue] = {
        "headline": box.id,
        "where": box.where,
        "state": "AS BUILT" if wires.as_built else "USUAL MAKE-UP",
        "splices": tuple(_splice(job, joint, n) for n, joint in enumerate(wires.joints, 1)),
        "steps": STEPS,
        "blanks": BLANKS,
        "code": job.code_of(box.id),
        "stamp": f"{job.stamp} · {kind}",
    }
    tables: dict[str, tuple[tuple[Cell, ...], ...]] = {
        "connectors": tuple(connectors_of(job, wires.joints)),
        "passing": _grouped(job, used, box.id),
        "spares": _grouped(job, spare, box.id),
        "capped": tuple(_capped(job, conductor, end) for conductor, end in wires.capped),
    }
    fields |= {
        name: Table(columns=("conductor", "use"), rows=rows)
        for name, rows in tables.items()
        if rows
    }
    notes = tuple(_notes(job, wires))
    return fields | ({"notes": notes} if notes else {})


# ---- joints --------------------------------------------------------------------------------


def _splice(job: Printable, joint: Joint, number: int) -> Splice:
    conductors = job.facts.wiring.conductors
    own = [(end, conductors[end.of]) for end in joint.ends if end.of in conductors]
    claims = [claim for end, c in own for claim in claims_on(job, c, end)]
    return Splice(
        title=f"{number}  {' + '.join(users(claims)) or 'joint'}".upper(),
        about=" · ".join(part for part in (_change(own), *held_by(job, joint)) if part),
        arriving=tuple(_wire(c, end) for end, c in own if end.side == IN),
        leaving=tuple(_wire(c, end) for end, c in own if end.side != IN),
        leads=tuple(_lead(job, end) for end in joint.ends if end.of not in conductors),
    )


def _wire(conductor: Conductor, end: End) -> Wire:
    index = conductor.places.index(end.at)
    way = f"from {conductor.places[index - 1]}"
    if end.side != IN:
        way = f"to {conductor.places[index + 1]}"
    return Wire(mark=mark(conductor), name="", about=f"{way}, {conductor.gauge}")


def _lead(job: Printable, end: End) -> Wire:
    """A coil's or decoder's lead; leads that differ are called by their colour."""
    load = job.facts.wiring.loads.get(end.of)
    decoder = job.job.decoders.get(end.of)
    gauge = str(load.coil.leads) if load and load.coil else NOT_KNOWN
    if decoder is not None:
        return Wire(mark=None, name=end.of, about=f"{end.side}, {decoder.leads}")
    colour = insulation(end.side)
    if colour is None:
        return Wire(mark=None, name=end.of, about=f"lead, {gauge}")
    shown = ConductorMark(
        cable=end.of,
        word=colour.word,
        code=colour.code,
        base=colour.base,
        stripe=colour.stripe,
        gauge=gauge,
    )
    return Wire(mark=shown, name=end.of, about=f"lead, {gauge}")


def _change(own: list[tuple[End, Conductor]]) -> str:
    """`colour change: blue to red`, where what comes in and what goes out look different."""
    arriving = [c.insulation.word for end, c in own if end.side == IN]
    leaving = [c.insulation.word for end, c in own if end.side != IN]
    changed = arriving and leaving and set(arriving) != set(leaving)
    if not changed:
        return ""
    return f"colour change: {listed(arriving)} to {listed(leaving)}"


# ---- what is in no joint -------------------------------------------------------------------


def _is_live(job: Printable, conductor: Conductor, at: str) -> bool:
    """Beyond the box where it is cut, a hot is as free as a spare."""
    ends = conductor.ends_at(at)
    return any(c.role != "spare" for end in ends for c in claims_on(job, conductor, end))


def _grouped(
    job: Printable, conductors: Iterable[Conductor], at: str
) -> tuple[tuple[Cell, ...], ...]:
    """Conductors told apart by flags only share a row: `red A4 to A24`, 21."""
    groups: dict[tuple[str, ...], list[Conductor]] = defaultdict(list)
    for c in conductors:
        alike = (c.cable.id, c.insulation.word, str(c.gauge))
        groups[alike if c.flag else (*alike, c.name)].append(c)
    return tuple(_group_row(job, found, at) for found in groups.values())


def _group_row(job: Printable, found: list[Conductor], at: str) -> tuple[Cell, ...]:
    first = found[0]
    shown = mark(first)
    if len(found) > 1:
        return replace(shown, flag=listed(c.flag for c in found)), f"{len(found)} conductors"
    claims = claims_on(job, first, first.ends_at(at)[0])
    return shown, _use(job, first, users(claims))


def _use(job: Printable, conductor: Conductor, said: list[str]) -> str:
    reserved = [
        spare.reserved_for
        for spare in job.job.spares.values()
        if spare.reserved_for
        and any(job.facts.wiring.by_words[w.value] == conductor.name for w in spare.conductor)
    ]
    return ", ".join([listed(said) or "free here", *(f"for {use}" for use in reserved)])


def _capped(job: Printable, conductor: Conductor, end: End) -> tuple[Cell, ...]:
    index = conductor.places.index(end.at)
    if len(conductor.ends_at(end.at)) == 1:
        words = users(claims_on(job, conductor, end))
        return mark(conductor), _use(job, conductor, words)
    further = conductor.places[index - 1] if end.side == IN else conductor.places[index + 1]
    return mark(conductor), f"toward {further}"


def _notes(job: Printable, wires: BoxWires) -> Iterator[str]:
    commons = [
        f"COM-{controller}"
        for controller, landings in job.facts.wiring.commons.items()
        if any(wires.box.id in la.conductor.places[la.begins :] for la in landings)
    ]
    if len(commons) > 1:
        yield f"{' and '.join(commons)} must not touch."
    for load in job.facts.loads_in.get(wires.box.id, ()):
        if load.decoder is not None:
            yield f"{load.decoder.id}: its output leads go to {load.id}, to nothing else."
    with_leads = (end.of for joint in wires.joints for end in joint.ends if end.side == LEAD)
    for sensor in dict.fromkeys(with_leads):
        yield f"{sensor}: which lead is on which conductor, the job does not say; its maker does."
    for each, conductors in wires.unsaid:
        names = listed(c.name for c in conductors)
        yield f"{each.id}: how {names} are joined here, the job does not say. Do not cap them."
    if wires.box.kind is BoxKind.BURIED:
        yield "Buried, no box: write two distances to fixed points."
