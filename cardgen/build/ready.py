"""Turn an examined job into one that may be printed and published, if it has no errors."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.asbuilt import as_built, spans_of
from cardgen.cards import Printable
from cardgen.examine import Examined
from cardgen.words import Words, english


def ready(
    examined: Examined,
    words: Words | None = None,
    measured: Mapping[str, Mapping[str, str]] | None = None,
) -> Printable | None:
    """What is printed and published, in English if nothing else is asked for."""
    if examined.has_errors or examined.facts is None:
        return None
    info, record = examined.facts.job.info, examined.facts.job.record
    assert info is not None and record is not None  # else there were errors
    return Printable(
        facts=examined.facts,
        asbuilt=as_built(examined.facts),
        spans=spans_of(examined.facts.job, examined.facts.wiring.loads),
        info=info,
        record=record,
        words=words or english(),
        measured=measured or {},
    )
