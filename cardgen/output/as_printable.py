"""Turn an examined job into one that may be printed and published, if it has no errors."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from cardgen.asbuilt import as_built, network_values, spans_of
from cardgen.cards import Printable
from cardgen.examine import Examined
from cardgen.stages import Stage
from cardgen.words import Words, english


def as_printable(
    examined: Examined,
    words: Words | None = None,
    measured: Mapping[str, Mapping[str, str]] | None = None,
    *,
    with_network: bool = False,
) -> Printable | None:
    """What is printed and published, in English if nothing else is asked for.

    `with_network`: its ohms too, for whoever compares readings; it is large.
    """
    facts = examined.facts
    if examined.has_errors or facts is None:
        return None
    Stage.ASBUILT.begins()
    known = as_built(facts, examined.problems)
    return Printable(
        asbuilt=replace(known, network=network_values(facts)) if with_network else known,
        spans=spans_of(facts.job, facts.wiring.loads),
        words=words or english(),
        measured=measured or {},
    )
