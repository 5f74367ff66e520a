"""Ohms of one leg of one conductor, and how a leg is told from another."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.trade.copper import READING_TEMPERATURE, of_conductor
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
    c = leg.conductor
    per_kilometre = of_conductor(c.gauge, c.construction, c.resistance, celsius)
    return Ohms(per_kilometre * leg.length.metres / 1000)


def warm(network: Network) -> Celsius:
    """The temperature of the conductors for the voltage drop."""
    info = network.wiring.job.info
    return info.warm if info else READING_TEMPERATURE
