"""Turn the joints of a box into the connectors that they need: the smallest that takes each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from cardgen.cards.model import Cell
from cardgen.cards.printable import Printable
from cardgen.checks.boxes import fits, gauges_in
from cardgen.job.model import Combination
from cardgen.units import Gauge
from cardgen.wiring.model import Joint


def held_by(job: Printable, joint: Joint) -> Iterator[str]:
    """How many conductors of which gauge, and what takes them."""
    counts = counts_in(job, joint)
    if counts is None:
        yield job.words("splice card.unknown leads", number=len(joint.ends))
        return
    yield " + ".join(f"{number} × {gauge}" for gauge, number in counts.items())
    found = connector_for(job, counts)
    name = found[0] if found else job.words("terms.not known")
    yield job.words("terms.connector", name=name)


def counts_in(job: Printable, joint: Joint) -> dict[Gauge, int] | None:
    """None where the gauge of some lead is not known; that of a sensor's never is."""
    if any(end.of in job.job.sensors for end in joint.ends):
        return None
    loads = [job.facts.wiring.loads[e.of] for e in joint.ends if e.of in job.facts.wiring.loads]
    if any(load.coil is None for load in loads):
        return None
    return gauges_in(job.facts, joint)


def connector_for(job: Printable, counts: dict[Gauge, int]) -> tuple[str, Combination] | None:
    """The smallest connector of the job that takes them, with the rating that they fit."""
    for connector in job.job.connectors.values():
        for combination in connector.takes:
            if fits(combination, counts):
                return connector.id, combination
    return None


def connectors_of(job: Printable, joints: Iterable[Joint]) -> Iterator[tuple[Cell, ...]]:
    """How many of which connector the box takes, and what each is rated for."""
    words = job.words
    found: Counter[tuple[str, str]] = Counter()
    for joint in joints:
        counts = counts_in(job, joint)
        held = connector_for(job, counts) if counts is not None else None
        if held:
            found[held[0], words("terms.takes", conductors=takes(held[1]))] += 1
        else:
            found[words("terms.not known"), ""] += 1
    for (name, rating), number in found.items():
        yield f"{number} × {name}", rating


def takes(combination: Combination) -> str:
    """`1–2 × 14 AWG + 1–4 × 18 AWG`."""
    parts = []
    for gauge, least, most in combination.parts:
        number = str(most) if least == most else f"{least}–{most}"
        parts.append(f"{number} × {gauge}")
    return " + ".join(parts)
