"""Turn each box that needs an overview into its summary tag."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt.model import ConductorMark
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Table
from cardgen.cards.printable import Printable, mark, marks
from cardgen.job.model import Box, BoxKind
from cardgen.wiring.model import Conductor, Load

MANY_VALVES = 3


def box_tags(job: Printable) -> Iterator[Card]:
    """A tag for boxes with three valves or more, with two controllers, or with splices only."""
    for box in job.job.boxes.values():
        loads = job.facts.loads_in.get(box.id, [])
        controllers = _controllers_in(job, box)
        passing = box.kind in (BoxKind.SPLICE, BoxKind.PULL) and not loads
        if len(loads) >= MANY_VALVES or len(controllers) > 1 or passing:
            fields = _fields(job, box, loads)
            kind = CardKind.BOX_TAG
            yield Card(kind=kind, id=box.id, at=box.id, place=box.place, fields=fields)


def _controllers_in(job: Printable, box: Box) -> list[str]:
    """Controllers with valves or a common in the box."""
    found = [load.controller for load in job.facts.loads_in.get(box.id, [])]
    for controller, landings in job.facts.wiring.commons.items():
        if any(box.id in la.conductor.places[la.begins :] for la in landings):
            found.append(controller)
    return list(dict.fromkeys(found))


def _fields(job: Printable, box: Box, loads: list[Load]) -> dict[str, FieldValue]:
    fields: dict[str, FieldValue] = {
        "headline": box.id,
        "box_kind": job.words(f"box kinds.{box.kind or BoxKind.VALVE}"),
        "code": job.code_of(box.id),
        "stamp": job.stamp,
        **job.warning,
    }
    by_controller: dict[str, list[Load]] = {}
    for load in loads:
        by_controller.setdefault(load.controller, []).append(load)
    names = ("stations", "stations_2", "stations_3", "stations_4")
    for name, (controller, found) in zip(names, by_controller.items(), strict=False):
        fields[f"{name}_title"] = job.words("terms.controller", controller=controller)
        columns = job.words.named("columns", ("valve", "hot"))
        fields[name] = Table(columns=columns, rows=tuple(_row(job, load) for load in found))
    commons = tuple(_commons(job, box))
    if commons:
        fields["commons"] = commons
    spares = marks(_spares(job, box))
    if spares:
        fields["spares"] = spares
    notes = _notes(job, box)
    if notes:
        fields["notes"] = notes
    return fields


def _row(job: Printable, load: Load) -> tuple[Cell, ...]:
    circuit = job.circuits.get(load.id)
    if circuit is None:
        assert load.decoder is not None
        return load.id, job.words("box tag.decoder", address=load.decoder.address.value)
    return load.id, mark(circuit.hot_at_valve)


def _commons(job: Printable, box: Box) -> Iterator[ConductorMark]:
    for landings in job.facts.wiring.commons.values():
        yield from marks(
            la.conductor for la in landings if box.id in la.conductor.places[la.begins :]
        )


def _spares(job: Printable, box: Box) -> Iterator[Conductor]:
    """What comes into the box and serves nothing anywhere."""
    for conductor in job.facts.wiring.conductors.values():
        if box.id in conductor.places and conductor.name not in job.facts.used_conductors:
            yield conductor


def _notes(job: Printable, box: Box) -> tuple[str, ...]:
    words = job.words
    notes: list[str] = [box.where] if box.where else []
    commons = [
        f"COM-{controller}"
        for controller, landings in job.facts.wiring.commons.items()
        if any(box.id in la.conductor.places[la.begins :] for la in landings)
    ]
    if len(commons) > 1:
        notes.append(words("box tag.must not touch", commons=words.listed(commons)))
    splices = sum(1 for j in job.facts.wiring.joints if j.at == box.id and len(j.ends) > 1)
    if splices:
        notes.append(words.count("box tag.splices", splices))
    if _all_pass(job, box):
        notes.append(words("box tag.all pass"))
    return tuple(notes)


def _all_pass(job: Printable, box: Box) -> bool:
    """Every conductor that comes into the box leaves it uncut."""
    here = [c for c in job.facts.wiring.conductors.values() if box.id in c.places]
    ends = [end for c in here for end in c.ends_at(box.id)]
    return len(ends) == 2 * len(here) and not any(end in job.facts.joint_of for end in ends)
