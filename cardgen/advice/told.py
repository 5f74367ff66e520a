"""Turn a diagnosis into texts: what fits, where to kneel, what to measure next, what is cleared."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from cardgen.advice.evidence_words import (
    ToldValue,
    cleared_in_words,
    excluded_in_words,
    value_in_words,
)
from cardgen.advice.hidden_words import hidden_in_words
from cardgen.advice.site_words import site_in_words
from cardgen.advice.step_words import AdvisedStep, advised_step
from cardgen.advice.suspect_words import (
    Kneeling,
    ToldSuspect,
    fault_in_words,
    suspects_in_words,
)
from cardgen.asbuilt import AsBuilt
from cardgen.diagnosis import Diagnosis, StepKind
from cardgen.results import Measured
from cardgen.words import Text, Words

_USUAL_CELSIUS = 20  # of all ohms of a job
_HUNDRED = 100


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
    by_id = {measured.id: measured for measured in readings}
    suspects = suspects_in_words(words, known, diagnosis.suspects, in_part=diagnosis.is_several)
    return Advice(
        controllers=diagnosis.controllers,
        verdict=(
            *_by_themselves(words, known, diagnosis),
            *_verdict(words, diagnosis),
            *hidden_in_words(words, diagnosis.hidden),
            *_not_judged(words, known, by_id.values()),
        ),
        suspects=suspects,
        follows=tuple(_in_common(words, suspects)),
        steps=tuple(
            advised_step(words, known, step, len(diagnosis.suspects)) for step in diagnosis.steps
        ),
        values=tuple(
            value_in_words(words, value, by_id[value.reading]) for value in diagnosis.values
        ),
        cleared=tuple(cleared_in_words(words, known, diagnosis.cleared)),
        excluded=tuple(excluded_in_words(words, exclusion) for exclusion in diagnosis.excluded),
    )


def dates_in_words(words: Words, number: int, readings: Sequence[Measured]) -> Text:
    """`6 of 8 readings count, newest of 2026-03-20`: older ones and other kinds do not."""
    date = max((measured.when[: len("2026-03-20")] for measured in readings), default="")
    count = len(readings)
    if number == count:
        return words.count("diagnosis.readings", count, date=date)
    return words("diagnosis.readings of", number=number, all=count, date=date)


def _by_themselves(words: Words, known: AsBuilt, diagnosis: Diagnosis) -> Iterator[Text]:
    """What one value shows, whatever the others say."""
    for fault in diagnosis.apart:
        what = fault_in_words(words, fault)
        where, *others = (site_in_words(words, known, fault, site) for site in fault.sites)
        for other in others:
            where = words("diagnosis.or in", one=where, other=other)
        yield words("diagnosis.by itself", what=what, where=where)


def _verdict(words: Words, diagnosis: Diagnosis) -> Iterator[Text]:
    if not diagnosis.values and not diagnosis.suspects:
        if diagnosis.is_healthy and diagnosis.counted and not diagnosis.apart:
            yield words.count("diagnosis.healthy", len(diagnosis.counted))
        elif not diagnosis.apart:
            yield words("diagnosis.nothing counts")
    elif diagnosis.is_healthy and diagnosis.apart:
        yield words.count("diagnosis.others fit", len(diagnosis.values))
    elif diagnosis.is_healthy:
        yield words.count("diagnosis.healthy", len(diagnosis.counted))
    elif diagnosis.is_several:
        yield words("diagnosis.several")
    elif diagnosis.suspects:
        yield words.count("diagnosis.suspected", len(diagnosis.suspects))
        if any(suspect.beside for suspect in diagnosis.suspects):
            yield words("diagnosis.two together")
    else:
        yield words("diagnosis.unexplained")
    for coil, factor in diagnosis.coil_factors:
        percent = round(_HUNDRED * factor)
        if percent != _HUNDRED:
            yield words("diagnosis.coils differ", coil=coil, percent=percent)
    celsius = round(diagnosis.celsius)
    if celsius != _USUAL_CELSIUS:
        fahrenheit = round(diagnosis.celsius * 9 / 5 + 32)
        yield words("diagnosis.warm", celsius=celsius, fahrenheit=fahrenheit)


def _not_judged(words: Words, known: AsBuilt, readings: Iterable[Measured]) -> Iterator[Text]:
    """Valves and spares that were measured, and of whose circuits something is not known."""
    names = dict.fromkeys(measured.valve or measured.start for measured in readings)
    lacking = [name for name in names if _lacks_ohms(known, name)]
    if lacking:
        yield words("diagnosis.not judged", valves=words.list_of(lacking))


def _lacks_ohms(known: AsBuilt, name: str) -> bool:
    if name in known.valve:
        return known.valve[name].lacks_ohms
    names = (s.conductor for s in known.spares if name in (s.id, s.conductor) and s.conductor)
    return any(None in known.conductor[conductor].legs for conductor in names)


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
