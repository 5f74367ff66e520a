"""Turn what a crew measured into what may be wrong, where, and what to measure next."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from cardgen.asbuilt import AsBuilt
from cardgen.diagnosis.diagnosed import ClearedStretch, Diagnosis, FittedValue, Suspect
from cardgen.diagnosis.evidence import evidence_of
from cardgen.diagnosis.hypothesis import Question
from cardgen.diagnosis.next_steps import next_steps
from cardgen.diagnosis.search import Weighed, is_alarm, is_explained, kept, pairs, singles
from cardgen.diagnosis.weights import COPPER_PER_CELSIUS
from cardgen.diagnosis.yard import Yard
from cardgen.results import Measured

_BAND = 3.0  # standard deviations: most sound readings lie within


def diagnose(asbuilt: AsBuilt, readings: Sequence[Measured]) -> Diagnosis:
    """Args:
        asbuilt: with its network.
        readings: oldest first; of those between the same wires the newest counts.

    Raises:
        ValueError: where the as-built has no network.
    """
    if asbuilt.network is None:
        raise ValueError("as built without its network")
    yard = Yard(asbuilt, asbuilt.network)
    question = Question(yard=yard, evidence=evidence_of(yard, readings))
    found = _explained(question)
    suspects = _suspects(found)
    return Diagnosis(
        controllers=tuple(
            dict.fromkeys(asbuilt.valve[e.valves[0]].controller for e in question.evidence)
        ),
        values=tuple(_values(question)),
        is_healthy=not found,
        is_several=bool(found) and not is_explained(found[0]),
        suspects=suspects,
        excluded=(),
        cleared=tuple(_cleared(question)),
        steps=next_steps(question, found) if found else (),
        coil_factors=tuple(
            (kind, 1 + factor)
            for kind, factor in zip(question.fit.kinds, question.fit.factors, strict=False)
        ),
        celsius=20 + question.fit.factors[-1] / COPPER_PER_CELSIUS if question.evidence else 20.0,
    )


def _explained(question: Question) -> list[Weighed]:
    """Nothing where the yard is sound."""
    if not question.evidence:
        return []
    alone = singles(question)
    if not alone or (not question.off and not is_alarm(question, alone[0])):
        return []
    best = kept(alone)
    if is_explained(best[0]):
        return best
    together = pairs(question, alone)
    if together and together[0].log > best[0].log:
        return kept(together)
    return best


def _suspects(found: Sequence[Weighed]) -> tuple[Suspect, ...]:
    if not found:
        return ()
    weights = [math.exp(each.log - found[0].log) for each in found]
    return tuple(
        Suspect(faults=tuple(part.fault for part in each.parts), share=weight / sum(weights))
        for each, weight in zip(found, weights, strict=True)
    )


def _values(question: Question) -> Iterator[FittedValue]:
    for index, each in enumerate(question.evidence):
        expected = question.fit.expected(index)
        low, high = (
            (expected[0] - _BAND * expected[1], expected[0] + _BAND * expected[1])
            if expected
            else (None, None)
        )
        yield FittedValue(
            reading=each.reading,
            valve=each.probe.key,
            value=each.value,
            expected=expected[0] if expected else None,
            low=low,
            high=high,
            is_off=index in question.off,
        )


def _cleared(question: Question) -> Iterator[ClearedStretch]:
    """Every leg that carries what a value shows that is not off."""
    for edge in question.yard.edges:
        through = question.through.get(edge.number, ())
        if edge.conductor and any(
            index not in question.off and abs(share) > 1 - 1e-4 for index, share in through
        ):
            yield ClearedStretch(conductor=edge.conductor, start=edge.start, end=edge.end)
