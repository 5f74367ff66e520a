"""Fit a text of one letter height into a width: wrap it, never cut it."""

from __future__ import annotations

import re
from enum import IntEnum
from functools import lru_cache
from itertools import pairwise

from cardgen import fonts
from cardgen.fonts import GlyphRun, Weight
from cardgen.layout.geometry import NOTHING, Mm
from cardgen.light_dataclass import dataclass
from cardgen.once import once

PITCH = 1.42  # from base line to base line, in capital heights
LEAST_APART = 0.03  # capital heights; between the ink of one line and of the next
MANY = 99  # lines; as many as it takes
ASCENT, DESCENT = 1.075, 0.32  # of small letters, in capital heights, in the letters shipped
_CAPITALS = re.compile(r"[A-Z0-9 \u00a0Ω.:+/·–-]*")


@dataclass(frozen=True, kw_only=True)
class Setting:
    """A text as it is set.

    Attributes:
        by_ink: as high as its very letters, for tables and drawings; else all lines with small
            letters take room alike, so that the cards of a print have them at the same places.
    """

    lines: tuple[str, ...]
    weight: Weight
    capital: Mm
    by_ink: bool = False

    @once
    def inked(self) -> Setting:
        """The same as high as its very letters."""
        if self.by_ink:
            return self
        return Setting(lines=self.lines, weight=self.weight, capital=self.capital, by_ink=True)

    @once
    def above(self) -> float:
        """From the top of the block to the first base line."""
        if not self.lines:
            return 0.0
        first = _ink(self.lines[0], self.weight)[1]
        return max(1.0 if self.by_ink else _above(self.lines[0]), first) * self.capital

    @once
    def below(self) -> float:
        """What is kept free under the last base line."""
        if not self.lines:
            return 0.0
        last = self.lines[-1]
        return (-_ink(last, self.weight)[0] if self.by_ink else _below(last)) * self.capital

    @once
    def pitch(self) -> float:
        """More than usual where a capital with an accent would touch what hangs above it."""
        if len(self.lines) < 2:
            return PITCH * self.capital
        inks = [_ink(line, self.weight) for line in self.lines]
        closest = max(lower[1] - upper[0] for upper, lower in pairwise(inks))
        return max(PITCH, closest + LEAST_APART) * self.capital

    @once
    def height(self) -> float:
        if not self.lines:
            return 0.0
        return self.above + (len(self.lines) - 1) * self.pitch + self.below

    @once
    def width(self) -> float:
        return max(self._widths, default=0.0) * self.capital

    @once
    def _widths(self) -> tuple[float, ...]:
        return tuple([fonts.width(words, self.weight) for words in self.lines])

    @once
    def shown(self) -> tuple[tuple[str, tuple[GlyphRun, ...], float], ...]:
        """Each line as it is drawn: its letters, their runs by font, and its width in mm."""
        weight, widths = self.weight, self._widths
        return tuple(
            [
                (fonts.clean(words), fonts.runs(words, weight), width * self.capital)
                for words, width in zip(self.lines, widths, strict=True)
            ]
        )


@lru_cache(maxsize=2_000)
def _ink(line: str, weight: Weight) -> tuple[float, float]:
    return fonts.ink(line, weight)


@lru_cache(maxsize=1_000)
def _above(line: str) -> float:
    return 1.0 if _CAPITALS.fullmatch(line) else ASCENT


@lru_cache(maxsize=1_000)
def _below(line: str) -> float:
    return 0.0 if _CAPITALS.fullmatch(line) else DESCENT


class Breaks(IntEnum):
    """Where a line may end, best first: an id broken over two lines is easily misread.

    `POINTS`: at a middle point, which the end of the line stands for, `LARK-06| · |rev 1`.
    `WORDS`: at any blank.  `PARTS`: after a hyphen or stroke between letters too, `SP-A-|K1-3`.
    `KEYS`: in the key of a job record too, for it may be all of wide letters, `MQ674Y|MXEZWW/VB-1`.
    """

    POINTS = 0
    WORDS = 1
    PARTS = 2
    KEYS = 3


_PART = r"[^ /-]*[/-]+(?=[^ /-])|[^ /-]*[/-]*(?: |$)"
_PIECES = {
    Breaks.POINTS: re.compile(r".*?· |.+$"),
    Breaks.WORDS: re.compile(r"[^ ]* |[^ ]+$"),
    Breaks.PARTS: re.compile(_PART),
    Breaks.KEYS: re.compile(rf"[0-9A-Z]{{6}}(?=[0-9A-Z]{{6}}/)|{_PART}"),
}


@lru_cache(maxsize=1_000)
def pieces(text: str, at: Breaks = Breaks.WORDS) -> tuple[str, ...]:
    """The parts between which a line may end; joined, they are the text."""
    return tuple(piece for piece in _PIECES[at].findall(text) if piece)


@lru_cache(maxsize=1_000)
def wrap(
    text: str, weight: Weight, most_capitals: float, at: Breaks = Breaks.WORDS
) -> tuple[str, ...] | None:
    """Break into lines of at most so many capital heights; None if a piece is wider."""
    return _wrapped(text, weight, most_capitals, at)


def _wrapped(text: str, weight: Weight, most_capitals: float, at: Breaks) -> tuple[str, ...] | None:
    """The same for a width that nobody asks for again."""
    text = text.strip()
    if _is_within(text, weight, most_capitals):
        return (text,) if text else ()
    ends = " ·" if at is Breaks.POINTS else " "
    lines: list[str] = []
    line = ""
    for piece in pieces(text, at):
        if _is_within((line + piece).rstrip(ends), weight, most_capitals):
            line += piece
            continue
        if line:
            lines.append(line.rstrip(ends))
        line = piece.lstrip(" ")
        if not _is_within(line.rstrip(ends), weight, most_capitals):
            return None
    if line.strip():
        lines.append(line.rstrip(" "))
    return tuple(lines)


def _is_within(line: str, weight: Weight, most_capitals: float) -> bool:
    return fonts.width(line, weight) <= most_capitals + NOTHING


def wrap_all(
    texts: tuple[str, ...], weight: Weight, most_capitals: float, at: Breaks = Breaks.WORDS
) -> tuple[str, ...] | None:
    """Each text on its own lines."""
    lines: list[str] = []
    for text in texts:
        wrapped = wrap(text, weight, most_capitals, at)
        if wrapped is None:
            return None
        lines += wrapped
    return tuple(lines)


@lru_cache(maxsize=1_000)
def fit(
    texts: tuple[str, ...],
    weight: Weight,
    *,
    width_mm: float,
    capital_mm: float,
    lines: int = MANY,
) -> Setting | None:
    """Broken at the best places that need no more lines and width than allowed."""
    most = width_mm / capital_mm
    whole = tuple(text for text in map(str.strip, texts) if text)
    if len(whole) <= lines and all(_is_within(text, weight, most) for text in whole):
        return Setting(lines=whole, weight=weight, capital=Mm(capital_mm))
    pointed = any("· " in text for text in texts)
    for breaks in tuple(Breaks)[0 if pointed else 1 :]:
        wrapped = wrap_all(texts, weight, most, breaks)
        if wrapped is not None and len(wrapped) <= lines:
            even = tuple(x for text in texts for x in balanced(text, weight, most, breaks))
            return Setting(lines=even, weight=weight, capital=Mm(capital_mm))
    return None


def balanced(text: str, weight: Weight, most_capitals: float, at: Breaks) -> tuple[str, ...]:
    """No more lines than needed, but of like length: `red +  black -` stays on one line."""
    lines = wrap(text, weight, most_capitals, at)
    assert lines is not None  # the caller has seen that it fits
    low, high = most_capitals / max(len(lines), 1) / 2, most_capitals
    for _ in range(8 if len(lines) > 1 else 0):
        middle = (low + high) / 2
        if all(_is_within(line, weight, middle) for line in lines):  # then it breaks no otherwise
            high = middle
            continue
        found = _wrapped(text, weight, middle, at)
        if found is not None and len(found) == len(lines):
            lines, high = found, middle
        else:
            low = middle
    return lines


def too_wide_by(
    texts: tuple[str, ...], weight: Weight, *, width_mm: float, least_mm: float, lines: int
) -> float:
    """How much wider the frame would have to be for the least letters."""
    low, high = width_mm, least_mm * max((fonts.width(t, weight) for t in texts), default=0.0)
    for _ in range(20):
        middle = (low + high) / 2
        found = wrap_all(texts, weight, middle / least_mm, Breaks.KEYS)
        if found is not None and len(found) <= lines:
            high = middle
        else:
            low = middle
    return max(high - width_mm, 0.0)
