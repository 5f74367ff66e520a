"""Turn a text into runs of letters that a shipped font really has, with their widths.

Atkinson Hyperlegible Next (SIL OFL 1.1) is the letter of everything: its zero is slashed and its
1, l and I differ.  DejaVu Sans (its own free licence) stands in for the arrows and the few Latin
Extended-A letters which it lacks, and for the zero of codes, scaled to the same height of capitals.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from enum import StrEnum
from functools import cache, lru_cache
from itertools import groupby
from pathlib import Path

from cardgen.fonts.truetype import Measures, read
from cardgen.light_dataclass import dataclass

_HERE = Path(__file__).parent
_WHITE = re.compile(r"\s")


class Weight(StrEnum):
    """How strong the letters are; CODE is medium, for what a program may have to read."""

    MEDIUM = "medium"
    BOLD = "bold"
    HEAVY = "heavy"
    CODE = "code"


# First the letter itself, then the stand-in.
_FILES: dict[Weight, tuple[str, str]] = {
    Weight.MEDIUM: ("AtkinsonHyperlegibleNext-Medium", "DejaVuSans"),
    Weight.BOLD: ("AtkinsonHyperlegibleNext-Bold", "DejaVuSans-Bold"),
    Weight.HEAVY: ("AtkinsonHyperlegibleNext-ExtraBold", "DejaVuSans-Bold"),
    Weight.CODE: ("AtkinsonHyperlegibleNext-Medium", "DejaVuSans"),
}
# Of a code the stand-in has the zero: without a slash, with which OCR takes it for a 9.  No key
# that cardgen makes has an O or a 0, so nobody needs to tell the two apart there.
_STOOD_IN = {(Weight.CODE, "0")}
FONT_NAMES: tuple[str, ...] = tuple(dict.fromkeys(n for names in _FILES.values() for n in names))


@dataclass(frozen=True, slots=True, kw_only=True)
class GlyphRun:
    """Letters of one font; offset and width are those at a capital height of 1."""

    font: str
    text: str
    offset: float
    width: float


def path(font: str) -> Path:
    return _HERE / f"{font}.ttf"


@cache
def measures(font: str) -> Measures:
    return read(path(font))


def size(font: str, capital: float) -> float:
    """The font size at which capitals are that high, in the same unit."""
    found = measures(font)
    return capital * found.square / found.capital


@lru_cache(maxsize=2_000)
def clean(text: str) -> str:
    """The text as it is set: composed letters (NFC), every white space a plain blank."""
    return _WHITE.sub(" ", unicodedata.normalize("NFC", text))


@lru_cache(maxsize=2_000)
def runs(text: str, weight: Weight) -> tuple[GlyphRun, ...]:
    """The letters with the font of each; letters that no font has are left out: ask `missing`."""
    letters = clean(text)
    if letters and _own(weight).issuperset(letters):
        font = _FILES[weight][0]
        return (GlyphRun(font=font, text=letters, offset=0.0, width=measures(font).width(letters)),)
    pairs = (_found(letter, weight) for letter in letters)
    found = [pair for pair in pairs if pair is not None]
    result: list[GlyphRun] = []
    offset = 0.0
    for font, group in groupby(found, key=lambda pair: pair[0]):
        together = "".join(letter for _, letter in group)
        wide = measures(font).width(together)
        result.append(GlyphRun(font=font, text=together, offset=offset, width=wide))
        offset += wide
    return tuple(result)


@cache
def _own(weight: Weight) -> frozenset[str]:
    """The letters for which nothing stands in."""
    stood_in = {letter for of, letter in _STOOD_IN if of is weight}
    return frozenset(map(chr, measures(_FILES[weight][0]).glyphs)) - stood_in


class _ByLetter(dict[str, int]):
    """A measure of letters that are set as they are, in units of the font, found when asked for.

    Raises KeyError for any other: what is composed, what has a stand-in, what must be shaped.
    """

    def __init__(self, weight: Weight, measure: Callable[[Measures, int], int]) -> None:
        super().__init__()
        self._weight, self._measure = weight, measure

    def __missing__(self, letter: str) -> int:
        set_as = _WHITE.sub(" ", letter)
        composed = unicodedata.normalize("NFC", letter) != letter
        if composed or _needs_shaping(letter) or set_as not in _own(self._weight):
            raise KeyError(letter)
        font = measures(_FILES[self._weight][0])
        value = self[letter] = self._measure(font, font.glyphs[ord(set_as)])
        return value


class _SimpleLetters:
    """How wide, low and high the letters of one font are that stand for themselves."""

    def __init__(self, weight: Weight) -> None:
        self.capital = measures(_FILES[weight][0]).capital
        self.advance = _ByLetter(weight, lambda font, glyph: font.advances[glyph])
        self.low = _ByLetter(weight, lambda font, glyph: min(0, font.reach[glyph][0]))
        self.high = _ByLetter(weight, lambda font, glyph: max(0, font.reach[glyph][1]))


_simple = cache(_SimpleLetters)


@lru_cache(maxsize=4_000)
def missing(text: str, weight: Weight) -> tuple[str, ...]:
    """Letters that no shipped font can draw, or that cannot be set one after another, each once."""
    if is_plain(text):
        return ()
    return tuple(letter for letter in dict.fromkeys(clean(text)) if _is_lacking(letter, weight))


def is_plain(text: str) -> bool:
    """Nothing is missing in any weight; nearly all texts are so, and this is told at once."""
    return _plain().issuperset(text)


@cache
def _plain() -> frozenset[str]:
    fonts = {own for own, _ in _FILES.values()}
    common = set.intersection(*(set(measures(font).glyphs) for font in fonts))
    return frozenset(letter for letter in map(chr, common) if not _needs_shaping(letter))


@lru_cache(maxsize=4_000)
def _is_lacking(letter: str, weight: Weight) -> bool:
    return _needs_shaping(letter) or _found(letter, weight) is None


def _needs_shaping(letter: str) -> bool:
    """Written from right to left, or a mark above another letter: outlines alone set it wrongly."""
    return unicodedata.bidirectional(letter) in ("R", "AL") or unicodedata.combining(letter) > 0


@lru_cache(maxsize=4_000)
def width(text: str, weight: Weight) -> float:
    """How wide a text is whose capitals are 1 high."""
    simple = _simple(weight)
    try:
        return sum(map(simple.advance.__getitem__, text)) / simple.capital
    except KeyError:
        return sum(run.width for run in runs(text, weight))


def ink(text: str, weight: Weight) -> tuple[float, float]:
    """How far the ink reaches below (negative) and above the base line, capitals being 1 high."""
    simple = _simple(weight)
    try:
        low = min(map(simple.low.__getitem__, text), default=0)
        high = max(map(simple.high.__getitem__, text), default=0)
    except KeyError:
        spans = [measures(run.font).ink(run.text) for run in runs(text, weight)]
        return min((s[0] for s in spans), default=0.0), max((s[1] for s in spans), default=0.0)
    return low / simple.capital, high / simple.capital


# Letters with two code points and one look: the micro sign, the hyphen that does not break.
_SAME = {"\u00b5": "\u03bc", "\u2011": "-"}


@lru_cache(maxsize=4_000)
def _found(letter: str, weight: Weight) -> tuple[str, str] | None:
    """The font that has this letter, and the letter (or its equal) as the font has it."""
    fonts = _FILES[weight][1:] if (weight, letter) in _STOOD_IN else _FILES[weight]
    for font in fonts:
        for same in (letter, _SAME.get(letter, letter)):
            if measures(font).has(same):
                return font, same
    return None
