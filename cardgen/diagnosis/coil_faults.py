"""What may be wrong with one coil: open, burnt low, of another kind, or not the only one."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.evidence import Coils, kind_and_ohms
from cardgen.diagnosis.hypothesis import Hypothesis, Question, log_narrowed, log_of_range, weight_of
from cardgen.diagnosis.yard import NetworkChange, NetworkEdge, between, in_series, opened, point
from cardgen.light_dataclass import replace

_OF_COILS = 8.0, 90.0  # ohms between which a coil more may have any; assumed
_OF_THE_JOB = 0.8  # of them are of a kind that the job has; assumed
_ALIKE = 0.15  # part by which coils of one kind differ, batch and warmth in it; assumed


def coil_faults(
    question: Question, indices: Sequence[int], coil: NetworkEdge
) -> Iterator[Hypothesis]:
    """Args:
    indices: of the values whose current goes through it.
    """
    site = SuspectSite(conductor="", start=coil.start, end=coil.end)
    wires = [i for i, e in enumerate(question.evidence) if e.is_at_wires_of(coil)]

    def hypothesis(
        kind: FaultKind, ohms: float | None, change: NetworkChange, log: float
    ) -> Hypothesis:
        return Hypothesis(
            fault=SuspectedFault(kind=kind, valves=(coil.valve,), sites=(site,), ohms=ohms),
            expected=question.readings([*indices, *wires], change),
            log_weight=log,
            changes=(change,),
        )

    alone = hypothesis(FaultKind.COIL_OPEN, None, opened(coil), weight_of(FaultKind.COIL_OPEN))
    yield replace(alone, coils=_twins_alone(question, indices, coil))
    if any(question.evidence[index].is_open for index in indices):
        return

    def own(ohms: float) -> NetworkChange:
        return in_series(coil, (ohms - coil.ohms) or 1e-6)

    read = question.by_ohms_in(indices, coil)
    spread = question.spread(indices)
    if question.is_low(indices[0]):
        ohms = question.best_ohms(read, 0.03 * coil.ohms, 0.85 * coil.ohms)
        log = weight_of(FaultKind.COIL_LOW) + log_of_range(spread, 0.85 * coil.ohms)
        yield hypothesis(FaultKind.COIL_LOW, ohms, own(ohms), log)
        beside = question.by_ohms_between([*indices, *wires], point(coil.one), point(coil.two))
        ohms = question.best_ohms(beside, *_OF_COILS)
        log = weight_of(FaultKind.SECOND_COIL) + _log_of_a_coil(question, ohms)
        log += log_narrowed(question.spread([*indices, *wires]), ohms, _OF_COILS[1] / _OF_COILS[0])
        yield hypothesis(FaultKind.SECOND_COIL, ohms, _second(coil, ohms), log)
    ohms = question.best_ohms(read, 4.0, 130.0)
    if abs(ohms / coil.ohms - 1) > 0.2:
        log = weight_of(FaultKind.WRONG_COIL) + log_narrowed(spread, ohms, 130.0 / 4.0)
        yield hypothesis(FaultKind.WRONG_COIL, ohms, own(ohms), log)


def _twins_alone(question: Question, indices: Sequence[int], coil: NetworkEdge) -> dict[int, Coils]:
    """By index the coil that is left of a twin: all of its ohms scatter, and not half of them."""
    found: dict[int, Coils] = {}
    for index in indices:
        others = [v for v in question.evidence[index].valves if v != coil.valve]
        if len(others) == 1:
            left = question.yard.coil_edge[others[0]]
            found[index] = (kind_and_ohms(question.yard, left),)
    return found


def _log_of_a_coil(question: Question, ohms: float) -> float:
    """A coil more is mostly of a kind that the job has, seldom of any other ohms."""
    low, high = (math.log(ohms) for ohms in _OF_COILS)
    kinds = {edge.ohms for edge in question.yard.coil_edge.values()}
    if any(abs(ohms / kind - 1) < _ALIKE for kind in kinds):
        return math.log(_OF_THE_JOB * (high - low) / (2 * _ALIKE * len(kinds)))
    return math.log(1 - _OF_THE_JOB)


def _second(coil: NetworkEdge, ohms: float) -> NetworkChange:
    return between(point(coil.one), point(coil.two), ohms)
