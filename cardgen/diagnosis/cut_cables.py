"""A cable cut through: all its conductors open between two places that follow each other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from cardgen.diagnosis.diagnosed import FaultKind, SuspectedFault, SuspectSite
from cardgen.diagnosis.hypothesis import Hypothesis, Place, Question, weight_of
from cardgen.diagnosis.weights import WHOLE_CURRENT
from cardgen.diagnosis.yard import NetworkEdge, opened
from cardgen.results import OL

_Alike = tuple[str, tuple[tuple[int, float], ...]]  # a cable, and what is read when it is cut


def cut_cables(question: Question) -> Iterator[Hypothesis]:
    """All conductors of a leg at once; only where all that it would open is open."""
    found: dict[_Alike, list[Place]] = defaultdict(list)
    read: dict[_Alike, dict[int, float]] = {}
    for (cable, start, end), edges in question.yard.in_cable_leg.items():
        if _is_open_behind(question, edges):
            expected = _read_when_cut(question, edges)
            rounded = tuple((index, round(ohms, 1)) for index, ohms in expected.items())
            alike = cable, rounded
            changes = tuple(opened(e) for e in edges if e.number in question.through)
            site = SuspectSite(conductor="", start=start, end=end)
            found[alike].append(Place(site, changes))
            read[alike] = expected
    for alike, places in found.items():
        yield Hypothesis(
            fault=SuspectedFault(
                kind=FaultKind.CUT,
                valves=question.valves_of(read[alike]),
                sites=tuple(place.site for place in places),
                name=alike[0],
            ),
            expected=read[alike],
            log_weight=weight_of(FaultKind.CUT, len(places)),
            changes=places[0].changes,
            places=tuple(places),
        )


def _is_open_behind(question: Question, edges: Sequence[NetworkEdge]) -> bool:
    """Two stations or more read OL that have no other way than these, and none of them ohms."""
    evidence = question.evidence
    whole = {
        index
        for edge in edges
        for index, share in question.through.get(edge.number, ())
        if abs(share) > WHOLE_CURRENT
    }
    stations = {
        evidence[index].probe.one for index in whole & question.off if question.at_controller(index)
    }
    return len(stations) > 1 and all(evidence[index].is_open for index in whole)


def _read_when_cut(question: Question, edges: Sequence[NetworkEdge]) -> dict[int, float]:
    """By index of what goes through any of them; in a ring some of it has another way."""
    behind = {index for e in edges for index, _ in question.through.get(e.number, ())}
    return {index: _reading_cut(question, index, edges) for index in sorted(behind)}


def _reading_cut(question: Question, index: int, edges: Sequence[NetworkEdge]) -> float:
    """A meter's own conductors of the cable; what else is cut changes nothing for it."""
    own = dict(question.evidence[index].currents)
    shares = {edge: abs(own[edge]) for edge in edges if edge in own}
    if any(share > WHOLE_CURRENT for share in shares.values()):
        return OL
    return question.reading(index, [opened(edge) for edge in shares])
