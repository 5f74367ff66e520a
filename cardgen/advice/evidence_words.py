"""Say what was read beside what was expected, what that clears, and what it excludes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from cardgen.advice.site_words import place_in_words
from cardgen.asbuilt import AsBuilt, Role
from cardgen.cards.use_words import use_in_words
from cardgen.diagnosis import ClearedStretch, Exclusion, FittedValue
from cardgen.light_dataclass import replace
from cardgen.results import Kind, Measured
from cardgen.words import Said, Text, Words


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


def figure(value: float) -> str:
    """`34.3`, `2400`, `OL`: as a meter shows it."""
    if math.isinf(value):
        return "OL"
    return f"{value:.0f}" if abs(value) >= 1000 else f"{value:.1f}"


def value_in_words(words: Words, value: FittedValue, measured: Measured) -> ToldValue:
    """As it was read; what was expected only where that is of the same unit."""
    expected = words.same("")
    bounds = (value.expected, value.low, value.high)
    if measured.kind.unit == Kind.CONTROLLER.unit and None not in bounds:
        figures = [figure(bound) for bound in bounds if bound is not None]
        names = ("expected", "low", "high")
        expected = words("diagnosis.expected", **dict(zip(names, figures, strict=True)))
    is_special = measured.kind is not Kind.CONTROLLER
    return ToldValue(
        what=words.own("measured", measured.kind),
        is_special=is_special,
        valve=value.valve,
        read=measured.shown if is_special else figure(measured.value),
        expected=expected,
        is_off=value.is_off,
    )


def cleared_in_words(
    words: Words, known: AsBuilt, cleared: Iterable[ClearedStretch]
) -> Iterator[Text]:
    """From place to place what goes all of that way together; then hots as far as their valves."""
    by_way: dict[tuple[str, str], list[str]] = {}
    for stretch in _in_one(cleared):
        by_way.setdefault((stretch.start, stretch.end), []).append(stretch.conductor)
    at_valves: list[str] = []
    for (start, end), names in by_way.items():
        uses, hots = _cleared_uses(words, known, start, names)
        here = [name for name in hots if end in {valve.box for valve in known.stations[name]}]
        at_valves += here
        further = [name for name in hots if name not in here]
        if further:
            uses.append(words.count("diagnosis.hots", len(further), of=words.list_of(further)))
        if uses:
            yield words(
                "diagnosis.cleared",
                start=place_in_words(words, known, start),
                end=place_in_words(words, known, end),
                what=words.joined(uses),
            )
    if at_valves:
        ranked = [name for name in known.stations if name in at_valves]
        yield words.count("diagnosis.cleared hots", len(ranked), of=words.list_of(ranked))


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


def _cleared_uses(
    words: Words, known: AsBuilt, start: str, names: list[str]
) -> tuple[list[Said], list[str]]:
    """Commons, returns and paths in words, each once; the stations of the hots."""
    hots: dict[str, None] = {}
    others: dict[Said, None] = {}
    for name in names:
        conductor = known.conductor[name]
        stretch = conductor.at(start, onward=True) or conductor.at(start, onward=False)
        for use in stretch.uses if stretch else ():
            if use.role is Role.HOT:
                hots[use.of] = None
            else:
                others[use_in_words(words, use)] = None
    return list(others), list(hots)


def excluded_in_words(words: Words, exclusion: Exclusion) -> Text:
    return words(
        "diagnosis.excluded",
        what=words(f"diagnosis.kind {exclusion.kind}"),
        valve=exclusion.valve,
        expected=figure(exclusion.expected),
        read=figure(exclusion.read),
    )
