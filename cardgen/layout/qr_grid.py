"""Say for each version of a QR symbol what stands where: ISO/IEC 18004, versions 1 to 9.

A grid is one long number, row by row from the top, a bit for each module, dark as 1.  Behind each
row stand `GAP` light modules, so that a row may be shifted without reaching the next:

```
 x x x x . . . .     side modules, then the gap
 x x x x . . . .
```
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import cache
from operator import itemgetter
from typing import TypeAlias

from cardgen.light_dataclass import dataclass

GAP = 4
TIMING = 6  # row and column of the timing patterns, and of the first alignment patterns
Cell = tuple[int, int]  # row and column from the top left corner
Rows: TypeAlias = tuple[bytes, ...]
GridBits: TypeAlias = int
_AS_NUMBERS = bytes.maketrans(b"01", b"\0\1")


@dataclass(frozen=True, slots=True)
class Grid:
    """What is the same in all symbols of a version.

    Attributes:
        free: the modules of the code words, in the order of their bits.
        by_rows, by_columns: take the bits of all code words and a 0, and give for each place of
            the grid, row by row or column by column, the bit that stands there, or that 0.
        patterns: dark modules of the finder, alignment and timing patterns.
    """

    side: int
    free: tuple[Cell, ...]
    by_rows: Callable[[str], tuple[str, ...]]
    by_columns: Callable[[str], tuple[str, ...]]
    patterns: tuple[Cell, ...]

    def rows(self, grid: GridBits) -> Rows:
        """Row by row from the top; a byte for each module, 1 where it is dark."""
        wide = self.side + GAP
        signs = f"{grid:0{self.side * wide}b}".encode().translate(_AS_NUMBERS)
        return tuple([signs[at : at + self.side] for at in range(0, len(signs), wide)])


def as_bits(dark: Iterable[Cell], side_modules: int) -> GridBits:
    """The grid in which these modules are dark."""
    wide = side_modules + GAP
    return sum(1 << (side_modules - row) * wide - 1 - column for row, column in dark)


def side_of(version: int) -> int:
    """In modules."""
    return 17 + 4 * version


@cache
def grid_of(version: int) -> Grid:
    side = side_of(version)
    patterns = dict(_patterns(version, side))
    taken = {*patterns, *_told_places(version, side)}
    free = tuple(cell for cell in _zigzag(side) if cell not in taken)
    return Grid(
        side=side,
        free=free,
        by_rows=_picker(free, side),
        by_columns=_picker(turned(free), side),
        patterns=tuple(cell for cell, dark in patterns.items() if dark),
    )


def turned(cells: Iterable[Cell]) -> tuple[Cell, ...]:
    """Rows for columns."""
    return tuple((column, row) for row, column in cells)


def _picker(cells: tuple[Cell, ...], side: int) -> Callable[[str], tuple[str, ...]]:
    bit = {cell: at for at, cell in enumerate(cells)}
    places = [(row, column) for row in range(side) for column in range(side + GAP)]
    return itemgetter(*(bit.get(place, len(cells)) for place in places))


# ---- what every symbol has -------------------------------------------------------------------


def _patterns(version: int, side: int) -> Iterator[tuple[Cell, bool]]:
    """Timing, alignment and finder patterns with the light strip round the last."""
    for at in range(side):
        yield (TIMING, at), at % 2 == 0
        yield (at, TIMING), at % 2 == 0
    for middle in _alignments(version, side):
        yield from _rings(middle, side, dark=(0, 2), reach=2)
    for middle in ((3, 3), (3, side - 4), (side - 4, 3)):
        yield from _rings(middle, side, dark=(0, 1, 3), reach=4)


def _alignments(version: int, side: int) -> Iterator[Cell]:
    """Their middles: none in version 1, and none on a finder pattern."""
    last = side - 7
    halfway = ((TIMING + last) // 2,) if version >= 7 else ()
    middles = (TIMING, *halfway, last) if version > 1 else ()
    corners = {(TIMING, TIMING), (TIMING, last), (last, TIMING)}
    yield from (
        (row, column) for row in middles for column in middles if (row, column) not in corners
    )


def _rings(
    middle: Cell, side: int, *, dark: tuple[int, ...], reach: int
) -> Iterator[tuple[Cell, bool]]:
    """Squares round a module, some of them dark, as far as they lie in the symbol."""
    steps = range(-reach, reach + 1)
    for down in steps:
        for right in steps:
            cell = middle[0] + down, middle[1] + right
            if min(cell) >= 0 and max(cell) < side:
                yield cell, max(abs(down), abs(right)) in dark


def _zigzag(side: int) -> Iterator[Cell]:
    """All modules, two columns at a time from the right, up and down in turn."""
    up = True
    for pair in range(side - 1, 0, -2):
        right = pair if pair > TIMING else pair - 1
        for row in range(side - 1, -1, -1) if up else range(side):
            yield row, right
            yield row, right - 1
        up = not up


# ---- what a symbol tells of itself -----------------------------------------------------------

_LEVELS = {"M": 0b00, "Q": 0b11, "H": 0b10}


@cache
def told(version: int, level: str, number: int) -> GridBits:
    """Version, level and number of the mask, each there twice, and the one module always dark."""
    grid = grid_of(version)
    format_bits = _with_check(_LEVELS[level] << 3 | number, 0x537, 10) ^ 0x5412
    dark = [(grid.side - 8, 8)]
    for places in _format_places(grid.side):
        dark += _ones(format_bits, places)
    if version >= 7:
        for places in _version_places(grid.side):
            dark += _ones(_with_check(version, 0x1F25, 12), places)
    return as_bits(dark, grid.side)


def _told_places(version: int, side: int) -> Iterator[Cell]:
    yield side - 8, 8
    for places in (*_format_places(side), *(_version_places(side) if version >= 7 else ())):
        yield from places


def _format_places(side: int) -> tuple[tuple[Cell, ...], tuple[Cell, ...]]:
    """Of its 15 bits, the highest first."""
    near = (*((8, c) for c in (0, 1, 2, 3, 4, 5, 7, 8)), *((r, 8) for r in (7, 5, 4, 3, 2, 1, 0)))
    far = (*((side - 1 - n, 8) for n in range(7)), *((8, side - 8 + n) for n in range(8)))
    return near, far


def _version_places(side: int) -> tuple[tuple[Cell, ...], tuple[Cell, ...]]:
    """Of its 18 bits, the highest first."""
    lower = tuple((side - 11 + n % 3, n // 3) for n in range(17, -1, -1))
    return lower, turned(lower)


def _ones(bits: int, places: tuple[Cell, ...]) -> Iterator[Cell]:
    signs = f"{bits:0{len(places)}b}"
    return (place for place, sign in zip(places, signs, strict=True) if sign == "1")


def _with_check(bits: int, generator: int, number: int) -> int:
    """The bits, and behind them the rest of their division by a polynomial of that degree."""
    rest = bits << number
    while rest.bit_length() > number:
        rest ^= generator << rest.bit_length() - number - 1
    return bits << number | rest
