"""Turn the traced network into plain values: nodes numbered in the order of the conductors."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt.model.built_network import (
    BuiltNetwork,
    NetworkCoil,
    NetworkConductor,
    NetworkLink,
    NetworkTerminal,
)
from cardgen.electrics.legs import link_ohms, ohms_along, per_kilometer
from cardgen.facts import Facts
from cardgen.trade.copper import READING_TEMPERATURE
from cardgen.wiring.wiring_parts import Conductor, End, Leg, Load, ThroughPigtail


def network_values(facts: Facts) -> BuiltNetwork:
    """Of a job without errors.  It is large, so only who solves or publishes it asks for it."""
    return _Numbered(facts).values()


class _Numbered:
    def __init__(self, facts: Facts) -> None:
        self.facts, self.network = facts, facts.network
        self._numbers: dict[int, int] = {}

    def values(self) -> BuiltNetwork:
        facts = self.facts
        return BuiltNetwork(
            conductors=tuple(map(self._conductor, facts.wiring.conductors.values())),
            links=tuple(self._links()),
            coils=tuple(map(self._coil, facts.wiring.loads.values())),
            terminals=tuple(self._terminals()),
        )

    def _node(self, end: End) -> int:
        return self._numbers.setdefault(self.network.net(end), len(self._numbers))

    def _conductor(self, conductor: Conductor) -> NetworkConductor:
        rate = per_kilometer(conductor, READING_TEMPERATURE)
        nodes: list[int] = []
        for leg in range(len(conductor.legs)):
            nodes += [self._node(conductor.ends[leg][-1]), self._node(conductor.ends[leg + 1][0])]
        return NetworkConductor(
            name=conductor.name,
            ohms=tuple(ohms_along(length, rate) for length in conductor.legs),
            nodes=tuple(nodes),
        )

    def _links(self) -> Iterator[NetworkLink]:
        for edge in self.network.every_edge:
            step = edge.step
            if isinstance(step, Leg):
                continue
            one, two = (self._numbers.setdefault(n, len(self._numbers)) for n in edge[:2])
            yield NetworkLink(
                at=step.at,
                one=one,
                two=two,
                ohms=link_ohms(step),
                sensor="" if isinstance(step, ThroughPigtail) else step.sensor,
                name=step.pigtail.id if isinstance(step, ThroughPigtail) else "",
            )

    def _coil(self, load: Load) -> NetworkCoil:
        reading = self.facts.readings.get(load.owner.id)
        leads = load.hot_lead, load.back_lead
        if self.network.group(leads[0]) != self.network.group(load.hot_end):
            leads = leads[1], leads[0]  # a coil does not care, and what it is joined to decides
        return NetworkCoil(
            valve=load.id,
            hot=self._node(leads[0]),
            back=self._node(leads[1]),
            hot_end=self._node(load.hot_end),
            back_end=self._node(load.back_end),
            ohms=load.coil_ohms,
            holding=load.coil.holding if load.coil else None,
            is_measured=load.decoder is None and reading is not None and reading.ohms is not None,
        )

    def _terminals(self) -> Iterator[NetworkTerminal]:
        for controller, names in self.facts.strips.items():
            for name in dict.fromkeys(names):
                end = End(controller, controller, name)
                if self.network.knows(end):
                    yield NetworkTerminal(controller=controller, name=name, node=self._node(end))
