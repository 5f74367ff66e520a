"""The PDF as other programs read it: structure, text, fonts, sizes; the same bytes each time."""

from __future__ import annotations

import io
import os
import subprocess
import sys
import unicodedata
from collections.abc import Iterator
from functools import cache
from typing import Any

import pikepdf
import pypdf
import pytest

from cardgen import fonts
from cardgen.draw.pdf import pdf
from cardgen.fonts import Weight
from cardgen.layout.geometry import Mm
from cardgen.layout.inks import inked
from cardgen.layout.items import Page, TextLine
from cardgen.layout.setting import line
from cardgen.printer import Ink
from tests.for_each import for_each
from tests.layout.cards import box_tag, code, legend, one_of_each, pages, shipped, valve_tag
from tests.outside.pages import text_by_pdfium, text_by_poppler

STOCKS = tuple(shipped().stocks)
each_stock = for_each("stock", STOCKS)


@cache
def drawn(stock: str) -> tuple[tuple[Page, ...], bytes]:
    done = pages(*one_of_each(stock), stock=stock)
    return done, pdf(done, title="LARK-06", subject="valve tags")


@each_stock
def test_the_same_pages_make_the_same_bytes(stock: str) -> None:
    assert drawn(stock)[1] == drawn.__wrapped__(stock)[1]


def test_another_process_makes_the_same_bytes() -> None:
    code = (
        "import hashlib, tests.draw.test_pdf as t;"
        "print(hashlib.sha256(t.drawn('id-1-letter')[1]).hexdigest())"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "PATH": ""},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(runs) == 1


@each_stock
def test_qpdf_finds_no_fault(stock: str) -> None:
    with pikepdf.open(io.BytesIO(drawn(stock)[1])) as document:
        assert document.check_pdf_syntax() == []


@each_stock
def test_pages_have_the_size_of_the_paper(stock: str) -> None:
    layout = shipped().stocks[stock]
    for page in pypdf.PdfReader(io.BytesIO(drawn(stock)[1]), strict=True).pages:
        size = (float(page.mediabox.width), float(page.mediabox.height))
        assert size == pytest.approx(
            (layout.paper_width * 72 / 25.4, layout.paper_height * 72 / 25.4), abs=0.01
        )


@each_stock
def test_the_text_read_back_is_the_text_asked_for(stock: str) -> None:
    done, data = drawn(stock)
    for asked, read in zip(done, text_by_poppler(data), strict=True):
        found = sorted(_letters(line) for line in read.splitlines() if line.strip())
        wanted = sorted(_letters(item.text) for item in asked.items if isinstance(item, TextLine))
        assert "".join(sorted("".join(found))) == "".join(sorted("".join(wanted)))
        whole = "".join(found)
        assert all(line in whole or len(line) < 3 for line in wanted if "→" not in line)


def _letters(text: str) -> str:
    return "".join(unicodedata.normalize("NFKC", text).split())


@each_stock
def test_all_fonts_are_embedded_truetype_subsets(stock: str) -> None:
    with pikepdf.open(io.BytesIO(drawn(stock)[1])) as document:
        fonts = [o for o in document.objects if _is(o, "/Type", "/FontDescriptor")]
        assert fonts
        for descriptor in fonts:
            assert "/FontFile2" in descriptor
            assert "+" in str(descriptor.FontName)  # a subset
        names = {str(descriptor.FontName).split("+")[1] for descriptor in fonts}
        assert names <= {
            "AtkinsonHyperlegibleNext-Medium",
            "AtkinsonHyperlegibleNext-Bold",
            "AtkinsonHyperlegibleNext-ExtraBold",
            "DejaVuSans",
            "DejaVuSans-Bold",
        }


def _is(found: object, key: str, value: str) -> bool:
    return isinstance(found, pikepdf.Dictionary) and found.get(key) == pikepdf.Name(value)


# Operators of ISO 32000-1:2008, table 74, that choose a color.
CHOOSES = {"g", "G", "rg", "RG", "k", "K", "cs", "CS", "sc", "SC", "scn", "SCN", "sh", "ri"}


def colors(data: bytes) -> set[tuple[str, tuple[float, ...]]]:
    """Each operator that chooses a color, with its numbers, as qpdf's library reads the pages."""
    found = set()
    with pikepdf.open(io.BytesIO(data)) as document:
        for page in document.pages:
            assert "/XObject" not in page.resources  # nothing is drawn by another stream
            for step in pikepdf.parse_content_stream(page):
                if str(step.operator) in CHOOSES:
                    numbers = tuple(float(n) for n in step.operands)
                    found.add((str(step.operator).lower(), numbers))
    return found


INKED = ("legend-letter", "id-1-a4", "half-letter", "sheet-a4")


@pytest.mark.parametrize("stock", INKED)
def test_one_ink_is_black_and_white_and_nothing_else(stock: str) -> None:
    one = [inked(page, Ink.ONE) for page in pages(*one_of_each(stock), stock=stock)]
    found = colors(pdf(one, title="t", subject="s"))
    assert found <= {("g", (0.0,)), ("g", (1.0,))}
    assert ("g", (0.0,)) in found


@pytest.mark.parametrize("stock", INKED)
def test_grays_are_given_as_grays(stock: str) -> None:
    grays = [inked(page, Ink.GRAY) for page in pages(*one_of_each(stock), stock=stock)]
    found = colors(pdf(grays, title="t", subject="s"))
    assert {operator for operator, _ in found} == {"g"}
    assert len(found) > 2


@pytest.mark.parametrize("stock", [name for name, s in shipped().stocks.items() if not s.colored])
def test_a_roll_is_given_black_and_white_whatever_is_asked_for(stock: str) -> None:
    assert colors(drawn(stock)[1]) <= {("g", (0.0,)), ("g", (1.0,))}


def preferences(data: bytes) -> dict[str, object]:
    """Those of the print dialog, as qpdf's library reads them."""
    with pikepdf.open(io.BytesIO(data)) as document:
        found: dict[str, Any] = {**document.Root.ViewerPreferences.as_dict()}
        return {key: value if value is True else str(value) for key, value in found.items()}


# ISO 32000-1:2008, table 150: the names, their values, and that they are names and a boolean.
FULL_SIZE = {"/PrintScaling": "/None", "/PickTrayByPDFSize": True}


def test_the_print_dialog_begins_at_full_size_and_with_tags_on_one_side() -> None:
    made = pages(*one_of_each("id-1-letter"), stock="id-1-letter")
    assert preferences(pdf(made, title="t", subject="s")) == FULL_SIZE
    cut = pdf(made, title="t", subject="s", one_sided=True)
    assert preferences(cut) == {**FULL_SIZE, "/Duplex": "/Simplex"}
    assert cut.startswith(b"%PDF-1.7")  # since when there are such preferences
    by_pypdf = pypdf.PdfReader(io.BytesIO(cut), strict=True).viewer_preferences
    assert by_pypdf is not None
    assert by_pypdf["/PickTrayByPDFSize"] == pypdf.generic.BooleanObject(True)
    assert str(by_pypdf["/PrintScaling"]) == "/None"
    assert str(by_pypdf["/Duplex"]) == "/Simplex"


def test_title_and_subject_are_said_and_no_clock() -> None:
    reader = pypdf.PdfReader(io.BytesIO(drawn("id-1-a4")[1]))
    assert reader.metadata is not None
    assert (reader.metadata.title, reader.metadata.subject) == ("LARK-06", "valve tags")
    assert reader.metadata.creator == "cardgen"
    assert reader.metadata.creation_date is not None
    assert reader.metadata.creation_date.year == 2000  # what an invariant file always says


def test_many_pages_are_one_document() -> None:
    done = pages(legend(60), stock="legend-a4") + pages(box_tag(stations=12), stock="id-1-a4")
    reader = pypdf.PdfReader(io.BytesIO(pdf(done, title="t", subject="s")), strict=True)
    assert len(reader.pages) == len(done)


def test_a_tag_is_small() -> None:
    # 700 bytes a tag beside the fonts, of which a box of three has one code (ours).
    few, many = (pdf(_tags(count), title="t", subject="s") for count in (9, 90))
    assert (len(many) - len(few)) / 81 < 700


def _tags(count: int) -> tuple[Page, ...]:
    cards = [valve_tag(f"A{n}", code=code(f"VB-{n // 3}")) for n in range(1, count + 1)]
    return pages(*cards, stock="id-1-letter")


def test_a_page_is_asked_for_when_the_one_before_it_is_drawn() -> None:
    asked: list[int] = []

    def one_by_one() -> Iterator[Page]:
        for number, page in enumerate(_tags(27)):
            asked.append(number)
            yield page

    assert pdf(one_by_one(), title="t", subject="s") == pdf(_tags(27), title="t", subject="s")
    assert asked == [0, 1, 2]


def test_a_run_of_more_letters_than_a_font_of_the_file_holds_is_drawn_whole() -> None:
    # 256 codes to a font (ISO 32000-1:2008, 9.6.6): letters of Latin-1, Latin Extended-A, arrows.
    letters = [chr(n) for n in (*range(0x21, 0x7F), *range(0xA1, 0x180)) if n != 0xAD]
    drawable = [each for each in letters if not fonts.missing(each, Weight.BOLD)]
    assert len(drawable) > 256
    text = "".join(drawable)
    page = Page(
        width=Mm(2000), height=Mm(20), own=(line(text, Weight.BOLD, x_mm=5, y_mm=10, capital_mm=3),)
    )
    (said,) = text_by_pdfium(pdf([page], title="t", subject="s"))
    assert _letters(said) == _letters(text)
