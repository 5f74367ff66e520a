"""Look at a finished PDF through programs that know nothing of cardgen."""

from __future__ import annotations

import io
import subprocess
from collections.abc import Iterable, Iterator
from contextlib import closing
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from tempfile import NamedTemporaryFile, TemporaryDirectory
from typing import Any

import pikepdf
import pypdf
import pypdfium2
import zxingcpp
from PIL import Image
from pyzbar import pyzbar

POINTS_PER_INCH = 72
MM_PER_INCH = 25.4


@dataclass(frozen=True, slots=True, order=True)
class Found:
    """A QR code as a decoder reads it.

    Attributes:
        x, y: the middle of the symbol in pixels from the upper left corner.
    """

    text: str
    x: float
    y: float

    def at_mm(self, dpi: float) -> tuple[float, float]:
        """The middle in millimeters from the upper left corner of the page."""
        return self.x / dpi * MM_PER_INCH, self.y / dpi * MM_PER_INCH


# Rendering: two engines that share no code.


def by_pdfium(pdf: bytes, dpi: float = 200, page: int = 0) -> Image.Image:
    """One page as a picture, drawn by PDFium."""
    with closing(pypdfium2.PdfDocument(pdf)) as document:
        picture = document[page].render(scale=dpi / POINTS_PER_INCH).to_pil()
        assert isinstance(picture, Image.Image)
        return picture.convert("RGB")


def gray_by_pdfium(pdf: bytes, dpi: float = 200, page: int = 0) -> Image.Image:
    """The same in brightness alone, which is all that a decoder or OCR looks at."""
    with closing(pypdfium2.PdfDocument(pdf)) as document:
        picture = document[page].render(scale=dpi / POINTS_PER_INCH, grayscale=True).to_pil()
        assert isinstance(picture, Image.Image)
        return picture.convert("L")


def pages_by_poppler(pdf: bytes, dpi: float) -> list[Image.Image]:
    """All pages at once: a process for each would take longer than drawing it."""
    command = ["pdftoppm", "-r", f"{dpi:g}", "-gray", "-", "page"]
    with TemporaryDirectory() as folder:
        done = subprocess.run(command, input=pdf, capture_output=True, check=True, cwd=folder)
        assert not done.stderr, done.stderr.decode()
        # Their numbers have as many digits as the last one.
        return [_loaded(path) for path in sorted(Path(folder).iterdir())]


def _loaded(path: Path) -> Image.Image:
    with Image.open(path) as picture:
        picture.load()
        return picture


def by_poppler(pdf: bytes, dpi: float = 200, page: int = 0) -> Image.Image:
    """One page as a picture, drawn by Poppler; a word of complaint from it is a failure."""
    number = str(page + 1)
    command = ["pdftoppm", "-r", f"{dpi:g}", "-f", number, "-l", number, "-singlefile", "-"]
    done = subprocess.run(command, input=pdf, capture_output=True, check=True)
    assert not done.stderr, done.stderr.decode()
    return Image.open(io.BytesIO(done.stdout)).convert("RGB")


# Decoding: likewise.


def by_zxing(picture: Image.Image) -> list[Found]:
    """Each QR code that ZXing sees, sorted by text and place."""
    wanted = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
    codes = zxingcpp.read_barcodes(picture, formats=wanted)
    found = []
    for code in codes:
        p = code.position
        corners = [(c.x, c.y) for c in (p.top_left, p.top_right, p.bottom_right, p.bottom_left)]
        found.append(_found(code.text, corners))
    return sorted(found)


def by_zbar(picture: Image.Image) -> list[Found]:
    """Each QR code that ZBar sees, sorted by text and place."""
    codes = pyzbar.decode(picture, symbols=[pyzbar.ZBarSymbol.QRCODE])
    return sorted(
        _found(code.data.decode(), [(corner.x, corner.y) for corner in code.polygon])
        for code in codes
    )


def _found(text: str, corners: Iterable[tuple[float, float]]) -> Found:
    xs, ys = zip(*corners, strict=True)
    return Found(text, sum(xs) / len(xs), sum(ys) / len(ys))


# Text and structure.


def text_by_pypdf(pdf: bytes) -> list[str]:
    """The text of each page, as pypdf takes it out; strict about the file's structure."""
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf), strict=True).pages]


def text_by_poppler(pdf: bytes) -> list[str]:
    """The text of each page in the order in which it is drawn, as Poppler takes it out.

    It takes a twentieth of the time that pypdf takes, and shares no code with PDFium.
    """
    return list(_text_by_poppler(pdf))


@lru_cache(maxsize=64)
def _text_by_poppler(pdf: bytes) -> tuple[str, ...]:
    command = ["pdftotext", "-raw", "-enc", "UTF-8", "-", "-"]
    done = subprocess.run(command, input=pdf, capture_output=True, check=True)
    assert not done.stderr, done.stderr.decode()
    *texts, end = done.stdout.decode().split("\f")
    assert end == ""
    return tuple(texts)


def outline_by_pypdf(pdf: bytes) -> list[tuple[str, int]]:
    """The titles of the first level of a reader's list of contents, with their pages from 1."""
    return [(title, page) for level, title, page in whole_outline_by_pypdf(pdf) if level == 0]


def whole_outline_by_pypdf(pdf: bytes) -> list[tuple[int, str, int]]:
    """All of it, in its order: the level from 0, the title, the page from 1."""
    return list(_outline_by_pypdf(pdf))


@lru_cache(maxsize=64)
def _outline_by_pypdf(pdf: bytes) -> tuple[tuple[int, str, int], ...]:
    reader = pypdf.PdfReader(io.BytesIO(pdf), strict=True)

    def entries(found: Iterable[Any], level: int) -> Iterator[tuple[int, str, int]]:
        for entry in found:
            if isinstance(entry, list):  # what is below the entry before it
                yield from entries(entry, level + 1)
                continue
            assert isinstance(entry, pypdf.generic.Destination)
            page = reader.get_destination_page_number(entry)
            assert page is not None
            yield level, str(entry.title), page + 1

    return tuple(entries(reader.outline, 0))


def text_by_pdfium(pdf: bytes) -> list[str]:
    """The text of each page, as PDFium takes it out, with plain line ends."""
    return list(_text_by_pdfium(pdf))


@lru_cache(maxsize=64)
def _text_by_pdfium(pdf: bytes) -> tuple[str, ...]:
    with closing(pypdfium2.PdfDocument(pdf)) as document:
        texts = (page.get_textpage().get_text_bounded() for page in document)
        return tuple(text.replace("\r\n", "\n") for text in texts)


def structure_faults(pdf: bytes) -> list[str]:
    """What qpdf finds wrong with the file; renderers forgive what this does not.

    Its own program is asked first: the same check, but without a call of Python for each operator.
    """
    with NamedTemporaryFile(suffix=".pdf") as file:
        file.write(pdf)
        file.flush()
        check = pikepdf.Job(["qpdf", "--check", file.name])
        check.run()
    if not check.exit_code:
        return []
    with pikepdf.open(io.BytesIO(pdf)) as document:
        found = [str(fault) for fault in document.check_pdf_syntax()]
    return found or [f"qpdf ends with {check.exit_code}"]


def sizes_mm(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of each page in millimeters, to a thousandth."""
    return list(_sizes_mm(pdf))


@lru_cache(maxsize=64)
def _sizes_mm(pdf: bytes) -> tuple[tuple[float, float], ...]:
    boxes = [page.mediabox for page in pypdf.PdfReader(io.BytesIO(pdf), strict=True).pages]
    return tuple((_mm(box.width), _mm(box.height)) for box in boxes)


def _mm(points: float) -> float:
    return round(float(points) / POINTS_PER_INCH * MM_PER_INCH, 3)
