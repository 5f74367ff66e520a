"""Say what to measure next, and what each thing that the meter may show would mean."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from cardgen.advice.merged_sites import merged
from cardgen.advice.site_words import conductor_in_words, place_in_words
from cardgen.asbuilt import AsBuilt, BuiltValve
from cardgen.diagnosis import NextStep, PossibleOutcome, StepKind
from cardgen.light_dataclass import replace
from cardgen.words import Said, Text, Words


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldOutcome:
    """Attributes:
    shows: `34 to 36 Ω`, `OL`.
    then: which suspects that would leave.
    """

    shows: Text
    then: Text


@dataclass(frozen=True, slots=True, kw_only=True)
class AdvisedStep:
    kind: StepKind
    do: Text
    outcomes: tuple[ToldOutcome, ...]


def advised_step(words: Words, known: AsBuilt, step: NextStep, suspects: int) -> AdvisedStep:
    """`suspects` is how many there are."""
    name: Said = step.name
    if step.name in known.conductor:
        # What is spliced there is the stretch that comes from the controller: the rest may be dead.
        name = conductor_in_words(words, known, step.name, step.at, onward=False)
    key = f"diagnosis.step {step.kind}"
    if not step.name and words.has(f"{key} unnamed"):
        key = f"{key} unnamed"
    do = words(
        key,
        place=place_in_words(words, known, step.at),
        valves=words.list_of(step.valves),
        name=name,
    )
    return AdvisedStep(
        kind=step.kind, do=do, outcomes=tuple(_outcomes(words, known, step, suspects))
    )


def _outcomes(words: Words, known: AsBuilt, step: NextStep, suspects: int) -> Iterator[ToldOutcome]:
    """Those that overlap and would leave the same are one."""
    if step.kind in (StepKind.OPEN_SPLICE, StepKind.RUN):
        return  # there is no figure to read
    told: list[tuple[PossibleOutcome, Text]] = []
    for outcome in step.outcomes:
        then = _then(words, known, step, outcome, suspects)
        if told and told[-1][1] == then and outcome.low <= told[-1][0].high:
            low = min(told[-1][0].low, outcome.low)
            told[-1] = replace(outcome, low=low), then
        else:
            told.append((outcome, then))
    for outcome, then in told:
        yield ToldOutcome(shows=_shows(words, outcome), then=then)


def _then(
    words: Words, known: AsBuilt, step: NextStep, outcome: PossibleOutcome, suspects: int
) -> Text:
    numbers = [str(index + 1) for index in outcome.suspects]
    if not numbers:
        return words("diagnosis.then none")
    if len(numbers) == suspects and suspects > 1:
        then = words("diagnosis.then all")
    else:
        then = words.count("diagnosis.then", len(numbers), suspects=words.list_of(numbers))
    if step.kind is StepKind.OUTWARD:
        side = "toward" if _is_sound(known.valve[step.valves[0]], outcome) else "beyond"
        return words(f"diagnosis.then {side}", then=then)
    return _with_place(words, known, outcome, then) if step.kind is StepKind.COIL_WIRES else then


def _with_place(words: Words, known: AsBuilt, outcome: PossibleOutcome, then: Text) -> Text:
    """The ohms tell how far it is, where that is one stretch."""
    sites = merged(known, outcome.sites)
    if len(sites) != 1 or sites[0].start == sites[0].end:
        return then
    start, end = (place_in_words(words, known, p) for p in (sites[0].start, sites[0].end))
    return words("diagnosis.then between", then=then, start=start, end=end)


def _is_sound(valve: BuiltValve, outcome: PossibleOutcome) -> bool:
    """What good wires show from a box outward: the coil and a part of the way to it."""
    if valve.coil is None or valve.ohms is None:
        return False
    return outcome.low <= valve.ohms.expected and valve.coil.expected <= outcome.high


def _shows(words: Words, outcome: PossibleOutcome) -> Text:
    """Outward to whole ohms; where it has no upper end that is said."""
    if math.isinf(outcome.low):
        return words.same("OL")
    low = math.floor(max(outcome.low, 0.0) + 1e-9)
    if math.isinf(outcome.high):
        return words("diagnosis.shows above", low=low)
    return words("diagnosis.shows", low=low, high=math.ceil(outcome.high - 1e-9))
