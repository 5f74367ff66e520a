"""Find the stations that cost a station most volts when programs run several at once.

C ---- shared ----+---- own ----[this]      each other station adds its holding current on
                  `---- own ----[other]     the legs of the common that both use
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from cardgen.electrics.step_table import StepTable
from cardgen.wiring.wiring_parts import Circuit, LoadKind


class Companions:
    """For the stations on each terminal the others that may run with them, worst first.

    Args:
        together: by the net of a terminal, all that is on it.
    """

    def __init__(self, together: Mapping[int, Sequence[Circuit]], table: StepTable) -> None:
        self.table, self.together = table, together
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
        others = self.table.network.wiring.job.controllers[home].stations_at_once - 1
        if others < 1 or all(circuit.load.kind is not LoadKind.VALVE for circuit in own):
            return []
        rows = [row for c in own for row in self.table.of(c).all]
        cost = {row.number: row.cold for row in rows if row.cold is not None}
        added: list[tuple[float, list[Circuit]]] = []
        for other, found in self.by_controller[home].items():
            if other != net:
                added.append((sum(self._volts(circuit, cost) for circuit in found), found))
        added.sort(key=lambda pair: -pair[0])  # stable: alike ones stay in the order of the file
        return [circuit for _, found in added[:others] for circuit in found]

    def _volts(self, circuit: Circuit, cost: Mapping[int, float]) -> float:
        """What a circuit's holding current loses on the steps that `cost` knows."""
        coil = circuit.load.coil
        assert coil is not None and coil.holding is not None
        return coil.holding * sum(cost.get(row.number, 0.0) for row in self.table.of(circuit).all)
