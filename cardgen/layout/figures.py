"""Line up the figures of a column: ends of whole numbers and decimal points under each other."""

from __future__ import annotations

import re
from collections.abc import Sequence

from cardgen import fonts
from cardgen.fonts import Weight

# `33.2 (27–39)`, `1,047 ft (320 m)`, `11, as built`; no date, no name such as 3A or 1/2.
_FIGURE = re.compile(r"(\d+(?:,\d{3})*)(?:\.\d+)?(?:[ ,–(].*)?")


def shifts(cells: Sequence[object], weight: Weight) -> list[float]:
    """How far each cell moves to the right, in capital heights; none where a cell is no figure.

    `cells` are those of one column in which something stands.
    """
    found = [_FIGURE.fullmatch(cell) if isinstance(cell, str) else None for cell in cells]
    if not all(found):
        return [0.0] * len(cells)
    leads = [fonts.width(match.group(1), weight) for match in found if match]
    widest = max(leads, default=0.0)
    return [widest - lead for lead in leads]
