"""Turn a job into what it takes: cable with slack, connectors, boxes, tags, devices."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from cardgen.asbuilt import BuiltBox, BuiltController, BuiltValve
from cardgen.asbuilt.model.built_conductors import BuiltCable
from cardgen.asbuilt.model.built_controllers import Terminal
from cardgen.cards.box_tags import box_tags
from cardgen.cards.flags import flags
from cardgen.cards.lengths import both, in_units
from cardgen.cards.printable import Printable
from cardgen.cards.slack import with_slack
from cardgen.cards.splice_cards import splice_cards
from cardgen.units import Length, LengthUnit, Meters
from cardgen.words import Said, Text, printed

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
    what: Said
    quantity: Length | int
    basis: Said
    other: Length | None = None

    @property
    def amount(self) -> str:
        if isinstance(self.quantity, int):
            return str(self.quantity)
        assert self.other is not None
        return both(self.quantity, self.other)


def materials(printable: Printable) -> tuple[Material, ...]:
    """The whole list, group by group, each line in all languages of the print."""
    lines = (
        *_cables(printable),
        *_connectors(printable),
        *_boxes(printable),
        *_marking(printable),
        *_devices(printable),
    )
    return tuple(replace(m, what=printed(m.what), basis=printed(m.basis)) for m in lines)


# ---- cable ---------------------------------------------------------------------------------


@dataclass(slots=True)
class _Pull:
    """What is pulled of one kind: lengths without and with slack, valves served, cables."""

    run: float = 0.0
    whole: float = 0.0
    valves: int = 0
    pieces: int = 0
    cables: dict[str, None] | None = None


def _cables(printable: Printable) -> Iterator[Material]:
    pulls: dict[Text, _Pull] = defaultdict(_Pull)
    served = _valves_on(printable)
    for cable in printable.asbuilt.cables:
        for kind, legs, valves in _pieces(printable, cable, served):
            pull = pulls[kind]
            pull.run += sum(legs)
            pull.whole += with_slack(legs, valves)
            pull.valves += valves
            pull.pieces += 1
            pull.cables = {**(pull.cables or {}), cable.id: None}
    usual = LengthUnit(printable.asbuilt.unit)
    for kind, pull in pulls.items():
        run = both(*in_units(Meters(pull.run), usual, up=False))
        quantity, other = in_units(Meters(pull.whole), usual, up=True)
        basis = printable.words(
            "materials.pulled",
            cables=", ".join(pull.cables or ()),
            pieces=printable.words.count("materials.pieces", pull.pieces),
            run=run,
            valves=pull.valves,
        )
        yield Material(group="cables", what=kind, quantity=quantity, other=other, basis=basis)


def _pieces(
    printable: Printable, cable: BuiltCable, served: Mapping[str, set[str]]
) -> Iterator[tuple[Text, tuple[float, ...], int]]:
    """A jacketed cable is one piece; of a bundle each single; with legs and number of valves."""
    inside = printable.asbuilt.inside[cable.id]
    if not cable.bundle:
        legs = tuple(stop.meters for stop in cable.run[1:])
        what = "materials.shielded cable" if cable.shielded else "materials.cable"
        kind = printable.words(what, number=len(inside), gauge=inside[0].mark.gauge)
        yield kind, legs, len(set().union(*(served[c.name] for c in inside)))
        return
    for c in inside:
        kind = printable.words(
            "materials.single", color=printable.words.color(c.mark.word), gauge=c.mark.gauge
        )
        yield kind, c.legs, len(served[c.name])


def _valves_on(printable: Printable) -> Mapping[str, set[str]]:
    """By conductor the coils of which a lead is joined with it."""
    found: dict[str, set[str]] = defaultdict(set)
    for box in printable.asbuilt.boxes:
        for linked in box.linked:
            coils = {m.lead for m in linked.members if m.lead in printable.asbuilt.valve}
            for conductor in linked.conductors:
                found[conductor] |= coils
    return found


# ---- connectors ----------------------------------------------------------------------------


def _connectors(printable: Printable) -> Iterator[Material]:
    words, boxes = printable.words, printable.asbuilt.boxes
    counts = Counter(joint.held for box in boxes for joint in box.joints)  # empty: not known
    caps = Counter(end.mark.gauge for box in boxes for end in box.capped)
    for name, number in counts.items():
        yield _more(printable, "connectors", _connector(printable, name), number, "joints in boxes")
    for gauge, number in caps.items():
        cap = words("materials.cap", gauge=gauge)
        yield _more(printable, "connectors", cap, number, "free ends")
    outputs = 2 * sum(1 for valve in printable.asbuilt.valves if valve.decoder)
    if outputs:
        yield _more(printable, "connectors", words("materials.output"), outputs, "not joined")
    yield from _on_commons(printable)
    yield from _on_pigtails(printable)
    yield from _pigtails(printable)


def _on_commons(printable: Printable) -> Iterator[Material]:
    """Where several conductors come to C they go into one connector, and a pigtail to C."""
    words = printable.words
    found: dict[str, list[tuple[str, Terminal]]] = defaultdict(list)
    for controller in printable.asbuilt.controllers:
        for terminal in controller.terminals:
            if terminal.takes_pigtail:
                found[terminal.held].append((controller.id, terminal))
    for name, at in found.items():
        where = "; ".join(f"{each}: {' + '.join(terminal.counts)}" for each, terminal in at)
        yield Material(
            group="connectors",
            what=words("materials.pigtail", connector=_connector(printable, name)),
            quantity=len(at),
            basis=words("materials.at", wires=where),
        )


def _on_pigtails(printable: Printable) -> Iterator[Material]:
    """The connectors at controllers that pigtails bring to the terminals."""
    words = printable.words
    found: dict[str, list[Text]] = defaultdict(list)
    for controller in printable.asbuilt.controllers:
        for joint in controller.connectors:
            counts = " + ".join(joint.counts) or words("terms.not known")
            found[joint.held].append(words.joined([f"{controller.id}:", counts], " "))
    for name, at in found.items():
        yield Material(
            group="connectors",
            what=words("materials.on a pigtail", connector=_connector(printable, name)),
            quantity=len(at),
            basis=words.joined(at, "; "),
        )


def _pigtails(printable: Printable) -> Iterator[Material]:
    """By gauge and length, with the places in which the job says them."""
    words, known = printable.words, printable.asbuilt
    found: dict[tuple[str, str], dict[str, list[str]]] = {}
    places: tuple[BuiltBox | BuiltController, ...] = (*known.boxes, *known.controllers)
    for place in places:
        for pigtail in place.pigtails:
            at = found.setdefault((pigtail.gauge, pigtail.length), {})
            at.setdefault(place.id, []).append(pigtail.id)
    for (gauge, length), at in found.items():
        yield Material(
            group="connectors",
            what=words.joined((words("materials.short wire"), gauge, length)),
            quantity=sum(map(len, at.values())),
            basis="; ".join(f"{place}: {', '.join(names)}" for place, names in at.items()),
        )


def _connector(printable: Printable, name: str) -> Text:
    """With all that it is rated for."""
    words = printable.words
    if not name:
        return words("materials.unknown connector")
    rated = next(each.rating for each in printable.asbuilt.connectors if each.id == name)
    said = (words("terms.connector", name=name), words("terms.takes", conductors=rated))
    return words.joined(said)


def _more(printable: Printable, group: str, what: Said, number: int, basis: str) -> Material:
    """A tenth more, rounded up; `basis` is the name of what was counted."""
    whole = math.ceil(number * (1 + SPARE_PART) - 1e-9)
    counted = printable.words(f"materials.{basis}")
    said = printable.words("materials.a tenth more", number=number, what=counted)
    return Material(group=group, what=what, quantity=whole, basis=said)


# ---- boxes, tags, devices ------------------------------------------------------------------


def _boxes(printable: Printable) -> Iterator[Material]:
    found: dict[Text, list[str]] = defaultdict(list)
    for box in printable.asbuilt.boxes:
        if not box.buried:
            found[printable.kind(box)].append(box.id)
    for what, ids in found.items():
        yield Material(group="boxes", what=what, quantity=len(ids), basis=", ".join(ids))


def _marking(printable: Printable) -> Iterator[Material]:
    tags = len(printable.asbuilt.valve)
    boxes = sum(1 for _ in box_tags(printable))
    kinds = (
        ("valve tag", tags, "as printed"),
        ("tagged box", boxes, "several tags"),  # how many tags a box takes is decided by the stock
        ("wire flag", sum(1 for _ in flags(printable)), "as printed"),
        ("splice card", sum(1 for _ in splice_cards(printable)), "as printed"),
        ("legend", len(printable.asbuilt.controllers), "as printed"),
    )
    for what, number, basis in kinds:
        if number:
            said, counted = (
                printable.words(f"materials.{what}"),
                printable.words(f"materials.{basis}"),
            )
            yield Material(group="marking", what=said, quantity=number, basis=counted)
    yield _more(printable, "marking", printable.words("materials.tie"), tags + boxes, "tags")


def _devices(printable: Printable) -> Iterator[Material]:
    words, known, basis = (
        printable.words,
        printable.asbuilt,
        printable.words("materials.in the job"),
    )
    kinds = Counter(_coil(printable, valve) for valve in known.in_order)
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


def _coil(printable: Printable, valve: BuiltValve) -> Text:
    what = "pump start relay" if valve.kind == "relay" else valve.kind
    coil = valve.coil_id or printable.words("terms.not known")
    return printable.words("materials.coil", what=printable.words(f"terms.{what}"), coil=coil)
