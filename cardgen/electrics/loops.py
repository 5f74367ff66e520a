"""Turn two hots, or a spare tied to its common, into what a meter reads between them.

```
hot 1 ----[coil]--.            spare ------------.
                  | common                       | tied at the far end
hot 2 ----[coil]--'            common -----------'
```
Direct-current ohms at 20 C, as all readings; the common beyond the two valves carries nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from cardgen.electrics.legs import step_ohms
from cardgen.electrics.readings import COIL_TOLERANCE, METER_TOLERANCE
from cardgen.units import Ohms
from cardgen.wiring.model import Circuit, Conductor, Leg, Step, ThroughPigtail
from cardgen.wiring.network import Network

Band = tuple[Ohms, Ohms, Ohms]  # expected, and where an honest meter lies


def hot_to_hot(one: Circuit, other: Circuit, network: Network) -> Band | None:
    """Between the hots of two valves whose way back meets in their box; None where it does not."""
    coils = [circuit.load.coil for circuit in (one, other)]
    if one.ring or other.ring or coils[0] is None or coils[1] is None:
        return None
    apart: list[Step] = []
    if network.net(one.load.back_lead) != network.net(other.load.back_lead):
        apart += [step for step in one.back if step not in other.back]
        apart += [step for step in other.back if step not in one.back]
    if not all(isinstance(step, ThroughPigtail) for step in apart):
        return None
    both = coils[0].resistance + coils[1].resistance
    return _band(_ohms((*one.hot, *other.hot, *apart)) + both, COIL_TOLERANCE * both)


def tied_to_common(spare: Conductor, common: Conductor, network: Network) -> Band | None:
    """A spare and the common of its cable, measured where the spare begins.

    None where the common does not go as far, or where a second way beside it lowers the reading.
    """
    first, last = spare.places[0], spare.places[-1]
    if first not in common.places or last not in common.places:
        return None
    if any(network.group(end) in network.rings() for end in common.ends_at(first)):
        return None
    return _band(_ohms((*_legs(spare, first, last), *_legs(common, first, last))), 0.0)


def at_coil(resistance: Ohms) -> Band:
    """A coil by itself, its leads off."""
    return _band(resistance, COIL_TOLERANCE * resistance)


def _band(ohms: float, spread: float) -> Band:
    around = spread + METER_TOLERANCE
    return Ohms(ohms), Ohms(ohms - around), Ohms(ohms + around)


def _ohms(steps: Iterable[Step]) -> float:
    return sum(step_ohms(step) for step in steps)


def _legs(conductor: Conductor, first: str, last: str) -> list[Leg]:
    start, end = conductor.places.index(first), conductor.places.index(last)
    ways = list(zip(pairwise(conductor.places), conductor.legs, strict=True))[start:end]
    return [Leg(conductor, one, two, length) for (one, two), length in ways]
