"""Put blocks on pages: small drawings together, a long one on pages of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cardgen.drawing.shapes import DrawnBlock

APART = 9.0  # mm between drawings on one page
HEAD = 21.0  # mm above the first block of a page on which a drawing goes on
ENOUGH = 0.6  # of a page: with that left, a drawing of several pages may begin on it
FOOT = 12.0  # mm kept beneath a block for the mark that the drawing goes on


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """The blocks of one page with their tops."""

    blocks: tuple[tuple[float, DrawnBlock], ...]

    @property
    def bottom(self) -> float:
        y, block = self.blocks[-1]
        return y + block.height

    @property
    def is_continued(self) -> bool:
        """Whether a drawing that began before goes on at its top."""
        return bool(self.blocks[0][1].trunks)


def spread(
    drawings: Sequence[Sequence[DrawnBlock]], height_mm: float
) -> tuple[tuple[Spread, ...], tuple[int, ...]]:
    """The pages, and for each drawing the number of that on which it begins, from 0."""
    pages: list[list[tuple[float, DrawnBlock]]] = [[]]
    starts = []
    y = 0.0
    for blocks in drawings:
        y += APART if pages[-1] else 0.0
        whole = sum(block.height for block in blocks)
        least = min(whole, height_mm * ENOUGH) if whole > height_mm else whole
        if pages[-1] and y + least > height_mm:
            pages.append([])
            y = 0.0
        starts.append(len(pages) - 1)
        for index, block in enumerate(blocks):
            foot = FOOT if index < len(blocks) - 1 else 0.0
            if pages[-1] and y + block.height + foot > height_mm:
                pages.append([])
                y = HEAD
            pages[-1].append((y, block))
            y += block.height
    return tuple(Spread(blocks=tuple(page)) for page in pages if page), tuple(starts)
