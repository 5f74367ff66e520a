"""What a meter reads, as a function of the ohms of one resistor anywhere in a network.

    reading(x) = apart - k / (c + x)      apart: with the resistor taken out

Two more readings give k and c.  Where taking it out leaves OL, all of the current goes through it,
and the reading grows by what the resistor grows.
"""

from __future__ import annotations

from typing import NamedTuple

from cardgen.results import OL


class ByOhms(NamedTuple):
    apart: float
    k: float
    c: float

    def at(self, ohms: float) -> float:
        if self.apart == OL:
            return self.k + ohms
        return self.apart - self.k / (self.c + ohms) if self.k else self.apart


def by_ohms(apart: float, one: tuple[float, float], two: tuple[float, float]) -> ByOhms:
    """Each of the two is the resistor's ohms, and what was read then."""
    (x, first), (y, second) = one, two
    if apart == OL:
        return ByOhms(OL, first - x, 0.0)
    p, q = apart - first, apart - second
    if abs(p - q) < 1e-9:
        return ByOhms(first, 0.0, 0.0)
    c = (q * y - p * x) / (p - q)
    return ByOhms(apart, p * (c + x), c)
