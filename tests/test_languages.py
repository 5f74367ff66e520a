"""Spanish prints: no English is left, the facts are the same, two languages fit on one tag."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from io import BytesIO

import pytest
from pypdf import PdfReader

from cardgen.asbuilt import ConductorMark
from cardgen.cards import Card, cards_of
from cardgen.cards.card import Code, PrintedValue, Splice, Table, Wire
from cardgen.drawing import home_runs, outline
from cardgen.examine import Examined, examine_text
from cardgen.output.as_printable import as_printable
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import Print, make_print
from cardgen.output.selection import Selection
from cardgen.words import load_words
from tests.jobs import SAMPLES, sample
from tests.outside.pages import outline_by_pypdf, text_by_pdfium

GROUPS = {name: pytest.mark.xdist_group(f"languages {name}") for name in SAMPLES}
NAMES = [pytest.param(name, marks=mark) for name, mark in GROUPS.items()]
# Stocks that have room for two languages on every tag of the samples: the largest, the usual.
LARGE, USUAL = "shipping-tag-8", "id-1-letter"
WORD = re.compile(r"[^\W\d_]{3,}")
# Both languages have them, or they are codes and names that are the same in all: on cards, in
# file names on the cover, of the standard that the slack follows.
SHARED = {
    *("cable", "cables", "color", "conductor", "flexible", "general", "sensor", "terminal"),
    *("usual", "rev", "contr", "temp", "box", "cards", "csv", "door", "flags", "legend"),
    *("materials", "pdf", "splice", "tags", "valve", "wire", "com", "path", "rtn", "wsu", "awg"),
}
# English words with the letters of a Spanish one.
SPANISH_TOO = {"base", "come", "local", "meter", "once", "regular", "sale", "son", "tape", "van"}


@cache
def examined(name: str) -> Examined:
    return examine_text(sample(name))


@cache
def printed(name: str, *languages: str) -> Print:
    """Everything; of the campus what belongs to its two-wire controller, which says most."""
    selection = Selection(controllers=("D",) if name == "heron" else ())
    request = PrintRequest(selection=selection, languages=languages)
    made, problems = make_print(examined(name), request)
    assert made is not None, problems
    return made


@cache
def cards(name: str, *languages: str) -> tuple[Card, ...]:
    words, _ = load_words(languages)
    printable = as_printable(examined(name), words)
    assert printable is not None
    return tuple(card for found in cards_of(printable).values() for card in found)


def texts(value: object) -> Iterator[str]:
    """Every text of a field as it is read."""
    match value:
        case str():
            yield value
        case ConductorMark():
            yield from (value.cable, value.word, value.code, value.band, value.flag, value.gauge)
        case Code():
            yield from (value.address, value.text)
        case Splice():
            yield from (value.title, value.about)
            yield from texts(value.wires)
        case Wire():
            yield from (value.name, value.about)
            yield from texts(value.mark)
        case Table():
            yield from texts((value.columns, value.rows))
        case tuple():
            for part in value:
                yield from texts(part)


def english_words() -> set[str]:
    """Every word of the English catalogue that the Spanish one does not use."""
    english, spanish = (load_words((language,))[0] for language in ("en", "es"))
    assert english is not None and spanish is not None
    mine, theirs = (
        {
            word.lower()
            for text in words.catalogues[0].texts.values()
            for word in WORD.findall(re.sub(r"\{\w+\}", "", text))
        }
        for words in (english, spanish)
    )
    return mine - theirs - SHARED - SPANISH_TOO


@pytest.mark.parametrize("name", NAMES)
def test_no_english_is_left_but_what_the_job_says(name: str) -> None:
    english = english_words()
    said = {word.lower() for word in WORD.findall(sample(name))}
    for file, data in printed(name, "es").files.items():
        if not file.endswith(".pdf"):
            continue
        found = {word.lower() for word in WORD.findall("\n".join(text_by_pdfium(data)))}
        assert found & english - said == set(), file
    every = " ".join(texts(tuple(v for card in cards(name, "es") for v in card.fields.values())))
    assert {word.lower() for word in WORD.findall(every)} & english - said == set()


def test_the_search_for_english_finds_english() -> None:
    assert {"controller", "common", "splice", "between"} - SHARED <= english_words()


def figures(value: PrintedValue) -> list[str]:
    """All numbers, ids and codes of a field."""
    whole = " ".join(texts(value))
    return sorted(re.findall(r"\b[A-Z]+-(?:[A-Z]\b|[A-Z]*\d[\w-]*)|\d+(?:[.–-]\d+)*", whole))


@pytest.mark.parametrize("name", NAMES)
def test_both_languages_say_the_same_facts(name: str) -> None:
    english, spanish = cards(name, "en"), cards(name, "es")
    assert [(c.kind, c.id) for c in english] == [(c.kind, c.id) for c in spanish]
    for one, other in zip(english, spanish, strict=True):
        assert one.fields.keys() == other.fields.keys()
        for field, value in one.fields.items():
            assert figures(value) == figures(other.fields[field]), (one.kind, one.id, field)


@pytest.mark.parametrize("name", NAMES)
def test_colors_keep_code_and_pattern(name: str) -> None:
    """Two colors in two languages take the room of the codes on a flag."""

    def looks(found: tuple[Card, ...]) -> list[tuple[str, ...]]:
        marks = (
            (m, "conductor_2" in card.fields)
            for card in found
            for v in card.fields.values()
            for m in _marks(v)
        )
        return [(m.cable, "" if two else m.code, m.base, m.stripe, m.gauge) for m, two in marks]

    assert looks(cards(name, "en")) == looks(cards(name, "es")) == looks(cards(name, "en", "es"))
    for one, other in zip(cards(name, "en"), cards(name, "es"), strict=True):
        marks = ([m.code for v in card.fields.values() for m in _marks(v)] for card in (one, other))
        assert next(marks) == next(marks)


def _marks(value: object) -> Iterator[ConductorMark]:
    match value:
        case ConductorMark():
            yield value
        case Splice():
            yield from (wire.mark for wire in value.wires if wire.mark)
        case Table():
            yield from _marks(value.rows)
        case tuple():
            for part in value:
                yield from _marks(part)


@pytest.mark.parametrize("name", NAMES)
def test_the_drawing_says_the_same_in_spanish(name: str) -> None:
    def said(language: str) -> list[list[str]]:
        printable = as_printable(examined(name), load_words((language,))[0])
        assert printable is not None
        lines = "".join(outline(home) for home in home_runs(printable)).splitlines()
        return [
            sorted(re.findall(r"\b[A-Z]+-(?:[A-Z]\b|[A-Z]*\d[\w-]*)|\d+", line)) for line in lines
        ]

    assert said("en") == said("es")


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("stock", [LARGE, USUAL])
def test_two_languages_fit_on_the_tags_of_every_sample(name: str, stock: str) -> None:
    selection = Selection(only=("valve-tags", "box-tags"))
    request = PrintRequest(selection=selection, stocks=(stock,), languages=("en", "es"))
    made, problems = make_print(examined(name), request)
    assert made is not None, problems


def test_a_master_valve_is_named_on_its_tag_in_both_languages() -> None:
    selection = Selection(only=("valve-tags",), stations=("MV-P",))
    for languages, said in ((("en", "es"), "MASTER VALVE / MAESTRA"), (("es",), "VÁLVULA MAESTRA")):
        request = PrintRequest(selection=selection, stocks=(USUAL,), languages=languages)
        made, problems = make_print(examined("sandpiper"), request)
        assert made is not None, problems
        (tags,) = (made.files[name] for name in made.files if name.endswith("valve-tags.pdf"))
        assert said in text_by_pdfium(tags)[0].replace("\xa0", " ")


@pytest.mark.parametrize("name", [pytest.param(n, marks=GROUPS[n]) for n in ("larkspur", "quarry")])
def test_the_whole_print_has_room_for_two_languages(name: str) -> None:
    made = printed(name, "en", "es")
    text = PdfReader(BytesIO(made.files["valve-tags.pdf"])).pages[0].extract_text()
    assert "HOT / EST." in text and "\nred\nrojo\n" in text


def test_what_has_no_room_for_two_says_which_stock_has() -> None:
    selection = Selection(only=("valve-tags",), stations=("MV-P",))
    stocks = ("shipping-tag-2",)
    request = PrintRequest(selection=selection, stocks=stocks, languages=("en", "es"))
    made, (problem,) = make_print(examined("sandpiper"), request)
    assert made is None
    assert problem.code == "text-too-long" and f"'{LARGE}'" in problem.help


@pytest.mark.parametrize(
    ("languages", "tag", "first"),
    [
        (("en",), "en", "Cover"),
        (("es",), "es", "Portada"),
        (("es", "en"), "es", "Portada\u00a0/ Cover"),
    ],
)
def test_a_pdf_says_its_language(languages: tuple[str, ...], tag: str, first: str) -> None:
    reader = PdfReader(BytesIO(printed("larkspur", *languages).files["packet.pdf"]))
    assert str(reader.root_object["/Lang"]) == tag
    assert outline_by_pypdf(printed("larkspur", *languages).files["packet.pdf"])[0] == (first, 1)


def test_the_same_words_give_the_same_bytes() -> None:
    again, _ = make_print(examine_text(sample("larkspur")), PrintRequest(languages=("es",)))
    assert again is not None and again.files == printed("larkspur", "es").files


@pytest.mark.parametrize("languages", [("en",), ("es",), ("en", "es")])
@pytest.mark.parametrize("name", NAMES)
def test_every_date_is_year_month_day(name: str, languages: tuple[str, ...]) -> None:
    """ISO 8601; nothing else that looks like a day: 3/14/26, 14.03.2026, 14 March."""
    months = "jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec|ene|abr|ago|dic"
    other = re.compile(rf"\b\d{{1,2}}[./]\d{{1,2}}[./]\d{{2,4}}\b|\b\d{{1,2}} (?:de )?(?:{months})")
    whole = re.compile(r"\b(19|20)\d\d(?!-\d\d-\d\d)\b(?! ?(mA|Ω|ft|m|V)\b)")
    for card in cards(name, *languages):
        for text in texts(tuple(card.fields.values())):
            assert not other.search(text.lower()), text
            assert not whole.search(text), text
