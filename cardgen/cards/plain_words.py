"""Turn what all cards share into the languages of a print: colors, and what nothing tells.

Makers say which conductor; how its color is called on paper is said here, in one place.  Its
letter code and its pattern are the same in all languages.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import Card, OnFlag, PrintedValue, Splice, Table, WayStop, Wire
from cardgen.units import NOT_KNOWN
from cardgen.words import Words


def localized(card: Card, words: Words) -> Card:
    """The card with every color in the words of the print."""
    return replace(card, fields={name: _field(v, words) for name, v in card.fields.items()})


def _field(value: PrintedValue, words: Words) -> PrintedValue:
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
    match part:
        case str() if part == NOT_KNOWN:
            return words("terms.not known").printed
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
    flag = mark.flag
    if flag and not isinstance(flag, OnFlag):
        flag = OnFlag(words("terms.flag").printed, flag)
    return replace(mark, word=words.color(mark.word).printed, flag=flag)
