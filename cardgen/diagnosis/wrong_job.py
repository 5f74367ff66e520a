"""The wires are good and the job is wrong: a length, a gauge, a box."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.hypothesis import Hypothesis, Question, log_narrowed, weight_of
from cardgen.diagnosis.yard import NetworkEdge
from cardgen.results import OL

_LEAST_OHMS = 1.0  # by which a length or a gauge must be wrong to be seen
# Ohms of one gauge against those of another, AWG steps of two and four: 2 numbers are 1.59.
_GAUGES = (0.25, 0.4, 0.63, 1.59, 2.53, 4.0)


def wrong_job(question: Question) -> Iterator[Hypothesis]:
    yield from _wrong_length(question)
    yield from _wrong_gauge(question)
    yield from _wrong_box(question)


def _shares(question: Question, edges: list[NetworkEdge]) -> dict[int, float]:
    """By index of the values the ohms that these edges have in it."""
    found: dict[int, float] = defaultdict(float)
    for edge in edges:
        for index, amperes in question.through.get(edge.number, ()):
            found[index] += edge.ohms * amperes**2
    return dict(found)


def _is_worth(question: Question, shares: Mapping[int, float]) -> bool:
    """All that is off is among them, and there is no OL: lengths make none."""
    finite = all(question.is_finite(index) for index in shares)
    if question.before:
        return bool(shares) and finite and not question.off.isdisjoint(shares)
    return bool(shares) and finite and question.off <= shares.keys()


def _wrong_length(question: Question) -> Iterator[Hypothesis]:
    """One leg of a cable is longer or shorter than the job says."""
    yard = question.yard
    for (cable, start, end), edges in yard.in_cable_leg.items():
        shares = _shares(question, edges)
        if not _is_worth(question, shares):
            continue
        weights = {i: 1 / question.evidence[i].variance(question.evidence[i].sound) for i in shares}
        across = sum(w * shares[i] ** 2 for i, w in weights.items())
        part = sum(w * shares[i] * question.fit.left(i) for i, w in weights.items()) / across
        most = max(shares.values())
        if part * most < _LEAST_OHMS and not (-0.9 < part < 0 and part * most < -_LEAST_OHMS):
            continue
        meters = yard.meters(edges[0])
        spread = 1 / across**0.5
        yield Hypothesis(
            fault=SuspectedFault(
                kind=FaultKind.WRONG_LENGTH,
                valves=question.valves_of(shares),
                sites=(SuspectSite(conductor="", start=start, end=end),),
                ohms=part * most,
                name=cable,
            ),
            expected={i: question.evidence[i].sound + part * share for i, share in shares.items()},
            log_weight=weight_of(FaultKind.WRONG_LENGTH)
            + log_narrowed(spread * most, abs(part) * most, 200.0)
            - max(0.0, part * meters - 300.0) / 300.0,
        )


def _wrong_gauge(question: Question) -> Iterator[Hypothesis]:
    by_cable: dict[str, list[NetworkEdge]] = defaultdict(list)
    for (cable, _, _), edges in question.yard.in_cable_leg.items():
        by_cable[cable] += edges
    for cable, edges in by_cable.items():
        shares = _shares(question, edges)
        if not _is_worth(question, shares):
            continue
        places = question.yard.asbuilt.cable[cable].places
        for factor in _GAUGES:
            if abs(factor - 1) * max(shares.values()) < _LEAST_OHMS:
                continue
            expected = {
                i: question.evidence[i].sound + (factor - 1) * share for i, share in shares.items()
            }
            if question.misfit(expected) > question.misfit(
                {i: question.evidence[i].sound for i in shares}
            ):
                continue
            yield Hypothesis(
                fault=SuspectedFault(
                    kind=FaultKind.WRONG_GAUGE,
                    valves=question.valves_of(shares),
                    sites=(SuspectSite(conductor="", start=places[0], end=places[-1]),),
                    ohms=factor,
                    name=cable,
                ),
                expected=expected,
                log_weight=weight_of(FaultKind.WRONG_GAUGE) - 1.5,
            )


def _wrong_box(question: Question) -> Iterator[Hypothesis]:
    """A valve reads what it would in another box of its cable."""
    yard = question.yard
    wires = {
        each.valves[0]: (each.probe.two, each.sound - sum(ohms for _, ohms in each.coils))
        for index, each in enumerate(question.evidence)
        if question.is_of_one_coil(index) and each.sound < OL
    }
    for one in sorted(question.off):
        each = question.evidence[one]
        if each.value == OL or each.valves[0] not in wires or not question.is_of_one_coil(one):
            continue
        valve = yard.asbuilt.valve[each.valves[0]]
        common, own = wires[valve.id]
        boxes: dict[str, float] = {}
        for name, (at, wire) in wires.items():
            other = yard.asbuilt.valve[name]
            cables = {each.hot.cable if each.hot else "" for each in (other, valve)}
            if at == common and other.box != valve.box and len(cables) == 1:
                boxes.setdefault(other.box, wire)
        for box, wire in boxes.items():
            expected = {one: each.sound - own + wire}
            if abs(wire - own) > 2 * _LEAST_OHMS and question.misfit(expected) < 5:
                yield Hypothesis(
                    fault=SuspectedFault(
                        kind=FaultKind.WRONG_BOX,
                        valves=(valve.id,),
                        sites=(SuspectSite(conductor="", start=box, end=box),),
                        name=box,
                    ),
                    expected=expected,
                    log_weight=weight_of(FaultKind.WRONG_BOX),
                )
