"""Turn what is not known into questions: what to find out, in which place, for whose readings."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt.marks import mark, marks
from cardgen.asbuilt.model.as_built import OpenQuestion
from cardgen.checks.not_known import Asked, Subject, asked
from cardgen.facts import Facts
from cardgen.light_dataclass import replace
from cardgen.wiring.uses import Role, Use
from cardgen.wiring.wiring_parts import Conductor, Leg, Load


def questions(facts: Facts) -> Iterator[OpenQuestion]:
    for each in asked(facts):
        question = OpenQuestion(
            subject=str(each.subject),
            thing=each.thing,
            at=_place(facts, each),
            start=each.start,
            end=each.end,
            color=each.color,
            needed_by=tuple(_needed_by(facts, each)),
        )
        yield from _of_hot(facts, question) if each.subject is Subject.HOT else (question,)


def _of_hot(facts: Facts, question: OpenQuestion) -> Iterator[OpenQuestion]:
    """At the valve, at the terminal, and where what is known from the terminal ends."""
    load, *_ = facts.loads_of[question.thing]
    out, inward = load.known_out, load.known_in
    maybe = Use(role=Role.MAYBE_HOT, of=question.thing)
    hots = {maybe, Use(role=Role.HOT, of=question.thing)}
    reached = out.hops[-1].arrival(out.hops[-1].end) if out else None
    if reached and (inward or reached.at != question.at):
        yield replace(
            question,
            at=reached.at,
            side="onward",
            wire=mark(facts.wiring.conductors[reached.of]),
            candidates=marks(_with(facts, reached.at, {maybe})),
        )
    if inward is None:
        yield replace(question, candidates=marks(_with(facts, question.at, hots)))
    elif out is None:
        home = load.hot_end.at
        candidates = marks(_with(facts, home, {maybe}))
        yield replace(question, at=home, side="terminal", candidates=candidates)


def _with(facts: Facts, at: str, uses: set[Use]) -> Iterator[Conductor]:
    """What comes to a place and has one of these uses there."""
    for conductor in facts.conductors_at.get(at, ()):
        ends = conductor.ends_at(at)
        if any(not uses.isdisjoint(facts.uses.of_end(end)) for end in ends):
            yield conductor


def _place(facts: Facts, question: Asked) -> str:
    """Where to look: at the far end of a leg, at the start of a cable, at the valve."""
    match question.subject:
        case Subject.LENGTH:
            return question.end if question.end in facts.job.boxes else question.start
        case Subject.GAUGE:
            return facts.job.cables[question.thing].run[0].at
        case Subject.TIES | Subject.SIZE:
            return question.thing
        case Subject.PLACE:
            sensor = facts.job.sensors.get(question.thing)
            return sensor.controllers[0].value if sensor else question.thing
    return next((load.box for load in _loads(facts, question)), "")


def _loads(facts: Facts, question: Asked) -> Iterator[Load]:
    """Of the station that is asked for, or with the coil."""
    if question.subject in (Subject.HOT, Subject.AREA):
        yield from facts.loads_of.get(question.thing, ())
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
