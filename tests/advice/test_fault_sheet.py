"""The sheet as it is printed, read back from the PDF by a program that is not ours (pypdf)."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from cardgen.advice import advice, fault_sheet
from cardgen.cards import Card, Printable
from cardgen.diagnosis import Diagnosis, FaultKind, Suspect, diagnose
from cardgen.draw.pdf import pdf
from cardgen.layout import Stamp, lay_out, load_layouts
from cardgen.layout.inks import inked
from cardgen.layout.items import Fill, TextLine
from cardgen.printer import Ink
from cardgen.words import Words, load_words
from tests.advice.diagnoses import common_open, diagnosis, fault, fitted, readings, site
from tests.cards.printables import printable, read
from tests.diagnosis.small_yard import OL, TREE, as_built_of, walk
from tests.jobs import sample
from tests.outside.pages import text_by_poppler

STAMP = Stamp(job_code="QUAR-24", revision="rev 3", site="Quarry Row Offices")


def quarry(*languages: str) -> Printable:
    words, problems = load_words(languages or ("en",))
    assert words is not None, problems
    return replace(printable(sample("quarry")), words=words)


def sheet(found: Diagnosis, *languages: str) -> Card:
    job = quarry(*languages)
    told = advice(job.words, job.asbuilt, found, readings(found))
    dates = job.words.count("diagnosis.readings", len(found.values), date="2026-03-20")
    return fault_sheet(job, told, dates)


def printed(card: Card, stock: str, *languages: str, ink: Ink = Ink.COLOR) -> bytes:
    layouts, problems = load_layouts(words=quarry(*languages).words, kinds=(card.kind,))
    assert problems == ()
    pages, problems = lay_out([card], layouts=layouts, stock=layouts.stocks[stock], stamp=STAMP)
    assert problems == ()
    return pdf([inked(page, ink) for page in pages], title="t", subject="s", language="en")


def text_of(data: bytes) -> str:
    return " ".join(" ".join(text_by_poppler(data)).split()).replace("\u00a0", " ")


@pytest.mark.parametrize("ink", [Ink.COLOR, Ink.ONE])
@pytest.mark.parametrize("languages", [("en",), ("es",), ("en", "es")], ids="-".join)
@pytest.mark.parametrize("stock", ["sheet-letter", "sheet-a4", "half-letter", "half-a4"])
def test_it_is_one_page_in_every_language(stock: str, languages: tuple[str, ...], ink: Ink) -> None:
    data = printed(sheet(common_open(), *languages), stock, *languages, ink=ink)
    assert len(PdfReader(io.BytesIO(data)).pages) == 1
    text = text_of(data)
    for must in ("VB-4", "VB-5", "VB-6", "230 ft", "72 %", "! A11 OL", "811"):
        assert must in text, must


def test_what_is_printed_in_the_order_of_the_work() -> None:
    text = text_of(printed(sheet(common_open()), "sheet-letter"))
    parts = (
        "FAULT SHEET · A",
        "THE WAY, FROM THE CONTROLLER OUTWARD",
        "CARRIES WHAT IT SHOULD",
        "2 faults fit these readings.",
        "WHAT FITS THE READINGS",
        "BEFORE YOU WORK",
        "Lock off A and B.",
        "MEASURE NEXT",
        "it shows",
        "OR MEASURE",
        "WHAT FOLLOWS",
    )
    places = [text.index(part) for part in parts]
    assert places == sorted(places)
    assert "Local codes and licensed practice decide." in text
    assert "These are suspects, not findings." in text


def test_a_mark_is_white_on_black_and_stands_on_its_leg() -> None:
    """Nothing by hue: the digit is read against a black ground, also in one ink."""
    card = sheet(common_open())
    layouts, _ = load_layouts(kinds=(card.kind,))
    pages, _ = lay_out([card], layouts=layouts, stock=layouts.stocks["sheet-letter"], stamp=STAMP)
    items = pages[0].items
    grounds = [i.frame for i in items if isinstance(i, Fill) and i.ink == "#000000"]
    marks = [i for i in items if isinstance(i, TextLine) and i.ink == "#FFFFFF"]
    assert [mark.text for mark in marks] == ["1", "2"]
    for mark in marks:
        assert any(g.x < mark.x < g.right and g.y < mark.y < g.bottom for g in grounds)
    heights = {i.text: i.y for i in items if isinstance(i, TextLine)}
    assert heights["VB-4"] < marks[0].y < heights["VB-5"]


def test_room_to_write_is_as_high_as_on_the_test_sheet() -> None:
    """8 mm for a gloved hand: common practice, no source."""
    card = sheet(common_open())
    outcomes = card.fields["outcomes"]
    assert [tuple(map(read, row)) for row in outcomes.rows] == [  # type: ignore[union-attr]
        ("68 to 73 Ω", "only 1 still fits", ""),
        ("OL", "only 2 still fits", ""),
    ]
    layouts, _ = load_layouts(kinds=(card.kind,))
    pages, _ = lay_out([card], layouts=layouts, stock=layouts.stocks["sheet-letter"], stamp=STAMP)
    y = {i.text: i.y for i in pages[0].items if isinstance(i, TextLine)}
    assert y["OL"] - y["68 to 73 Ω"] >= 8.0


def test_a_sound_yard_has_a_sheet_without_a_way() -> None:
    sound = diagnosis(is_healthy=True, values=(fitted("A9", 32.3, 32.3),))
    card = sheet(sound)
    assert "way" not in card.fields and "suspects" not in card.fields
    assert "The reading fits the job" in text_of(printed(card, "sheet-letter"))


def test_a_value_between_two_hots_is_told_beside_the_verdict() -> None:
    off = fitted("A9 A11", 5.5, 67.5, is_off=True)
    touch = fault(FaultKind.HOTS_TOUCH, "A9 A11", site("A-K2 red", "A", "VB-4"))
    card = sheet(diagnosis(Suspect(faults=(touch,), share=1.0), values=(off,)))
    verdict = card.fields["verdict"]
    assert isinstance(verdict, tuple)
    assert "! A9 A11 5.5; expected 67.5 (65.5 to 69.5)" in verdict


def test_same_diagnosis_same_bytes() -> None:
    one, other = (printed(sheet(common_open()), "sheet-letter") for _ in range(2))
    assert one == other


def sheet_of(changed: dict[int, float], *languages: str) -> tuple[Card, Words]:
    """Of the small yard, from the readings to the paper."""
    words, problems = load_words(languages)
    assert words is not None, problems
    job = replace(printable(TREE), words=words)
    read, known = walk(changed), as_built_of()
    told = advice(words, known, diagnose(known, read), read)
    dates = words.count("diagnosis.readings", len(read), date="2026-11-01")
    return fault_sheet(job, told, dates), words


@pytest.mark.parametrize("languages", [("en",), ("es",), ("en", "es")], ids="-".join)
@pytest.mark.parametrize(
    ("changed", "key"),
    [({1: 12.0, 8: 27.0}, "two together"), ({1: OL, 4: 95.0, 8: 24.0}, "several")],
    ids=["two faults", "three faults"],
)
def test_several_faults_are_on_paper(
    changed: dict[int, float], key: str, languages: tuple[str, ...]
) -> None:
    """Both boxes of the faults, each suspect once, and what is done after the first repair."""
    card, words = sheet_of(changed, *languages)
    text = text_of(printed(card, "sheet-letter", *languages))
    rows = words("diagnosis.repair either").printed.split()
    for must in ("A1", "A8", "B1", "B4", words(f"diagnosis.{key}").printed.split()[-1], rows[-1]):
        assert must in text, must
    pages = PdfReader(io.BytesIO(printed(card, "sheet-letter", *languages))).pages
    assert len(pages) <= 3
