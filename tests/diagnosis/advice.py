"""Follow what is advised in a simulated yard, and halve the way instead, to compare."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from cardgen.diagnosis import Diagnosis, NextStep, StepKind
from cardgen.results import Kind, Measured
from tests.diagnosis.cases import Case
from tests.diagnosis.ground import common_end, hot_end
from tests.diagnosis.metal import COPPER, Circuit, Element, Part
from tests.diagnosis.plans import PlannedValve
from tests.diagnosis.scoring import is_kept, kept_places
from tests.diagnosis.sites import Injected
from tests.diagnosis.walks import Truth, reading

MOST = 8  # readings after the walk; nobody follows advice longer


@dataclass(frozen=True, slots=True)
class Stand:
    """How far it is after some readings.

    Attributes:
        places: left; is_true: the true one among them.
        step: what was done to come here; None after the walk alone.
    """

    places: int
    is_true: bool
    step: NextStep | None = None


def followed(case: Case, most: int = MOST) -> Iterator[Stand]:
    """After the walk, then after each advised reading, until one place is left."""
    (fault,) = case.faults
    ways, diagnosis = case.ground.ways, case.diagnosed()
    yield Stand(kept_places(ways, diagnosis), is_kept(ways, diagnosis, fault))
    for _ in range(most):
        if kept_places(ways, diagnosis) <= 1 or not diagnosis.steps:
            return
        step = diagnosis.steps[0]
        if step.kind in (StepKind.OPEN_SPLICE, StepKind.RUN):
            if fault.start == fault.end == step.at:
                yield Stand(1, True, step)  # it lies open, or runs, before him
                return
            diagnosis = replace(diagnosis, steps=diagnosis.steps[1:])
        else:
            diagnosis = _after(case, diagnosis, step)
        if fault.misread != 1 and diagnosis.is_healthy:
            yield Stand(1, True, step)  # read again, it is sound: the slip is found
            return
        yield Stand(kept_places(ways, diagnosis), is_kept(ways, diagnosis, fault), step)


def _after(case: Case, diagnosis: Diagnosis, step: NextStep) -> Diagnosis:
    answer = _answer(case.truth, step)
    if answer is None:
        return replace(diagnosis, steps=diagnosis.steps[1:])
    if step.kind is not StepKind.BYPASS:
        case.readings.append(answer)
        return case.diagnosed()
    # A bypass is no value of its own: its outcomes say what it leaves.
    left = {n for o in step.outcomes if o.low <= answer.value <= o.high for n in o.suspects}
    suspects = tuple(s for n, s in enumerate(diagnosis.suspects) if n in left)
    return replace(diagnosis, suspects=suspects, steps=diagnosis.steps[1:])


def _answer(truth: Truth, step: NextStep) -> Measured | None:
    """What the meter shows; None where the yard has no such place to put it."""
    plan, first = truth.plan, truth.plan.valves[step.valves[0]]
    ends = hot_end(first), common_end(first.controller)
    match step.kind:
        case StepKind.CONTROLLER | StepKind.AGAIN:
            return reading(plan, first.id, truth.measured(*ends))
        case StepKind.HOT_TO_HOT:
            other = plan.valves[step.valves[1]]
            value = truth.measured(ends[0], hot_end(other))
            found = reading(plan, first.id, value, Kind.HOT_TO_HOT)
            return replace(found, id=f"{found.id} {other.id}", to=other.id)
        case StepKind.COIL:
            return reading(plan, first.id, truth.shown(_coil(truth, first)), Kind.COIL)
        case StepKind.COIL_WIRES:
            return reading(plan, first.id, _coil_wires(truth, first), Kind.COIL_WIRES)
        case StepKind.OUTWARD:
            outward = _outward(truth, first, step.at)
            if outward is None:
                return None
            found = reading(plan, first.id, outward, Kind.BOX_LOOP)
            return replace(found, id=f"{found.id} {step.at}", box=step.at)
        case StepKind.BYPASS:
            bypassed = replace(truth, circuit=_without_contact(truth, step.name))
            return reading(plan, first.id, bypassed.measured(*ends))
    raise AssertionError(step)


def _coil(truth: Truth, valve: PlannedValve) -> float:
    """Of the coil by itself, its leads off."""
    element = truth.circuit["coil", valve.id]
    factor = truth.day.batches[valve.coil] * truth.day.coils[valve.id]
    return element.ohms * factor * (1 + COPPER * (truth.day.celsius - 20.0))


def _coil_wires(truth: Truth, valve: PlannedValve) -> float:
    """Between the wires that its leads were joined to; a second coil beside it is still there."""
    lead, back = (truth.circuit["lead", valve.id, end] for end in ("hot", "back"))
    circuit = {p: e for p, e in truth.circuit.items() if not _is_off(valve, p)}
    second = truth.circuit.get(("coil", valve.id, "second"))
    if second is not None:
        circuit["coil", valve.id, "second"] = replace(second, one=lead.one, two=back.one)
    return replace(truth, circuit=circuit).measured(lead.one, back.one)


def _is_off(valve: PlannedValve, part: Part) -> bool:
    """The coil, its leads and what is wrong in them."""
    return part[:1] != ("leg",) and part[:1] != ("splice",) and valve.id in part


def _outward(truth: Truth, valve: PlannedValve, box: str) -> float | None:
    """Hot and common opened in a box, from there to the coil."""
    circuit = dict(truth.circuit)
    ends = []
    for conductor in (
        *valve.hots,
        *(truth.plan.cables[hot.split(maxsplit=1)[0]].common for hot in valve.hots),
    ):
        legs = [p for p in circuit if p[0] == "leg" and p[1] == conductor and p[3] == box]
        if legs:
            ends.append(_cut(circuit, legs[0][:4]))
    return replace(truth, circuit=circuit).measured(*ends) if len(ends) == 2 else None


def _cut(circuit: dict[Part, Element], leg: Part) -> str:
    """Take a leg out with what is wrong in it; the node at its outer end."""
    pieces = [p for p in (("bad spot", *leg), (*leg, "rest"), leg) if p in circuit]
    outer = circuit[pieces[0]].two
    for part in pieces:
        del circuit[part]
    return outer


def _without_contact(truth: Truth, sensor: str) -> Circuit:
    part = ("contact", sensor)
    return {**truth.circuit, part: replace(truth.circuit[part], ohms=0.0)}


# -- halving ---------------------------------------------------------------------------------------


def halved(case: Case) -> int | None:
    """Readings of one who opens the box half way, always; None where the fault is on no such way.

    The way is that to the first valve behind it.  In a box he measures toward the valve, so he
    knows whether it is before or behind; at the end hot and common are still to be told apart.
    """
    (fault,) = case.faults
    places = _way(case, fault)
    if places is None:
        return None
    at = _position(fault, places)
    first, last, readings = 0, len(places) - 1, 0  # leg numbers, and after them the valve itself
    while first < last:
        middle = (first + last + 1) // 2
        readings += 1
        if at >= middle:
            first = middle
        else:
            last = middle - 1
    return readings + 1


def _way(case: Case, fault: Injected) -> list[str] | None:
    """The places of the way to a valve behind it."""
    for valve in case.ground.plan.valves.values():
        places = [valve.controller]
        cables = [case.ground.plan.cables[hot.split(maxsplit=1)[0]] for hot in valve.hots]
        for cable, onward in zip(cables, [*cables[1:], None], strict=True):
            leave = onward.places[0] if onward else valve.box
            places += cable.places[1 : cable.places.index(leave) + 1]
        conductors = {*valve.hots, *(cable.common for cable in cables)}
        if not conductors.isdisjoint(fault.conductors) and {fault.start, fault.end} <= set(places):
            return places
    return None


def _position(fault: Injected, places: list[str]) -> int:
    """The leg, by number; the last place is the valve itself."""
    if fault.start != fault.end:
        return min(places.index(fault.start), places.index(fault.end))
    return places.index(fault.start)
