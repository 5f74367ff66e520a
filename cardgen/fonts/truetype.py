"""Read a TrueType file into the measures that setting needs: advances, heights, what it has.

Only the tables named below are read (OpenType specification 1.9: head, maxp, hhea, hmtx, cmap
format 4, loca, glyf), so that measuring needs no font library and no drawing library.
"""

from __future__ import annotations

import struct
from functools import cache, cached_property
from itertools import pairwise
from pathlib import Path

from cardgen.light_dataclass import dataclass


@dataclass(frozen=True, kw_only=True)
class Measures:
    """What one font file says about its letters, in units of the font's square.

    Attributes:
        square: units per em.
        capital: height of a capital H.
        glyphs: glyph number by code point.
        advances: advance width by glyph number.
        reach: lowest and highest point of the ink by glyph number; 0, 0 for blanks.
    """

    path: Path
    square: int
    capital: int
    glyphs: dict[int, int]
    advances: tuple[int, ...]
    reach: tuple[tuple[int, int], ...]

    def has(self, letter: str) -> bool:
        return ord(letter) in self.glyphs

    def width(self, text: str) -> float:
        """The width of a text whose capitals are 1 high; no kerning, as it is drawn."""
        return sum(map(self._advance.__getitem__, text)) / self.capital

    @cached_property
    def _advance(self) -> dict[str, int]:
        """By letter; texts are measured more often than anything else is done."""
        return {chr(code): self.advances[glyph] for code, glyph in self.glyphs.items()}

    def ink(self, text: str) -> tuple[float, float]:
        """How far the ink goes below and above the base line, capitals being 1 high."""
        spans = [self._reach[letter] for letter in set(text)]
        low = min([0, *(span[0] for span in spans)])
        high = max([0, *(span[1] for span in spans)])
        return low / self.capital, high / self.capital

    @cached_property
    def _reach(self) -> dict[str, tuple[int, int]]:
        return {chr(code): self.reach[glyph] for code, glyph in self.glyphs.items()}


@cache
def read(path: Path) -> Measures:
    data = path.read_bytes()
    tables = _tables(data)
    square: int
    long_offsets: int
    (square,) = struct.unpack_from(">H", data, tables["head"] + 18)
    (long_offsets,) = struct.unpack_from(">h", data, tables["head"] + 50)
    (count,) = struct.unpack_from(">H", data, tables["maxp"] + 4)
    (metrics,) = struct.unpack_from(">H", data, tables["hhea"] + 34)
    glyphs = _character_map(data, tables["cmap"])
    reach = tuple(_reach(data, tables, count, bool(long_offsets)))
    return Measures(
        path=path,
        square=square,
        capital=reach[glyphs[ord("H")]][1],
        glyphs=glyphs,
        advances=tuple(_advances(data, tables["hmtx"], metrics, count)),
        reach=reach,
    )


def _tables(data: bytes) -> dict[str, int]:
    (count,) = struct.unpack_from(">H", data, 4)
    records = (struct.unpack_from(">4sIII", data, 12 + 16 * i) for i in range(count))
    return {tag.decode("ascii"): offset for tag, _, offset, _ in records}


def _advances(data: bytes, start: int, metrics: int, count: int) -> list[int]:
    advances = [struct.unpack_from(">H", data, start + 4 * i)[0] for i in range(metrics)]
    return advances + [advances[-1]] * (count - metrics)


def _reach(
    data: bytes, tables: dict[str, int], count: int, long_offsets: bool
) -> list[tuple[int, int]]:
    if long_offsets:
        offsets = struct.unpack_from(f">{count + 1}I", data, tables["loca"])
    else:
        offsets = tuple(2 * x for x in struct.unpack_from(f">{count + 1}H", data, tables["loca"]))
    spans = []
    for start, end in pairwise(offsets):
        if start == end:
            spans.append((0, 0))
            continue
        _, _, low, _, high = struct.unpack_from(">5h", data, tables["glyf"] + start)
        spans.append((low, high))
    return spans


def _character_map(data: bytes, cmap: int) -> dict[int, int]:
    (count,) = struct.unpack_from(">H", data, cmap + 2)
    for i in range(count):
        platform, encoding, offset = struct.unpack_from(">HHI", data, cmap + 4 + 8 * i)
        if (platform, encoding) == (3, 1):  # Windows, Unicode within the first 65,536
            return _segments(data, cmap + offset)
    raise ValueError("the font has no Unicode table of the kind that is read here")


def _segments(data: bytes, at: int) -> dict[int, int]:
    (doubled,) = struct.unpack_from(">H", data, at + 6)
    n = doubled // 2
    ends = struct.unpack_from(f">{n}H", data, at + 14)
    starts = struct.unpack_from(f">{n}H", data, at + 16 + doubled)
    deltas = struct.unpack_from(f">{n}H", data, at + 16 + 2 * doubled)
    offsets_at = at + 16 + 3 * doubled
    offsets = struct.unpack_from(f">{n}H", data, offsets_at)
    glyphs: dict[int, int] = {}
    for i in range(n):
        for code in range(starts[i], min(ends[i], 0xFFFE) + 1):
            glyph = code
            if offsets[i]:
                where = offsets_at + 2 * i + offsets[i] + 2 * (code - starts[i])
                (glyph,) = struct.unpack_from(">H", data, where)
                if glyph == 0:
                    continue
            glyph = (glyph + deltas[i]) & 0xFFFF
            if glyph:
                glyphs[code] = glyph
    return glyphs
