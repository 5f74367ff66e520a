"""Ohms of one leg of one conductor, and how a leg is told from another."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.trade.copper import READING_TEMPERATURE, at_temperature, resistance
from cardgen.units import Celsius, Ohms
from cardgen.wiring.model import Leg, Step
from cardgen.wiring.network import Network

Key = tuple[str, frozenset[str]]


def key(leg: Leg) -> Key:
    """One leg of one conductor, whichever way it is travelled."""
    return leg.conductor.name, frozenset((leg.start, leg.end))


def legs(steps: Iterable[Step]) -> list[Leg]:
    return [step for step in steps if isinstance(step, Leg)]


def leg_ohms(leg: Leg, celsius: Celsius = READING_TEMPERATURE) -> Ohms:
    """Resistance of one leg, at 20 C unless said otherwise."""
    conductor = leg.conductor
    if conductor.resistance is not None:
        per_kilometre = at_temperature(conductor.resistance, celsius)
    else:
        per_kilometre = resistance(conductor.gauge, celsius, conductor.construction)
    return Ohms(per_kilometre * leg.length.metres / 1000)


def warm(network: Network) -> Celsius:
    """The temperature of the conductors for the voltage drop."""
    info = network.wiring.job.info
    return info.warm if info else READING_TEMPERATURE
