"""Turn an examined job into one that may be printed and published, if it has no errors."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.asbuilt import as_built, network_values, spans_of
from cardgen.cards import Printable
from cardgen.examine import Examined
from cardgen.faults.paper_faults import PRIVATE_TEXT
from cardgen.light_dataclass import replace
from cardgen.problems import Verdict
from cardgen.stages import Stage
from cardgen.words import Words, english


def as_printable(
    examined: Examined,
    words: Words | None = None,
    measured: Mapping[str, Mapping[str, str]] | None = None,
    *,
    with_network: bool = False,
    for_survey: bool = False,
) -> Printable | None:
    """What is printed and published, in English if nothing else is asked for.

    `with_network`: its ohms too, for whoever compares readings; it is large.
    `for_survey`: for the list of what is still to be found out, which is needed to mend errors.
    """
    facts = examined.facts
    if facts is None or (examined.has_errors and not (for_survey and _may_be_asked(examined))):
        return None
    Stage.ASBUILT.begins()
    known = as_built(facts, examined.problems)
    return Printable(
        asbuilt=replace(known, network=network_values(facts)) if with_network else known,
        spans=spans_of(facts.job, facts.wiring.loads),
        words=words or english(),
        measured=measured or {},
        errors=sum(problem.verdict is Verdict.ERROR for problem in examined.problems),
    )


def _may_be_asked(examined: Examined) -> bool:
    """It has a head to print, and no error is of what may not be on paper."""
    has_head = examined.job is not None and examined.job.info is not None
    return has_head and all(problem.code != PRIVATE_TEXT.code for problem in examined.problems)
