"""The outside programs see what is there, where it is, and notice damage."""

from __future__ import annotations

import io
from collections.abc import Callable

import pikepdf
import pytest
import qrcode
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from tests.outside import pages
from tests.outside.pages import Found

MM = 72 / 25.4
DPI = 200.0


@pytest.fixture(scope="module")
def pdf() -> bytes:
    """Two tags of 54 x 86 mm, each with a line of text and a code of 24 mm centered at (30, 40)."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(54 * MM, 86 * MM), invariant=1)
    for page in (1, 2):
        canvas.drawString(10 * MM, 70 * MM, f"valve {page}")
        draw_code(canvas, f"HTTPS://EXAMPLE.COM/{page}", left=18, lower=34, side=24)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def draw_code(canvas: Canvas, text: str, left: float, lower: float, side: float) -> None:
    code = qrcode.QRCode(border=0)
    code.add_data(text)
    matrix = code.get_matrix()
    step = side * MM / len(matrix)
    for j, row in enumerate(reversed(matrix)):
        for i, dark in enumerate(row):
            if dark:
                canvas.rect(left * MM + i * step, lower * MM + j * step, step, step, 0, 1)


@pytest.mark.parametrize("page", [0, 1])
@pytest.mark.parametrize("decode", [pages.by_zxing, pages.by_zbar])
@pytest.mark.parametrize("render", [pages.by_pdfium, pages.by_poppler])
def test_each_pair_of_engines_finds_the_code_at_its_place(
    pdf: bytes,
    render: Callable[[bytes, float, int], Image.Image],
    decode: Callable[[Image.Image], list[Found]],
    page: int,
) -> None:
    (found,) = decode(render(pdf, DPI, page))
    assert found.text == f"HTTPS://EXAMPLE.COM/{page + 1}"
    # From the upper left: 18 + 24/2 across, 86 - 34 - 24/2 down; corners are good to a module.
    assert found.at_mm(DPI) == pytest.approx((30, 40), abs=1)


def test_both_renderers_give_one_size(pdf: bytes) -> None:
    # 54 mm and 86 mm at 200 dpi are 425.2 and 677.2 pixels; engines round differently.
    for picture in (
        pages.by_pdfium(pdf, DPI), pages.gray_by_pdfium(pdf, DPI), pages.by_poppler(pdf, DPI)
    ):  # fmt: skip
        assert picture.size == pytest.approx((425.2, 677.2), abs=1)


def test_text_comes_out_page_by_page(pdf: bytes) -> None:
    assert [text.strip() for text in pages.text_by_pypdf(pdf)] == ["valve 1", "valve 2"]
    assert [text.strip() for text in pages.text_by_pdfium(pdf)] == ["valve 1", "valve 2"]
    assert [text.strip() for text in pages.text_by_poppler(pdf)] == ["valve 1", "valve 2"]


def test_sizes_are_in_millimeters(pdf: bytes) -> None:
    assert pages.sizes_mm(pdf) == [(54, 86), (54, 86)]


def test_a_sound_file_has_no_faults(pdf: bytes) -> None:
    assert pages.structure_faults(pdf) == []


def test_a_damaged_file_has(pdf: bytes) -> None:
    broken = pdf.replace(b"/Length", b"/Lenght", 1)
    try:
        faults = pages.structure_faults(broken)
    except pikepdf.PdfError as error:
        faults = [str(error)]
    assert faults
