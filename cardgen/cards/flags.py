"""Turn each conductor in use into wire flags, one for each of its two ends."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.cards.model import Card, CardKind, FieldValue
from cardgen.cards.printable import Printable, mark
from cardgen.cards.spares import free_conductors
from cardgen.problems import Place
from cardgen.wiring.model import Conductor, Leg, Step

Stretch = tuple[Conductor, str, str]


def flags(job: Printable) -> Iterator[Card]:
    """Flags for hots and returns, then commons and paths, then spares."""
    for owner, loads in job.owners.items():
        circuits = [job.circuits[load.id] for load in loads if load.id in job.circuits]
        if not circuits:
            continue
        longest = max(circuits, key=lambda c: len(c.hot))
        yield from _both_ends(job, owner, owner, owner, loads[0].place, stretches(longest.hot))
        if loads[0].back is not None:
            back = stretches(circuits[0].back)
            headline, what = f"{owner}-RTN", f"{owner} return"
            yield from _both_ends(job, owner, headline, what, loads[0].place, back)
    yield from _commons_and_paths(job)
    yield from _spares(job)


def stretches(steps: Iterable[Step]) -> list[Stretch]:
    """Conductor by conductor from where to where a way goes."""
    found: list[Stretch] = []
    for step in steps:
        if not isinstance(step, Leg):
            continue
        if found and found[-1][0].name == step.conductor.name:
            found[-1] = (step.conductor, found[-1][1], step.end)
        else:
            found.append((step.conductor, step.start, step.end))
    return found


def _both_ends(
    job: Printable, owner: str, headline: str, what: str, place: Place, ways: list[Stretch]
) -> Iterator[Card]:
    for number, (conductor, start, end) in enumerate(ways):
        before = ways[number - 1][0] if number else None
        after = ways[number + 1][0] if number + 1 < len(ways) else None
        for at, beyond in ((start, before), (end, after)):
            fields: dict[str, FieldValue] = {
                "headline": headline,
                "conductor": mark(conductor),
                "stamp": job.stamp,
            }
            way = f"{start} → {end}"
            if beyond is not None and beyond.insulation != conductor.insulation:
                fields |= {"conductor_2": mark(beyond), "way": way}
            else:
                fields["from_to"] = way
            yield Card(
                kind=CardKind.FLAG,
                id=f"{what} {conductor.name} at {at}",
                at=at,
                owner=owner,
                place=place,
                fields=fields,
            )


def _commons_and_paths(job: Printable) -> Iterator[Card]:
    for controller, landings in job.facts.wiring.commons.items():
        for la in landings:
            way = (la.conductor, la.conductor.places[la.begins], la.conductor.places[-1])
            name = f"COM-{controller}"
            yield from _both_ends(job, name, name, name, la.place, [way])
    for controller, sides in job.facts.wiring.paths.items():
        for number, landings in enumerate(sides, 1):
            for la in landings:
                way = (la.conductor, la.conductor.places[la.begins], la.conductor.places[-1])
                name = f"PATH-{controller}{number}"
                yield from _both_ends(job, name, name, name, la.place, [way])


def _spares(job: Printable) -> Iterator[Card]:
    for name, conductor, _ in free_conductors(job):
        way = (conductor, conductor.places[0], conductor.places[-1])
        yield from _both_ends(job, name, name, "spare", conductor.cable.place, [way])
