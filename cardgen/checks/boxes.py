"""Check boxes and the joints in them: what lies where, what fits into a connector."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator

from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.box_faults import (
    BOX_TOO_SMALL,
    BOX_WITHOUT_VALVES,
    CONNECTOR_OVERFILLED,
    JOINT_WITHOUT_BOX,
)
from cardgen.job.job_parts import BoxKind, Combination
from cardgen.problems import Problem
from cardgen.trade.copper import resistance
from cardgen.units import Gauge, GaugeSystem
from cardgen.wiring.wiring_parts import Joint, Load, LoadKind

# A round box as wide as that holds one valve with its splices; common practice, no source.
WIDEST_FOR_ONE_VALVE = 10.0  # in
_ROUND = re.compile(r"([0-9]+(?:\.[0-9]+)?)\s*-?(in|inch|inches|\"|cm|mm)\s*-?round", re.IGNORECASE)
_PER_INCH = {"cm": 2.54, "mm": 25.4}


def boxes_without_valves(facts: Facts) -> Iterator[Problem]:
    """A valve box in which no valve is; a splice or pull box says so by its kind."""
    busy = {load.box for load in facts.wiring.loads.values()}
    busy |= {d.box.value for d in facts.job.decoders.values()}
    busy |= {c.box.value for c in facts.job.controllers.values() if c.box}
    unread = facts.job.reported | facts.wiring.reported
    for box in facts.job.boxes.values():
        if box.kind in (None, BoxKind.VALVE) and box.id not in busy and not unread:
            yield BOX_WITHOUT_VALVES.at(box.span, box=box.id)


def boxes_too_small(facts: Facts) -> Iterator[Problem]:
    """Several valves in a round box that holds one; one for splices alone may be as small."""
    for box in facts.job.boxes.values():
        loads = facts.loads_in.get(box.id, ())
        valves = sum(load.kind is not LoadKind.RELAY for load in loads)
        width = _round_width(box.size or "")
        if valves > 1 and width is not None and width <= WIDEST_FOR_ONE_VALVE:
            yield BOX_TOO_SMALL.at(box.span, box=box.id, size=box.size, count=valves)


def _round_width(size: str) -> float | None:
    """In inches, of `10 in round`; None where the size does not say that it is round."""
    found = _ROUND.search(size)
    return float(found[1]) / _PER_INCH.get(found[2].lower(), 1.0) if found else None


def joints_without_box(facts: Facts) -> Iterator[Problem]:
    """A splice lies in the ground, where nobody finds it again."""
    for box in facts.job.boxes.values():
        if box.kind is BoxKind.BURIED:
            variant = "" if len(box.ties or ()) >= 2 else "not measured"
            yield JOINT_WITHOUT_BOX.at(box.span, variant=variant, splice=box.id)


def connectors(facts: Facts) -> Iterator[Problem]:
    """More conductors in one joint, or other gauges, than any connector of the job takes."""
    takes = [c for connector in facts.job.connectors.values() for c in connector.takes]
    if not takes:
        return
    overfilled: dict[str, list[Joint]] = {}
    for joint in facts.wiring.joints:
        if joint.at not in facts.job.boxes or len(joint.ends) < 2:
            continue
        if not joint.as_built and _claimed_twice(facts, joint):
            continue  # nobody made such a joint: one conductor was written for two things
        counts = gauges_in(facts, joint)
        if counts is None:
            continue
        if not any(fits(combination, counts) for combination in takes):
            what = " + ".join(f"{n} x {gauge}" for gauge, n in counts.items())
            overfilled.setdefault(what, []).append(joint)
    for what, joints in overfilled.items():
        first = min(joints, key=lambda joint: joint.span)
        others = dict.fromkeys(f"'{j.at}'" for j in joints if j.at != first.at)
        lead, wire = _leads_of_another_system(facts, first)
        yield CONNECTOR_OVERFILLED.at(
            first.span,
            variant="leads in AWG" if lead and wire else "",
            box=first.at,
            wires=what,
            ends=_ends_in(facts, first),
            alike=f", as do joints in {english_list(others)}" if others else "",
            pigtail=pigtail_words(first.at, _thickest(gauges_in(facts, first) or ())),
            lead=lead,
            wire=wire,
        )


def _thickest(gauges: Iterable[Gauge]) -> Gauge | None:
    """So that a pigtail carries what the conductors in a joint do."""
    return min(gauges, key=resistance, default=None)


def pigtail_words(at: str, gauge: Gauge | None) -> str:
    """How the file describes a pigtail."""
    return f"'pigtails: {{PT-1: {{at: {at}, gauge: {gauge or '...'}}}}}'"


def _leads_of_another_system(facts: Facts, joint: Joint) -> tuple[Gauge | None, Gauge | None]:
    """A lead in AWG and a wire in mm2: that lead may be only what is taken when none is written."""
    loads, conductors = facts.wiring.loads, facts.wiring.conductors
    coils = (loads[end.of].coil for end in joint.ends if end.of in loads)
    leads = [coil.leads if coil else None for coil in coils]
    wires = [conductors[end.of].gauge for end in joint.ends if end.of in conductors]
    lead = next((g for g in leads if g is not None and g.system is GaugeSystem.AWG), None)
    wire = next((g for g in wires if g is not None and g.system is GaugeSystem.MM2), None)
    return lead, wire


def _claimed_twice(facts: Facts, joint: Joint) -> bool:
    spares = facts.job.spares.keys()
    return any(len(facts.claimants(end) - spares) > 1 for end in joint.ends)


def _ends_in(facts: Facts, joint: Joint) -> str:
    """`K1 white in, K1 white out, A1, A2`."""
    bare = facts.wiring.loads.keys() | facts.job.pigtails.keys()
    names = [e.of if e.of in bare else f"{e.of} {e.side}" for e in joint.ends]
    return ", ".join(names if len(names) <= 10 else [*names[:9], f"{len(names) - 9} more"])


def gauges_in(facts: Facts, joint: Joint) -> dict[Gauge, int] | None:
    """How many conductors of each gauge are in a joint; coil leads count.

    None where the gauge of one is not known.
    """
    counts: Counter[Gauge] = Counter()
    for end in joint.ends:
        conductor = facts.wiring.conductors.get(end.of)
        load = facts.wiring.loads.get(end.of)
        if conductor or load:
            gauge = conductor.gauge if conductor else _leads(load)
            if gauge is None:
                return None
            counts[gauge] += 1
        elif end.of in facts.job.decoders:
            counts[facts.job.decoders[end.of].leads] += 1
        elif end.of in facts.job.pigtails:
            counts[facts.job.pigtails[end.of].gauge] += 1
    return dict(sorted(counts.items(), key=lambda pair: (pair[0].system, pair[0].size)))


def _leads(load: Load | None) -> Gauge | None:
    return load.coil.leads if load and load.coil else None


def fits(combination: Combination, counts: dict[Gauge, int]) -> bool:
    parts = {gauge: (least, most) for gauge, least, most in combination.parts}
    if any(gauge not in parts for gauge in counts):
        return False
    return all(least <= counts.get(gauge, 0) <= most for gauge, (least, most) in parts.items())
