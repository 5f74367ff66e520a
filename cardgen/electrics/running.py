"""Turn circuits into what a meter reads at the box while a station runs: volts, and milliamperes.

A coil is mostly reactance.  With its resistance R at direct current and its impedance
Z = rated volts / holding current, X = sqrt(Z^2 - R^2); wire and coil add at right angles:

         j X                    arithmetic: U - I R(wire), which a meter never goes below
          |   .'|               vector: U Z / |R(wire) + R + jX|, which it comes close to
          | .'  | X
          +-----+---> R         printed is the band between the two
           R(wire)+R

No hertz are in it: X is that of the mains for which the holding current is stated.  So that has to
be the one for 60 Hz, as the mains are in the US and Mexico; at 50 Hz a coil takes more.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping

from cardgen.electrics.alternating import Impedance, voltages
from cardgen.electrics.step_table import StepRow, StepTable
from cardgen.electrics.together import always_on, beside, circuits_together
from cardgen.job.job_parts import Coil
from cardgen.light_dataclass import dataclass
from cardgen.units import SupplyKind, Volts
from cardgen.wiring.network import Network
from cardgen.wiring.wiring_parts import Circuit, LoadKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """One station (or master valve, or relay) on, with all on its terminal and what runs beside.

    Attributes:
        low, high: volts at each coil by load id while it holds: arithmetic and vector sum; empty
            where the ohms of some wire or coil are not known.
        milliamperes: holding current out of the controller, all coils together.
        in_hot: of that what its own hot carries, milliamperes.
    """

    owner: str
    low: Mapping[str, Volts]
    high: Mapping[str, Volts]
    milliamperes: float
    in_hot: float


def run_all(circuits: Mapping[str, Circuit], table: StepTable) -> dict[str, Running]:
    """What can be told of each owner on alternating current; others have no entry."""
    network = table.network
    found: dict[str, Running] = {}
    always = always_on(circuits.values())
    # By which way what runs beside its stations gets its current is not known.
    unclear = {
        load.controller
        for load in network.wiring.loads.values()
        if load.hot_unknown and load.id not in circuits and load.runs_beside_stations
    }
    for on in circuits_together(circuits, network).values():
        valve = any(circuit.load.kind is LoadKind.VALVE for circuit in on)
        if valve and on[0].load.controller in unclear:
            continue
        every = [*on, *(beside(always, on) if valve else ())]
        if all(_is_known(circuit, network) for circuit in every):
            for owner in dict.fromkeys(circuit.load.owner.id for circuit in on):
                own = [circuit for circuit in on if circuit.load.owner.id == owner]
                found[owner] = _running(owner, own, every, table)
    owners = dict.fromkeys(circuit.load.owner.id for circuit in circuits.values())
    return {owner: found[owner] for owner in owners if owner in found}


def _is_known(circuit: Circuit, network: Network) -> bool:
    """Its holding current is, and does not contradict what is said of its ohms."""
    load = circuit.load
    supply = network.wiring.job.controllers[load.controller].supply.value
    if supply.kind is not SupplyKind.AC or supply.volts is None or load.coil is None:
        return False
    if load.coil.holding is None or getattr(load.owner, "device", None):
        return False
    return load.coil_ohms is None or supply.volts / load.coil.holding >= load.coil_ohms


def coil_impedance(coil: Coil, volts: Volts) -> complex:
    """R + jX in ohms at the rated `volts`; resistance and holding current must be known.

    The resistance must not exceed the impedance, or the two cannot belong to one coil.
    """
    assert coil.holding is not None and coil.resistance is not None
    whole = volts / coil.holding
    return complex(coil.resistance, math.sqrt(whole**2 - coil.resistance**2))


def _running(owner: str, own: list[Circuit], every: list[Circuit], table: StepTable) -> Running:
    supply = table.network.wiring.job.controllers[own[0].load.controller].supply.value.volts
    assert supply is not None
    wires = _wires(every, table)
    if any(circuit.load.coil_ohms is None for circuit in every):
        wires = None
    return Running(
        owner=owner,
        low={} if wires is None else _by_arithmetic(own, every, supply, table),
        high={} if wires is None else _by_vector(own, every, supply, table, wires),
        milliamperes=1000 * sum(_holding(circuit) for circuit in every),
        in_hot=1000 * sum(_holding(circuit) for circuit in own),
    )


def _by_arithmetic(
    own: list[Circuit], every: list[Circuit], supply: Volts, table: StepTable
) -> dict[str, Volts]:
    currents: dict[int, float] = defaultdict(float)
    for circuit in every:
        holding = _holding(circuit)
        for row in table.of(circuit).all:
            currents[row.number] += holding
    return {
        c.load.id: Volts(
            supply - sum([currents[row.number] * (row.warm or 0.0) for row in table.of(c).all])
        )
        for c in own
    }


def _by_vector(
    own: list[Circuit],
    every: list[Circuit],
    supply: Volts,
    table: StepTable,
    wires: list[Impedance],
) -> dict[str, Volts]:
    network = table.network
    impedances: list[Impedance] = []
    held: dict[object, complex] = {}
    for circuit in every:
        load = circuit.load
        assert load.coil is not None
        held[network.net(load.hot_end)] = complex(supply)
        held[network.net(load.back_end)] = 0j
        leads = network.net(load.hot_lead), network.net(load.back_lead)
        impedances.append((*leads, coil_impedance(load.coil, supply)))
    impedances += wires
    found = voltages(impedances, held)
    return {
        c.load.id: Volts(
            abs(found[network.net(c.load.hot_lead)] - found[network.net(c.load.back_lead)])
        )
        for c in own
    }


def _wires(circuits: Iterable[Circuit], table: StepTable) -> list[Impedance] | None:
    """Each step that carries current, once; of a ring all that is not a dead end.

    None where the ohms of one are not known.
    """
    rows: dict[int, StepRow] = {}
    for circuit in circuits:
        if circuit.ring:
            leads = (circuit.load.hot_lead, circuit.load.back_lead)
            edges = table.network.edges_of(table.network.group(end) for end in leads)
            along = table.along(edge.step for edge in edges)
        else:
            along = table.of(circuit).all
        rows |= {row.number: row for row in along}
    warm = [(row.one, row.two, row.warm) for row in rows.values()]
    known: list[Impedance] = [
        (one, two, complex(ohms)) for one, two, ohms in warm if ohms is not None
    ]
    return known if len(known) == len(warm) else None


def _holding(circuit: Circuit) -> float:
    coil = circuit.load.coil
    assert coil is not None and coil.holding is not None
    return coil.holding
