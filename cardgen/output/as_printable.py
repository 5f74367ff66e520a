"""Turn an examined job into one that may be printed and published, if it has no errors."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.asbuilt import as_built, spans_of
from cardgen.cards import Printable
from cardgen.examine import Examined
from cardgen.stages import Stage
from cardgen.words import Words, english


def as_printable(
    examined: Examined,
    words: Words | None = None,
    measured: Mapping[str, Mapping[str, str]] | None = None,
) -> Printable | None:
    """What is printed and published, in English if nothing else is asked for."""
    facts = examined.facts
    if examined.has_errors or facts is None:
        return None
    Stage.ASBUILT.begins()
    return Printable(
        asbuilt=as_built(facts, examined.problems),
        spans=spans_of(facts.job, facts.wiring.loads),
        words=words or english(),
        measured=measured or {},
    )
