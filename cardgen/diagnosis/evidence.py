"""Turn what was measured into evidence: where the meter was, what it showed, what belongs there.

Of several values of one kind between the same nodes the newest counts.  A value that means nothing
for the ohms of the network (behind a decoder, of a valve that is gone) is no evidence.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from cardgen.diagnosis.weights import (
    COIL_SCATTER,
    METER_OHMS,
    METER_PART,
    OPEN_FROM_OHMS,
    WIRE_SCATTER,
)
from cardgen.diagnosis.yard import OL, Edge, Probe, Yard
from cardgen.results import Kind, Measured

_NO_CURRENT = 1e-6


@dataclass(frozen=True, slots=True)
class Evidence:
    """One value between two nodes.

    Attributes:
        valves: whose; two where it is between their hots.
        value: ohms; OL where the meter shows that, or so much that only damp soil conducts.
        sound: ohms of the network before what is asked about is wrong.
        currents: edges with the part of the meter's current that goes through each.
        coils: by kind of coil its share of `sound`; the rest is wire.
    """

    reading: str
    kind: Kind
    valves: tuple[str, ...]
    probe: Probe
    value: float
    sound: float
    currents: tuple[tuple[Edge, float], ...]
    coils: tuple[tuple[str, float], ...]

    @property
    def is_open(self) -> bool:
        return self.value == OL

    def variance(self, expected: float) -> float:
        """Ohms squared, around what is expected: of the meter, of the coils, of the wire."""
        part = min(1.0, expected / self.sound) if 0 < self.sound < OL else 1.0
        meter = METER_OHMS + METER_PART * expected
        coils = sum((COIL_SCATTER * ohms * part) ** 2 for _, ohms in self.coils)
        wire = self.sound - sum(ohms for _, ohms in self.coils) if self.sound < OL else 0.0
        return meter**2 + coils + (WIRE_SCATTER * wire * part) ** 2


def evidence_of(yard: Yard, readings: Iterable[Measured]) -> tuple[Evidence, ...]:
    """Readings oldest first; of all ohms that are read at the controller."""
    newest: dict[tuple[int, int], tuple[Measured, Probe]] = {}
    for measured in readings:
        probe = _probe(yard, measured)
        if probe is not None:
            key = probe.one, probe.two
            newest.pop(key, None)
            newest[key] = measured, probe
    return tuple(_evidence(yard, measured, probe) for measured, probe in newest.values())


def _probe(yard: Yard, measured: Measured) -> Probe | None:
    coil = yard.coil.get(measured.valve)
    if coil is None or not coil.is_measured:
        return None
    if measured.kind is Kind.CONTROLLER:
        return Probe(measured.valve, coil.hot_end, coil.back_end)
    return None


def _evidence(yard: Yard, measured: Measured, probe: Probe) -> Evidence:
    currents = tuple(_currents(yard, probe))
    coils: dict[str, float] = {}
    for edge, amperes in currents:
        if edge.valve:
            kind = yard.asbuilt.valve[edge.valve].coil_id
            coils[kind] = coils.get(kind, 0.0) + edge.ohms * amperes**2
    ohms = measured.value
    return Evidence(
        reading=measured.id,
        kind=measured.kind,
        valves=tuple(edge.valve for edge, _ in currents if edge.valve) or (measured.valve,),
        probe=probe,
        value=OL if ohms >= OPEN_FROM_OHMS else ohms,
        sound=yard.sound(probe),
        currents=currents,
        coils=tuple(coils.items()),
    )


def _currents(yard: Yard, probe: Probe) -> Iterator[tuple[Edge, float]]:
    """Through the metal at both leads, the coils on it, and the metal behind these."""
    ends = [yard.group[node] for node in (probe.one, probe.two) if node in yard.group]
    groups = dict.fromkeys(ends)
    for edge in dict.fromkeys(edge for group in ends[:1] for edge in yard.coils_on.get(group, ())):
        groups |= dict.fromkeys((yard.group[edge.one], yard.group[edge.two]))
        amperes = yard.amperes(edge, probe)
        if abs(amperes) > _NO_CURRENT:
            yield edge, amperes
    for group in groups:
        for edge in yard.in_group.get(group, ()):
            amperes = yard.amperes(edge, probe)
            if abs(amperes) > _NO_CURRENT:
                yield edge, amperes


def with_sound(evidence: Sequence[Evidence], sound: Sequence[float]) -> tuple[Evidence, ...]:
    """The same values where something is known to be wrong already."""
    return tuple(
        replace(each, sound=ohms) if not math.isclose(each.sound, ohms) else each
        for each, ohms in zip(evidence, sound, strict=True)
    )
