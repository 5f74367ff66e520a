"""Find the smallest size of each cable with which every coil behind a leg still opens.

A ----leg 1---- VB-1 ----leg 2---- VB-2     leg 1: judged by the coils in VB-1 and VB-2
                 A1                 A2      leg 2: by those in VB-2 alone

All conductors of the cable are taken to be of that size through all of its legs, all other cables
as the job says.  Volts are those of the check: plain arithmetic at inrush.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from cardgen.allot.model import LegNeed
from cardgen.checks.facts import Facts
from cardgen.electrics.legs import leg_ohms, warm
from cardgen.job.quantities import AWG_SIZES, MM2_SIZES
from cardgen.units import Celsius, Gauge, GaugeSystem, LengthUnit
from cardgen.wiring.model import Circuit, Leg, Step


@dataclass(frozen=True, slots=True, kw_only=True)
class _Coil:
    """A coil as one cable sees it.

    Attributes:
        legs: the numbers of the cable's legs in its circuit.
        volts: at it as the job is; None where not known.
        minimum: that it needs; None where not known.
        drops: leg by leg of this cable the amperes and the leg.
    """

    legs: frozenset[int]
    volts: float | None
    minimum: float | None
    drops: tuple[tuple[float, Leg], ...]

    def volts_with(self, gauge: Gauge, celsius: Celsius) -> float | None:
        """At it, if the cable were of this size."""
        if self.volts is None:
            return None
        changed = self.volts
        for amperes, leg in self.drops:
            changed += amperes * (leg_ohms(leg, celsius) - leg_ohms(_of_size(leg, gauge), celsius))
        return changed


def _of_size(leg: Leg, gauge: Gauge) -> Leg:
    """The same leg in another size, whose ohms are then those of the tables."""
    if leg.conductor.gauge == gauge:
        return leg
    return leg._replace(conductor=replace(leg.conductor, gauge=gauge, resistance=None))


def with_sizes(facts: Facts, legs: Sequence[LegNeed]) -> tuple[LegNeed, ...]:
    """The legs, each with its smallest size."""
    coils, sizes, celsius = _coils(facts), _sizes(facts), warm(facts.network)
    return tuple(_with_size(leg, coils.get(leg.cable.id, []), sizes, celsius) for leg in legs)


def _with_size(
    leg: LegNeed, coils: list[_Coil], sizes: Sequence[Gauge], celsius: Celsius
) -> LegNeed:
    behind = [coil for coil in coils if leg.number in coil.legs]
    if not behind or any(coil.volts is None or coil.minimum is None for coil in behind):
        return leg
    for gauge in sizes:
        volts = [(coil.volts_with(gauge, celsius), coil.minimum) for coil in behind]
        if all(v is not None and least is not None and v >= least for v, least in volts):
            return replace(leg, least=gauge)
    return replace(leg, none_does=True)


def _sizes(facts: Facts) -> tuple[Gauge, ...]:
    """Thinnest first; square millimetres where the job is metric."""
    gauges = [c.gauge.system for c in facts.wiring.conductors.values()]
    metres = [
        stop.leg.value.unit is LengthUnit.METRES
        for cable in facts.job.cables.values()
        for stop in cable.run
        if stop.leg
    ]
    squares = gauges.count(GaugeSystem.MM2)
    if squares * 2 > len(gauges) or (not squares and metres and all(metres)):
        return tuple(Gauge(size, GaugeSystem.MM2) for size in MM2_SIZES)
    return tuple(Gauge(size, GaugeSystem.AWG) for size in sorted(AWG_SIZES, reverse=True))


def _coils(facts: Facts) -> dict[str, list[_Coil]]:
    """By cable, the coils whose circuits run in it."""
    found: dict[str, list[_Coil]] = defaultdict(list)
    for circuit in facts.circuits.values():
        if getattr(circuit.load.owner, "device", None) is not None:
            continue  # what it lets run at once is not known, and the check does not judge it
        currents = _currents(facts, circuit)
        by_cable: dict[str, list[tuple[float, Leg]]] = defaultdict(list)
        for leg in _legs((*circuit.hot, *circuit.back)):
            amperes = currents.get((leg.conductor.name, leg.end), 0.0)
            by_cable[leg.conductor.cable.id].append((amperes, leg))
        reading = facts.readings.get(circuit.load.owner.id)
        volts = reading.volts.get(circuit.load.id) if reading else None
        for cable, drops in by_cable.items():
            numbers = (_number(leg) for _, leg in drops)
            found[cable].append(
                _Coil(
                    legs=frozenset(numbers),
                    volts=None if circuit.ring else volts,
                    minimum=circuit.load.coil.minimum if circuit.load.coil else None,
                    drops=tuple(drops),
                )
            )
    return found


def _currents(facts: Facts, circuit: Circuit) -> dict[tuple[str, str], float]:
    """By conductor and the place where a leg ends, what flows when this coil starts."""
    currents: dict[tuple[str, str], float] = defaultdict(float)
    for other in facts.circuits.values():
        coil = other.load.coil
        mine = other.load.owner.id == circuit.load.owner.id
        beside = (
            other.load.controller == circuit.load.controller and other.load.runs_beside_stations
        )
        if coil is None or not (mine or beside):
            continue
        amperes = (coil.inrush if mine else coil.holding) or 0.0
        for leg in _legs((*other.hot, *other.back)):
            currents[leg.conductor.name, leg.end] += amperes
    return currents


def _number(leg: Leg) -> int:
    places = leg.conductor.places
    return min(places.index(leg.start), places.index(leg.end))


def _legs(steps: tuple[Step, ...]) -> Iterator[Leg]:
    return (step for step in steps if isinstance(step, Leg))
