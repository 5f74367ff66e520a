"""Choose the pages that a phone keeps for a day without signal, within a bound, and say which."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cardgen.record.offline_copy import Note, OfflineCopy
from cardgen.record.page_words import PageWords

# Bytes of one job, all languages.  Assumed: some 700 pages of boxes and stations, and half of the
# 50 MB that phones of ten years ago allowed a site (from memory).
LIMIT = 25_000_000
BESIDE = 1_000  # bytes that a phone keeps with a page, and that the note on it may grow; assumed
# The first kinds are the last to be left out; the way in goes without saying.
WAY_IN = ""
KINDS = (WAY_IN, "boxes", "controllers", "lists", "stations", "drawing")


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordPage:
    """`name` is that of its file; `kind` is one of `KINDS`, the word for such pages."""

    name: str
    language: str
    kind: str
    data: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class OfflineChoice:
    """What a phone keeps, and what was too much."""

    pages: tuple[RecordPage, ...]
    left: tuple[RecordPage, ...]

    def note(self, words: PageWords) -> str:
        """For the foot of each page, with #revision and #age to be filled in."""
        values = {"revision": "#revision", "age": "#age"}
        if not self.left:
            return words("saved", **values)
        kept, left = (
            words.list_of(_told(words, _counted(words, pages), _counted(words, others)))
            for pages, others in ((self.pages, self.left), (self.left, self.pages))
        )
        return words("saved part", kept=kept or "0", left=left or "0", **values)

    def copy(self, revision: int, languages: Iterable[PageWords]) -> OfflineCopy:
        """What the worker keeps; where that is not all, the foot of each page says so."""
        notes = tuple(Note(words.language, self.note(words)) for words in languages)
        notes = notes if self.left else ()
        digests = {page.name: hashlib.sha256(page.data).hexdigest() for page in self.pages}
        whole = repr((sorted(digests.items()), notes))
        return OfflineCopy(
            pages=tuple(digests),  # in the order in which a phone keeps them: the way in first
            revision=revision,
            digest=hashlib.sha256(whole.encode()).hexdigest()[:16],
            notes=notes,
        )


def chosen(pages: Sequence[RecordPage], limit: int) -> OfflineChoice:
    """By kind, all languages of one before the next kind, until the bound is reached."""
    kept: list[RecordPage] = []
    room = limit
    order = sorted(pages, key=lambda page: KINDS.index(page.kind))
    for page in order:
        room -= len(page.data) + BESIDE
        if room < 0:
            break
        kept.append(page)
    return OfflineChoice(pages=tuple(kept), left=tuple(order[len(kept) :]))


def _counted(words: PageWords, pages: Iterable[RecordPage]) -> Counter[str]:
    """The pages in this language by their kind."""
    return Counter(p.kind for p in pages if p.kind and p.language == words.language)


def _told(words: PageWords, here: Counter[str], there: Counter[str]) -> list[str]:
    return [
        words("part of", what=words(kind), number=number, all=number + there[kind])
        if there[kind]
        else words(kind)
        for kind, number in here.items()
    ]
