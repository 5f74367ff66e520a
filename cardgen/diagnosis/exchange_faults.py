"""Wires on the wrong terminal or the wrong conductor; a job that says the wrong box or length."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from itertools import combinations

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.hypothesis import Hypothesis, Question, log_narrowed, weight_of
from cardgen.diagnosis.yard import OL, NetworkChange, NetworkEdge, Probe, between, opened, point

_APART = 1.5  # standard deviations by which two stations must differ to be told apart by ohms
_ANYTHING = -4.0  # log of how little of all values a wrong one is
_LEAST_OHMS = 1.0  # by which a length or a gauge must be wrong to be seen
# Ohms of one gauge against those of another, AWG steps of two and four: 2 numbers are 1.59.
_GAUGES = (0.25, 0.4, 0.63, 1.59, 2.53, 4.0)


def exchange_faults(question: Question) -> Iterator[Hypothesis]:
    yield from _exchanged(question)
    yield from _common_exchanged(question)
    yield from _one_common_exchanged(question)
    yield from _wrong_return(question)
    yield from _other_common(question)
    yield from _wrong_length(question)
    yield from _wrong_gauge(question)
    yield from _wrong_box(question)
    yield from _no_output(question)
    yield from _wrong_reading(question)


def _at(question: Question, index: int) -> SuspectSite:
    """At the strip of its controller."""
    valve = question.yard.asbuilt.valve[question.evidence[index].valves[0]]
    return SuspectSite(conductor="", start=valve.controller, end=valve.controller)


def _exchanged(question: Question) -> Iterator[Hypothesis]:
    """Two stations of one controller, each reads what belongs to the other.

    Two of the same ohms are thought of only where one ran in the place of the other.
    """
    evidence = question.evidence
    seen = {frozenset(walk) for walk in question.walks}
    readable = [index for index in range(len(evidence)) if question.at_controller(index)]
    for one, other in combinations(readable, 2):
        first, second = evidence[one], evidence[other]
        is_seen = frozenset((first.valves[0], second.valves[0])) in seen
        is_off = one in question.off or other in question.off
        if not (is_seen or is_off) or first.probe.two != second.probe.two:
            continue
        if OL in (first.sound, second.sound):
            continue
        apart = abs(first.sound - second.sound) ** 2 > _APART**2 * first.variance(first.sound)
        if is_seen or apart:
            expected = {one: second.sound, other: first.sound}
            if question.misfit(expected) > 14:
                continue
            nodes = first.probe.one, second.probe.one
            yield Hypothesis(
                fault=SuspectedFault(
                    kind=FaultKind.EXCHANGED,
                    valves=(first.valves[0], second.valves[0]),
                    sites=(_at(question, one),),
                ),
                expected=expected,
                log_weight=weight_of(FaultKind.EXCHANGED),
                exchanged={nodes[0]: nodes[1], nodes[1]: nodes[0]},
            )


def _common_exchanged(question: Question) -> Iterator[Hypothesis]:
    """Every station of the controller then reads its own coil and that of the hot on C."""
    by_common: dict[int, list[int]] = defaultdict(list)
    for index, each in enumerate(question.evidence):
        if question.at_controller(index):
            by_common[each.probe.two].append(index)
    for common, indices in by_common.items():
        if len(question.off.intersection(indices)) * 3 < len(indices) or len(indices) < 2:
            continue
        for one in indices:
            node = question.evidence[one].probe.one
            expected = {
                index: question.yard.reading(
                    Probe("", question.evidence[index].probe.one, node), question.before
                )
                for index in indices
                if index != one and question.evidence[index].probe.one != node
            }
            yield Hypothesis(
                fault=SuspectedFault(
                    kind=FaultKind.COMMON_EXCHANGED,
                    valves=question.evidence[one].valves[:1],
                    sites=(_at(question, one),),
                ),
                expected=expected,
                log_weight=weight_of(FaultKind.COMMON_EXCHANGED),
                exchanged={common: node, node: common},
                coils=2.0,
            )


def _one_common_exchanged(question: Question) -> Iterator[Hypothesis]:
    """Of several commons on C one is on the terminal of a hot, and that hot is on C."""
    readable = [index for index in range(len(question.evidence)) if question.is_of_one_coil(index)]
    for one in readable if question.off else ():
        probe = question.evidence[one].probe
        hots = _legs_at(question, probe.one)
        commons = _legs_at(question, probe.two)
        for edge in commons if len(commons) > 1 and len(hots) == 1 else ():
            behind = {index for index, _ in question.through.get(edge.number, ())}
            if not question.off <= behind | {one} or 2 * len(question.off) < len(behind):
                continue
            behind.add(one)
            changes = (*_moved(edge, probe.two, probe.one), *_moved(hots[0], probe.one, probe.two))
            yield Hypothesis(
                fault=SuspectedFault(
                    kind=FaultKind.COMMON_EXCHANGED,
                    valves=question.evidence[one].valves,
                    sites=(_at(question, one),),
                    name=edge.conductor,
                ),
                expected=question.readings(sorted(behind), *changes),
                log_weight=weight_of(FaultKind.COMMON_EXCHANGED),
                changes=changes,
            )


def _legs_at(question: Question, node: int) -> list[NetworkEdge]:
    group = question.yard.group.get(node, -1)
    edges = question.yard.in_group.get(group, ())
    return [edge for edge in edges if edge.conductor and node in (edge.one, edge.two)]


def _moved(edge: NetworkEdge, before: int, after: int) -> tuple[NetworkChange, NetworkChange]:
    """One end of a leg, from one node to another."""
    far = edge.two if edge.one == before else edge.one
    return opened(edge), between(point(far), point(after), edge.ohms)


def _wrong_return(question: Question) -> Iterator[Hypothesis]:
    """In its box its second lead is on another valve's hot."""
    yard = question.yard
    for one in sorted(question.off):
        each = question.evidence[one]
        if not each.sound < each.value < OL or not question.is_of_one_coil(one):
            continue
        coil = yard.coil_edge[each.valves[0]]
        for other in yard.asbuilt.box[coil.start].valves:
            beside = yard.coil_edge.get(other.id)
            if beside is None or yard.group[beside.one] == yard.group[coil.one]:
                continue
            changes = (
                opened(coil),
                between(point(coil.one), point(beside.one), coil.ohms),
            )
            expected = question.readings([one], *changes)
            if question.misfit(expected, 2.0) < 14:
                yield Hypothesis(
                    fault=SuspectedFault(
                        kind=FaultKind.WRONG_RETURN,
                        valves=(coil.valve, other.id),
                        sites=(SuspectSite(conductor="", start=coil.start, end=coil.start),),
                    ),
                    expected=expected,
                    log_weight=weight_of(FaultKind.WRONG_RETURN),
                    changes=changes,
                    coils=2.0,
                )


def _other_common(question: Question) -> Iterator[Hypothesis]:
    """A valve that reads OL, where the common of another controller is in its box."""
    yard = question.yard
    for one in sorted(question.off):
        each = question.evidence[one]
        if not each.is_open or not question.is_of_one_coil(one):
            continue
        coil = yard.coil_edge[each.valves[0]]
        own = yard.asbuilt.valve[coil.valve].controllers
        others = (v.controller for v in yard.asbuilt.box[coil.start].valves)
        for controller in dict.fromkeys(name for name in others if name not in own):
            change = opened(coil)
            yield Hypothesis(
                fault=SuspectedFault(
                    kind=FaultKind.OTHER_COMMON,
                    valves=(coil.valve,),
                    sites=(SuspectSite(conductor="", start=coil.start, end=coil.start),),
                    name=controller,
                ),
                expected={one: OL},
                log_weight=weight_of(FaultKind.OTHER_COMMON),
                changes=(change,),
            )


# ---- the job is wrong ----------------------------------------------------------------------


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
                valves=_names(question, shares),
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
                    valves=_names(question, shares),
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


def _wrong_reading(question: Question) -> Iterator[Hypothesis]:
    """It would fit anything, so it weighs little; more where a point would set it right."""
    for index in sorted(question.off):
        each = question.evidence[index]
        if each.is_twice:
            continue
        slips = (10 * each.value, each.value / 10)
        is_slip = each.value < OL and any(question.fits(index, ohms) for ohms in slips)
        yield Hypothesis(
            fault=SuspectedFault(
                kind=FaultKind.WRONG_READING, valves=each.valves, sites=(_at(question, index),)
            ),
            expected={index: each.value},
            log_weight=weight_of(FaultKind.WRONG_READING) + (0.0 if is_slip else _ANYTHING),
        )


def _no_output(question: Question) -> Iterator[Hypothesis]:
    """Nothing under load, on one terminal or on all that were tried."""
    evidence = question.evidence
    dead = [i for i in sorted(question.off) if evidence[i].probe.loaded and evidence[i].is_open]
    by_terminal: dict[int, list[int]] = defaultdict(list)
    for index in dead:
        by_terminal[evidence[index].probe.one].append(index)
    groups = [*by_terminal.values(), *([dead] if len(by_terminal) > 1 else [])]
    for group in groups:
        indices = dict.fromkeys(group, 1.0)
        yield Hypothesis(
            fault=SuspectedFault(
                kind=FaultKind.NO_OUTPUT,
                valves=_names(question, indices),
                sites=(_at(question, group[0]),),
            ),
            expected=dict.fromkeys(group, OL),
            log_weight=weight_of(FaultKind.NO_OUTPUT),
        )


def _names(question: Question, indices: Mapping[int, float]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(v for i in indices for v in question.evidence[i].valves))
