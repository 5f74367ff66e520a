"""How many bits of doubt there are about where to kneel, and how many a value would leave.

A meter tells two places apart the better the farther apart their ohms are: after a value each place
keeps the part of its weight that the errors of two values leave it (both are Gaussian),

    weight * exp(-(ohms - value)^2 / 4 s^2)          s: standard deviation of meter and coil
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from cardgen.diagnosis.diagnosed import FaultKind
from cardgen.diagnosis.weights import COIL_SCATTER, METER_OHMS, METER_PART
from cardgen.diagnosis.yard import NetworkChange
from cardgen.results import OL

APART = 3.0  # standard deviations between outcomes that a meter tells apart
_WHAT = 0.25  # of what a bit about the place is worth is one about the kind; assumed
_FARTHEST = 4.0  # standard deviations: beyond them nothing is left


@dataclass(frozen=True)
class PossiblePlace:
    """One suspect at one of its places.

    Attributes:
        suspect: its index.
    """

    suspect: int
    weight: float
    kinds: frozenset[FaultKind]
    site: tuple[str, str, str]
    changes: tuple[NetworkChange, ...]
    exchanged: dict[int, int]
    again: frozenset[str]


def two_deviations(ohms: float) -> float:
    """Of the meter and of one coil."""
    return 2 * math.hypot(METER_OHMS + METER_PART * ohms, COIL_SCATTER * min(ohms, 60.0))


def doubt(places: Iterable[PossiblePlace]) -> float:
    """Bits about where to kneel, and some about what it is: one look at a place tells that."""
    return _doubt((place.weight, place) for place in places)


def _doubt(weighed: Iterable[tuple[float, PossiblePlace]]) -> float:
    sites: dict[tuple[str, str, str], float] = defaultdict(float)
    suspects: dict[int, float] = defaultdict(float)
    for weight, place in weighed:
        sites[place.site] += weight
        suspects[place.suspect] += weight
    return _entropy(sites.values()) + _WHAT * _entropy(suspects.values())


def _entropy(weights: Iterable[float]) -> float:
    more = [weight for weight in weights if weight > 0]
    whole = sum(more)
    return -sum(w / whole * math.log2(w / whole) for w in more)


def doubt_after(shown: Sequence[tuple[float, PossiblePlace]]) -> float:
    """The mean of what is left by a value, each place with the ohms that it would show."""
    by_ohms: dict[float, list[PossiblePlace]] = defaultdict(list)
    for ohms, place in shown:
        by_ohms[round(ohms, 1) if ohms < OL else OL].append(place)
    left = whole = 0.0
    for value, places in by_ohms.items():
        weight = sum(place.weight for place in places)
        near = ((_part(value, ohms), others) for ohms, others in by_ohms.items())
        left += weight * _doubt((k * p.weight, p) for k, others in near if k for p in others)
        whole += weight
    return left / whole if whole else 0.0


def _part(value: float, ohms: float) -> float:
    if value == ohms:
        return 1.0
    if OL in (value, ohms):
        return 0.0
    deviations = 2 * (value - ohms) / two_deviations(max(value, ohms))
    return math.exp(-(deviations**2) / 4) if abs(deviations) < _FARTHEST else 0.0
