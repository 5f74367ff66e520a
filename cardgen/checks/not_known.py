"""Find what the job says is not known, once for the check and for the list to carry along."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from itertools import chain, pairwise
from typing import NamedTuple

from cardgen.facts import Facts
from cardgen.faults.box_faults import STILL_UNKNOWN
from cardgen.job.job_parts import Box, Cable, Controller, Job, Sensor
from cardgen.problems import Problem, Span

MOST = 6  # in one message: the list that is printed has them all (ours)


class Subject(StrEnum):
    """What is asked; the value is its name in the catalogues."""

    HOT = "hot"
    LENGTH = "length"
    GAUGE = "gauge"
    COIL = "coil"
    COIL_OHMS = "coil ohms"
    COIL_LEADS = "coil leads"
    TIES = "ties"
    PLACE = "place"
    SIZE = "size"
    AREA = "area"


class Asked(NamedTuple):
    """Attributes:
    thing: the cable, the valve or its station, the kind of coil or the box; start, end: of a leg.
    color: of the singles of a bundle.
    """

    span: Span
    subject: Subject
    thing: str
    start: str = ""
    end: str = ""
    color: str = ""


_IN_WORDS = {
    Subject.HOT: "the hot of {thing}",
    Subject.LENGTH: "the length of {thing} from '{start}' to '{end}'",
    Subject.GAUGE: "the gauge of {thing}",
    Subject.COIL: "the coil of {thing}",
    Subject.COIL_OHMS: "the resistance of the coil '{thing}'",
    Subject.COIL_LEADS: "the leads of the coil '{thing}'",
    Subject.TIES: "the distances of {thing}",
    Subject.PLACE: "the place of {thing}",
    Subject.SIZE: "the size of {thing}",
    Subject.AREA: "the area of {thing}",
}


def not_known(facts: Facts) -> Iterator[Problem]:
    """All of it in one message: there is one list to take along."""
    found = list(asked(facts))
    if found:
        parts = [_in_words(each) for each in found[:MOST]]
        left = len(found) - len(parts)
        parts += [f"{left} more"] if left else []
        what = " and ".join(part for part in (", ".join(parts[:-1]), parts[-1]) if part)
        yield STILL_UNKNOWN.at(found[0].span, what=what)


def _in_words(question: Asked) -> str:
    thing = f"{question.thing} {question.color}".strip()
    return _IN_WORDS[question.subject].format(**{**question._asdict(), "thing": thing})


def asked(facts: Facts) -> Iterator[Asked]:
    """In the order of the file, hots, cables, coils of valves, kinds of coil, boxes, places."""
    hots = {c.load.owner.id: c.load.span for c in facts.half_circuits.values()}
    for owner, span in hots.items():
        yield Asked(span, Subject.HOT, owner)
    for cable in facts.job.cables.values():
        yield from _of_cable(cable)
    for load in facts.wiring.loads.values():
        named = load.owner.coil or facts.job.controllers[load.controller].coil
        if named is not None and named.value is None:
            yield Asked(named.span, Subject.COIL, load.id)
    for coil in facts.job.coils.values():
        if coil.resistance is None:
            yield Asked(coil.span, Subject.COIL_OHMS, coil.id)
        if coil.leads is None:
            yield Asked(coil.span, Subject.COIL_LEADS, coil.id)
    for box in facts.job.boxes.values():
        if box.ties is None:
            yield Asked(box.span, Subject.TIES, box.id)
        if box.size is None:
            yield Asked(box.span, Subject.SIZE, box.id)
    yield from _to_be_told(facts.job)


def _to_be_told(job: Job) -> Iterator[Asked]:
    """Where a thing is and what it waters: words, on which no figure depends."""
    places: Iterator[Controller | Box | Sensor] = chain(
        job.controllers.values(), job.boxes.values(), job.sensors.values()
    )
    for placed in places:
        if placed.where is None:
            yield Asked(placed.span, Subject.PLACE, placed.id)
    for station in job.stations.values():
        if station.area is None:
            yield Asked(station.span, Subject.AREA, station.id)


def _of_cable(cable: Cable) -> Iterator[Asked]:
    for one, two in pairwise(cable.run):
        if two.leg is not None and two.leg.value is None:
            yield Asked(two.leg.span, Subject.LENGTH, cable.id, one.at, two.at)
    if cable.gauge is not None and cable.gauge.value is None:
        yield Asked(cable.gauge.span, Subject.GAUGE, cable.id)
    colors: dict[str, Span] = {}
    for single in cable.singles:
        if single.gauge.value is None:
            colors.setdefault(single.color.value.word, single.gauge.span)
    for color, span in colors.items():
        yield Asked(span, Subject.GAUGE, cable.id, color=color)
