"""Choose the mask of a QR symbol: that of the lowest penalty, ISO/IEC 18004 section 7.8.3.

All modules are looked at together: a grid (`qr_grid.py`) is one number, and a grid shifted by one
place holds for each module its neighbor.

```
penalty 1   5 + n modules in line alike                                3 + n
penalty 2   2 x 2 modules alike                                        3
penalty 3   1 : 1 : 3 : 1 : 1 in line, 4 light before or after it      40
penalty 4   each 5 % of all by which more or less than half are dark   10
```
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from cardgen.layout.qr_grid import GAP, GridBits, as_bits, grid_of, told, turned

# Where i is the row and j the column.
MASKS: tuple[Callable[[int, int], bool], ...] = (
    lambda i, j: (i + j) % 2 == 0,
    lambda i, _: i % 2 == 0,
    lambda _, j: j % 3 == 0,
    lambda i, j: (i + j) % 3 == 0,
    lambda i, j: (i // 2 + j // 3) % 2 == 0,
    lambda i, j: i * j % 2 + i * j % 3 == 0,
    lambda i, j: (i * j % 2 + i * j % 3) % 2 == 0,
    lambda i, j: ((i + j) % 2 + i * j % 3) % 2 == 0,
)


@cache
def _masks(version: int) -> tuple[tuple[GridBits, GridBits], ...]:
    """Each mask over the code words, with the patterns; then the same with rows for columns."""
    grid = grid_of(version)
    cells = [(*grid.patterns, *(at for at in grid.free if mask(*at))) for mask in MASKS]
    return tuple((as_bits(dark, grid.side), as_bits(turned(dark), grid.side)) for dark in cells)


@cache
def _beside(side: int) -> GridBits:
    """The modules that have one to the left of them."""
    cells = [(row, column) for row in range(side) for column in range(1, side)]
    return as_bits(cells, side)


def masked(words: bytes, version: int, level: str) -> tuple[GridBits, int]:
    """The whole grid with the best mask, the first of equals, and the number of that mask."""
    grid, masks = grid_of(version), _masks(version)
    bits = f"{int.from_bytes(words):0{8 * len(words)}b}".ljust(len(grid.free) + 1, "0")
    plain = int("".join(grid.by_rows(bits)), 2)
    plain_turned = int("".join(grid.by_columns(bits)), 2)
    penalties = [
        penalty(plain ^ rows, plain_turned ^ columns, grid.side) for rows, columns in masks
    ]
    best = penalties.index(min(penalties))
    return plain ^ masks[best][0] | told(version, level, best), best


def penalty(grid: GridBits, turned_grid: GridBits, side_modules: int) -> int:
    """Of a symbol without format and version, which the standard adds after the choice."""
    beside, wide = _beside(side_modules), side_modules + GAP
    alike = ~(grid ^ grid >> 1) & beside
    squares = alike & alike >> wide & ~(grid ^ grid >> wide)
    alike_turned = ~(turned_grid ^ turned_grid >> 1) & beside
    every = side_modules**2
    uneven = 10 * abs(2 * grid.bit_count() - every) // every
    return (
        _runs(alike)
        + _runs(alike_turned)
        + 3 * squares.bit_count()
        + 40 * (_finders(grid) + _finders(turned_grid))
        + 10 * uneven
    )


def _runs(alike: GridBits) -> int:
    """Of all that are longer than four, their lengths less two."""
    five = alike & alike >> 1
    five &= five >> 2
    return five.bit_count() + 2 * (five & ~(five >> 1)).bit_count()


def _finders(grid: GridBits) -> int:
    """How often there is what looks like a finder pattern, what overlaps the last left out."""
    dark = grid & grid >> 2 & grid >> 3 & grid >> 4 & grid >> 6
    found = dark & ~(grid >> 1 | grid >> 5)
    dark_before = grid >> 7 | grid >> 8 | grid >> 9 | grid >> 10
    dark_after = grid << 1 | grid << 2 | grid << 3 | grid << 4
    found &= ~(dark_before & dark_after)
    return (found & ~(found >> 4 | found >> 6)).bit_count()
