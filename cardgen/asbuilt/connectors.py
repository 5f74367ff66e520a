"""Find the connector that each joint needs: the smallest of the job that takes what is in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from cardgen.asbuilt.model.as_built import BuiltConnector
from cardgen.checks.boxes import fits, gauges_in
from cardgen.facts import Facts
from cardgen.job.job_parts import Combination
from cardgen.units import Gauge
from cardgen.wiring.wiring_parts import Joint, Load


def counts_in(facts: Facts, joint: Joint) -> dict[Gauge, int] | None:
    """None where the gauge of some lead is not known; that of a sensor's never is."""
    if any(end.of in facts.job.sensors for end in joint.ends):
        return None
    return gauges_in(facts, joint)


def held_by(facts: Facts, counts: dict[Gauge, int] | None) -> BuiltConnector:
    """The smallest connector that takes so many, with the rating that they fit; or an empty one."""
    for connector in facts.job.connectors.values() if counts is not None else ():
        for combination in connector.takes:
            if counts is not None and fits(combination, counts):
                return BuiltConnector(id=connector.id, rating=_takes(combination))
    return BuiltConnector(id="", rating="")


def at_output(facts: Facts, load: Load) -> Iterator[str]:
    """Those between the output of a decoder and its valve, which no joint of the job tells of."""
    decoder = load.decoder
    if decoder is None:
        return
    leads = load.coil.leads if load.coil else None
    at_valve = Counter((decoder.leads, leads)) if leads is not None else None
    joined = [at_valve]
    if decoder.to_valve is not None or decoder.box.value != load.box:
        joined = [Counter((decoder.leads, decoder.leads)), at_valve]  # the wire is as its leads
    for counts in joined:
        yield from (held_by(facts, counts).id,) * 2


def in_words(counts: dict[Gauge, int] | None) -> tuple[str, ...]:
    """`2 × 18 AWG`, gauge by gauge."""
    return tuple(f"{number} × {gauge}" for gauge, number in (counts or {}).items())


def connectors(facts: Facts) -> Iterator[BuiltConnector]:
    """All kinds of the job, each with everything it is rated for."""
    for connector in facts.job.connectors.values():
        rating = "; ".join(_takes(combination) for combination in connector.takes)
        yield BuiltConnector(id=connector.id, rating=rating)


def _takes(combination: Combination) -> str:
    """`1–2 × 14 AWG + 1–4 × 18 AWG`."""
    parts = []
    for gauge, least, most in combination.parts:
        number = str(most) if least == most else f"{least}–{most}"
        parts.append(f"{number} × {gauge}")
    return " + ".join(parts)
