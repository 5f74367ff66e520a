"""How well QR symbols survive dirt, scratches, slants and glare, in the frames of our faces.

A score is the share in percent of damaged pictures that three unrelated decoders read; made by
`python tests/benchmarks/survival.py --table`, seeded, so that the same run gives the same numbers.
Two smaller symbols in one frame are measured there too: they survive far worse, so none is printed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

COARSE = 250  # dots per inch; a printer of fewer is taken for a thermal one


@dataclass(frozen=True, slots=True)
class Choice:
    """A way to fill a frame.

    Attributes:
        less: by how many dots a module is smaller than it could be, for a wider quiet zone.
    """

    level: str
    version: int
    less: int


@cache
def choices(side: float, coarse: bool) -> tuple[Choice, ...]:
    """The measured ways to fill a frame of that side, best first, from the frame nearest to it."""
    rows = [(abs(math.log(side / at)), at) for thermal, at in SCORES if thermal is coarse]
    scores = SCORES[coarse, min(rows)[1]]
    return tuple(Choice(*one) for one in sorted(scores, key=lambda one: -scores[one]))


# (coarse dots?, side of the frame in mm): {(level, version, less): percent read}
SCORES: Mapping[tuple[bool, float], Mapping[tuple[str, int, int], float]] = {
    (True, 21): {
        ("H", 4, 0): 52.5,
        ("Q", 4, 0): 51.7,
        ("Q", 3, 0): 49.5,
        ("M", 3, 0): 48.4,
        ("M", 4, 0): 46.3,
    },
    (False, 21.5): {
        ("H", 4, 0): 56.3,
        ("Q", 4, 0): 55.7,
        ("Q", 3, 1): 55.4,
        ("Q", 3, 0): 54.4,
        ("M", 3, 1): 53.5,
        ("M", 3, 0): 53.0,
        ("M", 4, 0): 50.4,
    },
}
