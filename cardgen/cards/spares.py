"""Turn what nothing uses into the spare list: from where, through what, to where, what it reads."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from cardgen.cards.facts import NOT_KNOWN, Printable, mark
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Table
from cardgen.cards.readings_sheet import BOUND, in_band
from cardgen.checks.facts import listed
from cardgen.electrics.loops import tied_to_common
from cardgen.job.model import Spare
from cardgen.wiring.model import Conductor

COLUMNS = (
    *("flag", "conductor", "gauge", "from", "through", "last box", "state"),
    *("loop expects, Ω", "read, Ω", "date"),
)
HOW = (
    (
        "Loop: in the last box tie the spare to the common of its cable, measure both where the "
        "spare begins, then cap both ends again."
    ),
    "Expected is calculated, for 20 °C, the meter within 1 Ω (common practice, no source).",
)


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
        "title": "SPARE LIST",
        "subtitle": f"{job.info.site.value} · {len(rows)} spares",
        "notes": HOW,
        "spares": Table(columns=COLUMNS, rows=rows),
        "stamp": job.stamp,
    }
    yield Card(kind=CardKind.SPARE_LIST, id="spares", place=job.info.place, fields=fields)


def _row(job: Printable, spare: FreeConductor) -> tuple[Cell, ...]:
    conductor = spare.conductor
    first, *between, last = conductor.places
    through = listed(between) or "–"
    gauge = str(conductor.gauge).replace(" ", BOUND)
    said = (spare.name, mark(conductor), gauge, first, through, last)
    return (*said, _state(job, spare), _loop(job, conductor), "", "")


def _state(job: Printable, spare: FreeConductor) -> str:
    conductor, said = spare.conductor, spare.said
    joined = [
        place
        for place in conductor.places
        if any(end in job.facts.joint_of for end in conductor.ends_at(place))
    ]
    state = f"in a joint in {listed(joined)}" if joined else "capped"
    if said is None:
        return state
    to = f", promised to {said.to.value}" if said.to else ""
    use = f", reserved for {said.reserved_for}" if said.reserved_for else ""
    return f"{state}{to}{use}"


def _loop(job: Printable, spare: Conductor) -> str:
    """With the first common of its cable that goes as far."""
    facts = job.facts
    if any(end in facts.joint_of for place in spare.places for end in spare.ends_at(place)):
        return NOT_KNOWN
    for landings in facts.wiring.commons.values():
        for la in landings:
            if la.conductor.cable.id == spare.cable.id and not la.begins:
                band = tied_to_common(spare, la.conductor, facts.network)
                if band is not None:
                    return in_band(band)
    return NOT_KNOWN
