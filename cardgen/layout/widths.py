"""Share a width among the columns of a table so that its rows take the fewest lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cardgen.layout.geometry import NOTHING

# How much of a column's cells it takes into account before the columns compete for the rest.
SHARES = (1.0, 0.95, 0.9, 0.75, 0.5)
LINES = (1, 2, 3, 4)  # no cell should take more of them, if that can be had


@dataclass(frozen=True, slots=True, kw_only=True)
class Want:
    """What one cell needs at least (its longest word) and what it takes on one line."""

    least: float
    whole: float

    def lines(self, width_mm: float) -> int:
        """About how many lines the cell takes; exact for one."""
        if self.whole <= width_mm + NOTHING:
            return 1
        # Wrapped lines are not full: an eighth is lost at their ends (tried on real tables).
        return max(2, -int(-(self.whole * 1.125) // width_mm)) if width_mm > 0 else 99


Wants = Sequence[Sequence[Want]]  # by column, then by row


def column_widths(wants: Wants, room_mm: float) -> list[float] | None:
    """Widths whose sum is the room; None where the longest words are wider together."""
    least = [max((cell.least for cell in column), default=0.0) for column in wants]
    whole = [max((cell.whole for cell in column), default=0.0) for column in wants]
    if sum(least) > room_mm + NOTHING:
        return None
    if sum(whole) <= room_mm:
        extra = (room_mm - sum(whole)) / len(wants)
        return [width + extra for width in whole]
    tried = _tried(wants, least, whole, room_mm)
    return min(tried, key=lambda widths: _lines(wants, widths))


def _tried(
    wants: Wants, least: list[float], whole: list[float], room: float
) -> Iterator[list[float]]:
    """Several ways to share, none narrower than the longest words."""
    for lines in LINES:
        floor = [max(low, 1.125 * high / lines) for low, high in zip(least, whole, strict=True)]
        floor = [min(a, max(b, c)) for a, b, c in zip(floor, whole, least, strict=True)]
        if sum(floor) > room:
            continue
        for share in SHARES:
            usual = [_quantile(column, share) for column in wants]
            usual = [max(a, b) for a, b in zip(usual, floor, strict=True)]
            full = sum(usual) > room
            yield poured(floor, usual, room) if full else poured(usual, whole, room)
    usual = [max(_quantile(column, 0.9), low) for column, low in zip(wants, least, strict=True)]
    yield poured(least, whole, room)
    yield poured(least, usual, room) if sum(usual) > room else poured(usual, whole, room)


def _quantile(column: Sequence[Want], share: float) -> float:
    wholes = sorted(cell.whole for cell in column) or [0.0]
    return wholes[min(int(share * len(wholes)), len(wholes) - 1)]


def _lines(wants: Wants, widths: Sequence[float]) -> int:
    rows = zip(*wants, strict=True)
    return sum(max(c.lines(w) for c, w in zip(row, widths, strict=True)) for row in rows)


def poured(low: Sequence[float], high: Sequence[float], room_mm: float) -> list[float]:
    """Water over vessels from `low` to `high`: one common level, each as far as it can use it."""
    level, left = 0.0, room_mm - sum(low)
    # Between two edges the level rises by what is left, shared among the vessels it is in.
    for edge in sorted({*low, *high}):
        filling = sum(1 for a, b in zip(low, high, strict=True) if a <= level < b)
        needs = (edge - level) * filling
        if needs > left:
            level += max(left, 0.0) / max(filling, 1)
            break
        level, left = edge, left - needs
    return [min(max(level, a), b) for a, b in zip(low, high, strict=True)]
