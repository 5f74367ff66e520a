"""Choose the words of a page by what its reader's browser asks for."""

from __future__ import annotations

from functools import cache

from cardgen.words import Words, languages, load_words

_known = cache(languages)


@cache
def words_in(language: str) -> Words:
    """The words of one of the languages there are."""
    words, problems = load_words((language,))
    assert words is not None, problems
    return words


def words_for(asked: str) -> Words:
    """The words for an `Accept-Language` (RFC 9110, 12.5.4); English where none of it is known."""
    wanted: list[tuple[float, str]] = []
    for part in asked.split(","):
        name, _, weight = part.partition(";")
        wanted.append((_weight(weight), name.strip().lower()))
    for _, name in sorted(wanted, key=lambda one: -one[0]):
        for language in (name, name.partition("-")[0]):
            if language in _known():
                return words_in(language)
    return words_in(_known()[0])


def _weight(text: str) -> float:
    try:
        return float(text.partition("q=")[2] or 1)
    except ValueError:
        return 0.0
