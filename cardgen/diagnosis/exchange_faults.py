"""Wires on the wrong terminal or on the wrong conductor."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.evidence import kind_and_ohms
from cardgen.diagnosis.hypothesis import Hypothesis, Question, weight_of
from cardgen.diagnosis.walk_tests import as_seen
from cardgen.diagnosis.yard import (
    between,
    point,
    unjoined,
)
from cardgen.results import OL

_APART = 1.5  # standard deviations by which two stations must differ to be told apart by ohms
_MISFIT = 14.0  # half the squares of standard deviations: beyond it nothing is explained
_TWO = 2
_FAR = 4.0  # standard deviations of one value
_MOST_OFF = 9  # values: three stations, and what else may be wrong


def exchange_faults(question: Question) -> Iterator[Hypothesis]:
    yield from _as_seen(question)
    yield from _exchanged(question)
    yield from _moved_on(question)
    yield from _wrong_return(question)
    yield from _other_common(question)


def _as_seen(question: Question) -> Iterator[Hypothesis]:
    """Stations of one controller that ran in each other's place, whatever their ohms say."""
    coil, valve = question.yard.coil, question.yard.asbuilt.valve
    for around in as_seen(question.walks):
        if len({coil[name].back_end for name in around}) > 1:
            continue
        nodes = [coil[name].hot_end for name in around]
        exchanged = dict(zip((*nodes[1:], nodes[0]), nodes, strict=True))
        expected = {
            index: question.reading(index, (), exchanged)
            for index, each in enumerate(question.evidence)
            if question.at_controller(index) and each.probe.one in exchanged
        }
        coil_at = {coil[name].hot_end: question.yard.coil_edge.get(name) for name in around}
        coils = {
            index: (kind_and_ohms(question.yard, edge),)
            for index in expected
            if (edge := coil_at[exchanged[question.evidence[index].probe.one]]) is not None
            and len(question.evidence[index].coils) == 1
        }
        at = valve[around[0]].controller
        kind = FaultKind.EXCHANGED if len(around) == _TWO else FaultKind.MOVED_ON
        yield Hypothesis(
            fault=SuspectedFault(
                kind=kind,
                valves=around,
                sites=(SuspectSite(conductor="", start=at, end=at),),
            ),
            expected=expected,
            log_weight=weight_of(kind),
            exchanged=exchanged,
            coils=coils,
        )


def _exchanged(question: Question) -> Iterator[Hypothesis]:
    """Two stations of one controller, each reads what belongs to the other."""
    evidence = question.evidence
    seen = {frozenset(around) for around in as_seen(question.walks)}
    readable = [index for index in range(len(evidence)) if question.at_controller(index)]
    off = question.off
    for one, other in combinations(readable, 2):
        if one not in off and other not in off:
            continue
        first, second = evidence[one], evidence[other]
        if first.probe.two != second.probe.two or OL in (first.sound, second.sound):
            continue
        misfit = question.misfit_of_other(one, other) + question.misfit_of_other(other, one)
        if misfit > _MISFIT or not question.are_apart(one, other, _APART):
            continue
        if seen and frozenset((first.valves[0], second.valves[0])) in seen:
            continue
        nodes = first.probe.one, second.probe.one
        yield Hypothesis(
            fault=SuspectedFault(
                kind=FaultKind.EXCHANGED,
                valves=(first.valves[0], second.valves[0]),
                sites=(question.at_strip(one),),
                alike=_alike(question, one, other),
            ),
            expected={one: second.sound, other: first.sound},
            log_weight=weight_of(FaultKind.EXCHANGED),
            exchanged={nodes[0]: nodes[1], nodes[1]: nodes[0]},
            coils={one: second.coils, other: first.coils},
        )


def _alike(question: Question, one: int, other: int) -> tuple[str, ...]:
    """Good values of stations as far out as one of the two: by ohms it may be their hot instead."""
    common = question.evidence[one].probe.two
    return tuple(
        each.valves[0]
        for index, each in enumerate(question.evidence)
        if index not in question.off
        and index not in (one, other)
        and question.at_controller(index)
        and each.probe.two == common
        and each.sound < OL
        and not all(question.are_apart(of, index, _APART) for of in (one, other))
    )


def _moved_on(question: Question) -> Iterator[Hypothesis]:
    """Three stations of one controller, each reads what belongs to the one before it.

    Only of three whose ohms are all apart: of others two that are exchanged show the same.
    """
    off = [index for index in sorted(question.off) if question.at_controller(index)]
    if not 2 <= len(off) <= _MOST_OFF:
        return
    before: dict[int, list[int]] = {}
    stations = [index for index in range(len(question.evidence)) if question.at_controller(index)]

    def reads(index: int) -> list[int]:
        """Whose hot may be on its terminal; of a good value only what is off: two of three are."""
        if index not in before:
            of = stations if index in question.off else off
            before[index] = list(_may_read(question, index, of))
        return before[index]

    seen: set[frozenset[tuple[int, int]]] = set()
    for third in off:
        for second in reads(third):
            for first in reads(second):
                if second not in question.off and first not in question.off:
                    continue
                trip = (first, second, third)
                around = frozenset((one, trip[n - 1]) for n, one in enumerate(trip))
                is_off = set(off).intersection(trip)
                if third not in reads(first) or len(set(trip)) < 3 or len(is_off) < 2:
                    continue
                if around not in seen:
                    seen.add(around)
                    yield _round_trip(question, trip)


def _may_read(question: Question, index: int, stations: Sequence[int]) -> Iterator[int]:
    """Those of its C that would show that value, and whose own ohms are apart."""
    each = question.evidence[index]
    if each.sound == OL:
        return
    least = _APART * math.sqrt(each.variance(each.sound))
    for other in stations:
        beside = question.evidence[other]
        is_apart = beside.sound < OL and abs(beside.sound - each.sound) > least
        is_of_its_c = is_apart and beside.probe.two == each.probe.two
        if is_of_its_c and 2 * question.misfit_of_other(index, other) < _FAR**2:
            yield other


def _round_trip(question: Question, stations: tuple[int, int, int]) -> Hypothesis:
    """The hot of each on the terminal of the next, whose meter then reads it."""
    nodes = [question.evidence[index].probe.one for index in stations]
    before = dict(zip((*stations[1:], stations[0]), stations, strict=True))
    evidence = question.evidence
    return Hypothesis(
        fault=SuspectedFault(
            kind=FaultKind.MOVED_ON,
            valves=tuple(question.evidence[index].valves[0] for index in stations),
            sites=(question.at_strip(stations[0]),),
        ),
        expected={index: evidence[other].sound for index, other in before.items()},
        log_weight=weight_of(FaultKind.MOVED_ON),
        exchanged=dict(zip((*nodes[1:], nodes[0]), nodes, strict=True)),
        coils={index: evidence[other].coils for index, other in before.items()},
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
            coils = {one: (*each.coils, kind_and_ohms(yard, beside))}
            if question.misfit(expected, coils) < _MISFIT:
                yield Hypothesis(
                    fault=SuspectedFault(
                        kind=FaultKind.WRONG_RETURN,
                        valves=(coil.valve, other.id),
                        sites=(SuspectSite(conductor="", start=coil.start, end=coil.start),),
                    ),
                    expected=expected,
                    log_weight=weight_of(FaultKind.WRONG_RETURN),
                    changes=changes,
                    coils=coils,
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
