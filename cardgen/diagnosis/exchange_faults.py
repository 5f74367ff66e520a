"""Wires on the wrong terminal or on the wrong conductor."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.hypothesis import Hypothesis, Question, weight_of
from cardgen.diagnosis.yard import (
    NetworkChange,
    NetworkEdge,
    Probe,
    between,
    opened,
    point,
    unjoined,
)
from cardgen.results import OL

_APART = 1.5  # standard deviations by which two stations must differ to be told apart by ohms


def exchange_faults(question: Question) -> Iterator[Hypothesis]:
    yield from _exchanged(question)
    yield from _common_exchanged(question)
    yield from _one_common_exchanged(question)
    yield from _wrong_return(question)
    yield from _other_common(question)


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
                    sites=(question.at_strip(one),),
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
                    sites=(question.at_strip(one),),
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
                    sites=(question.at_strip(one),),
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
                unjoined(coil),
                between(point(coil.one), point(beside.one), coil.ohms)._replace(lead=coil.number),
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
            change = unjoined(coil)
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
