"""Tags read back by OCR from a picture of 150 dpi: areas, colors, ids, the code in words.

Left out are readings and stamp, whose signs (ohm, long dash, raised dot) Tesseract's models lack.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import pytest

from cardgen.cards import CardKind
from cardgen.draw.pdf import pdf
from cardgen.fonts import Weight
from cardgen.layout.items import TextLine
from tests.jobs import SAMPLES
from tests.layout.samples import laid, sample_cards
from tests.outside.ocr import CAPITALS, DIGITS, SIGNS, Manner, Snippet, lines, read, snippet
from tests.outside.pages import by_pdfium

DPI = 150.0
STOCK = "id-1-letter"
TAGS = (CardKind.VALVE_TAG, CardKind.BOX_TAG)
# Tesseract is asked again in another manner for the lines in which it erred.
ENGLISH = (
    Manner("eng", 24, 30, 1.0), Manner("eng", 27, 60, 1.6), Manner("eng", 22, 20, 1.3),
    Manner("eng", 30, 40, 2.0), Manner("eng", 24, 8, 1.0), Manner("eng", 20, 24, 1.8),
    Manner("eng", 36, 12, 1.2),
)  # fmt: skip
SPANISH = (
    Manner("spa", 24, 30, 1.3), Manner("spa", 27, 60, 1.8), Manner("eng", 24, 30, 1.0),
    Manner("spa", 22, 20, 1.3), Manner("spa", 30, 40, 2.0), Manner("spa", 24, 8, 1.0),
)  # fmt: skip
MANNERS = {"en": ENGLISH, "es": SPANISH}
CODE = re.compile(r"[A-Z0-9/-]*[0-9-][A-Z0-9/-]*")
# All that may be taken for something else; of what Tesseract is unsure of it may write two.  The
# zero is slashed, so that nobody takes it for an O, and Tesseract was taught on plain ones, such as
# a code in words has.
ZERO, PLAIN_ZERO = "(?:[0OQ9]|[O0Q9][0Q9])", "(?:0|O)"
WITH_KEY = re.compile(r"[A-Z0-9]{12}/.*")
# What is known of an id, Tesseract is told where it takes `A5` for a word: letters, then a number.
HALVES = (CAPITALS + "-", DIGITS)
Look = tuple[str, float, Weight, str] | str  # words, height of capitals, weight, ink
# It has hundreds of lines that differ in a number, size or weight alone: of its words one each is
# read, of its codes each once.
LARGEST = "heron"
ALONE = tuple(Manner("eng", capital, 1, 1.0) for capital in (24, 30, 36, 42))


def pattern(*texts: str) -> re.Pattern[str]:
    return re.compile("".join(_pattern(text) for text in texts))


def _pattern(text: str) -> str:
    zero = PLAIN_ZERO if WITH_KEY.fullmatch(text) else ZERO
    # The foot of our l, which tells it from 1 and I, makes a small one look like an L.
    return re.escape(plain(text)).replace("0", zero).replace("l", "[lL]")


def plain(text: str) -> str:
    return "".join(text.split())


def is_words(text: str) -> bool:
    """Not a reading: neither ohms and volts, whose dashes and signs are not known, nor currents."""
    return set(plain(text)) <= set(SIGNS) and not re.search(r"\dmA", plain(text))


@cache
def snippets(name: str, language: str) -> dict[Look, Snippet]:
    """Every line of every tag that has only signs which Tesseract knows, one of each look.

    The same words in the same letters on the next tag are the same outlines, drawn elsewhere.
    """
    found: dict[Look, Snippet] = {}
    for kind in TAGS:
        if not sample_cards(name, language)[kind]:
            continue
        pages, problems = laid(name, kind, STOCK, language)
        assert problems == ()
        made = pdf(pages, title="t", subject="s")
        for number, page in enumerate(pages):
            picture = by_pdfium(made, DPI, number).convert("L")
            for item in page.items:
                if isinstance(item, TextLine) and is_words(item.text):
                    look = _look(item, is_once=name == LARGEST)
                    if look not in found:
                        found[look] = snippet(item, picture, DPI)
    return found


def _look(line: TextLine, *, is_once: bool) -> Look:
    if not is_once:
        return line.text, round(line.capital, 3), line.weight, line.ink
    return line.text if CODE.fullmatch(line.text) else re.sub(r"\d+", "0", line.text)


def misread(some: list[Snippet], manners: Sequence[Manner]) -> list[Snippet]:
    """The fields that are not read in any manner, not even alone or half by half."""
    left = some
    for manner in manners:
        wrong = [
            line
            for line in lines(left, manner.signs)
            if not pattern(*(each.text for each in line)).fullmatch(read(line, manner))
        ]
        left = [each for line in wrong for each in line]
    return [each for each in left if not (is_read_alone(each, SIGNS) or is_read_in_halves(each))]


def is_read_alone(some: Snippet, known: str) -> bool:
    manners = (replace(manner, known=known) for manner in ALONE)
    return any(pattern(some.text).fullmatch(read((some,), manner)) for manner in manners)


def is_read_in_halves(some: Snippet) -> bool:
    """An id by its letters and its number, each for itself."""
    halves = zip(some.halves, HALVES, strict=bool(some.halves))
    return bool(some.halves) and all(is_read_alone(half, known) for half, known in halves)


@pytest.mark.parametrize("language", MANNERS)
@pytest.mark.parametrize("name", SAMPLES)
def test_every_field_is_read_back(name: str, language: str) -> None:
    every = snippets(name, language)
    if language != "en":  # what is the same in every language, as codes and areas, is read once
        english = snippets(name, "en")
        every = {look: one for look, one in every.items() if look not in english}
    words = [each for each in every.values() if not CODE.fullmatch(each.text)]
    codes = [each for each in every.values() if CODE.fullmatch(each.text)]
    assert [each.text for each in misread(codes, ENGLISH)] == []
    assert [each.text for each in misread(words, MANNERS[language])] == []


def against_3(some: Snippet) -> Snippet:
    letters, number = some.halves
    return replace(some, text="VB-3", halves=(letters, replace(number, text="3")))


def test_a_wrong_letter_is_not_passed_over() -> None:
    """The same pictures, held against other words."""
    every = snippets("larkspur", "en").values()
    words = [each for each in every if each.text in ("VB-2", "front beds")]
    other = [against_3(each) if each.text == "VB-2" else each for each in words]
    found = misread(other, ENGLISH)
    assert {each.text for each in found} >= {"VB-3"}
