"""Let long text in a table go on over empty cells to its right, and notes go under their cell.

```
C        [    ] white WH   common for A1 to A8; 2 in one connector      nothing at the right of it
---------------------------------------------------------------------
1 · A1   [////] red RD     entry lawn N        VB-1   33.2 (27–39)
                           A-S1 red (flag A1) at the valve              a note with no room behind
```
"""

from __future__ import annotations

from collections.abc import Sequence

from cardgen import fonts
from cardgen.cards.card import Noted, PrintedCell
from cardgen.fonts import Weight
from cardgen.layout.fit import pieces
from cardgen.layout.geometry import NOTHING
from cardgen.layout.setting import Placed
from cardgen.light_dataclass import replace


def counted(row: Sequence[PrintedCell], index: int, *, inline: bool) -> PrintedCell:
    """What of a cell asks for width in its column; a note does if it is to stand inline."""
    cell = row[index]
    if not isinstance(cell, str):
        return cell
    if cell and _end(row, index) > index + 1:
        return max(pieces(cell), key=lambda piece: fonts.width(piece, Weight.MEDIUM))
    return cell.head if isinstance(cell, Noted) and not inline else cell


def room_of(
    row: Sequence[PrintedCell], index: int, widths: Sequence[float], between_mm: float
) -> float:
    """The width of a cell and of the empty ones at its right."""
    end = _end(row, index)
    return sum(widths[index:end]) + between_mm * (end - index - 1)


def _end(row: Sequence[PrintedCell], index: int) -> int:
    """Where the next cell begins in which something stands."""
    return next((n for n in range(index + 1, len(row)) if row[n] != ""), len(row))


def parted(cell: PrintedCell, room_mm: float, capital_mm: float) -> tuple[PrintedCell, str]:
    """What stands in the cell, and the note that goes under it; all in the cell if that fits."""
    if not isinstance(cell, Noted):
        return cell, ""
    fits = fonts.width(cell, Weight.MEDIUM) * capital_mm <= room_mm + NOTHING
    return (str(cell), "") if fits else (cell.head, cell.note)


def with_note(cells: list[Placed], index: int, note: Placed) -> list[Placed]:
    """The note under its cell and under all at the right of it."""
    cell, after = cells[index], cells[index:]
    under = max(cell.base - other.base + other.height for other in after)
    noted = replace(
        cell, height=under + note.height, draw=lambda: (*cell.items, *note.at(0, under))
    )
    return [*cells[:index], noted, *cells[index + 1 :]]
