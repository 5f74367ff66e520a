"""Turn circuits into what a meter will read: ohms at the controller, volts at the coil.

Ohms are direct-current ohms at 20 C: hot, coil, common, by segment.  Volts are plain arithmetic
at inrush, as the trade does it, which is the cautious side:

    supply ---- hot, own current ----[coil]
         `----- common, currents of all that run together -----'
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from cardgen.electrics.companions import Companions
from cardgen.electrics.legs import all_ohms
from cardgen.electrics.resistance import PerhapsKnown, resistance_if_known
from cardgen.electrics.step_table import StepRow, StepTable
from cardgen.electrics.together import always_on, beside, circuits_together
from cardgen.light_dataclass import dataclass
from cardgen.units import Amperes, Ohms, SupplyKind, Volts
from cardgen.wiring.network import Network
from cardgen.wiring.wiring_parts import Circuit, Leg, Load, ThroughPigtail

COIL_TOLERANCE = 0.15  # of the coil's ohms; common practice, no source
METER_TOLERANCE = Ohms(1.0)  # leads and contacts of the meter; common practice, no source


class Loss(NamedTuple):
    """What one leg takes of the volts while the coil starts."""

    leg: Leg
    amperes: Amperes
    volts: Volts
    on_common: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedReading:
    """What belongs to one station, master valve or relay, with its controller's other wires off.

    Attributes:
        ohms: between its terminal and C, at 20 C; None where a reading means nothing, or where
            a length, a gauge or a coil on which it depends is not known.
        low, high: the band in which an honest meter lies.
        volts: by load id, at the coil when it starts; empty where it cannot be known.
        losses: leg by leg, on the way of the coil that has the fewest volts.
    """

    owner: str
    ohms: Ohms | None
    low: Ohms | None
    high: Ohms | None
    volts: Mapping[str, Volts]
    losses: tuple[Loss, ...]

    @property
    def costliest(self) -> Leg | None:
        """The leg that takes most of the volts."""
        return max(self.losses, key=lambda loss: loss.volts).leg if self.losses else None


def read_all(circuits: Mapping[str, Circuit], table: StepTable) -> dict[str, ExpectedReading]:
    """A reading for everything that has a terminal and whose coils are all traced."""
    together = circuits_together(circuits, table.network)
    always = always_on(circuits.values())
    companions = Companions(together, table)
    found: dict[str, ExpectedReading] = {}
    for net, on in together.items():
        others = [*beside(always, on), *companions.of(net)]
        for owner in dict.fromkeys(circuit.load.owner.id for circuit in on):
            found[owner] = _reading(owner, on, table, others)
    # In the order of the file, which a jumper changes.
    return {
        c.load.owner.id: found[c.load.owner.id]
        for c in circuits.values()
        if c.load.owner.id in found
    }


def _reading(
    owner: str, circuits: Sequence[Circuit], table: StepTable, others: Sequence[Circuit]
) -> ExpectedReading:
    """Of one owner, while every coil of `circuits` starts."""
    own = [circuit for circuit in circuits if circuit.load.owner.id == owner]
    device = any(getattr(circuit.load.owner, "device", None) for circuit in circuits)
    ohms = None if device else _ohms(circuits, table)
    low = high = None
    if ohms is not None:
        spread = Ohms(COIL_TOLERANCE * _coils_alone(circuits) + METER_TOLERANCE)
        low, high = Ohms(ohms - spread), Ohms(ohms + spread)
    volts, losses = _volts(own, circuits, table, others)
    return ExpectedReading(
        owner=owner,
        ohms=ohms,
        low=low,
        high=high,
        volts=volts,
        losses=losses,
    )


def _coils_alone(circuits: Sequence[Circuit]) -> float:
    """Ohms of all their coils side by side."""
    coils = [ohms for c in circuits if (ohms := c.load.coil_ohms) is not None]
    return coils[0] if len(coils) == 1 else 1 / sum(1 / ohms for ohms in coils)


def _ohms(circuits: Sequence[Circuit], table: StepTable) -> Ohms | None:
    if any(c.load.coil_ohms is None for c in circuits):
        return None
    if len(circuits) == 1 and not circuits[0].ring:
        wire = [row.cold for row in table.of(circuits[0]).all]
        return all_ohms((all_ohms(wire), circuits[0].load.coil_ohms))
    first = circuits[0].load
    a, b = table.network.net(first.hot_end), table.network.net(first.back_end)
    return resistance_if_known(_resistors(circuits, table), a, b)


def _resistors(circuits: Sequence[Circuit], table: StepTable) -> list[PerhapsKnown]:
    """The coils with all that conducts in the groups that they hang on."""
    network = table.network
    resistors: list[PerhapsKnown] = []
    groups = set()
    for circuit in circuits:
        load = circuit.load
        one, two = network.net(load.hot_lead), network.net(load.back_lead)
        resistors.append((one, two, load.coil_ohms))
        groups |= {network.group(load.hot_lead), network.group(load.back_lead)}
    rows = table.along(edge.step for edge in network.edges_of(groups))
    resistors += [(row.one, row.two, row.cold) for row in rows]
    return resistors


def _volts(
    own: Sequence[Circuit],
    circuits: Sequence[Circuit],
    table: StepTable,
    others: Sequence[Circuit],
) -> tuple[dict[str, Volts], tuple[Loss, ...]]:
    """Volts at each of its `own` coils at inrush, while what runs beside it holds; where they go.

    Args:
        circuits: all that start with it, its own among them.
    """
    supply = _supply(circuits[0].load, table.network)
    if supply is None or any(c.load.coil is None or c.load.coil.inrush is None for c in circuits):
        return {}, ()
    if any(row.warm is None for circuit in own for row in table.of(circuit).all):
        return {}, ()
    currents: dict[int, float] = defaultdict(float)
    for circuit in circuits:
        assert circuit.load.coil is not None and circuit.load.coil.inrush is not None
        _add(currents, table.of(circuit).all, circuit.load.coil.inrush)
    for other in others:
        if other.load.coil is None or other.load.coil.holding is None:
            return {}, ()
        _add(currents, table.of(other).all, other.load.coil.holding)
    losses = {c.load.id: _losses(c, table, currents) for c in own}
    volts = {
        c.load.id: Volts(
            supply
            - sum(loss.volts for loss in losses[c.load.id])
            - _in_pigtails(c, table, currents)
        )
        for c in own
    }
    return volts, losses[min(volts, key=lambda name: volts[name])]


def _supply(load: Load, network: Network) -> Volts | None:
    supply = network.wiring.job.controllers[load.controller].supply.value
    return supply.volts if supply.kind is SupplyKind.AC else None


def _add(currents: dict[int, float], rows: Iterable[StepRow], amperes: Amperes) -> None:
    for row in rows:
        currents[row.number] += amperes


def _in_pigtails(circuit: Circuit, table: StepTable, currents: Mapping[int, float]) -> float:
    """Volts that the pigtails of a way take."""
    pigtails = [s for s in (*circuit.hot, *circuit.back) if isinstance(s, ThroughPigtail)]
    return sum(currents[row.number] * (row.warm or 0.0) for row in table.along(pigtails))


def _losses(circuit: Circuit, table: StepTable, currents: Mapping[int, float]) -> tuple[Loss, ...]:
    """Leg by leg; what pigtails take is not told of."""
    rows = table.of(circuit)
    found = []
    for steps, along, on_common in (
        (circuit.hot, rows.hot, False),
        (circuit.back, rows.back, True),
    ):
        for step, row in zip(steps, along, strict=True):
            if isinstance(step, Leg):
                assert row.warm is not None
                amperes = Amperes(currents[row.number])
                found.append(Loss(step, amperes, Volts(amperes * row.warm), on_common))
    return tuple(found)
