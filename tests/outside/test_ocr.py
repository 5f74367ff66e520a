"""Tags read back by OCR from a picture of 150 dpi: areas, colours, ids, the code in words.

Left out are readings and stamp, whose signs (ohm, long dash, raised dot) Tesseract's models lack.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import pytest

from cardgen.cards import CardKind
from cardgen.draw import pdf
from cardgen.layout.items import Text
from tests.jobs import SAMPLES
from tests.layout.samples import laid, sample_cards
from tests.outside.ocr import SIGNS, Manner, Snippet, lines, read, snippet
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
# zero is slashed, so that nobody takes it for an O, and Tesseract was taught on plain ones.
ZERO = {"0": "(?:[0OQ9]|[O0Q69][0Q9])"}
# In few fields, where nothing but an id stands around: a 5 for an S, a 1 for an i, j or l.
FEW = {**ZERO, "5": "S?[5S]", "1": "1?[1ijlI]"}
MOST_OF_FEW = 12  # fields of a job of 60 to 2,800, with their neighbours on the line


def pattern(text: str, read_as: Mapping[str, str]) -> re.Pattern[str]:
    return re.compile("".join(read_as.get(sign, re.escape(sign)) for sign in plain(text)))


def plain(text: str) -> str:
    return "".join(text.split())


def is_words(text: str) -> bool:
    """Not a reading: neither ohms and volts, whose dashes and signs are not known, nor currents."""
    return set(plain(text)) <= set(SIGNS) and not re.search(r"\dmA", plain(text))


def snippets(name: str, language: str) -> Iterator[Snippet]:
    """Every line of every tag that has only signs which Tesseract knows."""
    for kind in TAGS:
        if not sample_cards(name, language)[kind]:
            continue
        pages, problems = laid(name, kind, STOCK, language)
        assert problems == ()
        made = pdf(pages, title="t", subject="s")
        for number, page in enumerate(pages):
            picture = by_pdfium(made, DPI, number).convert("L")
            for item in page.items:
                if isinstance(item, Text) and is_words(item.text):
                    yield snippet(item, picture, DPI)


def misread(
    some: list[Snippet], manners: Sequence[Manner], read_as: Mapping[str, str]
) -> list[Snippet]:
    """The fields of the lines that are not read in any manner."""
    left = some
    for manner in manners:
        wrong = [
            line
            for line in lines(left, manner.signs)
            if not pattern("".join(each.text for each in line), read_as).fullmatch(
                read(line, manner)
            )
        ]
        left = [each for line in wrong for each in line]
    return left


@pytest.mark.parametrize("language", MANNERS)
@pytest.mark.parametrize("name", SAMPLES)
def test_every_field_is_read_back(name: str, language: str) -> None:
    every = list(snippets(name, language))
    words = [each for each in every if not CODE.fullmatch(each.text)]
    # Codes are the same in every language, and read once.
    codes = [each for each in every if CODE.fullmatch(each.text)] if language == "en" else []
    doubtful = 0
    for some, manners in ((codes, ENGLISH), (words, MANNERS[language])):
        left = misread(some, manners, ZERO)
        doubtful += len(left)
        assert [each.text for each in misread(left, manners, FEW)] == []
    assert doubtful <= MOST_OF_FEW


def test_a_wrong_letter_is_not_passed_over() -> None:
    """The same pictures, held against other words."""
    words = [each for each in snippets("larkspur", "en") if each.text in ("VB-2", "front beds")]
    other = [replace(each, text=each.text.replace("VB-2", "VB-3")) for each in words]
    found = misread(other, ENGLISH, FEW)
    assert {each.text for each in found} >= {"VB-3"}
