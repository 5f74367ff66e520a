"""Set what the readings of a job point to: as on the fault sheet, the way as a list."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from cardgen.advice import Advice, AdvisedStep, ToldSuspect, advice, cautions_of
from cardgen.advice.way_stops import off_in_words, way_stops
from cardgen.asbuilt import AsBuilt
from cardgen.cards.card import WayStop
from cardgen.cards.plain_words import localized_mark
from cardgen.diagnosis import Diagnosis, diagnose_each
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.page_frame import plain_list, section
from cardgen.record.page_words import PageWords
from cardgen.results import Measured
from cardgen.words import Text, apart, printed


def diagnosis_part(
    words: PageWords, known: AsBuilt, readings: tuple[Measured, ...]
) -> Markup | None:
    """Of all values, oldest first, that speak of the wiring as it is now.

    None where the revision was published without its network, or no reading counts.
    """
    if known.network is None or not readings:
        return None
    found = [_part(words, known, each, readings) for each in _diagnosed(_Same(known), readings)]
    if not found:
        return None
    return section(words.of("diagnosis", "record title"), *found, id="diagnosis")


def _part(
    words: PageWords, known: AsBuilt, diagnosis: Diagnosis, readings: tuple[Measured, ...]
) -> Markup:
    """Of what metal or coils join, mostly one controller."""
    told = advice(words.words, known, diagnosis, readings)
    title = words("controller", controller=words.list_of(told.controllers))
    parts = [element("h3", title), *(element("p", said) for said in told.verdict)]
    parts += [
        element("p", element("b", off_in_words(words.words, value)))
        for value in told.off
        if value.valve not in known.valve
    ]
    if not (diagnosis.is_healthy and not diagnosis.apart):
        parts += _found(words, known, told)
    return joined(*parts)


def _found(words: PageWords, known: AsBuilt, told: Advice) -> Iterator[Markup]:
    if told.suspects:
        yield _titled(words, "suspects", *(_suspect(suspect) for suspect in told.suspects))
        small = (words.of("diagnosis", name) for name in ("marks on a page", "weights", "code"))
        yield element("p", " ".join(small), class_="small")
    stops = way_stops(words.words, known, told)
    if stops:
        way = (element("li", *_stop(words, stop)) for stop in stops)
        yield _titled(words, "way", element("ul", *way, class_="plain"))
    said = cautions_of(words.words, known, told)
    yield joined(*(element("p", each, class_="must") for each in said))
    for title, steps in (("next", told.steps[:1]), ("after that", told.other_steps)):
        if steps:
            yield _titled(words, title, *(_step(step) for step in steps))
    lists = {
        "then what": told.follows,
        "what is cleared": told.cleared,
        "what is excluded": told.excluded,
    }
    for title, texts in lists.items():
        if texts:
            yield _titled(words, title, plain_list(texts))


def _titled(words: PageWords, title: str, *contents: Child) -> Markup:
    return joined(element("h4", words.of("diagnosis", title).capitalize()), *contents)


def _suspect(suspect: ToldSuspect) -> Markup:
    """With its places; the mark is that of the way."""
    places: list[Text | Markup] = [
        joined(element("b", each.mark), " ", each.where) for each in suspect.kneeling
    ]
    if suspect.same is not None:
        places.append(suspect.same)
    head = element(
        "p", element("b", apart((str(suspect.number), suspect.weight))), " ", suspect.says
    )
    return element("div", head, plain_list(places), class_="item")


def _stop(words: PageWords, stop: WayStop) -> Iterator[Child]:
    """`A-K2 · 230 ft [1] → VB-5`, beneath it the readings of its valves."""
    if stop.leg:
        yield f"{stop.leg} "
        wires = (localized_mark(wire, words.words) for wire in stop.wires)
        names = ", ".join(f"{wire.cable} {wire.word}" for wire in wires)
        yield from _marks(stop.on_leg)
        yield f"{names} → " if names else "→ "
    yield element("b", stop.title)
    yield " "
    yield from _marks(stop.here)
    if stop.off or stop.notes:
        yield plain_list([*(element("b", off) for off in stop.off), *stop.notes])


def _marks(marks: Iterable[str]) -> Iterator[Child]:
    for mark in marks:
        yield element("b", f"[{mark}] ")


def _step(step: AdvisedStep) -> Markup:
    shown = (f"{printed(each.shows)}: {printed(each.then)}" for each in step.outcomes)
    outcomes = plain_list(shown) if step.outcomes else None
    return joined(element("p", step.do), outcomes)


# ---- worked out once for all languages of a page, and as long as the readings are the same ------


class _Same:
    """A job as built that is the same only if it is the very one: to compare all of it is slow."""

    __slots__ = ("asbuilt",)

    def __init__(self, asbuilt: AsBuilt) -> None:
        self.asbuilt = asbuilt

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.asbuilt is other.asbuilt

    def __hash__(self) -> int:
        return id(self.asbuilt)


@lru_cache(maxsize=16)
def _diagnosed(known: _Same, readings: tuple[Measured, ...]) -> tuple[Diagnosis, ...]:
    return diagnose_each(known.asbuilt, readings)
