"""Turn each box with joints into a splice card: what is joined, what passes, what is capped."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

from cardgen.asbuilt import BuiltBox, BuiltSpare
from cardgen.asbuilt.marks import colored
from cardgen.asbuilt.model.built_boxes import BuiltJoint, Capped, Member, Passing
from cardgen.asbuilt.model.built_conductors import HasMark, told_apart_by_flags
from cardgen.cards import cautions
from cardgen.cards.card import (
    Card,
    CardKind,
    Cell,
    FieldValue,
    OnFlag,
    Splice,
    Table,
    Wire,
    on_paper,
)
from cardgen.cards.expected import BOUND
from cardgen.cards.printable import Printable
from cardgen.cards.use_words import uses_in_words
from cardgen.english_lists import runs
from cardgen.light_dataclass import replace
from cardgen.owners import common_of
from cardgen.trade.colors import insulation
from cardgen.words import Said, Text, Words, apart, printed

BLANKS = ("made by", "date", "checked by", "date")
Row = tuple[Cell, ...]
S = TypeVar("S", bound=HasMark)


def splice_cards(printable: Printable) -> Iterator[Card]:
    """A card for each box that has joints, in the order of the file."""
    for box in printable.asbuilt.boxes:
        if has_splice_card(box):
            yield Card(
                kind=CardKind.SPLICE_CARD,
                id=box.id,
                at=box.id,
                controllers=printable.asbuilt.controllers_in(box),
                span=printable.spans.of(box.id),
                fields=on_paper(_fields(printable, box)),
            )


def has_splice_card(box: BuiltBox) -> bool:
    return bool(box.joints or box.unpaired or box.hots_unknown)


def _fields(printable: Printable, box: BuiltBox) -> dict[str, FieldValue]:
    at = cautions.in_box(printable.asbuilt, box)
    fields: dict[str, FieldValue] = {
        "headline": box.id,
        "where": box.where,
        "cautions": cautions.in_words(printable.words, cautions.SPLICE_CARD, at),
        "state": printable.words(f"splice card.{'as built' if box.as_built else 'usual make-up'}"),
        "splices": tuple(_splices(printable, box)),
        "steps": printable.words("splice card.steps"),  # common practice, no source
        "blanks": printable.words.named("blanks", BLANKS),
        **printable.code_of(box.id),
        "stamp": apart((printable.stamp, printable.kind(box))),
    }
    passing, spares = box.passing, [spare for spare in box.spares if spare.passes]
    tables: dict[str, tuple[Row, ...]] = {
        "connectors": tuple(_connectors(printable, box.joints)),
        "maybe_hots": _grouped(printable, box.maybe_hots, lambda m: _used_as(printable, m)),
        "passing": _grouped(printable, passing, lambda p: _used_as(printable, p)),
        "spares": _grouped(
            printable, (s for s in spares if not s.dead), lambda s: _spare(printable, s)
        ),
        "dead": _grouped(
            printable,
            (s for s in spares if s.dead),
            lambda s: printable.words.same(f"{s.first} → {s.last}"),
        ),
        "capped": tuple((end.mark, _capped(printable, end)) for end in box.capped),
    }
    fields |= {
        name: Table.of(printable.words.named("columns", ("conductor", "use")), rows)
        for name, rows in tables.items()
        if rows
    }
    notes = tuple(_notes(printable, box))
    return fields | ({"notes": notes} if notes else {})


# ---- joints --------------------------------------------------------------------------------


def _splices(printable: Printable, box: BuiltBox) -> Iterator[Splice]:
    group_of = {id(joint): group for group in box.linked for joint in group.joints}
    for number, joint in enumerate(box.joints, 1):
        yield _splice(printable, joint, number, group_of[id(joint)].joints)


def _splice(
    printable: Printable, joint: BuiltJoint, number: int, linked: Iterable[BuiltJoint]
) -> Splice:
    served = uses_in_words(printable.words, joint.uses) or [printable.words("splice card.joint")]
    own = [member for member in joint.members if member.mark or member.pigtail]
    return Splice(
        title=f"{number}  {printable.words.joined(served, ' + ').upper().printed}",
        change=printed(_change(printable.words, joint, linked)),
        counts=printed(_counts(printable, joint)),
        connector=printed(_connector(printable, joint)),
        arriving=tuple(_wire(printable, member) for member in own if member.arrives),
        leaving=tuple(_wire(printable, member) for member in own if not member.arrives),
        leads=tuple(_lead(printable, member) for member in joint.members if member not in own),
    )


def _wire(printable: Printable, member: Member) -> Wire:
    if member.pigtail:
        return _pigtail(printable, member)
    words = printable.words
    way = words.labeled(f"splice card.{'from' if member.arrives else 'to'}", member.toward)
    about = _with_gauge(words, way, member.gauge) if member.gauge else way.printed
    return Wire(mark=member.mark, name="", about=about)


def _with_gauge(words: Words, said: Text, gauge: str) -> str:
    """`from / de VB-1, 18 AWG`: what is the same in all languages is there once."""
    if not gauge:
        return words.joined((said, words("terms.not known"))).printed
    return f"{said.printed}, {gauge}"


def _pigtail(printable: Printable, member: Member) -> Wire:
    """`PT-1 white`, `pigtail, 14 AWG, 8 in, to joint 3`."""
    words = printable.words
    way = "from joint" if member.feeds else "to joint"
    length = member.length.replace(" ", BOUND)  # `in` at the head of a line reads as a word
    about: list[Said] = [words("splice card.pigtail"), member.gauge, length]
    about.append(words(f"splice card.{way}", number=member.joint))
    return Wire(mark=member.mark, name=member.lead, about=words.joined(about).printed)


def _lead(printable: Printable, member: Member) -> Wire:
    """A coil's or decoder's lead; leads that differ are called by their color."""
    words, gauge = printable.words, member.gauge
    color = insulation(member.side)
    if member.side and color is None:
        side = words.own("splice card", member.side)
        about = _with_gauge(words, side, gauge)
        return Wire(mark=None, name=member.lead, about=about)
    about = _with_gauge(words, words("splice card.lead"), gauge)
    if color is None:
        return Wire(mark=None, name=member.lead, about=about)
    shown = colored(color, member.lead, gauge or words("terms.not known").printed)
    return Wire(mark=shown, name=member.lead, about=about)


def _change(words: Words, joint: BuiltJoint, linked: Iterable[BuiltJoint]) -> Said:
    """`color change: blue to red`, where what feeds the joint and what goes on look different.

    Where a pigtail feeds it, what feeds the joints behind that.
    """
    behind = linked if any(m.pigtail and m.feeds for m in joint.members) else ()
    beyond = (m for other in behind if other is not joint for m in other.members if m.feeds)
    sides: dict[bool, dict[Text, None]] = {True: {}, False: {}}
    for member in (*joint.members, *beyond):
        if member.mark and not member.pigtail:
            sides[member.feeds][words.color(member.mark.word)] = None
    before, after = sides[True], sides[False]
    if not before or not after or set(before) == set(after):
        return ""
    said = {"before": words.list_of(before), "after": words.list_of(after)}
    return words("splice card.color change", **said)


def _counts(printable: Printable, joint: BuiltJoint) -> Said:
    if not joint.counts:
        key = "terms.wires not known" if joint.has_unknown_wire else "splice card.unknown leads"
        return printable.words(key, number=len(joint.members))
    return " + ".join(joint.counts)


def _connector(printable: Printable, joint: BuiltJoint) -> Said:
    """Nothing can be said of it while the gauge of a lead is not known."""
    if not joint.counts:
        return ""
    name = joint.held or printable.words("terms.not known")
    return printable.words("terms.connector", name=name)


def _connectors(printable: Printable, joints: Iterable[BuiltJoint]) -> Iterator[Row]:
    """How many of which connector the box takes, and what each is rated for."""
    words = printable.words
    for (name, rating), number in Counter((j.held, j.rating) for j in joints).items():
        rated = words.labeled("splice card.accepts", rating) if rating else ""
        yield words.joined((f"{number} ×", name or words("terms.not known")), " "), rated


# ---- what is in no joint -------------------------------------------------------------------


def _grouped(
    printable: Printable, found: Iterable[S], said: Callable[[S], Text]
) -> tuple[Row, ...]:
    """Conductors told apart by flags only share a row: `red A4–A24`, 21."""
    return tuple(_group_row(printable, group, said) for group in told_apart_by_flags(found))


def _group_row(printable: Printable, found: Sequence[S], said: Callable[[S], Text]) -> Row:
    shown = found[0].mark
    if len(found) == 1:
        return shown, said(found[0])
    listed = ", ".join("–".join(run) for run in runs(each.mark.flag for each in found))
    flags = OnFlag(printable.words("terms.flags").printed, listed)
    return replace(shown, flag=flags), printable.words("splice card.conductors", number=len(found))


def _used_as(printable: Printable, conductor: Passing) -> Text:
    return printable.words.list_of(uses_in_words(printable.words, conductor.uses))


def _spare(printable: Printable, spare: BuiltSpare) -> Text:
    return _reserved(printable, printable.words("roles.spare", of=spare.id), spare.reserved_for)


def _reserved(printable: Printable, said: Text, reserved_for: str) -> Text:
    words = printable.words
    return words.joined([said, words("terms.reserved", use=reserved_for)]) if reserved_for else said


def _capped(printable: Printable, end: Capped) -> Text:
    """What it is; of a conductor that is cut here also on which side."""
    words = printable.words
    use = _reserved(printable, words.list_of(uses_in_words(words, end.uses)), end.reserved_for)
    if end.stops:
        return use
    return words.joined([use, end.toward], " → ")


def _notes(printable: Printable, box: BuiltBox) -> Iterator[Text]:
    words = printable.words
    if box.commons_apart:
        commons = words.list_of(common_of(controller) for controller in box.commons_apart)
        yield words("splice card.must not touch", commons=commons)
    if box.hots_unknown:
        yield words("splice card.hots not known", valves=words.list_of(box.hots_unknown))
    for valve in box.valves:
        if valve.decoder is not None:
            yield words("splice card.decoder output", decoder=valve.decoder.id, valve=valve.id)
    leads = dict.fromkeys(member.lead for joint in box.joints for member in joint.members)
    for sensor in printable.asbuilt.sensors:
        if sensor.id in leads:
            yield words("splice card.sensor leads", sensor=sensor.id)
    for each in box.unpaired:
        names = words.list_of(printable.named(shown) for shown in each.marks)
        yield words("splice card.sensor joints", sensor=each.sensor, conductors=names)
    if box.buried:
        yield words("splice card.buried")
