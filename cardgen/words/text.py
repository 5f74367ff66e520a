"""A text of the catalogues in every language of a print, kept apart until it is printed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NoReturn, TypeAlias

from cardgen.light_dataclass import dataclass, replace

BETWEEN = "\u00a0/ "  # no line begins with the stroke


@dataclass(frozen=True, slots=True)
class Text:
    """The same said in every language of a print.

    It is no `str` and turns into none by itself, so that two languages cannot get into one
    sentence: a `Text` goes into another by `words("section.key", value=text)`, `words.joined` or
    `words.list_of`, each language for itself; `printed` ends that.

    Attributes:
        each: by language, in their order on paper.
        figure: what stands behind the languages once: `30 Ω` of `coil / bobina 30 Ω`.
    """

    each: tuple[str, ...]
    figure: str = ""

    @property
    def languages(self) -> tuple[str, ...]:
        """What each language says, whole."""
        return tuple(_behind(said, self.figure) for said in self.each) if self.figure else self.each

    @property
    def printed(self) -> str:
        """All languages with a stroke between; what all say alike is said once."""
        words = self.each[0] if len(self.each) == 1 else BETWEEN.join(dict.fromkeys(self.each))
        return _behind(words, self.figure) if self.figure else words

    @property
    def lines(self) -> tuple[str, ...]:
        """Each language for a line of its own; what all say alike is one line."""
        return (self.printed,) if self.figure else tuple(dict.fromkeys(self.each))

    def upper(self) -> Text:
        """In capitals, all but the figure: `mA` is a unit, `MA` none."""
        return replace(self, each=tuple(said.upper() for said in self.each))

    def __bool__(self) -> bool:
        """Whether it says anything."""
        return bool(self.figure) or any(self.each)

    def _no_string(self, *_: object) -> NoReturn:
        raise TypeError(
            f"{self!r} has its languages apart: put it into a text by its name, "
            "or take what is printed"
        )

    __str__ = __format__ = __add__ = __radd__ = __mod__ = __rmod__ = _no_string
    __iter__ = __len__ = __contains__ = __getitem__ = _no_string


Said: TypeAlias = str | Text


def printed(said: Said) -> str:
    """A text as it is printed; a name or a number as it is."""
    return said.printed if isinstance(said, Text) else said


def apart(statements: Iterable[Said]) -> str:
    """`Larkspur Cottage · 24 V AC / 24 V CA`: what stands by itself, each in all its languages."""
    return " · ".join(printed(said) for said in statements if said)


def all_printed(row: Iterable[Said]) -> tuple[str, ...]:
    return tuple(printed(said) for said in row)


def _behind(said: str, figure: str) -> str:
    return f"{said} {figure}" if said and figure else said or figure
