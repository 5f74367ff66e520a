"""The words of the record's pages in one language: those of the catalogue, by name."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from cardgen.asbuilt import Use
from cardgen.cards.use_words import uses_in_words
from cardgen.words import Words


@dataclass(frozen=True, slots=True)
class PageWords:
    """`words` has one language: a page has a twin for each other one."""

    words: Words

    @property
    def language(self) -> str:
        return self.words.languages[0]

    def __call__(self, key: str, **values: object) -> str:
        """The text `record.KEY` with the values in it; what the values hold stays as it is."""
        return self.words(f"record.{key}", **values).printed

    def of(self, section: str, key: str, **values: object) -> str:
        """A text of another section of the catalogue."""
        return self.words(f"{section}.{key}", **values).printed

    def has(self, key: str) -> bool:
        return self.words.has(f"record.{key}")

    def color(self, word: str) -> str:
        """The word for a color, as on the tag; what is no color stays as it is."""
        return self.words.color(word).printed

    def list_of(self, parts: Iterable[str]) -> str:
        """`A1, A2 and A3`; runs of numbers are drawn together: `A11 to A14`."""
        return self.words.list_of(parts).printed

    def uses(self, uses: Iterable[Use]) -> str:
        """`hot A7, common A`: what metal makes of a conductor."""
        return self.words.joined(uses_in_words(self.words, uses)).printed

    def box_kind(self, kind: str) -> str:
        return self.of("box kinds", kind)

    def supply(self, said: str) -> str:
        """`24 V AC`, `two-wire`: the volts stay as they are."""
        volts, unit, kind = said.rpartition(" V ")
        return f"{volts}{unit}{self.of('supplies', kind)}"
