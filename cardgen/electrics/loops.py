"""Turn two hots, or a spare tied to its common, into what a meter reads between them.

```
hot 1 ----[coil]--.            spare ------------.
                  | common                       | tied at the far end
hot 2 ----[coil]--'            common -----------'
```
Direct-current ohms at 20 C, as all readings; the common beyond the two valves carries nothing.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from cardgen.electrics.legs import all_ohms, step_ohms
from cardgen.electrics.readings import COIL_TOLERANCE, METER_TOLERANCE
from cardgen.electrics.resistance import resistance_if_known
from cardgen.units import Ohms
from cardgen.wiring.network import Network, Tree
from cardgen.wiring.uses import Role, Stretch, Uses
from cardgen.wiring.wiring_parts import Circuit, Conductor, End, Leg, Step, ThroughPigtail

Band = tuple[Ohms, Ohms, Ohms]  # expected, and where an honest meter lies


def hot_to_hot(one: Circuit, other: Circuit, network: Network) -> Band | None:
    """Between the hots of two valves whose way back meets in their box; None where it does not."""
    if one.ring or other.ring:
        return None
    apart: list[Step] = []
    if network.net(one.load.back_lead) != network.net(other.load.back_lead):
        apart += [step for step in one.back if step not in other.back]
        apart += [step for step in other.back if step not in one.back]
    if not all(isinstance(step, ThroughPigtail) for step in apart):
        return None
    if network.net(one.load.hot_end) == network.net(other.load.hot_end):
        return None  # a jumper links them, so nothing is between them
    both = all_ohms(circuit.load.coil_ohms for circuit in (one, other))
    wire = _ohms((*one.hot, *other.hot, *apart))
    if both is None or wire is None:
        return None
    return _band(wire + both, COIL_TOLERANCE * both)


class Commons:
    """Where the commons of a wiring are, to tie free conductors to them."""

    def __init__(self, uses: Uses, network: Network) -> None:
        self.uses, self.network = uses, network
        self._at: dict[str, list[End]] = defaultdict(list)
        for stretches in uses.stretches.values():
            for stretch in stretches:
                if any(use.role is Role.COMMON for use in stretch.uses):
                    self._note(stretch)
        self._trees: dict[int, Tree] = {}
        self._rings = network.rings()

    def _note(self, stretch: Stretch) -> None:
        for place in stretch.places:
            for end in stretch.conductor.ends_at(place):
                if self.uses.stretch_at(end) is stretch:
                    self._at[place].append(end)

    def tied(self, spare: Stretch) -> Band | None:
        """A free stretch, measured at its first place against the common there, tied at its last.

        The common of its own cable if that is at both; None where no common is, or where ohms on
        the way are not known.
        """
        for one in self._near(spare.first, spare):
            for two in self._near(spare.last, spare):
                if self.network.group(one) == self.network.group(two):
                    own = _ohms(_legs(spare.conductor, spare.first, spare.last))
                    whole = all_ohms((own, self._between(one, two)))
                    return None if whole is None else _band(whole, 0.0)
        return None

    def _near(self, place: str, spare: Stretch) -> list[End]:
        """The common at a place, that of the spare's cable before all others."""
        cable = spare.conductor.cable.id
        conductors = self.network.wiring.conductors
        return sorted(self._at[place], key=lambda end: conductors[end.of].cable.id != cable)

    def _between(self, one: End, two: End) -> Ohms | None:
        """Ohms through the metal of the common, rings and all."""
        first, second = self.network.net(one), self.network.net(two)
        if first == second:
            return Ohms(0.0)
        group = self.network.group(one)
        if group in self._rings:
            edges = self.network.edges_of([group])
            resistors = [(e.one, e.two, _ohms([e.step])) for e in edges]
            return resistance_if_known(resistors, first, second)
        if group not in self._trees:
            self._trees[group] = self.network.tree(one)
        tree = self._trees[group]
        ways = (*tree.way_to(first), *tree.way_to(second))
        shared = set(tree.way_to(first)) & set(tree.way_to(second))
        # In their order, for a sum of floats depends on it.
        return _ohms(step for step in ways if step not in shared)


def at_coil(resistance: Ohms) -> Band:
    """A coil by itself, its leads off."""
    return _band(resistance, COIL_TOLERANCE * resistance)


def _band(ohms: float, spread: float) -> Band:
    around = spread + METER_TOLERANCE
    return Ohms(ohms), Ohms(ohms - around), Ohms(ohms + around)


def _ohms(steps: Iterable[Step]) -> Ohms | None:
    return all_ohms(step_ohms(step) for step in steps)


def _legs(conductor: Conductor, first: str, last: str) -> list[Leg]:
    start, end = conductor.places.index(first), conductor.places.index(last)
    places = conductor.places
    return [
        Leg(conductor, places[number], places[number + 1], conductor.legs[number], number)
        for number in range(start, end)
    ]
