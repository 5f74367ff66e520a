"""Turn a job into what it takes: cable with slack, connectors, boxes, tags, devices."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from cardgen.cards.box_tags import box_tags
from cardgen.cards.box_wires import box_wires
from cardgen.cards.connectors import connector_for, counts_in, takes
from cardgen.cards.facts import NOT_KNOWN, Printable
from cardgen.cards.flags import flags
from cardgen.cards.slack import in_units, usual_unit, with_slack, words
from cardgen.cards.splice_cards import splice_cards
from cardgen.job.model import BoxKind, Cable
from cardgen.units import Length, Metres
from cardgen.wiring.model import LoadKind

SPARE_PART = 0.10  # more connectors, caps and ties than are counted; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """One line of the list.

    Attributes:
        group: the part of the list it stands in.
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
        return words((self.quantity, self.other))


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
    pulls: dict[str, _Pull] = defaultdict(_Pull)
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
        run = words(in_units(Metres(pull.run), usual, up=False))
        quantity, other = in_units(Metres(pull.whole), usual, up=True)
        pieces = f"{pull.pieces} pieces" if pull.pieces > 1 else "1 piece"
        basis = f"{', '.join(pull.cables or ())}: {pieces}, {run}, {pull.valves} at valves"
        yield Material(group="cables", what=kind, quantity=quantity, other=other, basis=basis)


def _pieces(job: Printable, cable: Cable) -> Iterator[tuple[str, tuple[Length, ...], int]]:
    """A jacketed cable is one piece; of a bundle each single."""
    inside = [c for c in job.facts.wiring.conductors.values() if c.cable.id == cable.id]
    served = {c.name: _valves_on(job, c.name) for c in inside}
    if not cable.singles:
        legs = tuple(stop.leg.value for stop in cable.run if stop.leg)
        shield = ", shielded" if cable.shielded else ""
        kind = f"cable, {len(inside)} × {inside[0].gauge}{shield}"
        yield kind, legs, len(set().union(*served.values()))
        return
    for c in inside:
        yield f"single, {c.insulation.word}, {c.gauge}", c.legs, len(served[c.name])


def _valves_on(job: Printable, conductor: str) -> frozenset[str]:
    """The loads of which a lead is in a joint with this conductor."""
    return job.joined_with.get(conductor, frozenset())


# ---- connectors ----------------------------------------------------------------------------


def _connectors(job: Printable) -> Iterator[Material]:
    counts: Counter[str] = Counter()
    caps: Counter[str] = Counter()
    for box in job.job.boxes.values():
        wires = box_wires(job, box)
        for joint in wires.joints:
            found = counts_in(job, joint)
            held = connector_for(job, found) if found is not None else None
            counts[f"connector {held[0]}" if held else f"connector, {NOT_KNOWN}"] += 1
        caps.update(str(conductor.gauge) for conductor, _ in wires.capped)
    ratings = {
        f"connector {each.id}": "takes " + "; ".join(takes(c) for c in each.takes)
        for each in job.job.connectors.values()
    }
    for name, number in counts.items():
        what = ", ".join(part for part in (name, ratings.get(name, "")) if part)
        yield _more("connectors", what, number, "joints in boxes")
    for gauge, number in caps.items():
        yield _more(
            "connectors", f"sealed cap for one conductor, {gauge}", number, "free ends in boxes"
        )
    outputs = 2 * sum(1 for load in job.facts.wiring.loads.values() if load.decoder)
    if outputs:
        what = f"connector at a decoder's output, class {NOT_KNOWN}"
        yield _more("connectors", what, outputs, "ends that the job does not join")
    shared = [c for c, landings in job.facts.wiring.commons.items() if len(landings) > 1]
    if shared:
        what = "connector with pigtail, for the commons on one terminal"
        basis = f"at {', '.join(shared)}; class {NOT_KNOWN}"
        yield Material(group="connectors", what=what, quantity=len(shared), basis=basis)


def _more(group: str, what: str, number: int, basis: str) -> Material:
    """A tenth more, rounded up."""
    whole = math.ceil(number * (1 + SPARE_PART) - 1e-9)
    return Material(group=group, what=what, quantity=whole, basis=f"{number} {basis}, + 10 %")


# ---- boxes, tags, devices ------------------------------------------------------------------


def _boxes(job: Printable) -> Iterator[Material]:
    found: dict[str, list[str]] = defaultdict(list)
    for box in job.job.boxes.values():
        kind = box.kind or BoxKind.VALVE
        if kind is not BoxKind.BURIED:
            found[", ".join(part for part in (kind, box.size) if part)].append(box.id)
    for what, ids in found.items():
        yield Material(group="boxes", what=what, quantity=len(ids), basis=", ".join(ids))


def _marking(job: Printable) -> Iterator[Material]:
    tags = len(job.facts.wiring.loads)
    boxes = sum(1 for _ in box_tags(job))
    kinds = (
        ("valve tag", tags),
        ("box tag", boxes),
        ("wire flag", sum(1 for _ in flags(job))),
        ("splice card, in a bag", sum(1 for _ in splice_cards(job))),
        ("door legend, in a pocket", len(job.job.controllers)),
    )
    for what, number in kinds:
        if number:
            yield Material(group="marking", what=what, quantity=number, basis="as printed")
    ties = _more("marking", "tie, black, stable in sunlight", tags + boxes, "tags")
    yield ties


def _devices(job: Printable) -> Iterator[Material]:
    loads = job.facts.wiring.loads.values()
    kinds = Counter(
        f"{'pump start relay' if x.kind is LoadKind.RELAY else x.kind}, "
        f"coil {x.coil.id if x.coil else NOT_KNOWN}"
        for x in loads
    )
    for what, number in kinds.items():
        yield Material(group="devices", what=what, quantity=number, basis="as in the job")
    others = (
        ("controller", len(job.job.controllers)),
        ("decoder", len(job.job.decoders)),
        ("surge unit with its ground", len(job.job.surge_units)),
        ("sensor", len(job.job.sensors)),
    )
    for what, number in others:
        if number:
            yield Material(group="devices", what=what, quantity=number, basis="as in the job")
