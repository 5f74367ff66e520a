"""Turn the address behind a code into the most robust QR symbol that its frame can hold.

```
+------------------+
|   4 modules      |   quiet zone: ISO/IEC 18004, 4 modules on every side
|   +----------+   |   module: at least 0.5 mm, at least 4 printer dots, a whole number of dots
|   | 17+4v    |   |   level, version: what survived best in such a frame, see survival.py
|   +----------+   |
+------------------+
```
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from cardgen.layout.geometry import MM_PER_INCH, NOTHING, Frame, Mm, on_dots
from cardgen.layout.items import Symbol
from cardgen.layout.qr_grid import grid_of
from cardgen.layout.qr_masks import masked
from cardgen.layout.qr_words import code_words, smallest_version
from cardgen.layout.survival import COARSE, choices

QUIET = 4  # modules; ISO/IEC 18004
SMALLEST_MODULE = Mm(0.5)  # near the 0.495 mm target of retail scanning (from memory)
LEAST_DOTS = 4  # printer dots a module; printer makers' common advice
LEVELS = ("H", "Q", "M")  # L is never used outdoors


@dataclass(frozen=True, slots=True, kw_only=True)
class Modules:
    """A symbol without a size; `side` is in modules, without the quiet zone."""

    level: str
    version: int
    mask: int
    rows: tuple[tuple[bool, ...], ...]

    @property
    def side(self) -> int:
        return len(self.rows)


@lru_cache(maxsize=4_000)
def encode(address: str, level: str, version: int | None = None) -> Modules | None:
    """The smallest symbol of that level, or that version; None where it is too small."""
    least = smallest_version(address, level)
    if least is None or (version or least) < least:
        return None
    taken = version or least
    grid, mask = masked(code_words(address, taken, level), taken, level)
    return Modules(level=level, version=taken, mask=mask, rows=grid_of(taken).rows(grid))


def module_size(side_modules: int, room_mm: float, dot_mm: float, less_dots: int = 0) -> Mm | None:
    """The largest module with which a symbol and its quiet zone fit; None below the least.

    With `less_dots`, so many dots less, which leaves a wider quiet zone.
    """
    module = room_mm / (side_modules + 2 * QUIET)
    if dot_mm:
        module = (math.floor(module / dot_mm + NOTHING) - less_dots) * dot_mm
        if module < LEAST_DOTS * dot_mm - NOTHING:
            return None
    return Mm(module) if module >= SMALLEST_MODULE - NOTHING else None


@lru_cache(maxsize=1_000)
def symbol(address: str, at: Frame, *, dot_mm: float = 0) -> Symbol | None:
    """The most robust symbol for a frame, centered in it; None where none fits."""
    room = min(at.width, at.height)
    for made, module in _ways(address, room, dot_mm):
        return Symbol(
            frame=at,
            x=_centered(at.x, at.width, made.side, module, dot_mm),
            y=_centered(at.y, at.height, made.side, module, dot_mm),
            module=module,
            rows=made.rows,
            address=address,
            level=made.level,
        )
    return None


def _ways(address: str, room: float, dot: float) -> Iterator[tuple[Modules, Mm]]:
    """First what was measured in such a frame, best first; then what is left, by level."""
    for way in choices(room, dot > MM_PER_INCH / COARSE):
        module = module_size(17 + 4 * way.version, room, dot, less_dots=way.less)
        made = encode(address, way.level, way.version) if module else None
        if made and module:
            yield made, module
    for level in LEVELS:
        made = encode(address, level)
        module = module_size(made.side, room, dot) if made else None
        if made and module:
            yield made, module


def _centered(start: float, room: float, side: int, module: float, dot: float) -> Mm:
    """Where the modules start: in the middle, on a whole dot if the quiet zone allows."""
    spare = room - (side + 2 * QUIET) * module
    middle = start + spare / 2 + QUIET * module
    snapped = on_dots(middle, dot)
    return snapped if abs(snapped - middle) <= spare / 2 + NOTHING else Mm(middle)


def least_room(address: str) -> float:
    """The side of the smallest frame that could hold the address, for the way out."""
    made = [encode(address, level) for level in LEVELS]
    sides = [each.side for each in made if each]
    return (min(sides) + 2 * QUIET) * SMALLEST_MODULE if sides else math.inf
