"""The bar by which a print is measured."""

from __future__ import annotations

import pytest

from cardgen.layout.furniture import scale_bar


@pytest.mark.parametrize("upright", [False, True])
def test_a_bar_has_a_shorter_tick_at_each_centimeter_between_its_ends(upright: bool) -> None:
    bar = scale_bar(20, 30, 50, upright=upright)
    segments = [(s.x1, s.y1, s.x2, s.y2) for s in bar.segments]
    if upright:
        segments = [(y1, x1, y2, x2) for x1, y1, x2, y2 in segments]
    start, middle = (30, 20) if upright else (20, 30)
    ticks = {round(x1 - start, 3): (y1, y2) for x1, y1, x2, y2 in segments if x1 == x2}
    inner = [at for at in sorted(ticks) if 1 < at < 49]
    assert inner == [10, 20, 30, 40]
    assert all(y1 + y2 == pytest.approx(2 * middle) for y1, y2 in ticks.values())
    long = {at: y2 - y1 for at, (y1, y2) in ticks.items()}
    outer = [long[at] for at in long if at not in inner]
    assert len(outer) == 2
    assert all(long[at] < 0.8 * min(outer) for at in inner)  # the ends are told from the rest
