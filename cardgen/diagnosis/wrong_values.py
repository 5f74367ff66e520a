"""What is no fault of the wires: a value misread, a controller that gives nothing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.hypothesis import Hypothesis, Question, weight_of
from cardgen.results import OL

_ANYTHING = -4.0  # log of how little of all values a wrong one is


def wrong_values(question: Question) -> Iterator[Hypothesis]:
    yield from _no_output(question)
    yield from _nothing_ran(question)
    yield from _wrong_reading(question)


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
                valves=question.valves_of(indices),
                sites=(question.at_strip(group[0]),),
            ),
            expected=dict.fromkeys(group, OL),
            log_weight=weight_of(FaultKind.NO_OUTPUT),
        )


def _nothing_ran(question: Question) -> Iterator[Hypothesis]:
    """Nothing was seen to run: the controller, or the valve itself; one, or all that were tried."""
    valve = question.yard.asbuilt.valve
    flowing = {v for e in question.evidence if e.probe.loaded for v in e.valves}
    names = [walk.valve for walk in question.walks if not walk.ran]
    groups = [*([name] for name in names), *([names] if len(names) > 1 else [])]
    for group in groups:
        kinds = [FaultKind.VALVE_SHUT]
        kinds += [FaultKind.NO_OUTPUT] if flowing.isdisjoint(group) else []
        for kind in kinds:
            is_inside = kind is FaultKind.NO_OUTPUT
            places = (valve[v].controller if is_inside else valve[v].box for v in group)
            sites = (SuspectSite(conductor="", start=at, end=at) for at in dict.fromkeys(places))
            yield Hypothesis(
                fault=SuspectedFault(kind=kind, valves=tuple(group), sites=tuple(sites)),
                expected={},
                log_weight=weight_of(kind),
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
                kind=FaultKind.WRONG_READING, valves=each.valves, sites=(question.at_strip(index),)
            ),
            expected={index: each.value},
            log_weight=weight_of(FaultKind.WRONG_READING) + (0.0 if is_slip else _ANYTHING),
        )
