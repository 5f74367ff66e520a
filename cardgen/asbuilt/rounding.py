"""Round what a meter must show, always outward: an honest reading is never outside what is printed.

Numbers and figures only, no word of a language; paper and record pages take both from here.
"""

from __future__ import annotations

import math

from cardgen.asbuilt.model.built_conductors import Band


def ohms(value: float) -> str:
    """`31.1`: to tenths, as a meter shows them."""
    return f"{value:.1f}"


def around(band: Band) -> tuple[int, int]:
    """Lowest and highest in whole ohms, never below nothing."""
    return max(math.floor(band.low), 0), math.ceil(band.high)


def between(band: Band) -> str:
    """`25–37`."""
    low, high = around(band)
    return f"{low}–{high}"


def volts_around(lowest: float, highest: float) -> tuple[float, float]:
    """Lowest and highest in tenths."""
    return math.floor(lowest * 10) / 10, math.ceil(highest * 10) / 10


def volts(lowest: float, highest: float) -> str:
    """`22.9–23.6`: to tenths."""
    low, high = volts_around(lowest, highest)
    return f"{low:.1f}–{high:.1f}"
