"""Turn a diagnosis into texts: what fits, where to kneel, what to measure next, what is cleared."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from string import ascii_lowercase

from cardgen.advice.repair_order import first_to_repair
from cardgen.advice.reprint import reprint
from cardgen.advice.site_words import distance_in_words, place_in_words, site_in_words
from cardgen.advice.step_words import AdvisedStep, advised_step
from cardgen.asbuilt import AsBuilt, Role
from cardgen.cards.use_words import use_in_words
from cardgen.diagnosis import (
    ClearedStretch,
    Diagnosis,
    Exclusion,
    FittedValue,
    StepKind,
    Suspect,
    SuspectedFault,
    SuspectSite,
)
from cardgen.results import Kind, Measured
from cardgen.words import Said, Text, Words

MOST_KNEELING = 9  # places of one suspect that are told; the others are counted
_HUNDRED = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Kneeling:
    """A place to look at, and by which mark the drawing shows it: `1`, or `1a` of several."""

    mark: str
    site: SuspectSite
    where: Text


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldSuspect:
    """Attributes:
    says: `Fits: an open wire or splice.`
    weight: `72 %`.
    """

    number: int
    says: Text
    weight: str
    kneeling: tuple[Kneeling, ...]
    follows: tuple[Text, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldValue:
    """Attributes:
    is_special: of another kind than ohms at the controller, so that it must be said which.
    expected: empty where it means nothing.
    """

    what: Text
    is_special: bool
    valve: str
    read: str
    expected: Text
    is_off: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """Attributes:
    verdict: in one or two sentences; with what was allowed for.
    follows: from the suspects, by their numbers where not from all.
    """

    controllers: tuple[str, ...]
    verdict: tuple[Text, ...]
    suspects: tuple[ToldSuspect, ...]
    follows: tuple[Text, ...]
    steps: tuple[AdvisedStep, ...]
    values: tuple[ToldValue, ...]
    cleared: tuple[Text, ...]
    excluded: tuple[Text, ...]

    @property
    def other_steps(self) -> tuple[AdvisedStep, ...]:
        """Beside the first of all the best of each other kind: more of one kind say little new."""
        firsts: dict[StepKind, AdvisedStep] = {}
        for step in self.steps:
            firsts.setdefault(step.kind, step)
        return tuple(firsts.values())[1:]

    @property
    def kneeling(self) -> Iterator[Kneeling]:
        for suspect in self.suspects:
            yield from suspect.kneeling

    @property
    def off(self) -> tuple[ToldValue, ...]:
        return tuple(value for value in self.values if value.is_off)


def advice(
    words: Words, known: AsBuilt, diagnosis: Diagnosis, readings: Iterable[Measured]
) -> Advice:
    """`readings` are those from which the diagnosis was made."""
    kinds = {measured.id: measured.kind for measured in readings}
    suspects = tuple(
        _suspect(words, known, suspect, number)
        for number, suspect in enumerate(diagnosis.suspects, 1)
    )
    return Advice(
        controllers=diagnosis.controllers,
        verdict=tuple(_verdict(words, diagnosis)),
        suspects=suspects,
        follows=tuple(_in_common(words, suspects)),
        steps=tuple(
            advised_step(words, known, step, len(diagnosis.suspects)) for step in diagnosis.steps
        ),
        values=tuple(_value(words, value, kinds[value.reading]) for value in diagnosis.values),
        cleared=tuple(_cleared(words, known, diagnosis)),
        excluded=tuple(_excluded(words, exclusion) for exclusion in diagnosis.excluded),
    )


def dates_in_words(words: Words, diagnosis: Diagnosis, readings: Sequence[Measured]) -> Text:
    """`6 of 8 readings count, newest of 2026-03-20`: older ones and other kinds do not."""
    date = max((measured.when[: len("2026-03-20")] for measured in readings), default="")
    count, number = len(readings), len(diagnosis.values)
    if number == count:
        return words.count("diagnosis.readings", count, date=date)
    return words("diagnosis.readings of", number=number, all=count, date=date)


# ---- the verdict ---------------------------------------------------------------------------


def _verdict(words: Words, diagnosis: Diagnosis) -> Iterator[Text]:
    if not diagnosis.values:
        yield words("diagnosis.nothing counts")
    elif diagnosis.is_healthy:
        yield words.count("diagnosis.healthy", len(diagnosis.values))
    elif diagnosis.is_several:
        yield words("diagnosis.several")
    elif diagnosis.suspects:
        yield words.count("diagnosis.suspected", len(diagnosis.suspects))
    else:
        yield words("diagnosis.unexplained")
    for coil, factor in diagnosis.coil_factors:
        percent = round(_HUNDRED * factor)
        if percent != _HUNDRED:
            yield words("diagnosis.coils differ", coil=coil, percent=percent)
    celsius = round(diagnosis.celsius)
    if celsius != 20:
        fahrenheit = round(diagnosis.celsius * 9 / 5 + 32)
        yield words("diagnosis.warm", celsius=celsius, fahrenheit=fahrenheit)


# ---- a suspect -----------------------------------------------------------------------------


def fault_in_words(words: Words, fault: SuspectedFault) -> Text:
    """`an open wire or splice`, `the hots of A5 and A7 touching`."""
    key = f"diagnosis.what {fault.kind}"
    if fault.ohms is not None and words.has(f"{key} by ohms"):
        key = f"{key} by ohms"
    if not words.has(key):
        key = f"diagnosis.kind {fault.kind}"
    ohms = "" if fault.ohms is None else _figure(fault.ohms)
    ends = {"one": fault.valves[0], "other": fault.valves[-1]} if fault.valves else {}
    return words(key, valves=words.list_of(fault.valves), ohms=ohms, name=fault.name, **ends)


def _suspect(words: Words, known: AsBuilt, suspect: Suspect, number: int) -> ToldSuspect:
    faults = [fault_in_words(words, fault) for fault in suspect.faults]
    what = faults[0] if len(faults) == 1 else words("diagnosis.both", one=faults[0], two=faults[1])
    marks = _marks(suspect, number)
    return ToldSuspect(
        number=number,
        says=words("diagnosis.fits" if number == 1 else "diagnosis.also fits", what=what),
        weight=f"{max(round(_HUNDRED * suspect.share), 1)} %",
        kneeling=tuple(
            Kneeling(mark=mark, site=site, where=_where(words, known, fault, site))
            for fault, own in zip(suspect.faults, marks, strict=True)
            for mark, site in zip(own, fault.sites, strict=False)
        ),
        follows=tuple(_follows(words, known, suspect, marks)),
    )


def _marks(suspect: Suspect, number: int) -> list[list[str]]:
    """By fault those of its places; one alone needs no letter."""
    counts = [min(len(fault.sites), MOST_KNEELING) for fault in suspect.faults]
    letters = iter(ascii_lowercase if sum(counts) > 1 else ("",))
    return [[f"{number}{next(letters)}" for _ in range(count)] for count in counts]


def _where(words: Words, known: AsBuilt, fault: SuspectedFault, site: SuspectSite) -> Text:
    parts = (site_in_words(words, known, fault, site), distance_in_words(words, known, site))
    return words.joined([part for part in parts if part is not None], ". ")


def _follows(
    words: Words, known: AsBuilt, suspect: Suspect, marks: list[list[str]]
) -> Iterator[Text]:
    for fault in suspect.faults:
        left = len(fault.sites) - MOST_KNEELING
        if left > 0:
            yield words.count("diagnosis.more places", left)
    if len(suspect.faults) > 1:
        first = first_to_repair(known, suspect.faults)
        if first is None:
            yield words("diagnosis.repair either")
        else:
            one, two = ("/".join(marks[at]) for at in (first, 1 - first))
            yield words("diagnosis.repair first", first=one, second=two)
    stopped = suspect.meanwhile
    if stopped:
        yield words.count("diagnosis.stopped", len(stopped), valves=words.list_of(stopped))
    else:
        yield words("diagnosis.all run")
    for fault in suspect.faults:
        prints = reprint(words, known, fault)
        if prints is not None:
            yield prints


def _in_common(words: Words, suspects: Sequence[ToldSuspect]) -> Iterator[Text]:
    """What several say is said once."""
    by_text: dict[Text, list[str]] = {}
    for suspect in suspects:
        for said in suspect.follows:
            by_text.setdefault(said, []).append(str(suspect.number))
    for said, numbers in by_text.items():
        if len(numbers) == len(suspects):
            yield said
        else:
            listed = words.list_of(numbers)
            yield words("diagnosis.of suspects", numbers=listed, said=said)


# ---- values, and what is cleared -----------------------------------------------------------


def _figure(value: float) -> str:
    """`34.3`, `2400`, `OL`: as a meter shows it."""
    if math.isinf(value):
        return "OL"
    return f"{value:.0f}" if abs(value) >= 1000 else f"{value:.1f}"


def _value(words: Words, value: FittedValue, kind: Kind) -> ToldValue:
    expected = words.same("")
    if value.expected is not None and value.low is not None and value.high is not None:
        expected = words(
            "diagnosis.expected",
            expected=_figure(value.expected),
            low=_figure(value.low),
            high=_figure(value.high),
        )
    elif value.expected is not None:
        expected = words.same(_figure(value.expected))
    return ToldValue(
        what=words.own("measured", kind),
        is_special=kind is not Kind.CONTROLLER,
        valve=value.valve,
        read=_figure(value.value),
        expected=expected,
        is_off=value.is_off,
    )


def _cleared(words: Words, known: AsBuilt, diagnosis: Diagnosis) -> Iterator[Text]:
    """From place to place: what goes all of that way together."""
    by_way: dict[tuple[str, str], list[str]] = {}
    for cleared in _in_one(diagnosis.cleared):
        by_way.setdefault((cleared.start, cleared.end), []).append(cleared.conductor)
    for (start, end), names in by_way.items():
        yield words(
            "diagnosis.cleared",
            start=place_in_words(words, known, start),
            end=place_in_words(words, known, end),
            what=words.joined(_cleared_uses(words, known, start, names)),
        )


def _in_one(cleared: Iterable[ClearedStretch]) -> list[ClearedStretch]:
    """Legs of a conductor that go on from each other as one stretch."""
    found: list[ClearedStretch] = []
    for stretch in cleared:
        last = found[-1] if found else None
        if last and last.conductor == stretch.conductor and last.end == stretch.start:
            found[-1] = replace(last, end=stretch.end)
        else:
            found.append(stretch)
    return found


def _cleared_uses(words: Words, known: AsBuilt, start: str, names: list[str]) -> list[Said]:
    hots: list[str] = []
    others: list[Said] = []
    for name in names:
        conductor = known.conductor[name]
        stretch = conductor.at(start, onward=True) or conductor.at(start, onward=False)
        for use in stretch.uses if stretch else ():
            if use.role is Role.HOT:
                hots.append(use.of)
            else:
                others.append(use_in_words(words, use))
    if hots:
        unique = list(dict.fromkeys(hots))
        others.append(words.count("diagnosis.hots", len(unique), of=words.list_of(unique)))
    return list(dict.fromkeys(others))


def _excluded(words: Words, exclusion: Exclusion) -> Text:
    return words(
        "diagnosis.excluded",
        what=words(f"diagnosis.kind {exclusion.kind}"),
        valve=exclusion.valve,
        expected=_figure(exclusion.expected),
        read=_figure(exclusion.read),
    )
