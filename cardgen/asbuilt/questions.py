"""Turn what is not known into questions: what to find out, in which place, for whose readings."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt.marks import marks
from cardgen.asbuilt.model.as_built import OpenQuestion
from cardgen.checks.not_known import Asked, Subject, asked
from cardgen.facts import Facts
from cardgen.wiring.uses import Role, Use
from cardgen.wiring.wiring_parts import Conductor, Leg, Load


def questions(facts: Facts) -> Iterator[OpenQuestion]:
    for each in asked(facts):
        yield OpenQuestion(
            subject=str(each.subject),
            thing=each.thing,
            at=_place(facts, each),
            start=each.start,
            end=each.end,
            color=each.color,
            needed_by=tuple(_needed_by(facts, each)),
            candidates=marks(_candidates(facts, each)),
        )


def _place(facts: Facts, question: Asked) -> str:
    """Where to look: at the far end of a leg, at the start of a cable, at the valve."""
    match question.subject:
        case Subject.LENGTH:
            return question.end if question.end in facts.job.boxes else question.start
        case Subject.GAUGE:
            return facts.job.cables[question.thing].run[0].at
        case Subject.TIES:
            return question.thing
    return next((load.box for load in _loads(facts, question)), "")


def _candidates(facts: Facts, question: Asked) -> Iterator[Conductor]:
    """What comes to the valve and may be its hot, or is it by metal and in no joint with it."""
    if question.subject is Subject.HOT:
        hots = {Use(role=role, of=question.thing) for role in (Role.MAYBE_HOT, Role.HOT)}
        at = _place(facts, question)
        for conductor in facts.conductors_at.get(at, ()):
            ends = conductor.ends_at(at)
            if any(not hots.isdisjoint(facts.uses.of_end(end)) for end in ends):
                yield conductor


def _loads(facts: Facts, question: Asked) -> Iterator[Load]:
    """Of the station that is asked for, or with the coil."""
    if question.subject is Subject.HOT:
        yield from facts.loads_of[question.thing]
        return
    for load in facts.wiring.loads.values():
        name = load.id if question.subject is Subject.COIL else load.coil and load.coil.id
        if name == question.thing:
            yield load


def _needed_by(facts: Facts, question: Asked) -> Iterator[str]:
    """The valves whose ohms depend on it."""
    if question.subject in (Subject.HOT, Subject.COIL, Subject.COIL_OHMS):
        yield from (load.id for load in _loads(facts, question))
    elif question.subject in (Subject.LENGTH, Subject.GAUGE):
        for circuit in facts.circuits.values():
            steps = (*circuit.hot, *circuit.back)
            if any(isinstance(step, Leg) and _is_asked(step, question) for step in steps):
                yield circuit.load.id


def _is_asked(leg: Leg, question: Asked) -> bool:
    conductor = leg.conductor
    if conductor.cable.id != question.thing:
        return False
    if question.subject is Subject.LENGTH:
        return {leg.start, leg.end} == {question.start, question.end}
    if conductor.gauge is not None or conductor.resistance is not None:
        return False
    return question.color in ("", conductor.insulation.word)
