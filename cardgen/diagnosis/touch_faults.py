"""Wires that touch: a hot and its common, or two hots, along a leg that they share or in a box.

Where along the leg, and with how many ohms between, one value cannot tell apart: a dead short far
off reads as a poor one nearer by.  So a place is told as "no farther than".
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations
from typing import NamedTuple

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.hypothesis import Hypothesis, Place, Question, log_of_range, weight_of
from cardgen.diagnosis.yard import NetworkChange, NetworkEdge, along, between
from cardgen.light_dataclass import replace
from cardgen.results import OL, Kind

_PARTS = (0.0, 0.25, 0.5, 0.75, 1.0)  # of a leg
# Ohms between two wires that touch, bare or through damp; assumed.
_MOST_BETWEEN = 100.0
_OHMS_BETWEEN = 40.0  # with so many it is a third as likely as with none
_LITTLE = 1.5  # standard deviations: fewer and it may as well be any
_MOST_LOW = 6  # values that two touches and a little more explain
_FITS = 2.0  # half a square of standard deviations: a place is possible


class _Spot(NamedTuple):
    """A place where two wires would give what was read.

    Attributes:
        ohms: between them; the fewer, the likelier.
    """

    hot: NetworkEdge
    other: NetworkEdge
    part: float
    ohms: float
    misfit: float
    expected: Mapping[int, float]
    change: NetworkChange


def touch_faults(question: Question) -> Iterator[Hypothesis]:
    low = [index for index in range(len(question.evidence)) if question.is_low(index)]
    if len(low) > _MOST_LOW:
        return
    for index in low:
        yield from _on_common(question, index)
    for one, other in combinations(low, 2):
        yield from _hots(question, one, other)
    for one in low:
        for other in _a_little_low(question):
            yield from _hots(question, one, other)


def _a_little_low(question: Question) -> Iterator[int]:
    """Values that are not off and have less than they should: through many ohms they may touch."""
    for index in range(len(question.evidence)):
        if question.at_controller(index) and index not in question.off:
            expected = question.fit.expected(index)
            if expected and question.fit.left(index) < -_LITTLE * expected[1]:
                yield index


def _on_common(question: Question, index: int) -> Iterator[Hypothesis]:
    each = question.evidence[index]
    hots, commons = _own(question, index)
    pairs = list(_side_by_side(question, hots, commons))
    indices = _of_hots(question, index)
    if question.is_hopeless(indices, weight_of(FaultKind.HOT_ON_COMMON, len(pairs) + 1)):
        return
    spots = list(_spots(question, indices, pairs))
    yield from _hypothesis(question, FaultKind.HOT_ON_COMMON, each.valves, spots)


def _hots(question: Question, one: int, other: int) -> Iterator[Hypothesis]:
    first, second = question.evidence[one], question.evidence[other]
    if first.probe.two != second.probe.two:
        return
    pairs = list(_side_by_side(question, _own(question, one)[0], _own(question, other)[0]))
    indices = _of_hots(question, one, other)
    if question.is_hopeless(indices, weight_of(FaultKind.HOTS_TOUCH, len(pairs) + 1)):
        return
    spots = list(_spots(question, indices, pairs))
    valves = (first.valves[0], second.valves[0])
    yield from _hypothesis(question, FaultKind.HOTS_TOUCH, valves, spots)


def _of_hots(question: Question, *indices: int) -> list[int]:
    """All values that were measured on these hots, at the controller or in a box."""
    group, evidence = question.yard.group, question.evidence
    hots = {group.get(evidence[index].probe.one) for index in indices}
    return [
        index
        for index, each in enumerate(evidence)
        if each.probe.coil < 0 and (each.sound < OL or each.kind is Kind.COIL_WIRES)
        if not hots.isdisjoint((group.get(each.probe.one), group.get(each.probe.two)))
    ]


def _own(question: Question, index: int) -> tuple[list[NetworkEdge], list[NetworkEdge]]:
    """Legs of all metal at the terminal, and of all metal of the common."""
    yard, probe = question.yard, question.evidence[index].probe
    groups = [yard.group.get(node, -1) for node in (probe.one, probe.two)]
    legs = [[e for e in yard.in_group.get(group, ()) if e.conductor] for group in groups]
    if legs[0] and groups[0] != groups[1]:
        return legs[0], legs[1]
    return [], []


def _side_by_side(
    question: Question, ones: Sequence[NetworkEdge], others: Sequence[NetworkEdge]
) -> Iterator[tuple[NetworkEdge, NetworkEdge]]:
    """Legs of one cable between the same places; else legs that meet in a place."""
    yard = question.yard
    at: dict[tuple[str, str, str], list[NetworkEdge]] = {}
    for edge in others:
        at.setdefault(yard.cable_leg(edge), []).append(edge)
    meeting: dict[str, NetworkEdge] = {}
    for edge in others:
        meeting.setdefault(edge.start, edge)
        meeting.setdefault(edge.end, edge)
    for edge in ones:
        beside = at.get(yard.cable_leg(edge), ())
        yield from ((edge, other) for other in beside)
        if not beside:
            for place in (edge.start, edge.end):
                if place in meeting:
                    yield edge, meeting[place]


def _spots(
    question: Question, indices: Sequence[int], pairs: Iterable[tuple[NetworkEdge, NetworkEdge]]
) -> Iterator[_Spot]:
    yard = question.yard
    for hot, other in pairs:
        together = yard.cable_leg(hot) == yard.cable_leg(other)
        parts: Sequence[tuple[float, float]]
        if together:
            parts = [(part, part) for part in _PARTS if part != _inward_end(question, hot)]
        else:
            shared = hot.start if hot.start in (other.start, other.end) else hot.end
            parts = [(float(hot.end == shared), float(other.end == shared))]
        for part, beside in parts:
            yield _spot(question, indices, (hot, part), (other, beside))


def _inward_end(question: Question, edge: NetworkEdge) -> float | None:
    """The part at which the leg before it ends; None where there is none, at a controller."""
    outward = _leads_outward(question, edge)
    near = edge.start if outward else edge.end
    if near in question.yard.asbuilt.controller:
        return None
    return 0.0 if outward else 1.0


def _spot(
    question: Question,
    indices: Sequence[int],
    hot: tuple[NetworkEdge, float],
    other: tuple[NetworkEdge, float],
) -> _Spot:
    one, two = along(*hot), along(*other)
    expected = question.by_ohms_between(indices, one, two)
    ohms = 0.0
    if any(read < question.evidence[i].value for i, read in expected(0.0).items()):
        ohms = question.best_ohms(expected, 0.05, _MOST_BETWEEN)
    read = expected(ohms)
    change = between(one, two, max(ohms, 1e-3))
    return _Spot(hot[0], other[0], hot[1], ohms, question.misfit(read), read, change)


def _hypothesis(
    question: Question, kind: FaultKind, valves: tuple[str, ...], spots: Sequence[_Spot]
) -> Iterator[Hypothesis]:
    """All places that fit about as well as the best; those with fewer ohms between are first."""
    if not spots:
        return
    best = min(spots, key=_rank)
    if best.misfit == math.inf or best.misfit > 40:
        return
    fitting = [s for s in spots if s.misfit <= best.misfit + _FITS and s.ohms < 0.9 * _MOST_BETWEEN]
    fitting = sorted(fitting or [best], key=_rank)
    share = len(fitting) / max(len(spots), 1)
    sites = _sites(question, fitting)
    # A touch may read anything from none to all of the ohms: what was read is a small part.
    wholes = [e.sound for e in map(question.evidence.__getitem__, best.expected) if e.sound < OL]
    spread = question.spread(best.expected)
    narrow = log_of_range(spread, max(wholes))
    fewer = -best.ohms / _OHMS_BETWEEN
    yield Hypothesis(
        fault=SuspectedFault(kind=kind, valves=valves, sites=sites, ohms=best.ohms),
        expected=best.expected,
        log_weight=weight_of(kind, max(len(spots) / len(_PARTS), 1.0) * share) + narrow + fewer,
        changes=(best.change,),
        places=tuple(Place(_sites(question, [s])[0], (s.change,)) for s in fitting),
    )


def _rank(spot: _Spot) -> tuple[float, float]:
    return (round(spot.misfit + spot.ohms / _OHMS_BETWEEN, 6), spot.ohms)


def _sites(question: Question, spots: Sequence[_Spot]) -> tuple[SuspectSite, ...]:
    """Leg by leg, from its start outward, between the parts that fit."""
    by_leg: dict[int, list[_Spot]] = {}
    for spot in spots:
        by_leg.setdefault(spot.hot.number, []).append(spot)
    found = []
    for of_leg in by_leg.values():
        edge = of_leg[0].hot
        meters = question.yard.meters(edge)
        parts = [spot.part for spot in of_leg]
        site = SuspectSite(
            conductor=edge.conductor,
            start=edge.start,
            end=edge.end,
            least_m=max(min(parts) - 0.25, 0.0) * meters,
            most_m=min(max(parts) + 0.25, 1.0) * meters,
        )
        if not _leads_outward(question, edge):
            least, most = site.least_m or 0.0, site.most_m or 0.0
            site = replace(
                site, start=edge.end, end=edge.start, least_m=meters - most, most_m=meters - least
            )
        found.append(site)
    return tuple(found)


def _leads_outward(question: Question, edge: NetworkEdge) -> bool:
    """By the current of a value through it; without one as it is written."""
    through = question.through.get(edge.number)
    return through is None or through[0][1] > 0
