"""Turn what was measured into evidence: where the meter was, what it showed, what belongs there.

Of several values of one kind between the same nodes the newest counts.  A value that means nothing
for the ohms of the network (behind a decoder, of a valve that is gone) is no evidence.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from cardgen.diagnosis.loaded import LOADED, loop_ohms, supply_volts, with_beside_apart
from cardgen.diagnosis.weights import (
    COIL_SCATTER,
    METER_OHMS,
    METER_PART,
    OPEN_FROM_OHMS,
    WIRE_SCATTER,
)
from cardgen.diagnosis.yard import NetworkEdge, Probe, Yard
from cardgen.light_dataclass import replace
from cardgen.results import OL, Kind, Measured

Coils = tuple[tuple[str, float], ...]  # by kind, ohms
_ON_A_HOT = 6  # coils on one terminal, at most: more are on a common


@dataclass(frozen=True, slots=True)
class Evidence:
    """One value between two nodes.

    Attributes:
        valves: whose; two where it is between their hots.
        value: ohms; OL where the meter shows that, or so much that only damp soil conducts.
        sound: ohms of the network before what is asked about is wrong.
        currents: edges with the part of the meter's current that goes through each.
        coils: by kind of coil its share of `sound`; the rest is wire.
        is_twice: it was read once more, and was the same.
        spread: ohms, one standard deviation, of a rough value; else that of meter and coils.
    """

    reading: str
    kind: Kind
    valves: tuple[str, ...]
    probe: Probe
    value: float
    sound: float
    currents: tuple[tuple[NetworkEdge, float], ...]
    coils: Coils
    is_twice: bool = False
    spread: float = 0.0

    @property
    def is_open(self) -> bool:
        return self.value == OL

    def is_at_wires_of(self, coil: NetworkEdge) -> bool:
        """At the wires that its leads were on."""
        return self.kind is Kind.COIL_WIRES and self.probe.but == coil.number

    @property
    def wire(self) -> float:
        """Ohms of `sound` that are not of coils."""
        return max(self.sound - sum([ohms for _, ohms in self.coils]), 0.0)

    def in_loop(self, expected: float, coils: Coils | None = None) -> tuple[Coils, float]:
        """The coils, with their ohms, and the ohms of wire in what is expected.

        Args:
            coils: where they are others than as built, or more; else a part of these.
        """
        if coils is not None:
            return coils, max(expected - sum(ohms for _, ohms in coils), 0.0)
        if self.sound == OL:  # nothing should join what is measured, so there is wire alone
            return (), expected
        if expected >= self.sound:
            return self.coils, self.wire
        part = expected / self.sound
        return tuple([(kind, ohms * part) for kind, ohms in self.coils]), self.wire * part

    def variance(self, expected: float, coils: Coils | None = None) -> float:
        """Ohms squared, around what is expected: of the meter, of the coils, of the wire."""
        return self.variance_of(expected, *self.in_loop(expected, coils))

    def variance_of(self, expected: float, coils: Coils, wire: float) -> float:
        if self.spread:
            return self.spread**2
        found: float = (METER_OHMS + METER_PART * expected) ** 2 + (WIRE_SCATTER * wire) ** 2
        for _, ohms in coils:
            found += (COIL_SCATTER * ohms) ** 2
        return found


def evidence_of(yard: Yard, readings: Iterable[Measured]) -> tuple[Evidence, ...]:
    """Readings oldest first; of all ohms that say something of the network."""
    newest: dict[Probe, Evidence] = {}
    last: dict[Probe, Measured] = {}
    given = tuple(readings)
    supplies = supply_volts(given, yard.asbuilt)
    for measured in with_beside_apart(yard.asbuilt, given):
        probe = probe_of(yard, measured.kind, measured.valve, measured.to or measured.box)
        if probe is not None:
            before = last.get(probe)
            is_twice = before is not None and _is_same(before, measured)
            found = _evidence(yard, measured, probe, supplies, is_twice=is_twice)
            newest.pop(probe, None)
            if found is not None:
                newest[probe], last[probe] = found, measured
    return tuple(newest.values())


def _is_same(one: Measured, other: Measured) -> bool:
    """The meter showed it twice, so it was not misread."""
    if OL in (one.value, other.value):
        return one.value == other.value
    return abs(one.value - other.value) <= 4 * (METER_OHMS + METER_PART * other.value)


def probe_of(yard: Yard, kind: Kind, valve: str, other: str = "") -> Probe | None:
    """Where the meter is; `other` is the second valve, or the box of a measurement in a box."""
    coil = yard.coil.get(valve)
    if coil is None:
        return None
    if kind is Kind.COIL:
        edge = yard.coil_edge.get(valve)
        return edge and Probe(valve, edge.one, edge.two, coil=edge.number)
    if not coil.is_measured:
        return None
    if kind is Kind.COIL_WIRES:
        return _coil_wires(yard, valve)
    if kind is Kind.CONTROLLER:
        return Probe(valve, coil.hot_end, coil.back_end)
    if kind in LOADED:
        but = yard.coil_edge[valve].number if kind is Kind.VOLTS and valve in yard.coil_edge else -1
        return Probe(valve, coil.hot_end, coil.back_end, loaded=kind, but=but)
    if kind is Kind.HOT_TO_HOT:
        second = yard.coil.get(other) or next(
            (yard.coil[v.id] for v in yard.asbuilt.stations.get(other, ())), None
        )
        if second is None or not second.is_measured or second.hot_end == coil.hot_end:
            return None
        return Probe(f"{valve} {second.valve}", coil.hot_end, second.hot_end)
    return _outward(yard, valve, other) if kind is Kind.BOX_LOOP else None


def _coil_wires(yard: Yard, valve: str) -> Probe | None:
    """Its leads off; None for a twin, whose other coil joins its wires."""
    edge = yard.coil_edge.get(valve)
    if edge is None or yard.asbuilt.valve[valve].others:
        return None
    return Probe(valve, edge.one, edge.two, parted=(edge.number,), but=edge.number)


def _outward(yard: Yard, valve: str, box: str) -> Probe | None:
    """In a box, its hot and its common opened there: from there outward to the coil."""
    coil = yard.coil[valve]
    meter = Probe(valve, coil.hot_end, coil.back_end)
    hot, common = yard.group.get(coil.hot_end), yard.group.get(coil.back_end)
    ends: dict[int | None, tuple[int, int]] = {}
    for edge, amperes in _currents(yard, meter):
        group = yard.group[edge.one]
        outward = (amperes > 0) == (group == hot)
        at, node = (edge.end, edge.two) if outward else (edge.start, edge.one)
        if edge.conductor and at == box:
            ends[group] = node, edge.number
    if len(ends) != 2 or hot == common:
        return None
    (one, first), (two, second) = ends[hot], ends[common]
    return Probe(f"{valve} {box}", one, two, parted=(first, second))


def _evidence(
    yard: Yard,
    measured: Measured,
    probe: Probe,
    supplies: Mapping[tuple[str, str], float],
    *,
    is_twice: bool,
) -> Evidence | None:
    """None where a value under load cannot be told in ohms."""
    value, spread, sound = measured.net, 0.0, yard.sound(probe)
    if probe.loaded:
        valve, coil = yard.asbuilt.valve[measured.valve], yard.coil[measured.valve]
        day = measured.when[:10]
        read = measured.under.terminal_volts or supplies.get(
            (day, valve.id), supplies.get((day, valve.controller))
        )
        rough = loop_ohms(measured, valve, coil, sound, read)
        if not rough:
            return None
        value, spread = rough
    currents = () if sound == OL else tuple(_currents(yard, probe))
    coils: dict[str, float] = {}
    for edge, amperes in currents:
        if edge.valve:
            kind = yard.asbuilt.valve[edge.valve].coil_id
            coils[kind] = coils.get(kind, 0.0) + edge.ohms * amperes**2
    return Evidence(
        reading=measured.id,
        kind=measured.kind,
        valves=tuple(edge.valve for edge, _ in currents if edge.valve) or (measured.valve,),
        probe=probe,
        value=OL if value >= OPEN_FROM_OHMS else value,
        sound=sound,
        currents=currents,
        coils=tuple(coils.items()),
        is_twice=is_twice,
        spread=spread,
    )


def _currents(yard: Yard, probe: Probe) -> Iterator[tuple[NetworkEdge, float]]:
    """Through the metal at both leads, the coils on it, and the metal behind these."""
    if probe.coil >= 0:
        yield yard.edges[probe.coil], 1.0
        return
    yield from (each for each in _through(yard, probe) if each[0].number != probe.but)


def _through(yard: Yard, probe: Probe) -> Iterator[tuple[NetworkEdge, float]]:
    ends = [yard.group[node] for node in (probe.one, probe.two) if node in yard.group]
    groups = dict.fromkeys(ends)
    # All coils hang on a common: it is enough to ask for those on the hot.
    hots = [group for group in ends if len(yard.coils_on.get(group, ())) <= _ON_A_HOT] or ends
    coils = dict.fromkeys(edge for group in hots for edge in yard.coils_on.get(group, ()))
    for edge in coils:
        groups |= dict.fromkeys((yard.group[edge.one], yard.group[edge.two]))
    carrying = yard.carrying(probe)
    yield from ((coil, carrying[coil.number]) for coil in coils if coil.number in carrying)
    metal: dict[int, list[tuple[NetworkEdge, float]]] = defaultdict(list)
    for number, amperes in carrying.items():
        edge = yard.edges[number]
        if not edge.valve:
            metal[yard.group[edge.one]].append((edge, amperes))
    for group in groups:
        yield from metal[group]


def kind_and_ohms(yard: Yard, coil: NetworkEdge) -> tuple[str, float]:
    return yard.asbuilt.valve[coil.valve].coil_id, coil.ohms


def with_loops(
    evidence: Sequence[Evidence], sound: Sequence[float], coils: Mapping[int, Coils]
) -> tuple[Evidence, ...]:
    """The same values where something is known to be wrong already."""
    return tuple(
        replace(each, sound=ohms, coils=coils.get(index, each.coils))
        if not math.isclose(each.sound, ohms)
        else each
        for index, (each, ohms) in enumerate(zip(evidence, sound, strict=True))
    )
