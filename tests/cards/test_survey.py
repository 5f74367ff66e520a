"""What is not known, on paper: room to write it in, a list to carry along, no number from it."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from cardgen import fonts
from cardgen.cards import CardKind, cards_of
from cardgen.cards.materials_sheet import materials_rows
from cardgen.cards.open_items import open_items
from cardgen.layout import Page, Stamp, lay_out
from cardgen.layout.items import Segment, Strokes, TextLine
from cardgen.output.as_printable import as_printable
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.selection import Selection
from cardgen.problems import UserError
from tests.cards.printables import printable, rows
from tests.checks.test_not_known import JOB
from tests.jobs import SAMPLES, edit, examined, sample
from tests.layout.samples import layouts_in, words_of
from tests.outside.pages import text_by_pdfium


@pytest.mark.parametrize("name", SAMPLES)
def test_where_everything_is_known_there_is_no_list(name: str) -> None:
    assert cards_of(printable(sample(name)), [CardKind.SURVEY])[CardKind.SURVEY] == ()
    with pytest.raises(UserError, match="of nothing that it is not known"):
        make_print(examined(sample(name)), PrintRequest(selection=Selection(only=("survey",))))


def test_the_list_goes_box_by_box_as_one_walks() -> None:
    (card,) = cards_of(printable(JOB), [CardKind.SURVEY])[CardKind.SURVEY]
    columns = ("where", "what to find out", "needed for", "found")
    found = [tuple(row[name] for name in columns) for row in rows(card.fields["questions"])]
    assert found == [
        ("CONTROLLER A", "gauge of A-K2", "readings of A3", ""),
        ("", "gauge of A-K3", "list of materials", ""),
        ("VB-2", "length of A-K1 from VB-1 to VB-2", "readings of A2", ""),
        (
            "VB-4",
            "coil of A5: what its label says, and its ohms with the leads off",
            "readings of A5",
            "",
        ),
    ]


def test_open_items_name_each_kind_once() -> None:
    found = {what.printed: where.printed for what, where in open_items(printable(JOB))}
    assert found["Lengths are not known: measure them, see the survey list"] == "A-K1"
    assert found["The gauge is not known: find it out, see the survey list"] == "A-K2 and A-K3"
    assert found["The coil is not known: find it out, see the survey list"] == "A5"
    assert "The gauge of the factory leads is not known" not in {
        what for what, where in found.items() if "VB-3" in where
    }


def test_no_sum_hides_what_is_missing() -> None:
    """85 ft, 10 % of it, two valves 4 ft, three ends in boxes 4.5 ft, one at A 5 ft: 107 ft."""
    lines = list(materials_rows(printable(JOB)))
    (line,) = [line for line in lines if "A-K1:" in line[-1]]
    assert line[1] == ("cable, 3 × 18 AWG, at least this much: the length of 1 leg is not known")
    assert line[2:4] == ("107", "ft")
    nowhere = JOB.replace("A, 85 ft, VB-1", "A, not known, VB-1")
    lines = list(materials_rows(printable(nowhere)))
    (line,) = [line for line in lines if "A-K1:" in line[-1]]
    assert line[1:4] == ("cable, 3 × 18 AWG, length not known", "1", "pieces")


@pytest.mark.parametrize(
    ("languages", "title"),
    [(("en",), "SURVEY LIST"), (("es",), "LISTA DE LO QUE FALTA SABER"), (("en", "es"), "SURVEY")],
)
def test_paper_has_room_to_write_and_no_number_of_what_is_unknown(
    languages: tuple[str, ...], title: str
) -> None:
    kinds = ("survey", "valve-tags", "door-legend", "test-sheet")
    request = PrintRequest(selection=Selection(only=kinds), languages=languages)
    made, problems = make_print(examined(JOB), request)
    assert made is not None, problems
    pdfs = {name: pdf for name, pdf in made.files.items() if name.endswith(".pdf")}
    text = {name: "\n".join(text_by_pdfium(pdf)) for name, pdf in pdfs.items()}
    assert title in text["survey.pdf"] and "A-K1" in text["survey.pdf"]
    tags = text["valve-tags.pdf"]
    # A2, A3 and A5 lack the ohms at the controller, A5 those of its coil, too; A1 and A4 have both.
    assert len(re.findall(r"Ω(?! *\d)", tags)) == 4  # each before a line to write on
    assert tags.count("31.1 (25") == 1 and tags.count("31.3 (25") == 1
    assert len(re.findall(r"31\.\d\s\(25", text["door-legend-A.pdf"])) == 2
    unknown = "not known" if languages[0] == "en" else "no se sabe"
    assert text["test-sheet.pdf"].count(unknown) >= 3


@pytest.mark.parametrize("languages", ["en", "es", "en,es"])
def test_what_is_not_known_is_a_line_for_a_hand(languages: str) -> None:
    """24 mm are six figures of 4 mm, in a row of 4 mm or more (common practice, no source)."""
    layouts, words = layouts_in(*languages.split(",")), words_of(*languages.split(","))
    unknown = as_printable(examined(JOB), words)
    assert unknown is not None
    cards = cards_of(unknown, (CardKind.VALVE_TAG, CardKind.LEGEND))
    stamp = Stamp(job_code="NK-01", revision="rev 1", site="North park", words=words)
    for kind, stock, count, long, high in (
        (CardKind.VALVE_TAG, "id-1-letter", 4, 24.0, 4.6),
        (CardKind.VALVE_TAG, "a7-letter", 4, 33.0, 5.2),
        (CardKind.VALVE_TAG, "roll-50x75", 4, 20.0, 4.1),
        (CardKind.LEGEND, "legend-letter", 3, 23.0, 7.0),
        (CardKind.LEGEND, "legend-half-letter", 3, 17.0, 5.4),
    ):
        done, problems = lay_out(
            cards[kind], layouts=layouts, stock=layouts.stocks[stock], stamp=stamp
        )
        assert problems == ()
        free = [room for page in done for room in lines_to_write_on(page)]
        assert len(free) == count, stock
        assert min(wide for wide, _ in free) >= long, stock
        assert min(tall for _, tall in free) >= high, stock


def lines_to_write_on(page: Page) -> Iterator[tuple[float, float]]:
    """How long each line to write on is, and how much is free above it, up to words or a rule."""
    flat = [s for item in page.items if isinstance(item, Strokes) for s in item.segments]
    texts = [item for item in page.items if isinstance(item, TextLine)]
    level = [s for s in flat if s.y1 == s.y2]
    for line in level:
        beside = [t for t in texts if abs(t.y - line.y1) < 0.6 and t.x < line.x1]
        calls = any(t.text.startswith(("call:", "llame a:")) for t in beside)
        if calls or not beside or not 15 < line.x2 - line.x1 < 40:
            continue
        over = [t.y for t in texts if t.x < line.x2 and t.y < line.y1 - 1 and reaches(t, line)]
        over += [s.y1 for s in level if s.y1 < line.y1 and s.x1 < line.x2 and s.x2 > line.x1]
        yield line.x2 - line.x1, line.y1 - max(over)


def reaches(text: TextLine, line: Segment) -> bool:
    return text.x + fonts.width(text.text, text.weight) * text.capital > line.x1


PLACES = (
    ("place: garage wall", "place: not known"),
    ("VB-1: {}", "VB-1: {place: not known, size: Not Known}"),
    ("area: front lawn", "area: not known"),
)


def unplaced() -> str:
    text = JOB
    for spot, wrong in PLACES:
        text = edit(text, spot, wrong)
    return text


@pytest.mark.parametrize("languages", [("en",), ("es",), ("en", "es")])
def test_that_nobody_knows_where_or_what_is_a_line_and_a_question(
    languages: tuple[str, ...],
) -> None:
    """The words `not known` stand for no place: on paper is a line to write on."""
    kinds = ("valve-tags", "door-legend", "survey", "splice-cards", "packet")
    text = pdf_texts(unplaced(), languages, *kinds)
    assert re.search("North park · _+ · 24 V [AC]{2}", text["door-legend-A.pdf"])
    assert "______" in text["valve-tags.pdf"] and "______" in text["packet.pdf"]
    if languages == ("en",):
        assert "not known" not in text["valve-tags.pdf"].lower()
        for asked in (
            "A: where is it? finding it again",
            "VB-1: where is it? finding it again",
            "size of VB-1 list of materials",
            "A1: what does it water? tag and door legend",
        ):
            assert asked in text["survey.pdf"]


def pdf_texts(text: str, languages: tuple[str, ...], *kinds: str) -> dict[str, str]:
    request = PrintRequest(selection=Selection(only=kinds), languages=languages)
    made, problems = make_print(examined(text), request)
    assert made is not None, problems
    return {
        name: " ".join(" ".join(text_by_pdfium(pdf)).replace("\xa0", " ").split())
        for name, pdf in made.files.items()
        if name.endswith(".pdf")
    }
