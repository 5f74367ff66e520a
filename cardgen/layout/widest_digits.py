"""Turn a card into the widest of all that differ from it in digits only: with 0 for each digit.

Where that has room, they all have: a campus has thousands of tags, but few that are not the same
up to their numbers.  Zero is the widest digit and the highest of the letters shipped, and a wider
text takes no fewer lines; of a code in words, which has a narrow zero, 8 is.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from functools import lru_cache
from typing import Any

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import Card, Code, Noted, OnFlag, Splice, Table, Wire
from cardgen.light_dataclass import replace

_DIGITS = "0123456789"
_ZEROS, _EIGHTS = (str.maketrans(_DIGITS, widest * len(_DIGITS)) for widest in "08")


class WidestDigits:
    """For cards that say the same but for digits one card that stands for all of them.

    `finish` turns a card into what is printed of it, where that is not done yet; what it adds is
    the same for all cards that are alike.
    """

    def __init__(self, finish: Callable[[Card], Card] | None = None) -> None:
        self._known: dict[Hashable, Card] = {}
        self._finish = finish or _as_it_is

    def of(self, card: Card) -> Card:
        """The same for all of them, and kept as long as this is."""
        fields = {
            name: value.translate(_ZEROS) if type(value) is str else _widest(value)
            for name, value in card.fields.items()
        }
        said = tuple(fields.items())
        known = self._known.get(said)
        if known is None:
            known = self._known[said] = self._finish(replace(card, fields=fields))
        return known


def _as_it_is(card: Card) -> Card:
    return card


@lru_cache(maxsize=4_096, typed=True)  # neighbors share much
def _widest(value: Any) -> Any:
    match value:
        case OnFlag():
            bare = value.bare.translate(_ZEROS)
            return OnFlag(value.removesuffix(value.bare).rstrip(" "), bare)
        case Noted():
            return Noted(*(text.translate(_ZEROS) for text in (value, value.head, value.note)))
        case str():
            return value.translate(_ZEROS)
        case tuple():
            return tuple(map(_widest, value))
        case ConductorMark():
            cable, band = value.cable.translate(_ZEROS), value.band.translate(_ZEROS)
            return replace(value, cable=cable, band=band, flag=_widest(value.flag))
        case Code():
            address = value.address.translate(_ZEROS)
            return Code(address=address, text=value.text.translate(_EIGHTS))
        case Table():
            return replace(value, rows=_widest(value.rows))
        case Wire():
            mark = _widest(value.mark) if value.mark else None
            return replace(value, mark=mark, name=_widest(value.name), about=_widest(value.about))
        case Splice():
            texts = {name: _widest(getattr(value, name)) for name in Splice.__dataclass_fields__}
            return replace(value, **texts)
    raise AssertionError(f"a card has a {type(value).__name__}")
