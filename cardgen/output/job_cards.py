"""The cards of one job, each kind made when it is first asked for: a print of tags makes tags."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import cached_property

from cardgen.cards import MAKERS, Card, CardKind, Printable, cards_of
from cardgen.drawing import HomeRun, home_runs
from cardgen.memory.stored_job import StoredJob
from cardgen.output.card_texts import DRAWING, CardEntry, CardText, card_text, entry_of, home_text
from cardgen.output.selection import KINDS


class JobCards:
    """Cards and home runs in the order of the job, home runs last."""

    def __init__(self, printable: Printable) -> None:
        self.printable = printable
        self._made: dict[CardKind, tuple[Card, ...]] = {}

    def of(self, kind: CardKind) -> tuple[Card, ...]:
        if kind not in self._made:
            self._made |= cards_of(self.printable, [kind])
        return self._made[kind]

    def by_kind(self, kinds: Collection[str] = tuple(MAKERS)) -> dict[CardKind, tuple[Card, ...]]:
        return {kind: self.of(kind) for kind in MAKERS if kind in kinds}

    @cached_property
    def stored(self) -> StoredJob:
        """What is kept of the job for later prints."""
        return StoredJob.of(self.printable.asbuilt)

    @cached_property
    def homes(self) -> tuple[HomeRun, ...]:
        return home_runs(self.printable)

    def entries(self, words: Iterable[str] = ()) -> dict[str, CardEntry]:
        """By key, of the kinds that these words of `KINDS` stand for; without a word, of all."""
        kinds = {kind for word in tuple(words) or KINDS for kind in KINDS[word]}
        return {entry.key: entry for entry in self._entries(kinds)}

    def _entries(self, kinds: Collection[str]) -> Iterator[CardEntry]:
        for cards in self.by_kind(kinds).values():
            yield from map(entry_of, cards)
        if DRAWING in kinds:
            yield from self.texts_of_homes

    @cached_property
    def texts_of_homes(self) -> tuple[CardText, ...]:
        controllers = self.printable.asbuilt.controller
        return tuple(home_text(home, controllers) for home in self.homes)

    @cached_property
    def texts(self) -> Mapping[str, CardText]:
        """What all of them say, by key; only a comparison with another print needs that."""
        cards = (card_text(card) for group in self.by_kind().values() for card in group)
        return {text.key: text for text in (*cards, *self.texts_of_homes)}
