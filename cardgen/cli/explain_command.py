"""`cardgen explain [CODE]`: why a problem matters on site, and the way out."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.checks.explanations import EXPLANATIONS, explain
from cardgen.cli.telling import CLEAN, misused
from cardgen.reading.shapes import nearest


@dataclass(frozen=True, kw_only=True)
class Options:
    """Attributes:
    code: of a problem; None for the list of all.
    """

    code: str | None


def run(options: Options) -> int:
    if options.code is None:
        for entry in EXPLANATIONS.values():
            print(f"{entry.code:28} {entry.verdict:8} {entry.title}")
        return CLEAN
    text = explain(options.code)
    if text is None:
        help_ = nearest(options.code, EXPLANATIONS) or "'cardgen explain' lists them all"
        return misused(f"no problem has the code '{options.code}'", help_)
    print(text)
    return CLEAN
