"""Find the stations that cost a station most volts when programs run several at once.

C ---- shared ----+---- own ----[this]      each other station adds its holding current on
                  `---- own ----[other]     the legs of the common that both use
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from cardgen.electrics.legs import Key, key, step_ohms
from cardgen.wiring.network import Network
from cardgen.wiring.wiring_parts import Circuit, LoadKind


class Companions:
    """For the stations on each terminal the others that may run with them, worst first.

    Args:
        together: by the net of a terminal, all that is on it.
    """

    def __init__(self, together: Mapping[int, Sequence[Circuit]], network: Network) -> None:
        self.network, self.together = network, together
        self.by_controller: dict[str, dict[int, list[Circuit]]] = defaultdict(dict)
        for net, circuits in together.items():
            for circuit in circuits:
                load = circuit.load
                if load.kind is LoadKind.VALVE and load.coil and load.coil.holding is not None:
                    nets = self.by_controller[load.controller]
                    nets.setdefault(net, []).append(circuit)

    def of(self, net: int) -> list[Circuit]:
        """The circuits of the worst companions; none where one station runs at a time."""
        own = self.together[net]
        home = own[0].load.controller
        others = self.network.wiring.job.controllers[home].stations_at_once - 1
        if others < 1 or all(circuit.load.kind is not LoadKind.VALVE for circuit in own):
            return []
        cost = {key(step): step_ohms(step) for c in own for step in (*c.hot, *c.back)}
        added: list[tuple[float, list[Circuit]]] = []
        for other, found in self.by_controller[home].items():
            if other != net:
                added.append((sum(_volts(circuit, cost) for circuit in found), found))
        added.sort(key=lambda pair: -pair[0])  # stable: alike ones stay in the order of the file
        return [circuit for _, found in added[:others] for circuit in found]


def _volts(circuit: Circuit, cost: Mapping[Key, float]) -> float:
    """What a circuit's holding current loses on the steps that `cost` knows."""
    coil = circuit.load.coil
    assert coil is not None and coil.holding is not None
    shared = (cost.get(key(step), 0.0) for step in (*circuit.hot, *circuit.back))
    return coil.holding * sum(shared)
