"""Set the page of one box, in the order in which a crew on its knees needs it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from cardgen.asbuilt import BuiltBox, BuiltSpare, ConductorMark, Role
from cardgen.asbuilt.model.built_boxes import BuiltJoint, Member, Neighbor
from cardgen.asbuilt.model.built_conductors import HasMark, told_apart_by_flags
from cardgen.cards.cautions import PAGE_OF_BOX, in_box
from cardgen.cards.lengths import beside_in
from cardgen.owners import common_of
from cardgen.record import names
from cardgen.record.cautions_part import cautions, cautions_first
from cardgen.record.changes_since import alarm, history
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.page_frame import PageFrame, document, heading, link, plain_list, section, ul
from cardgen.record.page_parts import (
    band_text,
    by_cable,
    cell,
    how_to_read,
    in_words,
    ohms_text,
    wire,
)
from cardgen.record.page_words import PageWords
from cardgen.record.slots import Slots
from cardgen.record.valve_part import marks_of, valve_part


def box_page(frame: PageFrame, box: BuiltBox, slots: Slots) -> bytes:
    """A box of the newest revision."""
    words, at = frame.words, in_box(frame.now, box)
    kind = ", ".join(part for part in (words.box_kind(box.kind), box.size) if part)
    return document(
        frame,
        names.box_folder(box.id),
        words("box title", box=box.id, site=frame.now.site),
        heading(frame, box.id, " · ".join(part for part in (box.where, kind) if part)),
        alarm(frame, box.id),
        cautions_first(words, PAGE_OF_BOX, at),
        _valves(frame, box, slots),
        slots.at_place,
        section(words("neighbors"), _neighbors(frame, box.neighbors)),
        _inside(words, box),
        section(words("spares here"), *_spares(words, box)),
        cautions(words, at),
        section(words("reach"), *_reach(words, box)),
        history(frame, box.id),
        marks=_marks(box),
    )


def _marks(box: BuiltBox) -> Iterator[ConductorMark]:
    for valve in box.valves:
        yield from marks_of(valve)
    for joint in box.joints:
        yield from (member.mark for member in joint.members if member.mark)
    yield from (passing.mark for passing in (*box.maybe_hots, *box.passing))
    yield from (capped.mark for capped in box.capped)
    yield from (spare.mark for spare in box.spares)


def _valves(frame: PageFrame, box: BuiltBox, slots: Slots) -> Markup:
    words, number = frame.words, len(box.valves)
    if not number:
        return section(words("valves"), element("p", words("no valves here")))
    title = words("valve here") if number == 1 else words("valves here", number=number)
    jump = element(
        "nav", *(link(v.id, f"#V-{v.id}") for v in box.valves), class_="jump", aria_label=title
    )
    return section(
        title,
        jump if number > 1 else None,
        *(valve_part(frame, valve, slots) for valve in box.valves),
        how_to_read(words, box.valves),
    )


def _neighbors(frame: PageFrame, found: Iterable[Neighbor]) -> Markup:
    links = [neighbor_link(frame, each) for each in found]
    return ul(links) if links else element("p", frame.words("no neighbors"))


def neighbor_link(frame: PageFrame, to: Neighbor) -> Markup:
    words, now = frame.words, frame.now
    way = by_cable(words, to)
    box = now.box.get(to.place)
    where = box.where if box else ""
    band = f", {to.band}" if to.band else ""
    title = words("upstream" if to.upstream else "downstream", place=to.place)
    about = " · ".join(part for part in (f"{way}{band}", where) if part)
    return link(title, f"../{names.page(names.box_folder(to.place))}", about)


# ---- what is joined, passes, is capped -----------------------------------------------------


def _inside(words: PageWords, box: BuiltBox) -> Markup | None:
    """Nothing, where no cable comes."""
    parts: list[Child] = []
    if box.commons_apart:
        named = ", ".join(common_of(name) for name in box.commons_apart)
        parts.append(element("p", words("must not touch", commons=named), class_="must"))
    if box.joints:
        parts.append(element("h3", words("joints as built" if box.as_built else "joints usual")))
        parts += [_joint(words, joint, number) for number, joint in enumerate(box.joints, 1)]
    maybe = [_item(_row(words, [each], words.uses(each.uses), "")) for each in box.maybe_hots]
    if maybe:
        parts += [element("h3", words("maybe hots")), *maybe]
    passing = [_item(row) for row in _passing(words, box)]
    if passing:
        parts += [element("h3", words("passing")), *passing]
    capped = [_item(row) for row in _capped(words, box)]
    if capped:
        parts += [element("h3", words("capped")), *capped]
    for each in box.unpaired:
        names = words.list_of(in_words(words, mark) for mark in each.marks)
        said = words.of("splice card", "sensor joints", sensor=each.sensor, conductors=names)
        parts.append(element("p", said))
    return section(words("inside"), *parts) if parts else None


def _passing(words: PageWords, box: BuiltBox) -> Iterator[Markup]:
    """What is in use, then what is dead; conductors that only their flags tell apart share a row.

    What is spare stands among the spares.
    """
    for used in told_apart_by_flags(box.passing):
        yield _row(words, used, words.uses(used[0].uses), "")
    left = (spare for spare in box.spares if spare.dead and spare.passes)
    for gone in told_apart_by_flags(left):
        yield _row(words, gone, dead(words, gone[0]), words.of("roles", "dead"))


def _row(words: PageWords, found: Sequence[HasMark], alone: str, about: str) -> Markup:
    """Of one conductor what it is; of several how many."""
    mark = found[0].mark
    if len(found) == 1:
        return wire(words, mark, alone, small=True)
    names = words.list_of(each.mark.flag for each in found)
    flags = f"{words.of('terms', 'flags')} {names}"
    said = (words("conductors", number=len(found)), about)
    return wire(words, mark, ", ".join(filter(None, said)), small=True, flags=flags)


def _capped(words: PageWords, box: BuiltBox) -> Iterator[Markup]:
    """Ends in no joint; those of spares stand among the spares."""
    free = {spare.id: spare for spare in box.spares}
    for each in box.capped:
        if each.is_spare:
            continue
        left = (free[use.of] for use in each.uses if use.role is Role.DEAD)
        told = [dead(words, spare) for spare in left] or [words.uses(each.uses)]
        said = [words("to", place=each.toward), *told]
        yield wire(words, each.mark, ", ".join(part for part in said if part), small=True)


def dead(words: PageWords, spare: BuiltSpare) -> str:
    """That nothing comes to it, and from where to where that holds."""
    return words("dead", first=spare.first, last=spare.last)


def _joint(words: PageWords, joint: BuiltJoint, number: int) -> Markup:
    held = words("connector", name=joint.held or words("not known"))
    title = f"{number}. {words.uses(joint.uses) if joint.uses else words('joint')}"
    return _item(
        element("p", element("b", title), element("span", f" · {held}", class_="small")),
        *(_member(words, member) for member in joint.members),
    )


def _member(words: PageWords, member: Member) -> Markup:
    if member.pigtail:
        return _pigtail(words, member)
    if member.mark is None:
        named = "lead side" if member.side else "lead"
        return element("p", words(named, load=member.lead, side=words.color(member.side)))
    said = words("from" if member.arrives else "to", place=member.toward)
    return wire(words, member.mark, said, small=True)


def _pigtail(words: PageWords, member: Member) -> Markup:
    """As the splice card says it."""
    way = words.of("splice card", "from joint" if member.feeds else "to joint", number=member.joint)
    about = [words.of("splice card", "pigtail"), member.length, way]
    if member.mark is not None:
        said = " · ".join(part for part in about if part)
        return wire(words, member.mark, said, small=True)
    about.insert(1, member.gauge)
    return element("p", ", ".join((member.lead, *(part for part in about if part))))


def _item(*contents: Child) -> Markup:
    return element("div", *contents, class_="item")


# ---- spares, the way there -----------------------------------------------------------------


def _spares(words: PageWords, box: BuiltBox) -> Iterator[Markup]:
    rows = [_item(spare_row(words, s, here=box.id)) for s in box.spares if not s.dead]
    yield from rows or [element("p", words("no spares"))]
    if rows:
        yield element("p", loop_how(words), class_="small")


def spare_row(words: PageWords, spare: BuiltSpare, *, here: str = "") -> Markup:
    """`here` is the box on whose page it stands; empty in the list of all."""
    runs = words("runs", first=spare.first, last=spare.last)
    said = [dead(words, spare) if spare.dead else runs]
    if here:
        said += [words(how) for how in _here(spare, here)]
    if spare.joined:
        said.append(words("spare joined", places=words.list_of(spare.joined)))
    if spare.reserved_for:
        said.append(words.of("terms", "reserved", use=spare.reserved_for))
    return joined(
        element("p", element("b", spare.id)),
        wire(words, spare.mark, ", ".join(said), small=True),
        element("dl", _loop(words, spare), class_="reads"),
    )


def _here(spare: BuiltSpare, box: str) -> Iterator[str]:
    """Nothing where it goes on by a joint, which is told by itself."""
    if box in (spare.first, spare.last):
        yield "begins" if box == spare.first else "ends"
    elif spare.passes:
        yield "passes"


def loop_how(words: PageWords) -> str:
    """As the printed list says it."""
    return f"{words.of('spare list', 'loop')} {words.of('spare list', 'expected')}"


def _loop(words: PageWords, spare: BuiltSpare) -> Markup:
    """What the printed list of spares says, from the same figures."""
    title = words("loop", first=spare.first, last=spare.last)
    if spare.loop is None:
        return cell(title, words("not known"), none=True)
    return cell(title, ohms_text(spare.loop), band_text(words, spare.loop))


def _reach(words: PageWords, box: BuiltBox) -> Iterator[Markup]:
    if box.where:
        yield element("p", box.where)
    if box.buried:
        yield element("p", words("buried"))
    if box.coordinates:
        # RFC 5870; where a phone does not know it, the figures can be copied into its own map.
        yield link(words("map"), "geo:" + box.coordinates.replace(" ", ""))
        figures = element("b", box.coordinates, class_="copy")
        yield element("p", f"{words('coordinates')}: ", figures)
    if box.ties:
        yield plain_list(beside_in(tie) for tie in box.ties)
    if not box.ties and not box.coordinates:
        yield element("p", words("nowhere"))
