"""Turn each box with joints into a splice card: what is joined, what passes, what is capped."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace

from cardgen.asbuilt.model import ConductorMark
from cardgen.cards.box_wires import BoxWires, box_wires, claims_on, users
from cardgen.cards.connectors import connectors_of, held_by
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Splice, Table, Wire
from cardgen.cards.printable import Printable, mark
from cardgen.cards.sensor_joints import LEAD
from cardgen.job.model import BoxKind
from cardgen.trade.colours import insulation
from cardgen.wiring.model import IN, Conductor, End, Joint
from cardgen.words import Text

BLANKS = ("made by", "date", "checked by", "date")


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
    kind = job.words(f"box kinds.{box.kind or BoxKind.VALVE}")
    about = ", ".join(part for part in (kind, box.size) if part)
    used = [c for c in wires.passing if _is_live(job, c, box.id)]
    spare = [c for c in wires.passing if not _is_live(job, c, box.id)]
    fields: dict[str, FieldValue] = {
        "headline": box.id,
        "where": box.where,
        "state": job.words(f"splice card.{'as built' if wires.as_built else 'usual make-up'}"),
        "splices": tuple(_splice(job, joint, n) for n, joint in enumerate(wires.joints, 1)),
        "steps": job.words("splice card.steps"),  # common practice, no source
        "blanks": job.words.named("blanks", BLANKS),
        "code": job.code_of(box.id),
        "stamp": f"{job.stamp} · {about}",
    }
    tables: dict[str, tuple[tuple[Cell, ...], ...]] = {
        "connectors": tuple(connectors_of(job, wires.joints)),
        "passing": _grouped(job, used, box.id),
        "spares": _grouped(job, spare, box.id),
        "capped": tuple(_capped(job, conductor, end) for conductor, end in wires.capped),
    }
    fields |= {
        name: Table(columns=job.words.named("columns", ("conductor", "use")), rows=rows)
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
    served = users(job, claims) or [job.words("splice card.joint")]
    return Splice(
        title=f"{number}  {job.words.joined(served, ' + ').upper()}",
        about=" · ".join(part for part in (_change(job, own), *held_by(job, joint)) if part),
        arriving=tuple(_wire(job, c, end) for end, c in own if end.side == IN),
        leaving=tuple(_wire(job, c, end) for end, c in own if end.side != IN),
        leads=tuple(_lead(job, end) for end in joint.ends if end.of not in conductors),
    )


def _wire(job: Printable, conductor: Conductor, end: End) -> Wire:
    index = conductor.places.index(end.at)
    if end.side == IN:
        way = job.words("splice card.from", place=conductor.places[index - 1])
    else:
        way = job.words("splice card.to", place=conductor.places[index + 1])
    return Wire(mark=mark(conductor), name="", about=f"{way}, {conductor.gauge}")


def _lead(job: Printable, end: End) -> Wire:
    """A coil's or decoder's lead; leads that differ are called by their colour."""
    load = job.facts.wiring.loads.get(end.of)
    decoder = job.job.decoders.get(end.of)
    if decoder is not None:
        side = job.words.own("splice card", end.side)
        return Wire(mark=None, name=end.of, about=f"{side}, {decoder.leads}")
    gauge = str(load.coil.leads) if load and load.coil else job.words("terms.not known")
    about = job.words("splice card.lead", gauge=gauge)
    colour = insulation(end.side)
    if colour is None:
        return Wire(mark=None, name=end.of, about=about)
    shown = ConductorMark(
        cable=end.of,
        word=colour.word,
        code=colour.code,
        base=colour.base,
        stripe=colour.stripe,
        gauge=gauge,
    )
    return Wire(mark=shown, name=end.of, about=about)


def _change(job: Printable, own: list[tuple[End, Conductor]]) -> str:
    """`colour change: blue to red`, where what comes in and what goes out look different."""
    words = job.words
    arriving = [words.colour(c.insulation.word) for end, c in own if end.side == IN]
    leaving = [words.colour(c.insulation.word) for end, c in own if end.side != IN]
    changed = arriving and leaving and set(arriving) != set(leaving)
    if not changed:
        return ""
    before, after = words.listed(arriving), words.listed(leaving)
    return words("splice card.colour change", before=before, after=after)


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
        flags = job.words.listed(c.flag for c in found)
        number = job.words("splice card.conductors", number=len(found))
        return replace(shown, flag=flags), number
    claims = claims_on(job, first, first.ends_at(at)[0])
    return shown, _use(job, first, users(job, claims))


def _use(job: Printable, conductor: Conductor, said: list[Text]) -> Text:
    words = job.words
    reserved = [
        spare.reserved_for
        for spare in job.job.spares.values()
        if spare.reserved_for
        and any(job.facts.wiring.by_words[w.value] == conductor.name for w in spare.conductor)
    ]
    served = words.listed(said) or words("splice card.free here")
    return words.joined([served, *(words("splice card.for", use=use) for use in reserved)])


def _capped(job: Printable, conductor: Conductor, end: End) -> tuple[Cell, ...]:
    index = conductor.places.index(end.at)
    if len(conductor.ends_at(end.at)) == 1:
        said = users(job, claims_on(job, conductor, end))
        return mark(conductor), _use(job, conductor, said)
    further = conductor.places[index - 1] if end.side == IN else conductor.places[index + 1]
    return mark(conductor), job.words("splice card.toward", place=further)


def _notes(job: Printable, wires: BoxWires) -> Iterator[Text]:
    words = job.words
    commons = [
        f"COM-{controller}"
        for controller, landings in job.facts.wiring.commons.items()
        if any(wires.box.id in la.conductor.places[la.begins :] for la in landings)
    ]
    if len(commons) > 1:
        yield words("splice card.must not touch", commons=words.listed(commons))
    for load in job.facts.loads_in.get(wires.box.id, ()):
        if load.decoder is not None:
            yield words("splice card.decoder output", decoder=load.decoder.id, valve=load.id)
    with_leads = (end.of for joint in wires.joints for end in joint.ends if end.side == LEAD)
    for sensor in dict.fromkeys(with_leads):
        yield words("splice card.sensor leads", sensor=sensor)
    for each, conductors in wires.unsaid:
        names = words.listed(job.name_of(c) for c in conductors)
        yield words("splice card.sensor joints", sensor=each.id, conductors=names)
    if wires.box.kind is BoxKind.BURIED:
        yield words("splice card.buried")
