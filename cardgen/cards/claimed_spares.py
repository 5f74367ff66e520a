"""Whole conductors that nothing is said to use: for what is not yet on the as-built model."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from cardgen.cards.printable import Printable
from cardgen.electrics.loops import Band, tied_to_common
from cardgen.job.model import Spare
from cardgen.wiring.model import Conductor


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
