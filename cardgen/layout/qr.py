"""Turn the address behind a code into the most robust QR symbol that its frame can hold.

Its version is the smallest that holds the address at level M, its level the strongest that goes
into as many modules, and a module is as large as the frame allows.  A stronger level in smaller
modules was read through more dirt, but from less far, at less of a slant and on less of a curl:
`tests/benchmarks/survival_scores.py` has what was measured.

```
+------------------+
|   4 modules      |   quiet zone: ISO/IEC 18004, 4 modules on every side
|   +----------+   |   module: at least 0.5 mm, at least 4 printer dots, a whole number of dots
|   | 17+4v    |   |   version v
|   +----------+   |
+------------------+
```
"""

from __future__ import annotations

import math
from functools import lru_cache

from cardgen.layout.geometry import NOTHING, Frame, Mm, on_dots
from cardgen.layout.items import Symbol
from cardgen.layout.qr_grid import Rows, grid_of, side_of
from cardgen.layout.qr_masks import masked
from cardgen.layout.qr_words import code_words, holds, smallest_version
from cardgen.light_dataclass import dataclass

QUIET = 4  # modules; ISO/IEC 18004
SMALLEST_MODULE = Mm(0.5)  # near the 0.495 mm target of retail scanning (from memory)
LEAST_DOTS = 4  # printer dots a module; printer makers' common advice
LEVELS = ("H", "Q", "M")  # strongest first; L is never used outdoors


@dataclass(frozen=True, slots=True, kw_only=True)
class Modules:
    """A symbol without a size; `side` is in modules, without the quiet zone."""

    level: str
    version: int
    mask: int
    rows: Rows

    @property
    def side(self) -> int:
        return len(self.rows)


@lru_cache(maxsize=128)
def encode(address: str, level: str, version: int | None = None) -> Modules | None:
    """The smallest symbol of that level, or that version; None where it is too small."""
    least = smallest_version(address, level)
    if least is None or (version or least) < least:
        return None
    taken = version or least
    grid, mask = masked(code_words(address, taken, level), taken, level)
    return Modules(level=level, version=taken, mask=mask, rows=grid_of(taken).rows(grid))


def strongest(address: str) -> Modules | None:
    """Of the smallest version, and there of the strongest level; None where no version holds it."""
    found = version_and_level(address)
    return encode(address, found[1], found[0]) if found else None


def version_and_level(address: str) -> tuple[int, str] | None:
    """Those of the strongest symbol, which is not made for it."""
    version = smallest_version(address, LEVELS[-1])
    if version is None:
        return None
    return version, next(level for level in LEVELS if holds(version, level, address))


def has_room(address: str, side_mm: float, dot_mm: float) -> bool:
    """Whether a square of that side can hold its symbol."""
    found = version_and_level(address)
    return found is not None and module_size(side_of(found[0]), side_mm, dot_mm) is not None


def module_size(side_modules: int, room_mm: float, dot_mm: float) -> Mm | None:
    """The largest module with which a symbol and its quiet zone fit; None below the least."""
    module = room_mm / (side_modules + 2 * QUIET)
    if dot_mm:
        module = math.floor(module / dot_mm + NOTHING) * dot_mm
        if module < LEAST_DOTS * dot_mm - NOTHING:
            return None
    return Mm(module) if module >= SMALLEST_MODULE - NOTHING else None


@lru_cache(maxsize=128)
def symbol(address: str, at: Frame, *, dot_mm: float = 0) -> Symbol | None:
    """The most robust symbol for a frame, centered in it; None where none fits."""
    made = strongest(address)
    module = module_size(made.side, min(at.width, at.height), dot_mm) if made else None
    if made is None or module is None:
        return None
    return Symbol(
        frame=at,
        x=_centered(at.x, at.width, made.side, module, dot_mm),
        y=_centered(at.y, at.height, made.side, module, dot_mm),
        module=module,
        rows=made.rows,
        address=address,
        level=made.level,
    )


def _centered(start: float, room: float, side: int, module: float, dot: float) -> Mm:
    """Where the modules start: in the middle, on a whole dot if the quiet zone allows."""
    spare = room - (side + 2 * QUIET) * module
    middle = start + spare / 2 + QUIET * module
    snapped = on_dots(middle, dot)
    return snapped if abs(snapped - middle) <= spare / 2 + NOTHING else Mm(middle)


def least_room(address: str) -> float:
    """The side of the smallest frame that could hold the address, for the way out."""
    found = version_and_level(address)
    return (side_of(found[0]) + 2 * QUIET) * SMALLEST_MODULE if found else math.inf
