"""Wires on the wrong terminal or on the wrong conductor."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.hypothesis import Hypothesis, Question, weight_of
from cardgen.diagnosis.yard import (
    between,
    point,
    unjoined,
)
from cardgen.results import OL

_APART = 1.5  # standard deviations by which two stations must differ to be told apart by ohms
_MISFIT = 14.0  # half the squares of standard deviations: beyond it nothing is explained
_FAR = 4.0  # standard deviations of one value
_MOST_OFF = 9  # values: three stations, and what else may be wrong


def exchange_faults(question: Question) -> Iterator[Hypothesis]:
    yield from _exchanged(question)
    yield from _moved_on(question)
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
            if question.misfit(expected) > _MISFIT:
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


def _moved_on(question: Question) -> Iterator[Hypothesis]:
    """Three stations of one controller, each reads what belongs to the one before it.

    Only of three whose ohms are all apart: of others two that are exchanged show the same.
    """
    seen_wrong = {walk.valve for walk in question.walks if walk.ran not in ("", walk.valve)}
    off = [
        index
        for index, each in enumerate(question.evidence)
        if question.at_controller(index)
        and (index in question.off or not seen_wrong.isdisjoint(each.valves))
    ]
    if not 2 <= len(off) <= _MOST_OFF:
        return
    before: dict[int, list[int]] = {}

    def reads(index: int) -> list[int]:
        """Whose hot may be on its terminal."""
        if index not in before:
            before[index] = list(_may_read(question, index))
        return before[index]

    seen: set[frozenset[tuple[int, int]]] = set()
    for third in off:
        for second in reads(third):
            for first in reads(second):
                trip = (first, second, third)
                around = frozenset((one, trip[n - 1]) for n, one in enumerate(trip))
                is_off = set(off).intersection(trip)
                if third not in reads(first) or len(set(trip)) < 3 or len(is_off) < 2:
                    continue
                if around not in seen:
                    seen.add(around)
                    yield _round_trip(question, trip)


def _may_read(question: Question, index: int) -> Iterator[int]:
    """The other stations of its C that would show that value, and whose own ohms are apart."""
    each = question.evidence[index]
    least = _APART * math.sqrt(each.variance(each.sound)) if each.sound < OL else OL
    for other, beside in enumerate(question.evidence):
        if question.at_controller(other) and beside.probe.two == each.probe.two:
            is_apart = beside.sound < OL and abs(beside.sound - each.sound) > least
            if is_apart and question.far(index, beside.sound) < _FAR:
                yield other


def _round_trip(question: Question, stations: tuple[int, int, int]) -> Hypothesis:
    """The hot of each on the terminal of the next, whose meter then reads it."""
    nodes = [question.evidence[index].probe.one for index in stations]
    pairs = zip((*stations[1:], stations[0]), stations, strict=True)
    expected = {index: question.evidence[before].sound for index, before in pairs}
    return Hypothesis(
        fault=SuspectedFault(
            kind=FaultKind.MOVED_ON,
            valves=tuple(question.evidence[index].valves[0] for index in stations),
            sites=(question.at_strip(stations[0]),),
        ),
        expected=expected,
        log_weight=weight_of(FaultKind.MOVED_ON),
        exchanged=dict(zip((*nodes[1:], nodes[0]), nodes, strict=True)),
    )


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
            if question.misfit(expected, 2.0) < _MISFIT:
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
