"""Check what would be printed: nothing private, revisions in order."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardgen.checks.reporting import error, warning
from cardgen.facts import Facts
from cardgen.problems import Problem

# What lets a stranger in, or finds a person.  Tags hang in the open for ten years.
_CODE_WORD = r"(code|pin|combination)"
_MENTIONED = r"(?!\s+(oaks?|at|in|from|with|by|on|is (with|kept|at))\b)"
_PRIVATE = (
    (
        r"(?i)\b(gate|door|alarm|lock|entry|access|key ?box|shed)('s)? (code|pin)s?\b" + _MENTIONED,
        "a gate or alarm code",
    ),
    (rf"(?i)\b{_CODE_WORD}\b\s*(is|:|=|#)?\s*#?\d{{2,}}", "a code"),
    (r"(?i)\bcode\b[^.;]{0,20}[: ]#?\d{3,}", "a code"),
    (rf"(?i)\b\d{{2,}}\s*(is the )?(gate|door|alarm|lock)? ?{_CODE_WORD}\b", "a code"),
    (r"(?<![\w#])\d{3,8}#", "a code"),
    (r"(?i)\b(password|passcode|passphrase)\b", "a password"),
    (r"(?i)\bwi-?fi\b.{0,20}\b(key|pass\w*|code|login)\b|\bSSID\b", "a network key"),
    (r"[A-Za-z0-9._%+-]+@[A-Za-z0-9-]+\.[A-Za-z]{2,}", "a mail address"),
    (r"(?<![\d-])(\+\d{1,3}[ .-]?)?\(?\d{3}\)?[ .-]\d{3}[ .-]\d{4}(?!\d)", "a phone number"),
    (r"\+\d{1,3}([ .-]?\d{2,4}){3,5}(?!\d)", "a phone number"),
    (r"\b0\d{2,4}[ -]?\d{3}[ -]?\d{3,4}\b", "a phone number"),
)


def private_words(facts: Facts) -> Iterator[Problem]:
    """A text that is printed or published holds what must not hang in a box."""
    for text in facts.job.texts:
        what = private_in(text.value)
        if what:
            yield error(
                "private-text",
                text.place,
                f"this text would print {what} on tags and on the open record",
                "take it out; keep it where only the crew sees it",
            )


def private_in(text: str) -> str:
    """The first private thing in a text, `a gate or alarm code`; empty if there is none."""
    return next((what for pattern, what in _PRIVATE if re.search(pattern, text)), "")


def changes_ahead(facts: Facts) -> Iterator[Problem]:
    """The change log speaks of a revision that the job has not reached."""
    if facts.job.info is None:
        return
    for change in facts.job.changes:
        if change.revision > facts.job.info.revision:
            yield warning(
                "change-ahead",
                change.text.place,
                f"the change log has revision {change.revision}, "
                f"but the job is at revision {facts.job.info.revision}",
                "raise 'revision' under 'job', or mend the log",
            )
