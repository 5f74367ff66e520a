"""Tell one case of the diagnosis benchmark: what was put in, what was read, what was said."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.diagnosis import Diagnosis, Suspect
from tests.diagnosis.advice import Stand
from tests.diagnosis.cases import Case

_MOST = 5  # suspects and values to tell


def told(case: Case, stands: Sequence[Stand], walk: int) -> str:
    """`walk`: how many of its readings are of the walk."""
    return "\n".join(_lines(case, stands, walk))


def _lines(case: Case, stands: Sequence[Stand], walk: int) -> Iterator[str]:
    plan = case.ground.plan
    yield f"-- seed {case.seed}, {len(plan.valves)} valves, {', '.join(sorted(plan.features))}"
    for fault in case.faults:
        ohms = f"{fault.ohms:.0f} ohm"
        conductors = ", ".join(fault.conductors[:2])
        valves = ", ".join(fault.valves[:4])
        yield f"   in: {fault.kind}, {fault.start}..{fault.end} [{conductors}] {valves} {ohms}"
    after = case.readings[walk:]
    case.readings[walk:] = []
    yield from _said(case.diagnosed())
    for stand, reading in zip(stands[1:], after, strict=False):
        step = stand.step
        assert step
        what = f"{step.kind} {' '.join(step.valves)} at {step.at}: {reading.value}"
        yield f"   {what} -> {stand.places} places{'' if stand.is_true else ', not the true one'}"
    case.readings += after
    if after:
        yield from _said(case.diagnosed())


def _said(diagnosis: Diagnosis) -> Iterator[str]:
    off = [f"{v.valve} {v.value} for {v.expected or 0:.1f}" for v in diagnosis.values if v.is_off]
    yield f"   off: {', '.join(off[:_MOST]) or 'none'}{' several' if diagnosis.is_several else ''}"
    for suspect in diagnosis.suspects[:_MOST]:
        yield f"   {suspect.share:6.3f} {_suspect(suspect)}"


def _suspect(suspect: Suspect) -> str:
    return " + ".join(
        f"{f.kind} {' '.join(f.valves[:3])} "
        + ", ".join(f"{s.conductor}[{s.start}..{s.end}]" for s in f.sites[:3])
        + (f" {f.ohms:.0f} ohm" if f.ohms is not None else "")
        for f in suspect.faults
    )
