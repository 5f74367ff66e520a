"""Voltages in a network of impedances whose ends are held at known voltages.

24 V o--R(hot)--+--[ R + jX coil ]--+--R(common)--o 0 V
                n1                  n2
With every free node taken out, they are put back in reverse: at a node without a source the
voltage is the mean of its neighbors', each with the weight of the admittance toward it.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping

from cardgen.electrics.mesh import LEAST, Mesh

Impedance = tuple[Hashable, Hashable, complex]


def voltages(
    impedances: Iterable[Impedance], held: Mapping[Hashable, complex]
) -> dict[Hashable, complex]:
    """The voltage of every node; each must be connected with a held one.

    Args:
        impedances: in ohms, between two nodes.
        held: volts of the nodes whose voltage is given, at least two.
    """
    mesh: Mesh[complex] = Mesh(
        (one, two, 1 / (ohms if abs(ohms) > LEAST else LEAST)) for one, two, ohms in impedances
    )
    mesh.reduce_to(held)
    found = dict(held)
    for node, star in reversed(mesh.stars):
        weighted = sum(siemens * found[neighbor] for neighbor, siemens in star.items())
        found[node] = weighted / sum(star.values())
    return found
