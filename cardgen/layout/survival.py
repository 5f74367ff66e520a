"""How well QR symbols survive dirt, scratches, slants and glare, in the frames of our faces.

A score is the share in percent of damaged pictures that three unrelated decoders read; made by
`python tests/benchmarks/survival.py --table`, seeded, so that the same run gives the same numbers.
Plain level M in its smallest version is ("M", 3, 0).  For the addresses of the samples:

```
frame     dots    plain 3-M   chosen                 two symbols on a strip of the same area
21 mm     203     48.8        4-H 55.4               2 x 3-Q 58.6, modules of 3 dots, 0.375 mm
28 mm     203     48.4        4-H, wider margin 52.8 2 x 3-Q 65.2, modules of 4 dots, 0.5 mm
19 mm     600     54.9        3-Q 54.8               2 x 3-Q 59.8, 0.34 mm
21.5 mm   600     55.0        4-H 58.7               2 x 3-Q 64.8, 0.38 mm
24.5 mm   600     56.4        4-H 60.9               2 x 3-M 68.8, 0.47 mm
27.8 mm   600     56.1        4-H 61.0               2 x 3-Q 69.7, 0.51 mm
31.5 mm   600     56.6        4-H, wider margin 63.9 2 x 4-H 73.6, 0.51 mm
37 mm     600     53.4        4-H 61.9               2 x 4-H 73.8, 0.64 mm
```

Two symbols side by side are the best wherever their modules may be as small as that: what hits one
spares the other.  No face has such a strip, of at least 18.5 x 37 mm (3-Q in modules of 0.5 mm).
From corner to corner of a square frame, which wastes half of it, two were worse than one.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

COARSE = 250  # dots per inch; a printer of fewer is taken for a thermal one


@dataclass(frozen=True, slots=True)
class Filling:
    """A way to fill a frame.

    Attributes:
        less: by how many dots a module is smaller than it could be, for a wider quiet zone.
    """

    level: str
    version: int
    less: int


@cache
def choices(side_mm: float, coarse: bool) -> tuple[Filling, ...]:
    """The measured ways to fill a frame of that side, best first, from the frame nearest to it.

    What differs by less than a percent differs by chance: then the stronger correction is taken.
    """
    rows = [(abs(math.log(side_mm / at)), at) for thermal, at in SCORES if thermal is coarse]
    scores = SCORES[coarse, min(rows)[1]]
    ranked = sorted(scores, key=lambda one: (-round(scores[one]), "HQM".index(one[0]), one[2]))
    return tuple(Filling(*one) for one in ranked)


# (coarse dots?, side of the frame in mm): {(level, version, less): percent read}
SCORES: Mapping[tuple[bool, float], Mapping[tuple[str, int, int], float]] = {
    (True, 21): {
        ("H", 3, 0): 53.1,
        ("H", 4, 0): 55.4,
        ("Q", 3, 0): 49.3,
        ("Q", 4, 0): 54.0,
        ("M", 3, 0): 48.8,
    },
    (True, 28): {
        ("H", 3, 0): 54.0,
        ("H", 3, 1): 55.2,
        ("H", 4, 0): 50.4,
        ("H", 4, 1): 52.8,
        ("H", 5, 0): 50.0,
        ("H", 6, 0): 48.7,
        ("Q", 3, 0): 50.6,
        ("Q", 3, 1): 51.3,
        ("Q", 4, 0): 50.5,
        ("M", 3, 0): 48.4,
        ("M", 3, 1): 50.1,
    },
    (False, 19): {
        ("H", 3, 0): 59.0,
        ("Q", 3, 0): 54.8,
        ("M", 3, 0): 54.9,
    },
    (False, 21.5): {
        ("H", 3, 0): 60.0,
        ("H", 3, 1): 59.5,
        ("H", 4, 0): 58.7,
        ("Q", 3, 0): 55.8,
        ("Q", 3, 1): 55.9,
        ("Q", 4, 0): 57.9,
        ("M", 3, 0): 55.0,
        ("M", 3, 1): 54.3,
    },
    (False, 24.5): {
        ("H", 3, 0): 61.2,
        ("H", 3, 1): 60.6,
        ("H", 4, 0): 60.9,
        ("H", 4, 1): 58.4,
        ("H", 5, 0): 56.4,
        ("Q", 3, 0): 57.0,
        ("Q", 3, 1): 57.1,
        ("Q", 4, 0): 61.0,
        ("M", 3, 0): 56.4,
        ("M", 3, 1): 55.9,
    },
    (False, 27.8): {
        ("H", 3, 0): 61.3,
        ("H", 3, 1): 59.5,
        ("H", 4, 0): 61.0,
        ("H", 4, 1): 60.1,
        ("H", 5, 0): 57.6,
        ("H", 6, 0): 58.7,
        ("Q", 3, 0): 57.3,
        ("Q", 3, 1): 55.8,
        ("Q", 4, 0): 60.6,
        ("M", 3, 0): 56.1,
        ("M", 3, 1): 54.3,
    },
    (False, 31.5): {
        ("H", 3, 0): 60.3,
        ("H", 3, 1): 61.5,
        ("H", 4, 0): 61.0,
        ("H", 4, 1): 63.9,
        ("H", 5, 0): 59.7,
        ("H", 6, 0): 59.9,
        ("Q", 3, 0): 56.6,
        ("Q", 3, 1): 57.9,
        ("Q", 4, 0): 60.4,
        ("M", 3, 0): 56.6,
        ("M", 3, 1): 56.3,
    },
    (False, 37): {
        ("H", 3, 0): 56.4,
        ("H", 3, 1): 56.9,
        ("H", 4, 0): 61.9,
        ("H", 4, 1): 61.8,
        ("H", 5, 0): 59.6,
        ("H", 6, 0): 59.8,
        ("Q", 3, 0): 53.5,
        ("Q", 3, 1): 54.4,
        ("Q", 4, 0): 60.6,
        ("M", 3, 0): 53.4,
        ("M", 3, 1): 53.5,
    },
}
