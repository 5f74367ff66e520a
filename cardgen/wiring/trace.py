"""Trace each coil: from its terminal out along the hot, and from C out along the common."""

from __future__ import annotations

from cardgen.wiring.network import Network, Tree
from cardgen.wiring.wiring_parts import Circuit, End, Load, Wiring


def trace(wiring: Wiring, network: Network) -> dict[str, Circuit]:
    """The complete circuits by load; a load whose wires do not both arrive has none."""
    trees: dict[End, Tree] = {}
    rings = network.rings()
    found = {}
    for load in wiring.loads.values():
        leads = arrived_leads(load, network)
        if leads is None:
            continue
        hot_lead, back_lead = leads
        for root in (load.hot_end, load.back_end):
            if root not in trees:
                trees[root] = network.tree(root)
        found[load.id] = Circuit(
            load=load,
            hot=trees[load.hot_end].way_to(network.net(hot_lead)),
            back=trees[load.back_end].way_to(network.net(back_lead)),
            ring=bool({network.group(hot_lead), network.group(back_lead)} & rings),
        )
    return found


def ways_back(wiring: Wiring, network: Network) -> dict[str, Circuit]:
    """Of coils whose hot the file does not know, and metal does not show, the way back from C."""
    rings = network.rings()
    found = {}
    for load in wiring.loads.values():
        if not load.hot_unknown or arrived_leads(load, network) is not None:
            continue
        home = network.group(load.back_end)
        back = next((e for e in (load.back_lead, load.hot_lead) if network.group(e) == home), None)
        way = network.tree(load.back_end).way_to(network.net(back)) if back else ()
        found[load.id] = Circuit(load=load, hot=(), back=way, ring=bool(way) and home in rings)
    return found


def arrived_leads(load: Load, network: Network) -> tuple[End, End] | None:
    """The lead on the hot and the lead on the way back; None unless there is one of each.

    A decoder's coil has no way to the controller of its own.
    """
    if load.decoder is not None:
        return None
    hot, back = network.group(load.hot_end), network.group(load.back_end)
    if hot == back:
        return None
    for one, two in ((load.hot_lead, load.back_lead), (load.back_lead, load.hot_lead)):
        if network.group(one) == hot and network.group(two) == back:
            return one, two
    return None
