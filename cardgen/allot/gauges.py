"""Find the smallest size of each cable with which every coil behind a leg still opens.

A ----leg 1---- VB-1 ----leg 2---- VB-2     leg 1: judged by the coils in VB-1 and VB-2
                 A1                 A2      leg 2: by those in VB-2 alone

All conductors of the cable are taken to be of that size through all of its legs, all other cables
as the job says.  Volts are those of the check: plain arithmetic at inrush.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from cardgen.allot.allotment import LegNeed
from cardgen.electrics import StepTable
from cardgen.electrics.companions import Companions
from cardgen.electrics.legs import Key, key, leg_ohms, legs, warm
from cardgen.electrics.together import always_on, beside, circuits_together
from cardgen.facts import Facts
from cardgen.job.quantities import AWG_SIZES, MM2_SIZES
from cardgen.units import Celsius, Gauge, GaugeSystem, LengthUnit
from cardgen.wiring.wiring_parts import Circuit, Leg


@dataclass(frozen=True, slots=True, kw_only=True)
class CoilOnCable:
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
            now, then = leg_ohms(leg, celsius), leg_ohms(_of_size(leg, gauge), celsius)
            assert now is not None and then is not None  # else the volts would not be known
            changed += amperes * (now - then)
        return changed


def _of_size(leg: Leg, gauge: Gauge) -> Leg:
    """The same leg in another size, whose ohms are then those of the tables."""
    if leg.conductor.gauge == gauge:
        return leg
    return leg._replace(conductor=replace(leg.conductor, gauge=gauge, resistance=None))


def with_sizes(facts: Facts, needed: Sequence[LegNeed]) -> tuple[LegNeed, ...]:
    """The legs, each with its smallest size."""
    coils, sizes, celsius = coils_by_cable(facts), _sizes(facts), warm(facts.network)
    return tuple(_with_size(leg, coils.get(leg.cable.id, []), sizes, celsius) for leg in needed)


def _with_size(
    leg: LegNeed, coils: list[CoilOnCable], sizes: Sequence[Gauge], celsius: Celsius
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
    """Thinnest first; square millimeters where the job is metric."""
    gauges = [c.gauge.system for c in facts.wiring.conductors.values() if c.gauge]
    meters = [
        stop.leg.value.unit is LengthUnit.METERS
        for cable in facts.job.cables.values()
        for stop in cable.run
        if stop.leg and stop.leg.value
    ]
    squares = gauges.count(GaugeSystem.MM2)
    if squares * 2 > len(gauges) or (not squares and meters and all(meters)):
        return tuple(Gauge(size, GaugeSystem.MM2) for size in MM2_SIZES)
    return tuple(Gauge(size, GaugeSystem.AWG) for size in sorted(AWG_SIZES, reverse=True))


def coils_by_cable(facts: Facts) -> dict[str, list[CoilOnCable]]:
    """By cable, the coils whose circuits run in it."""
    found: dict[str, list[CoilOnCable]] = defaultdict(list)
    together = circuits_together(facts.circuits, facts.network)
    always = always_on(facts.circuits.values())
    companions = Companions(together, StepTable(facts.network))
    for net, on in together.items():
        if getattr(on[0].load.owner, "device", None) is not None:
            continue  # what it lets run at once is not known, and the check does not judge it
        currents = _currents(on, [*beside(always, on), *companions.of(net)])
        for circuit in on:
            for cable, coil in _on_cables(facts, circuit, currents):
                found[cable].append(coil)
    return found


def _on_cables(
    facts: Facts, circuit: Circuit, currents: Mapping[Key, float]
) -> Iterator[tuple[str, CoilOnCable]]:
    """A coil as each cable of its circuit sees it."""
    by_cable: dict[str, list[tuple[float, Leg]]] = defaultdict(list)
    for leg in legs((*circuit.hot, *circuit.back)):
        by_cable[leg.conductor.cable.id].append((currents.get(key(leg), 0.0), leg))
    load = circuit.load
    reading = facts.readings.get(load.owner.id)
    volts = reading.volts.get(load.id) if reading and not circuit.ring else None
    for cable, drops in by_cable.items():
        yield (
            cable,
            CoilOnCable(
                legs=frozenset(_number(leg) for _, leg in drops),
                volts=volts,
                minimum=load.coil.minimum if load.coil else None,
                drops=tuple(drops),
            ),
        )


def _currents(own: Iterable[Circuit], others: Iterable[Circuit]) -> dict[Key, float]:
    """By leg, what flows when these coils start while the others hold."""
    currents: dict[Key, float] = defaultdict(float)
    flows = [(c, c.load.coil.inrush if c.load.coil else None) for c in own]
    flows += [(c, c.load.coil.holding if c.load.coil else None) for c in others]
    for circuit, amperes in flows:
        for leg in legs((*circuit.hot, *circuit.back)):
            currents[key(leg)] += amperes or 0.0
    return currents


def _number(leg: Leg) -> int:
    """The number of a leg in the run of its cable."""
    places = leg.conductor.places
    return min(places.index(leg.start), places.index(leg.end))
