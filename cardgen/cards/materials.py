"""Turn a job into what it takes: cable with slack, connectors, boxes, tags, devices."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from cardgen.asbuilt import Box, Controller, Valve
from cardgen.asbuilt.model.conductors import Cable
from cardgen.asbuilt.model.controllers import Terminal
from cardgen.cards.box_tags import box_tags
from cardgen.cards.flags import flags
from cardgen.cards.lengths import both, in_units
from cardgen.cards.printable import Printable
from cardgen.cards.slack import with_slack
from cardgen.cards.splice_cards import splice_cards
from cardgen.units import Length, LengthUnit, Metres
from cardgen.words import Text

SPARE_PART = 0.10  # more connectors, caps and ties than are counted; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One line of the list.

    Attributes:
        group: the part of the list it stands in, by its name in the catalogues.
        quantity, other: in the job's own unit and, for lengths, in the other one.
        basis: what it was reckoned from.
    """

    group: str
    what: str
    quantity: Length | int
    basis: str
    other: Length | None = None

    @property
    def amount(self) -> str:
        if isinstance(self.quantity, int):
            return str(self.quantity)
        assert self.other is not None
        return both(self.quantity, self.other)


def materials(job: Printable) -> tuple[Material, ...]:
    """The whole list, group by group."""
    return (*_cables(job), *_connectors(job), *_boxes(job), *_marking(job), *_devices(job))


# ---- cable ---------------------------------------------------------------------------------


@dataclass(slots=True)
class _Pull:
    """What is pulled of one kind: lengths without and with slack, valves served, cables."""

    run: float = 0.0
    whole: float = 0.0
    valves: int = 0
    pieces: int = 0
    cables: dict[str, None] | None = None


def _cables(job: Printable) -> Iterator[Material]:
    pulls: dict[Text, _Pull] = defaultdict(_Pull)
    served = _valves_on(job)
    for cable in job.asbuilt.cables:
        for kind, legs, valves in _pieces(job, cable, served):
            pull = pulls[kind]
            pull.run += sum(legs)
            pull.whole += with_slack(legs, valves)
            pull.valves += valves
            pull.pieces += 1
            pull.cables = {**(pull.cables or {}), cable.id: None}
    usual = LengthUnit(job.asbuilt.unit)
    for kind, pull in pulls.items():
        run = both(*in_units(Metres(pull.run), usual, up=False))
        quantity, other = in_units(Metres(pull.whole), usual, up=True)
        basis = job.words(
            "materials.pulled",
            cables=", ".join(pull.cables or ()),
            pieces=job.words.count("materials.pieces", pull.pieces),
            run=run,
            valves=pull.valves,
        )
        yield Material(group="cables", what=kind, quantity=quantity, other=other, basis=basis)


def _pieces(
    job: Printable, cable: Cable, served: Mapping[str, set[str]]
) -> Iterator[tuple[Text, tuple[float, ...], int]]:
    """A jacketed cable is one piece; of a bundle each single; with legs and number of valves."""
    inside = job.asbuilt.inside[cable.id]
    if not cable.bundle:
        legs = tuple(stop.metres for stop in cable.run[1:])
        what = "materials.shielded cable" if cable.shielded else "materials.cable"
        kind = job.words(what, number=len(inside), gauge=inside[0].mark.gauge)
        yield kind, legs, len(set().union(*(served[c.name] for c in inside)))
        return
    for c in inside:
        kind = job.words(
            "materials.single", colour=job.words.colour(c.mark.word), gauge=c.mark.gauge
        )
        yield kind, c.legs, len(served[c.name])


def _valves_on(job: Printable) -> Mapping[str, set[str]]:
    """By conductor the coils of which a lead is joined with it."""
    found: dict[str, set[str]] = defaultdict(set)
    for box in job.asbuilt.boxes:
        for linked in box.linked:
            coils = {m.lead for m in linked.members if m.lead in job.asbuilt.valve}
            for conductor in linked.conductors:
                found[conductor] |= coils
    return found


# ---- connectors ----------------------------------------------------------------------------


def _connectors(job: Printable) -> Iterator[Material]:
    words, boxes = job.words, job.asbuilt.boxes
    counts = Counter(joint.held for box in boxes for joint in box.joints)  # empty: not known
    caps = Counter(end.mark.gauge for box in boxes for end in box.capped)
    for name, number in counts.items():
        yield _more(job, "connectors", _connector(job, name), number, "joints in boxes")
    for gauge, number in caps.items():
        cap = words("materials.cap", gauge=gauge)
        yield _more(job, "connectors", cap, number, "free ends")
    outputs = 2 * sum(1 for valve in job.asbuilt.valves if valve.decoder)
    if outputs:
        yield _more(job, "connectors", words("materials.output"), outputs, "not joined")
    yield from _on_commons(job)
    yield from _on_pigtails(job)
    yield from _pigtails(job)


def _on_commons(job: Printable) -> Iterator[Material]:
    """Where several conductors come to C they go into one connector, and a pigtail to C."""
    words = job.words
    found: dict[str, list[tuple[str, Terminal]]] = defaultdict(list)
    for controller in job.asbuilt.controllers:
        for terminal in controller.terminals:
            if terminal.takes_pigtail:
                found[terminal.held].append((controller.id, terminal))
    for name, at in found.items():
        where = "; ".join(f"{each}: {' + '.join(terminal.counts)}" for each, terminal in at)
        yield Material(
            group="connectors",
            what=words("materials.pigtail", connector=_connector(job, name)),
            quantity=len(at),
            basis=words("materials.at", wires=where),
        )


def _on_pigtails(job: Printable) -> Iterator[Material]:
    """The connectors at controllers that pigtails bring to the terminals."""
    words = job.words
    found: dict[str, list[Text]] = defaultdict(list)
    for controller in job.asbuilt.controllers:
        for joint in controller.connectors:
            counts = " + ".join(joint.counts) or words("terms.not known")
            found[joint.held].append(words.joined([f"{controller.id}:", counts], " "))
    for name, at in found.items():
        yield Material(
            group="connectors",
            what=words("materials.on a pigtail", connector=_connector(job, name)),
            quantity=len(at),
            basis=words.joined(at, "; "),
        )


def _pigtails(job: Printable) -> Iterator[Material]:
    """By gauge and length, with the places in which the job says them."""
    words, known = job.words, job.asbuilt
    found: dict[tuple[str, str], dict[str, list[str]]] = {}
    places: tuple[Box | Controller, ...] = (*known.boxes, *known.controllers)
    for place in places:
        for pigtail in place.pigtails:
            at = found.setdefault((pigtail.gauge, pigtail.length), {})
            at.setdefault(place.id, []).append(pigtail.id)
    for (gauge, length), at in found.items():
        yield Material(
            group="connectors",
            what=words.joined([words("materials.short wire"), *filter(None, (gauge, length))]),
            quantity=sum(map(len, at.values())),
            basis="; ".join(f"{place}: {', '.join(names)}" for place, names in at.items()),
        )


def _connector(job: Printable, name: str) -> Text:
    """With all that it is rated for."""
    words = job.words
    if not name:
        return words("materials.unknown connector")
    rated = next(each.rating for each in job.asbuilt.connectors if each.id == name)
    said = (words("terms.connector", name=name), words("terms.takes", conductors=rated))
    return words.joined(said)


def _more(job: Printable, group: str, what: str, number: int, basis: str) -> Material:
    """A tenth more, rounded up; `basis` is the name of what was counted."""
    whole = math.ceil(number * (1 + SPARE_PART) - 1e-9)
    counted = job.words(f"materials.{basis}")
    said = job.words("materials.a tenth more", number=number, what=counted)
    return Material(group=group, what=what, quantity=whole, basis=said)


# ---- boxes, tags, devices ------------------------------------------------------------------


def _boxes(job: Printable) -> Iterator[Material]:
    found: dict[str, list[str]] = defaultdict(list)
    for box in job.asbuilt.boxes:
        if not box.buried:
            found[job.kind(box)].append(box.id)
    for what, ids in found.items():
        yield Material(group="boxes", what=what, quantity=len(ids), basis=", ".join(ids))


def _marking(job: Printable) -> Iterator[Material]:
    tags = len(job.asbuilt.valve)
    boxes = sum(1 for _ in box_tags(job))
    kinds = (
        ("valve tag", tags, "as printed"),
        ("tagged box", boxes, "several tags"),  # how many tags a box takes is decided by the stock
        ("wire flag", sum(1 for _ in flags(job)), "as printed"),
        ("splice card", sum(1 for _ in splice_cards(job)), "as printed"),
        ("legend", len(job.asbuilt.controllers), "as printed"),
    )
    for what, number, basis in kinds:
        if number:
            said, counted = job.words(f"materials.{what}"), job.words(f"materials.{basis}")
            yield Material(group="marking", what=said, quantity=number, basis=counted)
    yield _more(job, "marking", job.words("materials.tie"), tags + boxes, "tags")


def _devices(job: Printable) -> Iterator[Material]:
    words, known, basis = job.words, job.asbuilt, job.words("materials.in the job")
    kinds = Counter(_coil(job, valve) for valve in known.in_order)
    for what, number in kinds.items():
        yield Material(group="devices", what=what, quantity=number, basis=basis)
    others = (
        ("controller", len(known.controllers)),
        ("decoder", known.decoders),
        ("surge unit", len(known.surge_units)),
        ("sensor", len(known.sensors)),
    )
    for name, number in others:
        if number:
            what = words(f"materials.{name}")
            yield Material(group="devices", what=what, quantity=number, basis=basis)


def _coil(job: Printable, valve: Valve) -> Text:
    what = "pump start relay" if valve.kind == "relay" else valve.kind
    coil = valve.coil_id or job.words("terms.not known")
    return job.words("materials.coil", what=job.words(f"terms.{what}"), coil=coil)
