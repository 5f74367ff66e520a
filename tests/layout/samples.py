"""The sample jobs on every stock, in every language: cards and pages, each made once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

from cardgen.cards import Card, CardKind, cards_of
from cardgen.examine import Examined, examine_text
from cardgen.layout import Layouts, Page, Stamp, lay_out, load_layouts
from cardgen.output.as_printable import as_printable
from cardgen.problems import Problem
from cardgen.words import Words, load_words
from tests.jobs import sample


@cache
def words_of(*languages: str) -> Words:
    words, problems = load_words(languages)
    assert words is not None, problems
    return words


@cache
def layouts_in(*languages: str) -> Layouts:
    layouts, problems = load_layouts(words=words_of(*languages))
    assert problems == ()
    return layouts


@cache
def examined(name: str) -> Examined:
    return examine_text(sample(name))


@cache
def sample_cards(name: str, *languages: str) -> Mapping[CardKind, Sequence[Card]]:
    """All cards of a sample job, by kind."""
    job = as_printable(examined(name), words_of(*languages))
    assert job is not None
    return dict(cards_of(job))


def laid(
    name: str, kind: CardKind, stock: str, *languages: str
) -> tuple[tuple[Page, ...], tuple[Problem, ...]]:
    """The pages of the cards of one kind, and what does not fit."""
    layouts, words = layouts_in(*languages), words_of(*languages)
    stamp = Stamp(job_code="JOB-01", revision="rev 1, 2026-03-14", site="A site", words=words)
    some = sample_cards(name, *languages)[kind]
    return lay_out(some, layouts=layouts, stock=layouts.stocks[stock], stamp=stamp)
