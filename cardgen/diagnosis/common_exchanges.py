"""A common on the terminal of a hot, and that hot on C: all that is on C, or one of several."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault
from cardgen.diagnosis.evidence import Coils
from cardgen.diagnosis.hypothesis import Hypothesis, Question, moved, weight_of
from cardgen.diagnosis.yard import NetworkChange, NetworkEdge, between, opened, point
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
        is_off = len(question.off.intersection(indices)) * 3 >= len(indices)
        if len(indices) < 2 or not (is_off or question.fit.is_batch_far_off):
            continue
        if common in question.exchanged:  # it is on the terminal of a hot already
            continue
        least = question.least - weight_of(FaultKind.COMMON_EXCHANGED)
        most_lost = question.fit.most_lost(indices, least)
        between_hots = _BetweenHots(question)
        for one in indices:
            node = question.evidence[one].probe.one
            expected = _on_c(question, between_hots, one, indices, most_lost)
            if expected is None:
                continue
            yield Hypothesis(
                fault=SuspectedFault(
                    kind=FaultKind.COMMON_EXCHANGED,
                    valves=question.evidence[one].valves[:1],
                    sites=(question.at_strip(one),),
                ),
                # Its own value is that of its coil as ever.
                expected={**expected, one: question.evidence[one].sound},
                log_weight=weight_of(FaultKind.COMMON_EXCHANGED),
                exchanged={common: node, node: common},
                coils={i: _with(question, i, one) for i in expected},
            )


class _BetweenHots(dict[tuple[int, int], float]):
    """Ohms by the indices of two values, the lower first: from one hot to the other, either way."""

    def __init__(self, question: Question) -> None:
        self.question = question

    def __missing__(self, indices: tuple[int, int]) -> float:
        one, other = (
            moved(self.question.evidence[index].probe, self.question.exchanged) for index in indices
        )
        ohms = self.question.yard.reading_between_hots(one, other, self.question.before)
        self[indices] = ohms
        return ohms


def _on_c(
    question: Question,
    between_hots: _BetweenHots,
    one: int,
    indices: Sequence[int],
    most_lost: float,
) -> dict[int, float] | None:
    """What all others read with that hot on C; None as soon as too many do not."""
    evidence, lost = question.evidence, 0
    expected: dict[int, float] = {}
    for index in indices:
        if evidence[index].probe.one == evidence[one].probe.one:
            continue
        expected[index] = between_hots[min(index, one), max(index, one)]
        if most_lost < len(indices):
            lost += question.fit.is_lost(index, expected[index], _with(question, index, one))
            if lost > most_lost:
                return None
    return expected


def _one_common(question: Question) -> Iterator[Hypothesis]:
    """Of several commons on C one is on the terminal of a hot, and that hot is on C."""
    readable = [index for index in range(len(question.evidence)) if question.at_controller(index)]
    off = question.off.intersection(readable)
    commons_at = {
        node: _legs_at(question, node)
        for node in {question.evidence[index].probe.two for index in readable if off}
    }
    behind_of = {
        edge.number: {index for index, _ in question.through.get(edge.number, ())}
        for commons in commons_at.values()
        for edge in commons
    }
    for one in readable if off else ():
        probe = question.evidence[one].probe
        commons = commons_at[probe.two]
        hots = _legs_at(question, probe.one) if len(commons) > 1 else []
        for edge in commons if len(hots) == 1 else ():
            behind = behind_of[edge.number]
            if not off <= behind | {one}:
                continue
            changes = (*_moved(edge, probe.two, probe.one), *_moved(hots[0], probe.one, probe.two))
            seen = sorted({one} | question.off)
            if any(question.far(i, question.reading(i, changes)) > _FAR for i in seen):
                continue
            expected = question.readings(sorted(behind | {one}), *changes)
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
                coils={i: _with(question, i, one) for i in _doubled(question, expected)},
            )


def _with(question: Question, index: int, one: int) -> Coils:
    """Its own coils and those of the hot that is on C, in series."""
    return *question.evidence[index].coils, *question.evidence[one].coils


def _doubled(question: Question, expected: Mapping[int, float]) -> Iterator[int]:
    """Values with two coils in series."""
    for index, ohms in expected.items():
        if _TWO * question.evidence[index].sound < ohms < OL:
            yield index


def _legs_at(question: Question, node: int) -> list[NetworkEdge]:
    group = question.yard.group.get(node, -1)
    edges = question.yard.in_group.get(group, ())
    return [edge for edge in edges if edge.conductor and node in (edge.one, edge.two)]


def _moved(edge: NetworkEdge, before: int, after: int) -> tuple[NetworkChange, NetworkChange]:
    """One end of a leg, from one node to another."""
    far = edge.two if edge.one == before else edge.one
    return opened(edge), between(point(far), point(after), edge.ohms)
