"""What is left to do where no measurement tells more: look at a splice, or run stations."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.diagnosis.diagnosed import FaultKind, NextStep, StepKind, SuspectedFault
from cardgen.diagnosis.hypothesis import Question
from cardgen.diagnosis.search import Weighed
from cardgen.diagnosis.walk_tests import ON_TERMINALS
from cardgen.diagnosis.weights import EFFORT

_NOT_IN_A_BOX = (
    FaultKind.WRONG_READING,
    FaultKind.WRONG_LENGTH,
    FaultKind.WRONG_GAUGE,
    FaultKind.NO_OUTPUT,
    FaultKind.VALVE_SHUT,
)
_MOST_NAMES = 6  # of valves


def _run(fault: SuspectedFault) -> NextStep:
    """What runs tells whose hots are on which terminals, and opens no box."""
    return NextStep(
        kind=StepKind.RUN,
        valves=(*fault.valves, *fault.alike)[: max(_MOST_NAMES, len(fault.valves))],
        at=fault.sites[0].start,
        effort=EFFORT[StepKind.RUN],
        left=1.0,
        outcomes=(),
    )


def last_resort(question: Question, found: Sequence[Weighed]) -> Iterator[NextStep]:
    """Half way along the likeliest there is a splice to look at, its own or the last one."""
    part = found[0].parts[-1]
    if part.fault.kind in _NOT_IN_A_BOX:
        return
    if part.fault.kind in ON_TERMINALS:
        yield _run(part.fault)
        return
    sites = [place.site for place in part.places] or list(part.fault.sites)
    spliced = question.yard.spliced
    own = [
        site for site in sites if not site.conductor or (site.conductor, site.end) in spliced
    ] or sites[-1:]
    site = own[(len(own) - 1) // 2]
    yield NextStep(
        kind=StepKind.OPEN_SPLICE,
        valves=part.fault.valves[:_MOST_NAMES],
        at=site.end,
        effort=EFFORT[StepKind.OPEN_SPLICE],
        left=0.5 if len(own) > 1 else 1.0,
        outcomes=(),
        name=site.conductor,
    )
