"""Say which coils run together: those on one terminal, or on terminals that a jumper links."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping

from cardgen.wiring.model import Circuit, Load
from cardgen.wiring.network import Network


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


def running_beside(circuits: Iterable[Circuit], own: Iterable[Circuit]) -> list[Circuit]:
    """What is on whenever a station of that controller is, `own` left out: master valve, relay."""
    mine = {circuit.load.id: circuit for circuit in own}
    home = next(iter(mine.values())).load.controller
    return [
        circuit
        for circuit in circuits
        if circuit.load.runs_beside_stations
        and circuit.load.controller == home
        and circuit.load.id not in mine
    ]
