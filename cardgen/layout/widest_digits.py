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
        fields = {name: _OF_TYPE[type(value)](value) for name, value in card.fields.items()}
        said = tuple(fields.items())
        known = self._known.get(said)
        if known is None:
            known = self._known[said] = self._finish(replace(card, fields=fields))
        return known


def _as_it_is(card: Card) -> Card:
    return card


def _widest(value: Any) -> Any:
    return _OF_TYPE[type(value)](value)


def _of_text(text: str) -> str:
    return text.translate(_ZEROS)


def _of_flag(flag: OnFlag) -> OnFlag:
    return OnFlag(flag.removesuffix(flag.bare).rstrip(" "), _of_text(flag.bare))


def _of_noted(cell: Noted) -> Noted:
    return Noted(_of_text(cell), _of_text(cell.head), _of_text(cell.note))


def _of_all(parts: tuple[Any, ...]) -> tuple[Any, ...]:
    return tuple([_OF_TYPE[type(part)](part) for part in parts])


@lru_cache(maxsize=512)  # neighbors share conductors, and hardly anything larger
def _of_mark(mark: ConductorMark) -> ConductorMark:
    cable, band = _of_text(mark.cable), _of_text(mark.band)
    return replace(mark, cable=cable, band=band, flag=_widest(mark.flag))


def _of_code(code: Code) -> Code:
    return Code(address=_of_text(code.address), text=code.text.translate(_EIGHTS))


def _of_table(table: Table) -> Table:
    return Table(columns=table.columns, rows=_of_all(table.rows))


def _of_wire(wire: Wire) -> Wire:
    mark = _of_mark(wire.mark) if wire.mark else None
    return Wire(mark=mark, name=_of_text(wire.name), about=_of_text(wire.about))


def _of_splice(splice: Splice) -> Splice:
    return Splice(**{name: _widest(getattr(splice, name)) for name in Splice.__dataclass_fields__})


_OF_TYPE: dict[type, Callable[[Any], Any]] = {
    str: _of_text,
    OnFlag: _of_flag,
    Noted: _of_noted,
    tuple: _of_all,
    ConductorMark: _of_mark,
    Code: _of_code,
    Table: _of_table,
    Wire: _of_wire,
    Splice: _of_splice,
}
