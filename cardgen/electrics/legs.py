"""Ohms of one step of a way, a leg or a pigtail, and how one is told from another."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.trade.copper import READING_TEMPERATURE, of_conductor, of_pigtail
from cardgen.units import Celsius, Length, Ohms, OhmsPerKilometer
from cardgen.wiring.network import Network
from cardgen.wiring.wiring_parts import Conductor, Leg, Step, ThroughContact, ThroughPigtail

Key = tuple[str, int | str]


def key(step: Step) -> Key:
    """One leg of one conductor (one pigtail, one contact), whichever way it is traveled."""
    if isinstance(step, Leg):
        return step.conductor.name, step.number
    return step.pigtail.id if isinstance(step, ThroughPigtail) else step.sensor, step.at


def legs(steps: Iterable[Step]) -> list[Leg]:
    return [step for step in steps if isinstance(step, Leg)]


def leg_ohms(leg: Leg, celsius: Celsius = READING_TEMPERATURE) -> Ohms | None:
    """Resistance of one leg, at 20 C unless said otherwise; None where it cannot be known."""
    return ohms_along(leg.length, per_kilometer(leg.conductor, celsius))


def per_kilometer(conductor: Conductor, celsius: Celsius) -> OhmsPerKilometer | None:
    return of_conductor(conductor.gauge, conductor.construction, conductor.resistance, celsius)


def ohms_along(length: Length | None, rate: OhmsPerKilometer | None) -> Ohms | None:
    if length is None or rate is None:
        return None
    return Ohms(rate * length.meters / 1000)


def all_ohms(parts: Iterable[Ohms | None]) -> Ohms | None:
    """The sum; None where one of them is not known."""
    found = list(parts)
    known = [ohms for ohms in found if ohms is not None]
    return Ohms(sum(known)) if len(known) == len(found) else None


def step_ohms(step: Step, celsius: Celsius = READING_TEMPERATURE) -> Ohms | None:
    """Resistance of whatever a way goes through."""
    return leg_ohms(step, celsius) if isinstance(step, Leg) else link_ohms(step, celsius)


def link_ohms(
    step: ThroughContact | ThroughPigtail, celsius: Celsius = READING_TEMPERATURE
) -> Ohms:
    """Resistance of a pigtail; a closed contact has none."""
    if isinstance(step, ThroughPigtail):
        return of_pigtail(step.pigtail.gauge, step.pigtail.length, celsius)
    return Ohms(0.0)


def warm(network: Network) -> Celsius:
    """The temperature of the conductors for the voltage drop."""
    info = network.wiring.job.info
    return info.warm if info else READING_TEMPERATURE
