"""Resistance between two nodes of a network of resistors, rings and parallel ways included."""

from __future__ import annotations

from collections.abc import Hashable, Iterable

from cardgen.electrics.mesh import LEAST, Mesh
from cardgen.units import Ohms

Resistor = tuple[Hashable, Hashable, float]


def resistance_between(resistors: Iterable[Resistor], a: Hashable, b: Hashable) -> Ohms:
    """Ohms between `a` and `b`, which the resistors must connect."""
    mesh: Mesh[float] = Mesh((one, two, 1 / max(ohms, LEAST)) for one, two, ohms in resistors)
    mesh.reduce_to((a, b))
    return Ohms(1 / mesh.siemens[a][b])
