"""Tell about every code of the program: for the terminal, and as a table for the manual."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import chain
from textwrap import fill, indent

from cardgen.checks.explanations import (
    boxes,
    circuits,
    commons,
    conductors,
    files,
    latching,
    layouts,
    marking,
    paper,
    results,
    sensors,
    specials,
    terminals,
    two_wire,
    values,
    words,
)
from cardgen.checks.explanations.model import Explanation

_TOPICS = (
    files,
    values,
    conductors,
    circuits,
    commons,
    terminals,
    specials,
    sensors,
    boxes,
    marking,
    latching,
    two_wire,
    paper,
    layouts,
    words,
    results,
)
EXPLANATIONS: Mapping[str, Explanation] = {
    entry.code: entry for entry in chain.from_iterable(topic.ENTRIES for topic in _TOPICS)
}
WIDTH = 80
_GAP = "    "


def explain(code: str) -> str | None:
    """What the terminal shows about a code; None if there is none of that name."""
    entry = EXPLANATIONS.get(code)
    if entry is None:
        return None
    parts = [
        fill(f"{entry.verdict} {entry.code}: {entry.title}", WIDTH),
        fill(entry.why, WIDTH),
        fill(entry.mend, WIDTH),
    ]
    if entry.wrong:
        parts.append("Gives it:\n\n" + indent(entry.wrong, _GAP))
    if entry.right:
        parts.append("Does not:\n\n" + indent(entry.right, _GAP))
    return "\n\n".join(parts)


def table() -> str:
    """All codes in order of the alphabet, as a Markdown table."""
    rows = [
        f"| `{entry.code}` | {entry.verdict} | {entry.title} |"
        for entry in sorted(EXPLANATIONS.values(), key=lambda entry: entry.code)
    ]
    return "\n".join(["| code | verdict | what it says |", "| --- | --- | --- |", *rows])


__all__ = ["EXPLANATIONS", "Explanation", "explain", "table"]
