"""Turn a job into what it takes: cable with slack, connectors, boxes, tags, devices."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from cardgen.cards.box_tags import box_tags
from cardgen.cards.box_wires import box_wires
from cardgen.cards.connectors import connector_for, counts_in, takes
from cardgen.cards.flags import flags
from cardgen.cards.lengths import both, in_units, usual_unit
from cardgen.cards.printable import Printable
from cardgen.cards.slack import with_slack
from cardgen.cards.splice_cards import splice_cards
from cardgen.job.model import BoxKind, Cable
from cardgen.units import Length, Metres
from cardgen.wiring.model import Load, LoadKind
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
    for cable in job.job.cables.values():
        for kind, legs, valves in _pieces(job, cable):
            pull = pulls[kind]
            pull.run += sum(leg.metres for leg in legs)
            pull.whole += with_slack(legs, valves)
            pull.valves += valves
            pull.pieces += 1
            pull.cables = {**(pull.cables or {}), cable.id: None}
    usual = usual_unit(job.job)
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


def _pieces(job: Printable, cable: Cable) -> Iterator[tuple[Text, tuple[Length, ...], int]]:
    """A jacketed cable is one piece; of a bundle each single."""
    inside = [c for c in job.facts.wiring.conductors.values() if c.cable.id == cable.id]
    served = {c.name: _valves_on(job, c.name) for c in inside}
    if not cable.singles:
        legs = tuple(stop.leg.value for stop in cable.run if stop.leg)
        what = "materials.shielded cable" if cable.shielded else "materials.cable"
        kind = job.words(what, number=len(inside), gauge=inside[0].gauge)
        yield kind, legs, len(set().union(*served.values()))
        return
    for c in inside:
        colour = job.words.colour(c.insulation.word)
        yield (
            job.words("materials.single", colour=colour, gauge=c.gauge),
            c.legs,
            len(served[c.name]),
        )


def _valves_on(job: Printable, conductor: str) -> frozenset[str]:
    """The loads of which a lead is in a joint with this conductor."""
    return job.joined_with.get(conductor, frozenset())


# ---- connectors ----------------------------------------------------------------------------


def _connectors(job: Printable) -> Iterator[Material]:
    words = job.words
    counts: Counter[str] = Counter()  # by the connector's name, empty where it is not known
    caps: Counter[str] = Counter()
    for box in job.job.boxes.values():
        wires = box_wires(job, box)
        for joint in wires.joints:
            found = counts_in(job, joint)
            held = connector_for(job, found) if found is not None else None
            counts[held[0] if held else ""] += 1
        caps.update(str(conductor.gauge) for conductor, _ in wires.capped)
    for name, number in counts.items():
        yield _more(job, "connectors", _connector(job, name), number, "joints in boxes")
    for gauge, number in caps.items():
        cap = words("materials.cap", gauge=gauge)
        yield _more(job, "connectors", cap, number, "free ends")
    outputs = 2 * sum(1 for load in job.facts.wiring.loads.values() if load.decoder)
    if outputs:
        yield _more(job, "connectors", words("materials.output"), outputs, "not joined")
    shared = [c for c, landings in job.facts.wiring.commons.items() if len(landings) > 1]
    if shared:
        what = words("materials.pigtail")
        basis = words("materials.at", controllers=", ".join(shared))
        yield Material(group="connectors", what=what, quantity=len(shared), basis=basis)


def _connector(job: Printable, name: str) -> Text:
    """With all that it is rated for."""
    words = job.words
    if not name:
        return words("materials.unknown connector")
    rated = "; ".join(takes(c) for c in job.job.connectors[name].takes)
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
    for box in job.job.boxes.values():
        kind = box.kind or BoxKind.VALVE
        if kind is not BoxKind.BURIED:
            said = job.words(f"box kinds.{kind}")
            found[", ".join(part for part in (said, box.size) if part)].append(box.id)
    for what, ids in found.items():
        yield Material(group="boxes", what=what, quantity=len(ids), basis=", ".join(ids))


def _marking(job: Printable) -> Iterator[Material]:
    tags = len(job.facts.wiring.loads)
    boxes = sum(1 for _ in box_tags(job))
    kinds = (
        ("valve tag", tags, "as printed"),
        ("tagged box", boxes, "several tags"),  # how many tags a box takes is decided by the stock
        ("wire flag", sum(1 for _ in flags(job)), "as printed"),
        ("splice card", sum(1 for _ in splice_cards(job)), "as printed"),
        ("legend", len(job.job.controllers), "as printed"),
    )
    for what, number, basis in kinds:
        if number:
            said, counted = job.words(f"materials.{what}"), job.words(f"materials.{basis}")
            yield Material(group="marking", what=said, quantity=number, basis=counted)
    yield _more(job, "marking", job.words("materials.tie"), tags + boxes, "tags")


def _devices(job: Printable) -> Iterator[Material]:
    words, basis = job.words, job.words("materials.in the job")
    kinds = Counter(_coil(job, load) for load in job.facts.wiring.loads.values())
    for what, number in kinds.items():
        yield Material(group="devices", what=what, quantity=number, basis=basis)
    others = (
        ("controller", len(job.job.controllers)),
        ("decoder", len(job.job.decoders)),
        ("surge unit", len(job.job.surge_units)),
        ("sensor", len(job.job.sensors)),
    )
    for name, number in others:
        if number:
            what = words(f"materials.{name}")
            yield Material(group="devices", what=what, quantity=number, basis=basis)


def _coil(job: Printable, load: Load) -> Text:
    what = "pump start relay" if load.kind is LoadKind.RELAY else load.kind
    coil = load.coil.id if load.coil else job.words("terms.not known")
    return job.words("materials.coil", what=job.words(f"terms.{what}"), coil=coil)
