"""Find the stations that cost a station most volts when programs run several at once.

C ---- shared ----+---- own ----[this]      each other station adds its holding current on
                  `---- own ----[other]     the legs of the common that both use
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping

from cardgen.electrics.legs import Key, key, step_ohms
from cardgen.wiring.model import Circuit, LoadKind
from cardgen.wiring.network import Network


class Companions:
    """For each station the others that may run with it, worst first."""

    def __init__(self, circuits: Iterable[Circuit], network: Network) -> None:
        self.network = network
        self.by_controller: dict[str, dict[str, list[Circuit]]] = defaultdict(dict)
        for circuit in circuits:
            load = circuit.load
            coil = load.coil
            if load.kind is LoadKind.VALVE and coil is not None and coil.holding is not None:
                owners = self.by_controller[load.controller]
                owners.setdefault(load.owner.id, []).append(circuit)

    def of(self, owner: str, own: list[Circuit]) -> list[Circuit]:
        """The circuits of the worst companions of a station; none where one runs at a time."""
        load = own[0].load
        others = self.network.wiring.job.controllers[load.controller].stations_at_once - 1
        if others < 1 or load.kind is not LoadKind.VALVE:
            return []
        cost = {key(step): step_ohms(step) for c in own for step in (*c.hot, *c.back)}
        added: list[tuple[float, list[Circuit]]] = []
        for name, found in self.by_controller[load.controller].items():
            if name != owner:
                added.append((sum(_volts(circuit, cost) for circuit in found), found))
        added.sort(key=lambda pair: -pair[0])  # stable: alike ones stay in the order of the file
        return [circuit for _, found in added[:others] for circuit in found]


def _volts(circuit: Circuit, cost: Mapping[Key, float]) -> float:
    """What a circuit's holding current loses on the steps that `cost` knows."""
    coil = circuit.load.coil
    assert coil is not None and coil.holding is not None
    shared = (cost.get(key(step), 0.0) for step in (*circuit.hot, *circuit.back))
    return coil.holding * sum(shared)
