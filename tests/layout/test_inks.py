"""Pages in grays and in one ink: nothing but swatches changes, and they keep their patterns."""

from __future__ import annotations

import pytest

from cardgen.layout.geometry import frame
from cardgen.layout.inks import gray, inked
from cardgen.layout.items import Fill, Page, Swatch
from cardgen.layout.swatch import contrast, luminance, swatch
from cardgen.printer import Ink
from cardgen.trade.colors import COLORS
from tests.for_each import for_each
from tests.layout.cards import legend, mark, pages

PAIRS = [f"{one}/{other}" for one, other in zip(COLORS, [*COLORS][1:], strict=False)]
AT = frame(1, 1, 8.75, 4.75)


def page(words: str) -> Page:
    drawn = swatch(mark("K", words), AT, colored=True)
    return Page(width=AT.right, height=AT.bottom, own=(drawn,))


@for_each("words", [*COLORS, *PAIRS])
def test_one_ink_shows_what_a_printer_of_one_ink_is_given(words: str) -> None:
    (made,) = inked(page(words), Ink.ONE).items
    assert isinstance(made, Swatch)
    plain = swatch(mark("K", words), AT, colored=False)
    # A white ground is drawn where a color would be; on paper that is the same.
    drawn = [p for p in made.parts if not (isinstance(p, Fill) and p.ink == "#FFFFFF")]
    assert drawn == [p for p in plain.parts if not (isinstance(p, Fill) and p.ink == "#FFFFFF")]


@pytest.mark.parametrize("name", COLORS)
def test_a_gray_is_as_light_as_its_color(name: str) -> None:
    rgb = COLORS[name].rgb
    made = gray(rgb)
    assert made[1:3] == made[3:5] == made[5:7]
    # A step of 1 in 255, at its steepest, is less than 1 % of luminance.
    assert luminance(made) == pytest.approx(luminance(rgb), abs=0.005)
    assert contrast(made, rgb) < 1.02


def test_only_swatches_change() -> None:
    before, *_ = pages(legend(), stock="legend-letter")
    for ink in (Ink.GRAY, Ink.ONE):
        after = inked(before, ink)
        changed = [old for old, new in zip(before.items, after.items, strict=True) if old != new]
        assert changed
        assert all(isinstance(item, Swatch) for item in changed)
    assert inked(before, Ink.COLOR) == before
