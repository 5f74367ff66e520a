"""What carries nothing, or has ohms more or fewer: conductors, splices, contacts, coils, lengths.

Edges through which the same values have the same current cannot be told apart by ohms: they are
one hypothesis with all their places.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence

from cardgen.diagnosis.coil_faults import coil_faults
from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.hypothesis import (
    Expected,
    Hypothesis,
    Place,
    Question,
    log_narrowed,
    sites_of,
    weight_of,
)
from cardgen.diagnosis.weights import (
    LEAST_EXTRA_OHMS,
    LOG_WEIGHT,
    MOST_EXTRA_OHMS,
    PER_LEG,
    WHOLE_CURRENT,
)
from cardgen.diagnosis.yard import NetworkChange, NetworkEdge, in_series, opened
from cardgen.results import OL

Affected = tuple[tuple[int, float], ...]


def series_faults(question: Question) -> Iterator[Hypothesis]:
    for affected, edges in _alike(question).items():
        metal = [edge for edge in edges if not edge.valve]
        changed = [index for index, _ in affected]
        likeliest = max(LOG_WEIGHT.values()) + math.log(2 * len(edges) + 1)
        if _may_matter(question, affected) and not question.is_hopeless(changed, likeliest):
            if metal:
                yield from _in_metal(question, affected, metal)
            for edge in edges:
                if edge.valve:
                    yield from coil_faults(question, changed, edge)
    yield from _terminal_open(question)


def _alike(question: Question) -> dict[Affected, list[NetworkEdge]]:
    """Edges by the values whose current they carry."""
    found: dict[Affected, list[NetworkEdge]] = defaultdict(list)
    for number, through in question.through.items():
        key = tuple((index, round(abs(amperes), 5)) for index, amperes in through)
        found[key].append(question.yard.edges[number])
    return found


def _may_matter(question: Question, affected: Affected) -> bool:
    """Most of its values are off; or it is small and hides in many of them."""
    off = [share for index, share in affected if index in question.off]
    if off:
        good = [s for i, s in affected if i not in question.off and s > 0.9 * max(off)]
        return len(off) >= len(good)
    return len(affected) > 2 and not question.off and not question.before


# ---- conductors, splices and contacts ------------------------------------------------------


def _in_metal(
    question: Question, affected: Affected, edges: Sequence[NetworkEdge]
) -> Iterator[Hypothesis]:
    contacts = {sensor.id for sensor in question.yard.asbuilt.sensors}
    for edge in edges:
        if edge.link in contacts:
            yield _open(question, affected, edge, [edge], FaultKind.CONTACT)
    plain = [edge for edge in edges if edge.link not in contacts]
    if plain:
        yield _open(question, affected, plain[0], plain, FaultKind.OPEN)
        resistive = _resistive(question, affected, plain)
        if resistive is not None:
            yield resistive


def _open(
    question: Question,
    affected: Affected,
    edge: NetworkEdge,
    edges: Sequence[NetworkEdge],
    kind: FaultKind,
) -> Hypothesis:
    change, outward = opened(edge), _outward(question, edges)
    expected = {
        index: OL if share > WHOLE_CURRENT else question.reading(index, [change])
        for index, share in affected
    }
    name = edge.link if kind is FaultKind.CONTACT else ""
    return Hypothesis(
        fault=SuspectedFault(
            kind=kind,
            valves=question.valves_of(index for index, _ in affected),
            sites=(_strip(edge),) if name else sites_of(edges, outward),
            name=name,
        ),
        expected=expected,
        log_weight=weight_of(kind, _count(question, edges, outward)),
        changes=(change,),
        places=_places(question, edges, opened),
    )


def _strip(edge: NetworkEdge) -> SuspectSite:
    return SuspectSite(conductor="", start=edge.start, end=edge.end)


def _resistive(
    question: Question, affected: Affected, edges: Sequence[NetworkEdge]
) -> Hypothesis | None:
    edge = edges[0]

    by_whole = question.by_ohms_in([index for index, _ in affected], edge)

    def expected(ohms: float) -> Mapping[int, float]:
        return by_whole(edge.ohms + ohms)

    ohms = _best_extra(question, affected, expected)
    if ohms is None:
        return None
    outward = _outward(question, edges)
    spread = question.spread([index for index, _ in affected])
    narrowed = log_narrowed(spread, ohms, MOST_EXTRA_OHMS / LEAST_EXTRA_OHMS)
    return Hypothesis(
        fault=SuspectedFault(
            kind=FaultKind.RESISTIVE,
            valves=question.valves_of(index for index, _ in affected),
            sites=sites_of(edges, outward),
            ohms=ohms,
        ),
        expected=expected(ohms),
        log_weight=weight_of(FaultKind.RESISTIVE, _count(question, edges, outward)) + narrowed,
        changes=(in_series(edge, ohms),),
        places=_places(question, edges, lambda other: in_series(other, ohms)),
    )


def _places(
    question: Question, edges: Sequence[NetworkEdge], change: Callable[[NetworkEdge], NetworkChange]
) -> tuple[Place, ...]:
    outward = _outward(question, edges)
    sites = [sites_of([edge], outward)[0] if edge.conductor else _strip(edge) for edge in edges]
    return tuple(Place(site, (change(e),)) for site, e in zip(sites, edges, strict=True))


def _best_extra(question: Question, affected: Affected, expected: Expected) -> float | None:
    """Ohms more that fit best; None where the values do not have more."""
    finite = tuple((index, share) for index, share in affected if question.is_finite(index))
    if not finite:
        return None
    if all(share > WHOLE_CURRENT for _, share in finite):
        return max(
            (ohms for ohms in _means(question, finite) if ohms > LEAST_EXTRA_OHMS),
            key=lambda ohms: question.fit.log_likelihood(expected(ohms)),
            default=None,
        )
    if all(question.fit.left(index) <= 0 for index, _ in finite):
        return None
    return question.best_ohms(expected, LEAST_EXTRA_OHMS, MOST_EXTRA_OHMS)


def _means(question: Question, finite: Affected) -> Iterator[float]:
    """With the batch as fitted from all values, as the job says it, and half way."""
    weights, fitted, raw = 0.0, 0.0, 0.0
    for index, _ in finite:
        each = question.evidence[index]
        weight = 1 / each.variance(each.value)
        weights += weight
        fitted += weight * question.fit.left(index)
        raw += weight * (each.value - each.sound)
    yield from (fitted / weights, raw / weights, (fitted + raw) / weights / 2)


def _count(question: Question, edges: Sequence[NetworkEdge], outward: Mapping[int, bool]) -> float:
    """Splices and legs; a splice belongs to the leg that comes to it."""
    spliced = question.yard.spliced
    far = ((e.conductor, e.end if outward[e.number] else e.start) for e in edges if e.conductor)
    legs = sum(1 for edge in edges if edge.conductor)
    return sum(end in spliced for end in far) + PER_LEG * legs + (len(edges) - legs)


def _outward(question: Question, edges: Sequence[NetworkEdge]) -> dict[int, bool]:
    """By number, whether an edge is written from the controller outward.

    The meter's current goes out on the hot and comes back on the common.
    """
    found: dict[int, bool] = {}
    group = question.yard.group
    for edge in edges:
        index, amperes = question.through[edge.number][0]
        on_hot = group[edge.one] == group.get(question.evidence[index].probe.one)
        found[edge.number] = (amperes > 0) == on_hot
    return found


# ---- all of C ------------------------------------------------------------------------------


def _terminal_open(question: Question) -> Iterator[Hypothesis]:
    """Several commons land on C, and all that is measured against it is open."""
    by_common: dict[int, list[int]] = defaultdict(list)
    for index in range(len(question.evidence)):
        if question.at_controller(index):
            by_common[question.evidence[index].probe.two].append(index)
    for common, indices in by_common.items():
        at_c = [e for e in question.yard.edges if e.conductor and common in (e.one, e.two)]
        dead = all(question.evidence[index].is_open for index in indices)
        if dead and len(at_c) > 1 and not question.off.isdisjoint(indices):
            valve = question.yard.asbuilt.valve[question.evidence[indices[0]].valves[0]]
            at = valve.controller
            yield Hypothesis(
                fault=SuspectedFault(
                    kind=FaultKind.OPEN,
                    valves=question.valves_of(indices),
                    sites=(SuspectSite(conductor="", start=at, end=at),),
                ),
                expected=dict.fromkeys(indices, OL),
                log_weight=weight_of(FaultKind.OPEN),
                changes=tuple(map(opened, at_c)),
            )
