"""Check what would be printed: nothing private, revisions in order."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.facts import Facts
from cardgen.faults.paper_faults import CHANGE_AHEAD, PRIVATE_TEXT, STARTER_VALUE
from cardgen.job import starter
from cardgen.problems import Problem
from cardgen.reading.nodes import short
from cardgen.trade.private_text import Private, private


def private_words(facts: Facts) -> Iterator[Problem]:
    """A text that is printed or published holds what must not hang in a box."""
    judged: dict[str, Private | None] = {}  # the same words stand in many places
    for text in facts.job.texts:
        if text.value not in judged:
            judged[text.value] = private(text.value)
        found = judged[text.value]
        if found:
            yield PRIVATE_TEXT.at(text.span, words=short(found.words), what=found.what)


def starter_values(facts: Facts) -> Iterator[Problem]:
    """Code, site or address are still those of a new file."""
    info, record = facts.job.info, facts.job.record
    said = (
        ("", info and info.code, starter.CODE),
        ("site", info and info.site, starter.SITE),
        ("address", record and record.address, starter.ADDRESS.upper()),
    )
    for variant, written, value in said:
        if written and written.value == value:
            yield STARTER_VALUE.at(written.span, variant=variant, value=value)


def changes_ahead(facts: Facts) -> Iterator[Problem]:
    """The change log speaks of a revision that the job has not reached."""
    if facts.job.info is None:
        return
    for change in facts.job.changes:
        if change.revision > facts.job.info.revision:
            yield CHANGE_AHEAD.at(
                change.text.span, logged=change.revision, revision=facts.job.info.revision
            )
