"""Our reader of TrueType files against fontTools, which reads the same files another way."""

from __future__ import annotations

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from cardgen.fonts import FONT_NAMES, path
from cardgen.fonts.truetype import read

SAMPLE = "AÁEHOQgjpy01lI Ωñ–·±°"


@pytest.mark.parametrize("name", FONT_NAMES)
def test_letters_and_advances_are_those_of_the_file(name: str) -> None:
    font = TTFont(path(name))
    found = read(path(name))
    names = font.getBestCmap()
    order = font.getGlyphOrder()
    assert {code: order[glyph] for code, glyph in found.glyphs.items()} == {
        code: glyph for code, glyph in names.items() if code < 0xFFFF
    }
    assert list(found.advances) == [font["hmtx"][glyph][0] for glyph in order]


@pytest.mark.parametrize("name", FONT_NAMES)
def test_the_ink_is_that_of_the_outlines(name: str) -> None:
    font = TTFont(path(name))
    found = read(path(name))
    names, outlines = font.getBestCmap(), font.getGlyphSet()
    for letter in SAMPLE:
        pen = BoundsPen(outlines)
        outlines[names[ord(letter)]].draw(pen)
        low, high = (pen.bounds[1], pen.bounds[3]) if pen.bounds else (0, 0)
        # One unit apart at most: the file states whole units, a curve peaks between them.
        assert found.reach[found.glyphs[ord(letter)]] == pytest.approx((low, high), abs=1), letter


@pytest.mark.parametrize("name", FONT_NAMES)
def test_a_capital_is_as_high_as_an_h(name: str) -> None:
    assert read(path(name)).capital == TTFont(path(name))["glyf"]["H"].yMax
