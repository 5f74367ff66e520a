"""Check what would be printed: nothing private, revisions in order."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.checks.reporting import error, warning
from cardgen.facts import Facts
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
            yield error(
                "private-text",
                text.span,
                f"'{short(found.words)}' reads like {found.what}; it would stand on paper "
                "and on the open record",
                "take it out and keep it where only the crew sees it; "
                "if it is something else, say what: 'box 4471', 'valve code 12'",
            )


def changes_ahead(facts: Facts) -> Iterator[Problem]:
    """The change log speaks of a revision that the job has not reached."""
    if facts.job.info is None:
        return
    for change in facts.job.changes:
        if change.revision > facts.job.info.revision:
            yield warning(
                "change-ahead",
                change.text.span,
                f"the change log has revision {change.revision}, "
                f"but the job is at revision {facts.job.info.revision}",
                "raise 'revision' under 'job', or mend the log",
            )
