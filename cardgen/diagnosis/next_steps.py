"""Which measurement parts the suspects best for its effort, and what each outcome would leave.

Every suspect is taken apart into its places, and what each would show is solved.  The best step
leaves the least work: its own, and that of the bits of doubt that it leaves.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from cardgen.diagnosis.diagnosed import (
    FaultKind,
    NextStep,
    PossibleOutcome,
    StepKind,
    SuspectSite,
)
from cardgen.diagnosis.doubt import APART, PossiblePlace, doubt, doubt_after, two_deviations
from cardgen.diagnosis.evidence import probe_of
from cardgen.diagnosis.hypothesis import Question, moved
from cardgen.diagnosis.last_resort import last_resort
from cardgen.diagnosis.search import Weighed
from cardgen.diagnosis.weights import EFFORT, OPEN_FROM_OHMS
from cardgen.diagnosis.yard import Probe
from cardgen.light_dataclass import replace
from cardgen.results import OL, Kind

_AT_A_COIL = {Kind.COIL: StepKind.COIL, Kind.COIL_WIRES: StepKind.COIL_WIRES}
_MOST_STEPS = 4
_MOST_VALVES = 6  # of the suspects, that are thought of
_LEAST_GAIN = 0.05  # bits
_PER_BIT = 3.0  # effort that a bit of doubt costs later: to open a box half way; assumed


@dataclass(frozen=True)
class _Candidate:
    kind: StepKind
    valves: tuple[str, ...]
    at: str
    probe: Probe
    name: str = ""


def next_steps(
    question: Question, found: Sequence[Weighed], told_as: Sequence[Sequence[int]]
) -> tuple[NextStep, ...]:
    """The best first; the last resort is to look at the splices half way.

    Args:
        told_as: by index of what was found, the indices of the suspects that tell it.
    """
    places = list(_places(found))
    steps = [_step(question, places, each) for each in _candidates(question, found)]
    worth = [(gain, step) for gain, step in steps if gain > _LEAST_GAIN]
    worth.sort(key=lambda pair: pair[1].effort - _PER_BIT * pair[0])
    chosen = [step for _, step in worth[:_MOST_STEPS]]
    return tuple(_as_told(step, told_as) for step in (*chosen, *last_resort(question, found)))


def _as_told(step: NextStep, told_as: Sequence[Sequence[int]]) -> NextStep:
    def told(found: Sequence[int]) -> tuple[int, ...]:
        return tuple(sorted({number for index in found for number in told_as[index]}))

    outcomes = (replace(each, suspects=told(each.suspects)) for each in step.outcomes)
    return replace(step, outcomes=tuple(outcomes))


def _places(found: Sequence[Weighed]) -> Iterator[PossiblePlace]:
    whole = sum(math.exp(each.log - found[0].log) for each in found)
    for suspect, each in enumerate(found):
        weight = math.exp(each.log - found[0].log) / whole
        *known, last = each.parts
        before = tuple(change for part in known for change in part.changes)
        exchanged: dict[int, int] = {}
        for part in each.parts:
            exchanged |= part.exchanged
        kinds = frozenset(part.fault.kind for part in each.parts)
        again = frozenset(
            valve
            for part in each.parts
            if part.fault.kind is FaultKind.WRONG_READING
            for valve in part.fault.valves
        )
        places = [(place.site, place.changes) for place in last.places]
        places = places or [(last.fault.sites[0], last.changes)]
        for site, changes in places:
            yield PossiblePlace(
                suspect,
                weight / len(places),
                kinds,
                (site.conductor, site.start, site.end),
                (*before, *changes),
                exchanged,
                again,
            )


# ---- what can be measured ------------------------------------------------------------------


def _candidates(question: Question, found: Sequence[Weighed]) -> Iterator[_Candidate]:
    yard = question.yard
    done = {(each.kind, each.probe) for each in question.evidence}
    kinds = {part.fault.kind for each in found for part in each.parts}
    named = dict.fromkeys(v for each in found for part in each.parts for v in part.fault.valves)
    valves = [v for v in named if v in yard.coil_edge][:_MOST_VALVES]
    for valve in valves:
        box = yard.asbuilt.valve[valve].box
        for kind, step in _AT_A_COIL.items():
            probe = probe_of(yard, kind, valve)
            if probe and (kind, probe) not in done:
                yield _Candidate(step, (valve,), box, probe)
    yield from _at_controller(question, valves, done)
    if FaultKind.CONTACT in kinds:
        yield from _bypass(question, found)
    if FaultKind.WRONG_READING in kinds:
        yield from _again(question, found)
    yield from _outward(question, found, done)


def _at_controller(
    question: Question, valves: Sequence[str], done: set[tuple[Kind, Probe]]
) -> Iterator[_Candidate]:
    yard = question.yard
    homes = dict.fromkeys(yard.asbuilt.valve[valve].controller for valve in valves)
    for controller in homes:
        unread = 0
        for valve in yard.asbuilt.valves_of(controller):
            probe = probe_of(yard, Kind.CONTROLLER, valve.id)
            if probe and all(p.one != probe.one for k, p in done if k is Kind.CONTROLLER):
                yield _Candidate(StepKind.CONTROLLER, (valve.id,), controller, probe)
                unread += 1
            if unread == _MOST_VALVES:
                break
    good = [
        each.valves[0]
        for index, each in enumerate(question.evidence)
        if question.is_of_one_coil(index) and index not in question.off
    ]
    tried = [
        *combinations(valves[:4], 2),
        *((valve, other) for valve in valves[:3] for other in good[:2]),
    ]
    for one, other in tried:
        home = yard.asbuilt.valve[one].controller
        probe = probe_of(yard, Kind.HOT_TO_HOT, one, other)
        is_new = probe is not None and (Kind.HOT_TO_HOT, probe) not in done
        if probe and is_new and home == yard.asbuilt.valve[other].controller:
            yield _Candidate(StepKind.HOT_TO_HOT, (one, other), home, probe)


def _bypass(question: Question, found: Sequence[Weighed]) -> Iterator[_Candidate]:
    for each in found:
        for part in each.parts:
            if part.fault.kind is FaultKind.CONTACT and part.expected:
                index = min(part.expected)
                evidence = question.evidence[index]
                valve = question.yard.asbuilt.valve[evidence.valves[0]]
                at, name = valve.controller, part.fault.name
                yield _Candidate(StepKind.BYPASS, (valve.id,), at, evidence.probe, name)


def _again(question: Question, found: Sequence[Weighed]) -> Iterator[_Candidate]:
    indices = dict.fromkeys(
        min(part.expected)
        for each in found
        for part in each.parts
        if part.fault.kind is FaultKind.WRONG_READING
    )
    for index in indices:
        evidence = question.evidence[index]
        if not question.at_controller(index):
            continue
        valve = question.yard.asbuilt.valve[evidence.valves[0]]
        yield _Candidate(StepKind.AGAIN, evidence.valves[:1], valve.controller, evidence.probe)


def _outward(
    question: Question, found: Sequence[Weighed], done: set[tuple[Kind, Probe]]
) -> Iterator[_Candidate]:
    """In each box on the way to where it may be, from there on."""
    yard = question.yard
    seen: set[tuple[str, str]] = set()
    for each in found[:4]:
        fault = each.parts[-1].fault
        valve = next((v for v in reversed(fault.valves) if v in yard.coil_edge), "")
        if not valve:
            continue
        way = yard.asbuilt.valve[valve].hot_way
        for box in dict.fromkeys(step.end for step in way if step.conductor):
            if (valve, box) in seen:
                continue
            seen.add((valve, box))
            probe = probe_of(yard, Kind.BOX_LOOP, valve, box)
            if probe and (Kind.BOX_LOOP, probe) not in done:
                yield _Candidate(StepKind.OUTWARD, (valve,), box, probe)


# ---- what each would tell ------------------------------------------------------------------


def _step(
    question: Question, places: Sequence[PossiblePlace], candidate: _Candidate
) -> tuple[float, NextStep]:
    """The gain in bits, and the step with its outcomes."""
    shown = [(_shown(question, place, candidate), place) for place in places]
    outcomes, left = [], 0.0
    for low, high, group in _told_apart(shown):
        suspects = tuple(sorted({place.suspect for place in group}))
        sites = tuple(dict.fromkeys(_site(place) for place in group))
        outcomes.append(PossibleOutcome(low=low, high=high, suspects=suspects, sites=sites))
        left += sum(place.weight for place in group) * len(group) / len(places)
    step = NextStep(
        kind=candidate.kind,
        valves=candidate.valves,
        at=candidate.at,
        effort=EFFORT[candidate.kind],
        left=min(left, 1.0),
        outcomes=tuple(outcomes),
        name=candidate.name,
    )
    return doubt(places) - doubt_after(shown), step


def _site(place: PossiblePlace) -> SuspectSite:
    conductor, start, end = place.site
    return SuspectSite(conductor=conductor, start=start, end=end)


def _shown(question: Question, place: PossiblePlace, candidate: _Candidate) -> float:
    probe = candidate.probe
    if candidate.kind is StepKind.BYPASS and FaultKind.CONTACT in place.kinds:
        return question.yard.sound(probe)
    if candidate.kind is StepKind.AGAIN and place.again.isdisjoint(candidate.valves):
        return next(e.value for e in question.evidence if e.probe == probe)
    ohms = question.yard.reading(moved(probe, place.exchanged), place.changes)
    return OL if ohms >= OPEN_FROM_OHMS else ohms


def _told_apart(
    shown: Sequence[tuple[float, PossiblePlace]],
) -> Iterator[tuple[float, float, list[PossiblePlace]]]:
    """From what to what the meter shows, as near as it tells, with all that may show that."""
    ranked = sorted({value for value, _ in shown})
    while ranked:
        first = ranked[0]
        same = [v for v in ranked if v == first or v - first < APART / 2 * two_deviations(v)]
        ranked = ranked[len(same) :]
        low, high = first, same[-1]
        if low < OL:
            low, high = max(low - two_deviations(low), 0.0), high + two_deviations(high)
        yield low, high, [place for value, place in shown if low <= value <= high]
