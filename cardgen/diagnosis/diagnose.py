"""Turn what a crew measured into what may be wrong, where, and what to measure next."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from cardgen.asbuilt import AsBuilt
from cardgen.diagnosis.beside import counted_by_themselves, shown_by_themselves
from cardgen.diagnosis.diagnosed import ClearedStretch, Diagnosis, Exclusion, FittedValue
from cardgen.diagnosis.evidence import Evidence, evidence_of
from cardgen.diagnosis.hidden_faults import hidden_faults, hidden_unless_measured
from cardgen.diagnosis.hypothesis import Question, question_of
from cardgen.diagnosis.named_suspects import named
from cardgen.diagnosis.next_steps import next_steps
from cardgen.diagnosis.search import Weighed, is_alarm, is_explained, is_poor, kept, pairs, singles
from cardgen.diagnosis.walk_tests import WalkTest, walks_of
from cardgen.diagnosis.yard import Yard
from cardgen.light_dataclass import replace
from cardgen.results import Measured
from cardgen.trade.copper import AWG_COEFFICIENT

_AGAINST = 4.0  # standard deviations by which one value excludes
_BAND = 3.0  # standard deviations: most sound readings lie within


def diagnose(asbuilt: AsBuilt, readings: Sequence[Measured]) -> Diagnosis:
    """All readings as of one yard; `diagnose_each` has those apart that no metal joins.

    Args:
        asbuilt: with its network.
        readings: oldest first; of those between the same wires the newest counts.

    Raises:
        ValueError: where the as-built has no network.
    """
    yard = _yard(asbuilt)
    walks = walks_of(yard, readings)
    found = _of_part(question_of(yard, evidence_of(yard, readings), walks))
    return _with_apart(yard, readings, [found])[0]


def diagnose_each(asbuilt: AsBuilt, readings: Sequence[Measured]) -> tuple[Diagnosis, ...]:
    """One for all controllers that metal or coils join, in the order of the readings.

    What was measured on one part says nothing of another, but for how warm it is.  The arguments
    and errors are those of `diagnose`.
    """
    yard = _yard(asbuilt)
    homes = _homes(yard)
    parts: dict[tuple[str, ...], list[Evidence]] = {}
    for each in evidence_of(yard, readings):
        part = yard.green.part(yard.coil[each.valves[0]].hot_end)
        parts.setdefault(homes[part], []).append(each)
    walks: dict[tuple[str, ...], list[WalkTest]] = {}
    for walk in walks_of(yard, readings):
        home = homes[yard.green.part(yard.coil[walk.valve].hot_end)]
        walks.setdefault(home, []).append(walk)
    found = [
        _of_part(question_of(yard, parts.get(home, ()), walks.get(home, ())))
        for home in {**parts, **walks}
    ]
    if not found and counted_by_themselves(yard, readings):
        found = [_of_part(question_of(yard, ()))]
    return _with_apart(yard, readings, found)


def _with_apart(
    yard: Yard, readings: Sequence[Measured], found: Sequence[Diagnosis]
) -> tuple[Diagnosis, ...]:
    """The first one has what single values show, too."""
    apart = shown_by_themselves(yard, readings, _legs_cleared(found))
    counted = counted_by_themselves(yard, readings)
    whole = (_with_hidden(yard, readings, each) for each in found)
    return tuple(
        each if n else replace(each, apart=apart, counted=(*each.counted, *counted))
        for n, each in enumerate(whole)
    )


def _with_hidden(yard: Yard, readings: Sequence[Measured], found: Diagnosis) -> Diagnosis:
    """What a healthy part leaves open because nobody measured it."""
    if not found.is_healthy or not found.values:
        return found
    more = hidden_unless_measured(yard, readings, found.controllers)
    return replace(found, hidden=(*found.hidden, *more))


def _legs_cleared(found: Iterable[Diagnosis]) -> frozenset[tuple[str, str, str]]:
    return frozenset((c.conductor, c.start, c.end) for each in found for c in each.cleared)


def _homes(yard: Yard) -> dict[int, tuple[str, ...]]:
    """By part of the network its controllers: parts of one controller are read in one walk."""
    found: dict[int, set[str]] = {}
    for coil in yard.network.coils:
        part = yard.green.part(coil.hot_end)
        found.setdefault(part, set()).add(yard.asbuilt.valve[coil.valve].controller)
    homes: list[set[str]] = []
    for controllers in found.values():
        joined = [home for home in homes if home & controllers]
        homes = [home for home in homes if home not in joined]
        homes.append(controllers.union(*joined))
    return {
        part: next(tuple(sorted(home)) for home in homes if home >= controllers)
        for part, controllers in found.items()
    }


def _yard(asbuilt: AsBuilt) -> Yard:
    if asbuilt.network is None:
        raise ValueError("as built without its network")
    return Yard(asbuilt, asbuilt.network)


def _of_part(question: Question) -> Diagnosis:
    evidence = question.evidence
    found, thought_of = _explained(question)
    kept_as = named(found, evidence)
    names = (*(each.valves[0] for each in evidence), *(walk.valve for walk in question.walks))
    valves = (question.yard.asbuilt.valve[name] for name in names)
    factors = question.fit.factors
    return Diagnosis(
        controllers=tuple(dict.fromkeys(valve.controller for valve in valves)),
        values=tuple(_values(question)),
        is_healthy=not found,
        hidden=() if found else tuple(hidden_faults(question)),
        is_several=bool(found) and not is_explained(found[0]),
        suspects=kept_as.suspects,
        excluded=tuple(_excluded(question, found, thought_of)),
        cleared=tuple(_cleared(question)),
        steps=next_steps(question, found, kept_as.of) if found else (),
        coil_factors=tuple(
            (kind, 1 + factor) for kind, factor in zip(question.fit.kinds, factors, strict=False)
        ),
        celsius=20 + factors[-1] / AWG_COEFFICIENT if evidence else 20.0,
        counted=(*(e.reading for e in evidence), *(walk.reading for walk in question.walks)),
    )


def _explained(question: Question) -> tuple[list[Weighed], list[Weighed]]:
    """What is kept, nothing where the yard is sound; and all single faults, the likeliest first."""
    alone = singles(question) if question.evidence or question.walks else []
    if not alone or not (question.off or is_alarm(question, alone[0])):
        return [], []
    best = kept(alone)
    if not is_explained(best[0]) or is_poor(question, best[0]):
        together = pairs(question, alone)
        if together and not is_explained(best[0]) and together[0].log > best[0].log:
            best = kept(together)
        elif is_explained(best[0]):
            best = kept([*best, *(pair for pair in together if is_explained(pair))])
    return best, alone


def _excluded(
    question: Question, found: Sequence[Weighed], thought_of: Sequence[Weighed]
) -> Iterator[Exclusion]:
    """By kind the best that was thought of and is not kept, with the value most against it."""
    kinds = {part.fault.kind for each in found for part in each.parts}
    for each in thought_of:
        (part,) = each.parts
        if part.fault.kind in kinds:
            continue
        against = [
            (question.far(index, part.expected.get(index)), index)
            for index in range(len(question.evidence))
        ]
        far, index = max(against, default=(0.0, -1))
        if far > _AGAINST:
            kinds.add(part.fault.kind)
            evidence = question.evidence[index]
            yield Exclusion(
                kind=part.fault.kind,
                valve=evidence.probe.key,
                expected=part.expected.get(index, evidence.sound),
                read=evidence.value,
            )


def _values(question: Question) -> Iterator[FittedValue]:
    for index, each in enumerate(question.evidence):
        if each.spread:
            continue  # read as amperes or volts
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
