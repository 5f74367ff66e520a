"""Say which coils run together: those on one terminal, or on terminals that a jumper links."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from cardgen.wiring.network import Network
from cardgen.wiring.wiring_parts import Circuit, Load


def loads_together(network: Network) -> dict[int, tuple[Load, ...]]:
    """Every coil with a way to a terminal, by the net of that terminal (or isolator output)."""
    found: dict[int, list[Load]] = defaultdict(list)
    for load in network.wiring.loads.values():
        if load.decoder is None:
            found[network.net(load.hot_end)].append(load)
    return {net: tuple(loads) for net, loads in found.items()}


def circuits_together(
    circuits: Mapping[str, Circuit], network: Network
) -> dict[int, tuple[Circuit, ...]]:
    """The circuits of the same, where each of the coils has one."""
    return {
        net: tuple(circuits[load.id] for load in loads)
        for net, loads in loads_together(network).items()
        if all(load.id in circuits for load in loads)
    }


def always_on(circuits: Iterable[Circuit]) -> dict[str, tuple[Circuit, ...]]:
    """By controller, what is on whenever a station of it is: its master valve and its relay."""
    found: dict[str, list[Circuit]] = defaultdict(list)
    for circuit in circuits:
        if circuit.load.runs_beside_stations:
            found[circuit.load.controller].append(circuit)
    return {controller: tuple(beside) for controller, beside in found.items()}


def beside(always: Mapping[str, tuple[Circuit, ...]], on: Sequence[Circuit]) -> list[Circuit]:
    """What is on beside these circuits of one terminal whenever they are."""
    return [c for c in always.get(on[0].load.controller, ()) if c not in on]
