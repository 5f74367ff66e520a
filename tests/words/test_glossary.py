"""The manual's list of words: each is what cards and pages say, and no second word is.

Which words a crew hears is common practice, no source; that the list agrees with what is printed
is read from the catalogues.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from cardgen.manual import pages
from cardgen.words import load_words
from tests.for_each import for_each


@dataclass(frozen=True)
class Entry:
    """A row of the page; `others` are second words for the thing, by language."""

    word: str
    spanish: str
    meaning: str
    others: Mapping[str, tuple[str, ...]]


def entries() -> Iterator[Entry]:
    page = pages()["glossary"]
    for line in page.text.splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if line.startswith("| ") and cells[0] != "word":
            word, spanish, meaning, *others = cells
            also = {
                language: tuple(filter(None, words.split(", ")))
                for language, words in zip(("en", "es"), others, strict=True)
            }
            yield Entry(word, spanish, meaning, also)


ENTRIES = tuple(entries())
NAMES = [entry.word for entry in ENTRIES]


@cache
def texts(language: str) -> Mapping[str, str]:
    words, problems = load_words((language,))
    assert words is not None, problems
    return words.catalogues[0].texts


def uses(word: str, language: str) -> list[str]:
    """Names of the texts that have it, in any case, with the endings of plural and feminine."""
    parts = (re.escape(part) + "(?:s|es|a|as)?" for part in word.split())
    whole = re.compile(rf"(?<!\w){' '.join(parts)}(?!\w)", re.IGNORECASE)
    return [key for key, text in texts(language).items() if whole.search(text)]


@for_each("entry", ENTRIES)
def test_a_word_of_the_list_is_what_is_printed(entry: Entry) -> None:
    assert uses(entry.word, "en")
    assert uses(entry.spanish, "es")


@for_each("entry", ENTRIES)
def test_no_second_word_is_printed_for_the_same_thing(entry: Entry) -> None:
    for language, others in entry.others.items():
        for other in others:
            assert uses(other, language) == [], other


def test_each_word_is_there_once_and_said_in_one_plain_phrase() -> None:
    assert len(ENTRIES) > 45
    for words in (NAMES, [entry.spanish for entry in ENTRIES]):
        assert len(set(words)) == len(words)
    for language, first in (("en", NAMES), ("es", [entry.spanish for entry in ENTRIES])):
        seconds = [other for entry in ENTRIES for other in entry.others[language]]
        assert len(seconds) > 20
        assert len({*seconds, *first}) == len(seconds) + len(first)
    for entry in ENTRIES:
        assert 3 <= len(entry.meaning.split()) <= 16, entry.word
        assert "." not in entry.meaning


def test_the_search_finds_a_second_word() -> None:
    assert uses("splice card", "en") and uses("válvula maestra", "es")
    assert uses("zone", "en") == []
    assert "columns.station" in uses("station", "en")
