"""Every leg, pigtail and contact of a network with its ohms, worked out once for all that ask."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from cardgen.electrics.legs import Key, key, ohms_along, per_kilometer, step_ohms, warm
from cardgen.trade.copper import READING_TEMPERATURE
from cardgen.units import Ohms, OhmsPerKilometer
from cardgen.wiring.network import Network
from cardgen.wiring.wiring_parts import Circuit, Conductor, Leg, Step


class StepRow(NamedTuple):
    """What joins two nets; `cold` at 20 C, `warm` at the temperature for the voltage drop.

    Both are None where they cannot be known.
    """

    number: int
    one: int
    two: int
    cold: Ohms | None
    warm: Ohms | None


class CircuitRows(NamedTuple):
    """The steps of a circuit, both ways from the controller to the coil."""

    hot: tuple[StepRow, ...]
    back: tuple[StepRow, ...]

    @property
    def all(self) -> tuple[StepRow, ...]:
        return self.hot + self.back


class StepTable:
    """The steps of a network, to be found by what is on a way."""

    def __init__(self, network: Network) -> None:
        self.network = network
        self._warm = warm(network)
        self._rates: dict[str, tuple[OhmsPerKilometer | None, OhmsPerKilometer | None]] = {}
        self._by_key: dict[Key, StepRow] = {
            key(step): StepRow(number, one, two, *self._ohms(step))
            for number, (one, two, step, _) in enumerate(network.every_edge)
        }
        self._of_circuit: dict[str, CircuitRows] = {}

    def _ohms(self, step: Step) -> tuple[Ohms | None, Ohms | None]:
        """Cold and warm."""
        if not isinstance(step, Leg):
            return step_ohms(step), step_ohms(step, self._warm)
        cold, hot = self._rates.get(step.conductor.name) or self._rate(step.conductor)
        return ohms_along(step.length, cold), ohms_along(step.length, hot)

    def _rate(
        self, conductor: Conductor
    ) -> tuple[OhmsPerKilometer | None, OhmsPerKilometer | None]:
        """The same for all its legs."""
        rate = per_kilometer(conductor, READING_TEMPERATURE), per_kilometer(conductor, self._warm)
        self._rates[conductor.name] = rate
        return rate

    def along(self, steps: Iterable[Step]) -> tuple[StepRow, ...]:
        by_key = self._by_key
        return tuple([by_key[key(step)] for step in steps])

    def of(self, circuit: Circuit) -> CircuitRows:
        known = self._of_circuit.get(circuit.load.id)
        if known is None:
            known = CircuitRows(self.along(circuit.hot), self.along(circuit.back))
            self._of_circuit[circuit.load.id] = known
        return known
