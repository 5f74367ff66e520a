"""What the fonts can print, and that a person can tell its letters apart."""

from __future__ import annotations

import unicodedata
from functools import cache
from random import Random
from typing import Any

import pytest
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

from cardgen.fonts import FONT_NAMES, Weight, clean, ink, missing, path, runs, size, width
from tests.for_each import for_each

ENGLISH = "".join(chr(code) for code in range(0x20, 0x7F))
SPANISH = "áéíóúüñÁÉÍÓÚÜÑ¿¡ºª«»"
LATIN_EXTENDED_A = "".join(chr(code) for code in range(0x100, 0x180))  # Unicode block
SIGNS = "Ω±≥≤×°µμ→←↔–—−·½¼≈“”‘’…•"


@pytest.mark.parametrize("weight", Weight)
@pytest.mark.parametrize("letters", [ENGLISH, SPANISH, LATIN_EXTENDED_A, SIGNS])
def test_every_letter_can_be_printed(weight: Weight, letters: str) -> None:
    assert missing(letters, weight) == ()


def test_a_letter_of_another_script_is_named() -> None:
    assert missing("valve 漢 字 漢", Weight.BOLD) == ("漢", "字")


@for_each("name", FONT_NAMES)
@for_each("alike", ["0O", "1lI", "5S", "8B", "6G", "2Z"])
def test_letters_that_look_alike_have_different_outlines(name: str, alike: str) -> None:
    font = TTFont(path(name))
    outlines = []
    for letter in alike:
        pen = DecomposingRecordingPen(font.getGlyphSet())
        font.getGlyphSet()[font.getBestCmap()[ord(letter)]].draw(pen)
        outlines.append(str(pen.value))
    assert len(set(outlines)) == len(alike)


def test_the_zero_of_our_letter_has_a_stroke() -> None:
    # A plain zero has two contours, outside and inside; a slashed one has more or a cut inside.
    for name in FONT_NAMES:
        if not name.startswith("Atkinson"):
            continue
        font = TTFont(path(name))
        pen = DecomposingRecordingPen(font.getGlyphSet())
        font.getGlyphSet()[font.getBestCmap()[ord("0")]].draw(pen)
        assert sum(1 for what, _ in pen.value if what == "closePath") > 2


def test_no_two_files_share_a_postscript_name() -> None:
    # Two that do are drawn as one: seen with other families.
    names = [TTFont(path(name))["name"].getDebugName(6) for name in FONT_NAMES]
    assert len(set(names)) == len(FONT_NAMES)


@pytest.mark.parametrize("name", FONT_NAMES)
def test_files_are_small_embeddable_and_licensed(name: str) -> None:
    assert path(name).stat().st_size < 1_000_000
    assert TTFont(path(name))["OS/2"].fsType == 0  # OpenType OS/2: installable embedding
    licence = path(name).with_name(name.split("-", maxsplit=1)[0] + "-LICENSE.txt")
    assert licence.stat().st_size > 1_000


def test_an_arrow_comes_from_the_stand_in_at_the_same_height() -> None:
    found = runs("A → VB-2", Weight.BOLD)
    assert [(run.font, run.text) for run in found] == [
        ("AtkinsonHyperlegibleNext-Bold", "A "),
        ("DejaVuSans-Bold", "→"),
        ("AtkinsonHyperlegibleNext-Bold", " VB-2"),
    ]
    assert found[1].offset == pytest.approx(found[0].width)
    assert width("A → VB-2", Weight.BOLD) == pytest.approx(sum(run.width for run in found))


def test_the_micro_sign_is_its_greek_twin() -> None:
    assert runs("5 µA", Weight.MEDIUM)[0].text == unicodedata.normalize("NFKC", "5 µA")


def test_letters_are_composed_and_blanks_are_plain() -> None:
    assert clean("man\u0303ana\u00a0x\ty") == "mañana x y"


def test_size_makes_the_capital_that_high() -> None:
    # Capital 668 of 1000 units: 10 pt of capital need 10 / 0.668 = 14.97 pt.
    assert size("AtkinsonHyperlegibleNext-Bold", 10.0) == pytest.approx(14.97, abs=0.01)


def test_ink_reaches_below_for_a_tail_and_above_for_an_accent() -> None:
    assert ink("HOT", Weight.BOLD)[0] > -0.05
    assert ink("g", Weight.BOLD)[0] < -0.2
    assert ink("É", Weight.BOLD)[1] > 1.2


def test_measures_of_a_text_are_those_of_the_runs_it_is_drawn_in() -> None:
    """Letter by letter and as fontTools reads the files, whatever letters stand side by side."""
    random = Random(5)
    blanks = " \t\n\u00a0\u2009\u202f"
    strange = "\u212b\u2126\u00b5\u2011\u0301e\u1112\u1161\u05d0漢"  # composed, stood in, lacking
    letters = ENGLISH + SPANISH + LATIN_EXTENDED_A + SIGNS + blanks
    for weight in Weight:
        for size_of in range(240):
            some = letters if size_of % 3 else letters + 9 * strange
            text = "".join(random.choices(some, k=size_of % 20))
            found = runs(text, weight)
            assert "".join(run.text for run in found) != "" or width(text, weight) == 0
            assert width(text, weight) == sum(_advance(run.font, run.text) for run in found)
            spans = [_reach(run.font, run.text) for run in found]
            low, high = min((s[0] for s in spans), default=0), max((s[1] for s in spans), default=0)
            assert ink(text, weight) == (low, high)
            lacking = [letter for letter in dict.fromkeys(clean(text)) if _is_lacking(letter)]
            assert missing(text, weight) == tuple(lacking)


def _is_lacking(letter: str) -> bool:
    """It is written from right to left, stands above another, or no file of any weight has it."""
    same = {"\u00b5": "\u03bc", "\u2011": "-"}.get(letter, letter)  # two code points, one look
    found = [name for name in FONT_NAMES if {ord(letter), ord(same)} & _file(name)[1].keys()]
    shaped = unicodedata.bidirectional(letter) in ("R", "AL") or unicodedata.combining(letter) > 0
    return shaped or not found


@cache
def _file(name: str) -> tuple[Any, dict[int, str], float]:
    font = TTFont(path(name))
    names = font.getBestCmap()
    return font, names, font["glyf"][names[ord("H")]].yMax


def _advance(name: str, text: str) -> float:
    font, names, capital = _file(name)
    return float(sum(font["hmtx"][names[ord(letter)]][0] for letter in text) / capital)


def _reach(name: str, text: str) -> tuple[float, float]:
    font, names, capital = _file(name)
    outlines = [font["glyf"][names[ord(letter)]] for letter in text]
    lows = [getattr(each, "yMin", 0) for each in outlines]
    highs = [getattr(each, "yMax", 0) for each in outlines]
    return min(0, *lows) / capital, max(0, *highs) / capital
