"""Turn what nothing uses into the spare list: from where, through what, to where, what it reads."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from cardgen.cards.expected import BOUND, in_band
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Table
from cardgen.cards.printable import NOT_KNOWN, Printable, mark
from cardgen.electrics.loops import Band, tied_to_common
from cardgen.job.model import Spare
from cardgen.wiring.model import Conductor

COLUMNS = (
    *("flag", "conductor", "gauge", "from", "through", "last box", "state"),
    *("loop expects, Ω", "read, Ω", "date"),
)
HOW = ("loop", "expected")


class FreeConductor(NamedTuple):
    """A conductor that nothing uses, the name on its flag, and what the job says of it."""

    name: str
    conductor: Conductor
    said: Spare | None


def free_conductors(job: Printable) -> Iterator[FreeConductor]:
    """Spares by their name in the job; the others by their place in the cable: SP-A-K1-6."""
    said = {
        job.facts.wiring.by_words[words.value]: spare
        for spare in job.job.spares.values()
        for words in spare.conductor
    }
    counts: dict[str, int] = {}
    for conductor in job.facts.wiring.conductors.values():
        cable = conductor.cable.id
        counts[cable] = counts.get(cable, 0) + 1
        if conductor.name not in job.facts.used_conductors:
            spare = said.get(conductor.name)
            name = spare.id if spare else f"SP-{cable}-{counts[cable]}"
            yield FreeConductor(name, conductor, spare)


def spare_lists(job: Printable) -> Iterator[Card]:
    """One list for the job, if it has spares."""
    rows = tuple(_row(job, spare) for spare in free_conductors(job))
    if not rows:
        return
    fields: dict[str, FieldValue] = {
        "title": job.words("spare list.title"),
        "subtitle": f"{job.info.site.value} · {job.words.count('spare list.count', len(rows))}",
        "notes": job.words.named("spare list", HOW),
        "spares": Table(columns=job.words.named("columns", COLUMNS), rows=rows),
        "stamp": job.stamp,
    }
    yield Card(kind=CardKind.SPARE_LIST, id="spares", place=job.info.place, fields=fields)


def _row(job: Printable, spare: FreeConductor) -> tuple[Cell, ...]:
    conductor = spare.conductor
    first, *between, last = conductor.places
    through = job.words.listed(between) or "–"
    gauge = str(conductor.gauge).replace(" ", BOUND)
    said = (spare.name, mark(conductor), gauge, first, through, last)
    return (*said, _state(job, spare), _loop(job, conductor), "", "")


def _state(job: Printable, spare: FreeConductor) -> str:
    conductor, said = spare.conductor, spare.said
    joined = joined_in(job, conductor)
    words = job.words
    state = [words("spare list.capped")]
    if joined:
        state = [words("spare list.joined", places=words.listed(joined))]
    if said is not None and said.to:
        state.append(words("spare list.promised", place=said.to.value))
    if said is not None and said.reserved_for:
        state.append(words("spare list.reserved", use=said.reserved_for))
    return words.joined(state)


def _loop(job: Printable, spare: Conductor) -> str:
    band = loop(job, spare)
    return in_band(band) if band is not None else NOT_KNOWN


def joined_in(job: Printable, spare: Conductor) -> list[str]:
    """The places where an end of it is in a joint."""
    joint_of = job.facts.joint_of
    return [p for p in spare.places if any(end in joint_of for end in spare.ends_at(p))]


def loop(job: Printable, spare: Conductor) -> Band | None:
    """With the first common of its cable that goes as far; None where nothing tells the ohms."""
    if joined_in(job, spare):
        return None
    for landings in job.facts.wiring.commons.values():
        for la in landings:
            if la.conductor.cable.id == spare.cable.id and not la.begins:
                band = tied_to_common(spare, la.conductor, job.facts.network)
                if band is not None:
                    return band
    return None
