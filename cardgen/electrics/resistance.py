"""Resistance between two nodes of a network of resistors, rings and parallel ways included."""

from __future__ import annotations

from collections.abc import Hashable, Iterable

from cardgen.electrics.mesh import LEAST, Mesh
from cardgen.units import Ohms

Resistor = tuple[Hashable, Hashable, float]
PerhapsKnown = tuple[Hashable, Hashable, float | None]
_VERY_MANY = 1e9  # ohms
_NOTHING = 1e-4  # ohms; by which the two ends of what is possible may differ


def resistance_between(resistors: Iterable[Resistor], a: Hashable, b: Hashable) -> Ohms:
    """Ohms between `a` and `b`, which the resistors must connect."""
    mesh: Mesh[float] = Mesh((one, two, 1 / max(ohms, LEAST)) for one, two, ohms in resistors)
    mesh.reduce_to((a, b))
    return Ohms(1 / mesh.siemens[a][b])


def resistance_if_known(resistors: Iterable[PerhapsKnown], a: Hashable, b: Hashable) -> Ohms | None:
    """The same; None where it depends on a resistor whose ohms are not known.

    With more ohms in a resistor there are never fewer between two nodes (Rayleigh), so what is
    the same with none and with very many in all of those depends on none of them.
    """
    every = list(resistors)
    known = [(one, two, ohms) for one, two, ohms in every if ohms is not None]
    unknown = [(one, two) for one, two, ohms in every if ohms is None]
    least = resistance_between([*known, *((*ends, 0.0) for ends in unknown)], a, b)
    if not unknown:
        return least
    most = resistance_between([*known, *((*ends, _VERY_MANY) for ends in unknown)], a, b)
    return least if most - least < _NOTHING else None
