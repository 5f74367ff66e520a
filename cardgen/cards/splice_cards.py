"""Turn each box with joints into a splice card: what is joined, what passes, what is capped."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TypeVar

from cardgen.asbuilt import Box, Spare
from cardgen.asbuilt.marks import coloured
from cardgen.asbuilt.model.boxes import Capped, Joint, Member
from cardgen.asbuilt.model.conductors import Shown, told_apart_by_flags
from cardgen.cards.expected import BOUND
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Splice, Table, Wire
from cardgen.cards.printable import Printable
from cardgen.cards.uses import uses_in_words
from cardgen.trade.colours import insulation
from cardgen.words import Text, Words

BLANKS = ("made by", "date", "checked by", "date")
Row = tuple[Cell, ...]
S = TypeVar("S", bound=Shown)


def splice_cards(job: Printable) -> Iterator[Card]:
    """A card for each box that has joints, in the order of the file."""
    for box in job.asbuilt.boxes:
        if box.joints or box.unpaired:
            yield Card(
                kind=CardKind.SPLICE_CARD,
                id=box.id,
                at=box.id,
                controllers=job.asbuilt.controllers_in(box),
                place=job.spans.of(box.id),
                fields=_fields(job, box),
            )


def _fields(job: Printable, box: Box) -> dict[str, FieldValue]:
    fields: dict[str, FieldValue] = {
        "headline": box.id,
        "where": box.where,
        "state": job.words(f"splice card.{'as built' if box.as_built else 'usual make-up'}"),
        "splices": tuple(_splices(job, box)),
        "steps": job.words("splice card.steps"),  # common practice, no source
        "blanks": job.words.named("blanks", BLANKS),
        "code": job.code_of(box.id),
        "stamp": f"{job.stamp} · {job.kind(box)}",
    }
    passing, spares = box.passing, [spare for spare in box.spares if spare.passes]
    tables: dict[str, tuple[Row, ...]] = {
        "connectors": tuple(_connectors(job, box.joints)),
        "passing": _grouped(
            job, passing, lambda p: job.words.listed(uses_in_words(job.words, p.uses))
        ),
        "spares": _grouped(job, (s for s in spares if not s.dead), lambda s: _spare(job, s)),
        "dead": _grouped(
            job,
            (s for s in spares if s.dead),
            lambda s: job.words.same(f"{s.first} → {s.last}"),
        ),
        "capped": tuple((end.mark, _capped(job, end)) for end in box.capped),
    }
    fields |= {
        name: Table(columns=job.words.named("columns", ("conductor", "use")), rows=rows)
        for name, rows in tables.items()
        if rows
    }
    notes = tuple(_notes(job, box))
    return fields | ({"notes": notes} if notes else {})


# ---- joints --------------------------------------------------------------------------------


def _splices(job: Printable, box: Box) -> Iterator[Splice]:
    group_of = {id(joint): group for group in box.linked for joint in group.joints}
    for number, joint in enumerate(box.joints, 1):
        yield _splice(job, joint, number, group_of[id(joint)].joints)


def _splice(job: Printable, joint: Joint, number: int, linked: Iterable[Joint]) -> Splice:
    served = uses_in_words(job.words, joint.uses) or [job.words("splice card.joint")]
    own = [member for member in joint.members if member.mark or member.pigtail]
    return Splice(
        title=f"{number}  {job.words.joined(served, ' + ').upper()}",
        about=" · ".join(x for x in (_change(job.words, joint, linked), *_held(job, joint)) if x),
        arriving=tuple(_wire(job, member) for member in own if member.arrives),
        leaving=tuple(_wire(job, member) for member in own if not member.arrives),
        leads=tuple(_lead(job, member) for member in joint.members if member not in own),
    )


def _wire(job: Printable, member: Member) -> Wire:
    if member.pigtail:
        return _pigtail(job, member)
    way = job.words(f"splice card.{'from' if member.arrives else 'to'}", place=member.toward)
    return Wire(mark=member.mark, name="", about=f"{way}, {member.gauge}")


def _pigtail(job: Printable, member: Member) -> Wire:
    """`PT-1 white`, `pigtail, 14 AWG, 8 in, to joint 3`."""
    words = job.words
    way = "from joint" if member.feeds else "to joint"
    length = member.length.replace(" ", BOUND)  # `in` at the head of a line reads as a word
    about = [words("splice card.pigtail"), member.gauge, length]
    about.append(words(f"splice card.{way}", number=member.joint))
    return Wire(
        mark=member.mark, name=member.lead, about=words.joined(part for part in about if part)
    )


def _lead(job: Printable, member: Member) -> Wire:
    """A coil's or decoder's lead; leads that differ are called by their colour."""
    gauge = member.gauge or job.words("terms.not known")
    colour = insulation(member.side)
    if member.side and colour is None:
        side = job.words.own("splice card", member.side)
        return Wire(mark=None, name=member.lead, about=f"{side}, {gauge}")
    about = job.words("splice card.lead", gauge=gauge)
    if colour is None:
        return Wire(mark=None, name=member.lead, about=about)
    shown = coloured(colour, member.lead, gauge)
    return Wire(mark=shown, name=member.lead, about=about)


def _change(words: Words, joint: Joint, linked: Iterable[Joint]) -> str:
    """`colour change: blue to red`, where what feeds the joint and what goes on look different.

    Where a pigtail feeds it, what feeds the joints behind that.
    """
    behind = linked if any(m.pigtail and m.feeds for m in joint.members) else ()
    beyond = (m for other in behind if other is not joint for m in other.members if m.feeds)
    sides: dict[bool, dict[Text, None]] = {True: {}, False: {}}
    for member in (*joint.members, *beyond):
        if member.mark and not member.pigtail:
            sides[member.feeds][words.colour(member.mark.word)] = None
    before, after = sides[True], sides[False]
    if not before or not after or set(before) == set(after):
        return ""
    said = {"before": words.listed(before), "after": words.listed(after)}
    return words("splice card.colour change", **said)


def _held(job: Printable, joint: Joint) -> Iterator[str]:
    """How many conductors of which gauge, and what takes them."""
    if not joint.counts:
        yield job.words("splice card.unknown leads", number=len(joint.members))
        return
    yield " + ".join(joint.counts)
    yield job.words("terms.connector", name=joint.held or job.words("terms.not known"))


def _connectors(job: Printable, joints: Iterable[Joint]) -> Iterator[Row]:
    """How many of which connector the box takes, and what each is rated for."""
    words = job.words
    for (name, rating), number in Counter((j.held, j.rating) for j in joints).items():
        rated = words("terms.takes", conductors=rating) if rating else ""
        yield f"{number} × {name or words('terms.not known')}", rated


# ---- what is in no joint -------------------------------------------------------------------


def _grouped(job: Printable, found: Iterable[S], said: Callable[[S], Text]) -> tuple[Row, ...]:
    """Conductors told apart by flags only share a row: `red A4 to A24`, 21."""
    return tuple(_group_row(job, group, said) for group in told_apart_by_flags(found))


def _group_row(job: Printable, found: Sequence[S], said: Callable[[S], Text]) -> Row:
    shown = found[0].mark
    if len(found) == 1:
        return shown, said(found[0])
    flags = job.words.listed(each.mark.flag for each in found)
    return replace(shown, flag=flags), job.words("splice card.conductors", number=len(found))


def _spare(job: Printable, spare: Spare) -> Text:
    return _reserved(job, job.words("roles.spare", of=spare.id), spare.reserved_for)


def _reserved(job: Printable, said: Text, reserved_for: str) -> Text:
    words = job.words
    return (
        words.joined([said, words("splice card.for", use=reserved_for)]) if reserved_for else said
    )


def _capped(job: Printable, end: Capped) -> Text:
    """What it is; of a conductor that is cut here also on which side."""
    words = job.words
    use = _reserved(job, words.listed(uses_in_words(words, end.uses)), end.reserved_for)
    if end.stops:
        return use
    return words.joined([use, end.toward], " → ")


def _notes(job: Printable, box: Box) -> Iterator[Text]:
    words = job.words
    if box.commons_apart:
        commons = words.listed(f"COM-{controller}" for controller in box.commons_apart)
        yield words("splice card.must not touch", commons=commons)
    for valve in box.valves:
        if valve.decoder is not None:
            yield words("splice card.decoder output", decoder=valve.decoder.id, valve=valve.id)
    leads = dict.fromkeys(member.lead for joint in box.joints for member in joint.members)
    for sensor in job.asbuilt.sensors:
        if sensor.id in leads:
            yield words("splice card.sensor leads", sensor=sensor.id)
    for each in box.unpaired:
        names = words.listed(job.named(shown) for shown in each.marks)
        yield words("splice card.sensor joints", sensor=each.sensor, conductors=names)
    if box.buried:
        yield words("splice card.buried")
