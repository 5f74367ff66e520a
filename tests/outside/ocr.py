"""Read printed words back with Tesseract, an OCR program that knows nothing of cardgen.

It guesses better with some letters around, so several fields are pasted on one line, all with
capitals of one height; which letters are whose is known by their number.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

os.environ.setdefault("OMP_THREAD_LIMIT", "1")  # read when the next is loaded: a line is little

import tesserocr
from PIL import Image, ImageOps

from cardgen import fonts
from cardgen.layout.geometry import Mm
from cardgen.layout.items import WHITE, TextLine

# What a tag holds besides readings; Tesseract's models lack the ohm sign and the long dashes.
CAPITALS, DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ", "0123456789"
SIGNS = f"{CAPITALS}{CAPITALS.lower()}{DIGITS}/-,:;()ÁÉÍÓÚÑÜáéíóúñü"
MM_PER_INCH = 25.4
ID = re.compile(r"([A-Z]+-?)(\d+)")
BORDER = 20  # pixels of paper round a line


@dataclass(frozen=True, slots=True)
class Snippet:
    """One line of text as a picture, its capitals `capital` pixels high.

    Attributes:
        halves: of an id like `A-04` its letters and its number; empty for any other text.
    """

    text: str
    picture: Image.Image
    capital: float
    above: float
    halves: tuple[Snippet, ...] = ()

    def sized(self, capital: float) -> tuple[Image.Image, float]:
        """With capitals of that height; how far the base line lies below its top."""
        by = capital / self.capital
        size = max(1, round(self.picture.width * by)), max(1, round(self.picture.height * by))
        return self.picture.resize(size, Image.Resampling.LANCZOS), self.above * by


def snippet(item: TextLine, page: Image.Image, dpi: float) -> Snippet:
    """What is printed of a text, as a whole and, if it is an id, in two halves."""
    found = ID.fullmatch(item.text)
    if found is None:
        return _snippet(item, page, dpi)
    letters, number = found.groups()
    x = Mm(item.x + fonts.width(letters, item.weight) * item.capital)
    halves = (replace(item, text=letters), replace(item, text=number, x=x))
    cut = tuple(_snippet(half, page, dpi) for half in halves)
    return replace(_snippet(item, page, dpi), halves=cut)


def _snippet(item: TextLine, page: Image.Image, dpi: float) -> Snippet:
    """Its own ink and a little around, dark on light."""
    per_mm = dpi / MM_PER_INCH
    low, high = fonts.ink(item.text, item.weight)
    wide = fonts.width(item.text, item.weight)
    around = 0.06
    left, top = item.x - around * item.capital, item.y - (high + around) * item.capital
    right = item.x + (wide + around) * item.capital
    bottom = item.y - (low - around) * item.capital
    edges = [round(edge * per_mm) for edge in (left, top, right, bottom)]
    picture = page.crop((edges[0], edges[1], edges[2], edges[3]))
    if item.ink == WHITE:
        picture = ImageOps.invert(picture)
    return Snippet(item.text, picture, item.capital * per_mm, item.y * per_mm - edges[1])


def lines(snippets: Sequence[Snippet], signs: int) -> Iterator[tuple[Snippet, ...]]:
    """So many fields to a line that it has about that many signs, at least one."""
    line: list[Snippet] = []
    for each in snippets:
        if line and sum(len(one.text) for one in line) + len(each.text) > signs:
            yield tuple(line)
            line = []
        line.append(each)
    if line:
        yield tuple(line)


@dataclass(frozen=True, slots=True)
class Manner:
    """How a line is made up and read.

    Attributes:
        model: Tesseract's name of a language.
        capital: height of all capitals, pixels.
        signs: on a line, about.
        gap: between field and field, in capital heights.
        known: the only signs there can be.
    """

    model: str
    capital: float
    signs: int
    gap: float
    known: str = SIGNS


def read(line: Sequence[Snippet], manner: Manner) -> str:
    """What Tesseract reads, without blanks: how wide a gap is a blank, it cannot know."""
    reader = _reader(manner.model, manner.known)
    reader.SetImage(_pasted(line, manner.capital, round(manner.gap * manner.capital)))
    return re.sub(r"\s+", "", reader.GetUTF8Text())


def _pasted(line: Sequence[Snippet], capital: float, gap: int) -> Image.Image:
    parts = [each.sized(capital) for each in line]
    up = max(base for _, base in parts)
    down = max(picture.height - base for picture, base in parts)
    wide = sum(picture.width + gap for picture, _ in parts)
    whole = Image.new("L", (wide + 2 * BORDER, round(up + down + 2 * BORDER)), 255)
    x = BORDER
    for picture, base in parts:
        whole.paste(picture, (x, round(BORDER + up - base)))
        x += picture.width + gap
    return whole


@cache
def _reader(model: str, known: str) -> tesserocr.PyTessBaseAPI:
    (models, *_) = sorted(Path("/usr/share/tesseract-ocr").glob("*/tessdata"))
    reader = tesserocr.PyTessBaseAPI(
        path=str(models),
        lang=model,
        psm=tesserocr.PSM.SINGLE_LINE,
        oem=tesserocr.OEM.LSTM_ONLY,
    )
    reader.SetVariable("tessedit_char_whitelist", known)
    reader.SetVariable("tessedit_do_invert", "0")
    return reader
