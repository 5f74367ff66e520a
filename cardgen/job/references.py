"""See that every name in a job refers to something, and that no name stands for two things."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from cardgen.faults.value_faults import LISTED_TWICE, NAME_USED_TWICE, UNKNOWN_NAME
from cardgen.job.job_parts import ConductorWords, Job
from cardgen.problems import Also, Span
from cardgen.reading.shapes import Report, Written, nearest, nearest_one


class Reference(NamedTuple):
    """`owner` says `name` at `place`, which should be one of `among`."""

    owner: str
    name: str
    span: Span
    what: str
    among: Mapping[str, Any]


def resolve(job: Job, report: Report) -> None:
    """Report names that refer to nothing, and mark what depends on them as broken."""
    told: set[str] = set()
    for ref in (*references(job), *_of_unread_runs(job, report)):
        if ref.name in ref.among:
            continue
        if ref.what != "coil":  # the wiring of a valve can be traced without its data
            report.reported.add(ref.owner)
        if any(_reads_like(name, ref.name) for name in job.reported):
            continue  # it is written, but could not be read
        if ref.name in told:
            continue  # one wrong name is one fault, however often it is used
        told.add(ref.name)
        known = ", ".join(f"'{name}'" for name in list(ref.among)[:12])
        suggestion = _meant(ref)
        if not suggestion:
            none = f"no {ref.what} is described in this job"
            suggestion = f"there are {known}" if known else none
        report.add(UNKNOWN_NAME.at(ref.span, what=ref.what, name=ref.name, suggestion=suggestion))
    _names_used_twice(job, report)
    _listed_twice(job, report)


def _meant(ref: Reference) -> str:
    """The name that is nearest, that has the same number, or that of the box in such a place."""
    words = ref.name.lower()
    places = {name: getattr(each, "where", "") or "" for name, each in ref.among.items()}
    there = [name for name, place in places.items() if place.lower() == words]
    if len(there) == 1:
        return f"did you mean '{there[0]}'?"
    begun = [name for name in ref.among if re.match(rf"{re.escape(name)}\W*\s", f"{ref.name} ")]
    if len(begun) == 1:
        return f"did you mean '{begun[0]}'?"
    number = re.fullmatch(r"[a-z #.]*?0*(\d+)", words)
    alike = [n for n in ref.among if number and re.search(rf"(?<!\d)0*{number[1]}$", n)]
    near = nearest_one(ref.name, ref.among)
    if not near and len(alike) == 1:
        return f"did you mean '{alike[0]}'?"
    return nearest(ref.name, ref.among)


def _of_unread_runs(job: Job, report: Report) -> Iterator[Reference]:
    """A run of which one leg cannot be read names its places all the same."""
    places = {**job.controllers, **job.boxes}
    for place in report.named:
        yield Reference("", place.value, place.span, "controller or box", places)


def _reads_like(broken: str, name: str) -> bool:
    """Whether a name that could not be read is this one, but for blanks and look-alikes."""
    return len(broken) == len(name) and all(
        ours == theirs or not (ours.isascii() and ours.isalnum())
        for ours, theirs in zip(broken, name, strict=True)
    )


def references(job: Job) -> Iterator[Reference]:
    """Every field that names a thing; cables are named with a conductor, which wiring finds."""
    places = {**job.controllers, **job.boxes}

    def to(
        owner: str,
        entries: Iterable[Written[str] | Written[str | None] | None],
        what: str,
        among: Mapping[str, Any],
    ) -> Iterator[Reference]:
        for entry in entries:
            if entry is not None and entry.value is not None:
                yield Reference(owner, entry.value, entry.span, what, among)

    def between(owner: str, entries: Iterable[ConductorWords]) -> Iterator[Reference]:
        for words in entries:
            for name in (words.begins, words.ends):
                if name:
                    yield Reference(owner, name, words.span, "controller or box", places)

    for c in job.controllers.values():
        yield from to(c.id, [c.coil], "coil", job.coils)
        yield from to(c.id, [c.box], "box", job.boxes)
        yield from between(c.id, (*c.common, *c.path_1, *c.path_2))
    for cable in job.cables.values():
        yield from to(cable.id, [cable.palette], "palette", job.palettes)
        for stop in cable.run:
            yield Reference(cable.id, stop.at, stop.span, "controller or box", places)
        for single in cable.singles:
            yield from to(cable.id, [single.to], "controller or box", places)
    for s in job.stations.values():
        yield from to(s.id, [s.coil], "coil", job.coils)
        yield from to(s.id, [s.box, *(v.box for v in s.valves.values())], "box", job.boxes)
        yield from to(s.id, [s.controller], "controller", job.controllers)
        yield from to(s.id, [s.decoder], "decoder", job.decoders)
        yield from between(s.id, (*(s.hot or ()), *s.common))
    for m in job.master_valves.values():
        yield from to(m.id, [m.coil], "coil", job.coils)
        yield from to(m.id, [m.box], "box", job.boxes)
        yield from to(m.id, (*m.controllers, *m.isolators), "controller", job.controllers)
        yield from between(m.id, (*(m.hot or ()), *m.return_path))
    for r in job.relays.values():
        yield from to(r.id, [r.coil], "coil", job.coils)
        yield from to(r.id, [r.box], "box", job.boxes)
        yield from to(r.id, [r.controller], "controller", job.controllers)
        yield from between(r.id, (*(r.hot or ()), *r.return_path))
    for d in job.decoders.values():
        yield from to(d.id, [d.box], "box", job.boxes)
        yield from to(d.id, [d.controller], "controller", job.controllers)
    for sensor in job.sensors.values():
        yield from to(sensor.id, sensor.controllers, "controller", job.controllers)
        yield from between(sensor.id, sensor.conductors)
    for spare in job.spares.values():
        yield from to(spare.id, [spare.begins], "controller or box", places)
        yield from to(spare.id, [spare.to], "box", job.boxes)
        yield from between(spare.id, spare.conductor)
    for pigtail in job.pigtails.values():
        yield from to(pigtail.id, [pigtail.at], "controller or box", places)
    for joints in job.joints.values():
        yield Reference(joints.id, joints.id, joints.span, "controller or box", places)
    yield from to("", job.surge_units, "box", job.boxes)


def _names_used_twice(job: Job, report: Report) -> None:
    """A run names controllers and boxes, a joint cables and valves: each needs its own name."""
    first: dict[str, tuple[str, Span]] = {}
    for kind, entry in _named(job):
        if entry.id in first:
            other_kind, place = first[entry.id]
            also = (Also(span=place, text=f"the {other_kind}"),)
            report.add(
                NAME_USED_TWICE.at(
                    entry.span, name=entry.id, kind=kind, other=other_kind, also=also
                )
            )
            report.reported.add(entry.id)
        else:
            first[entry.id] = (kind, entry.span)


def _listed_twice(job: Job, report: Report) -> None:
    lists = [
        entries for m in job.master_valves.values() for entries in (m.controllers, m.isolators)
    ]
    lists += [sensor.controllers for sensor in job.sensors.values()]
    for names in (*lists, job.surge_units):
        first: dict[str, Span] = {}
        for name in names:
            if name.value in first:
                also = (Also(span=first[name.value], text="first listed here"),)
                report.add(LISTED_TWICE.at(name.span, name=name.value, also=also))
            first.setdefault(name.value, name.span)


def _named(job: Job) -> Iterator[tuple[str, Any]]:
    sections: tuple[tuple[str, Mapping[str, Any]], ...] = (
        ("controller", job.controllers),
        ("box", job.boxes),
        ("cable", job.cables),
        ("station", job.stations),
        ("master valve", job.master_valves),
        ("relay", job.relays),
        ("decoder", job.decoders),
        ("sensor", job.sensors),
        ("spare", job.spares),
        ("pigtail", job.pigtails),
    )
    for kind, section in sections:
        for entry in section.values():
            yield kind, entry
    for station in job.stations.values():
        for valve in station.valves.values():
            yield "valve", valve
