"""A common on the terminal of a hot, and that hot on C: all that is on C, or one of several."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault
from cardgen.diagnosis.hypothesis import Hypothesis, Question, weight_of
from cardgen.diagnosis.yard import NetworkChange, NetworkEdge, Probe, between, opened, point
from cardgen.results import OL

_TWO = 1.4  # times the ohms, at least, where there are two coils
_FAR = 6.0  # standard deviations by which the exchanged station may be off


def common_exchanges(question: Question) -> Iterator[Hypothesis]:
    yield from _whole_common(question)
    yield from _one_common(question)


def _whole_common(question: Question) -> Iterator[Hypothesis]:
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


def _one_common(question: Question) -> Iterator[Hypothesis]:
    """Of several commons on C one is on the terminal of a hot, and that hot is on C."""
    readable = [index for index in range(len(question.evidence)) if question.at_controller(index)]
    off = question.off.intersection(readable)
    for one in readable if off else ():
        probe = question.evidence[one].probe
        hots = _legs_at(question, probe.one)
        commons = _legs_at(question, probe.two)
        for edge in commons if len(commons) > 1 and len(hots) == 1 else ():
            behind = {index for index, _ in question.through.get(edge.number, ())}
            if not off <= behind | {one}:
                continue
            changes = (*_moved(edge, probe.two, probe.one), *_moved(hots[0], probe.one, probe.two))
            seen = question.readings(sorted({one} | question.off), *changes)
            if any(question.far(index, ohms) > _FAR for index, ohms in seen.items()):
                continue
            behind.add(one)
            expected = question.readings(sorted(behind), *changes)
            yield Hypothesis(
                fault=SuspectedFault(
                    kind=FaultKind.COMMON_EXCHANGED,
                    valves=question.evidence[one].valves,
                    sites=(question.at_strip(one),),
                    name=edge.conductor,
                ),
                expected=expected,
                log_weight=weight_of(FaultKind.COMMON_EXCHANGED),
                changes=changes,
                coils=2.0 if _are_doubled(question, expected) else 1.0,
            )


def _are_doubled(question: Question, expected: Mapping[int, float]) -> bool:
    """Two coils in series in most that has ohms."""
    more = [ohms > _TWO * question.evidence[i].sound for i, ohms in expected.items() if ohms < OL]
    return 2 * sum(more) > len(more)


def _legs_at(question: Question, node: int) -> list[NetworkEdge]:
    group = question.yard.group.get(node, -1)
    edges = question.yard.in_group.get(group, ())
    return [edge for edge in edges if edge.conductor and node in (edge.one, edge.two)]


def _moved(edge: NetworkEdge, before: int, after: int) -> tuple[NetworkChange, NetworkChange]:
    """One end of a leg, from one node to another."""
    far = edge.two if edge.one == before else edge.one
    return opened(edge), between(point(far), point(after), edge.ohms)
