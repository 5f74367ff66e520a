"""Which faults explain what was read: one alone, else two together, each weighed."""

from __future__ import annotations

import math
from collections.abc import Hashable, Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from cardgen.diagnosis.common_exchanges import common_exchanges
from cardgen.diagnosis.cut_cables import cut_cables
from cardgen.diagnosis.diagnosed import SuspectedFault
from cardgen.diagnosis.evidence import with_loops
from cardgen.diagnosis.exchange_faults import exchange_faults
from cardgen.diagnosis.hypothesis import Hypothesis, Question
from cardgen.diagnosis.meanwhile import at_rest
from cardgen.diagnosis.series_faults import series_faults
from cardgen.diagnosis.touch_faults import touch_faults
from cardgen.diagnosis.walk_tests import log_of_walks, walks_against
from cardgen.diagnosis.weights import ALARM, KEPT, LOG_WEIGHT, UNEXPLAINED
from cardgen.diagnosis.wrong_job import wrong_job
from cardgen.diagnosis.wrong_values import wrong_values
from cardgen.light_dataclass import replace
from cardgen.results import Kind

_POOR = 5.0  # half the squares of standard deviations, of one value
_RARE = 2.95  # standard deviations, to one side: with one value as rare as _POOR
_LIKELIEST = max(LOG_WEIGHT.values())  # log of what a second fault costs at the least
_FIRSTS = 14  # of two faults, how many of the likeliest are tried as the first


@dataclass(frozen=True, kw_only=True)
class Weighed:
    """One hypothesis or two, with the log of how likely they are with all that was read.

    Attributes:
        unexplained: indices of the values that they leave off, and valves that ran otherwise.
    """

    parts: tuple[Hypothesis, ...]
    log: float
    unexplained: AbstractSet[int | str]

    @property
    def faults(self) -> tuple[SuspectedFault, ...]:
        return tuple(part.fault for part in self.parts)


def singles(question: Question) -> list[Weighed]:
    """Each fault by itself, the likeliest first."""
    weighed = [_with_walks(question, each) for each in _alone(question)]
    return sorted(weighed, key=_rank)


def _alone(question: Question) -> list[Weighed]:
    """By what was measured, those left out that `Question.least` leaves out."""
    return [
        _weighed(question, each)
        for each in _all(question)
        if not question.is_hopeless(each.expected, each.log_weight)
    ]


def _all(question: Question) -> Iterator[Hypothesis]:
    yield from series_faults(question)
    yield from cut_cables(question)
    yield from touch_faults(question)
    yield from exchange_faults(question)
    yield from common_exchanges(question)
    yield from wrong_job(question)
    yield from wrong_values(question)


def _weighed(question: Question, hypothesis: Hypothesis) -> Weighed:
    hypothesis = _complete(question, hypothesis)
    log, lost = question.fit.weighed(hypothesis.expected, hypothesis.coils)
    return Weighed(parts=(hypothesis,), log=log + hypothesis.log_weight, unexplained=lost)


def _rank(weighed: Weighed) -> float:
    """The likeliest first; what is alike but for rounding stays in the order it was thought of."""
    return -round(weighed.log, 9)


def _with_walks(question: Question, weighed: Weighed) -> Weighed:
    """What ran weighed, too."""
    if not question.walks:
        return weighed
    seen = question.walks, weighed.faults, at_rest(weighed.parts, question.evidence)
    return replace(
        weighed,
        log=weighed.log + log_of_walks(*seen),
        unexplained=weighed.unexplained | walks_against(*seen),
    )


def _complete(question: Question, hypothesis: Hypothesis) -> Hypothesis:
    """With what was not measured between a terminal and C: makers look at that alone."""
    more = {
        index: question.reading(index, hypothesis.changes, hypothesis.exchanged)
        for index, each in enumerate(question.evidence)
        if each.kind is not Kind.CONTROLLER and index not in hypothesis.expected
        if hypothesis.changes or hypothesis.exchanged
    }
    return replace(hypothesis, expected={**more, **hypothesis.expected}) if more else hypothesis


def pairs(question: Question, firsts: Sequence[Weighed]) -> list[Weighed]:
    """Two faults: what the first leaves off, asked again where the first is known."""
    found: dict[frozenset[Hashable], Weighed] = {}
    whole = question.off | walks_against(question.walks, (), ())
    half = [each for each in firsts if 0 < len(each.unexplained) < len(whole)]
    least = -math.inf  # log of the best that leaves nothing off
    for first in half[:_FIRSTS]:
        (known,) = first.parts
        if first.log - UNEXPLAINED * len(first.unexplained) + _LIKELIEST < least - KEPT:
            continue
        worth = max(firsts[0].log, least) - KEPT - known.log_weight
        for second in _alone(_after(question, known, worth)):
            (added,) = second.parts
            pair = Weighed(
                parts=(known, added),
                log=second.log + known.log_weight,
                unexplained=second.unexplained,
            )
            pair = _with_walks(question, pair)
            if first.unexplained <= pair.unexplained:
                continue
            key = frozenset((what_and_where(known), what_and_where(added)))
            if key not in found or _rank(pair) < _rank(found[key]):
                found[key] = pair
            if is_explained(pair):
                least = max(least, pair.log)
    return sorted(found.values(), key=_rank)


def what_and_where(hypothesis: Hypothesis) -> Hashable:
    """What is wrong and where: found first or second, its ohms are not quite the same."""
    fault = hypothesis.fault
    return fault.kind, frozenset(fault.valves), frozenset(fault.sites)


def _after(question: Question, known: Hypothesis, least: float) -> Question:
    """The same values, where that one is known to be wrong."""
    sound = [each.sound for each in question.evidence]
    for index, ohms in known.expected.items():
        sound[index] = ohms
    return replace(
        question,
        evidence=with_loops(question.evidence, sound, known.coils),
        before=(*question.before, *known.changes),
        exchanged={**question.exchanged, **known.exchanged},
        least=least,
    )


def kept(weighed: Iterable[Weighed]) -> list[Weighed]:
    """All within 20 to 1 of the likeliest, that first."""
    ranked = sorted(weighed, key=_rank)
    return [each for each in ranked if each.log >= ranked[0].log - KEPT]


def is_alarm(question: Question, best: Weighed) -> bool:
    """Something is off that a sound yard hardly shows, or a fault explains much better."""
    sound = question.fit.log_sound + log_of_walks(question.walks, [], ())
    return best.log > sound + ALARM


def is_explained(best: Weighed) -> bool:
    return not best.unexplained


def is_poor(question: Question, best: Weighed) -> bool:
    """It leaves nothing off, and yet values that two faults may fit better."""
    (part,) = best.parts
    misfits = [question.misfit({i: ohms}, part.coils) for i, ohms in part.expected.items()]
    count = max(len(misfits), 1)
    return sum(misfits) > most_misfit(count) or max(misfits, default=0.0) > _POOR + math.log(count)


def most_misfit(count: int) -> float:
    """Half the squares of as many standard deviations that chance hardly makes.

    (Wilson and Hilferty, The distribution of chi-square, 1931; from memory.)
    """
    part = 2 / (9 * count)
    return count / 2 * (1 - part + _RARE * math.sqrt(part)) ** 3
