"""Turn what all cards share into the languages of a print: colors, and what nothing tells.

Makers say which conductor; how its color is called on paper is said here, in one place.  Its
letter code and its pattern are the same in all languages.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import Card, OnFlag, PrintedValue, Splice, Table, WayStop, Wire
from cardgen.light_dataclass import replace
from cardgen.units import NOT_KNOWN
from cardgen.words import Words


def localized(card: Card, words: Words) -> Card:
    """The card with every color in the words of the print."""
    return replace(card, fields={name: _field(v, words) for name, v in card.fields.items()})


def _field(value: PrintedValue, words: Words) -> PrintedValue:
    if type(value) is str:  # as most are
        return value
    match value:
        case ConductorMark():
            return localized_mark(value, words)
        case Table():
            rows = tuple(tuple(_cell(cell, words) for cell in row) for row in value.rows)
            return replace(value, rows=rows)
        case tuple():
            return tuple(_cell(part, words) for part in value)
    return value


def _cell(part: Any, words: Words) -> Any:
    """One of a row or a list."""
    if part.__class__ is str:
        return words("terms.not known").printed if part == NOT_KNOWN else part
    match part:
        case ConductorMark():
            return localized_mark(part, words)
        case Splice():
            return _splice(part, words)
        case WayStop():
            return replace(part, wires=tuple(localized_mark(w, words) for w in part.wires))
    return part


def _splice(splice: Splice, words: Words) -> Splice:
    def said(wires: tuple[Wire, ...]) -> tuple[Wire, ...]:
        return tuple(
            replace(w, mark=localized_mark(w.mark, words) if w.mark else None) for w in wires
        )

    return replace(
        splice,
        arriving=said(splice.arriving),
        leaving=said(splice.leaving),
        leads=said(splice.leads),
    )


def localized_mark(mark: ConductorMark, words: Words) -> ConductorMark:
    """With what is on its flag as `flag A3`; flags of several are in words already."""
    word = words.color(mark.word).printed
    if mark.flag and not isinstance(mark.flag, OnFlag):
        return _flagged(mark, word, words("terms.flag").printed)
    return mark if word == mark.word else replace(mark, word=word)


@lru_cache(maxsize=256)  # neighbors share conductors
def _flagged(mark: ConductorMark, word: str, flag: str) -> ConductorMark:
    return replace(mark, word=word, flag=OnFlag(flag, mark.flag))
