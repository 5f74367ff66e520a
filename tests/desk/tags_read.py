"""Read valve tags back from a sheet of nine, each by itself, with programs that know no cardgen."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import pypdfium2
from pypdf import PdfReader

from tests.outside.pages import MM_PER_INCH, POINTS_PER_INCH, by_pdfium, by_zxing

# Three rows of three, side by side: ISO/IEC 7810 ID-1 upright in the middle of a Letter sheet,
# 7.5 mm below its upper edge (a choice of the stock). Millimeters; Letter is 8.5 x 11 in.
_WIDTH, _HEIGHT, _TOP, _LETTER = 53.98, 85.6, 7.5, (215.9, 279.4)
_LEFT = (_LETTER[0] - 3 * _WIDTH) / 2
_DPI = 200


@dataclass(frozen=True, slots=True)
class ReadTag:
    """The lines of one tag as PDFium finds them, and what ZXing reads in its code."""

    lines: tuple[str, ...]
    codes: tuple[str, ...] = ()

    @property
    def valve(self) -> str:
        return self.lines[0]

    @property
    def text(self) -> str:
        return " ".join(self.lines)


def tags_read(path: Path, *, with_codes: bool = False) -> list[ReadTag]:
    """In the order of the sheets, row by row."""
    data = path.read_bytes()
    with closing(pypdfium2.PdfDocument(data)) as document:
        return [
            tag
            for number, page in enumerate(document)
            for tag in _on_sheet(page, _codes(data, number) if with_codes else {})
        ]


def tags_of(path: Path, part: str) -> list[ReadTag]:
    """Of a file with several parts those on the sheets of one, by its mark in the outline."""
    reader = PdfReader(path)
    marks = [(str(m.title), reader.get_destination_page_number(m)) for m in reader.outline]  # type: ignore[union-attr, arg-type]
    starts = [start for _, start in marks] + [len(reader.pages)]
    at = [title for title, _ in marks].index(part)
    with closing(pypdfium2.PdfDocument(path)) as document:
        sheets = [document[number] for number in range(starts[at] or 0, starts[at + 1] or 0)]
        return [tag for sheet in sheets for tag in _on_sheet(sheet, {})]


def _on_sheet(
    page: pypdfium2.PdfPage, codes: dict[tuple[int, int], list[str]]
) -> Iterator[ReadTag]:
    words = page.get_textpage()
    points = POINTS_PER_INCH / MM_PER_INCH
    for row in range(3):
        for column in range(3):
            left, top = _LEFT + column * _WIDTH, _LETTER[1] - _TOP - row * _HEIGHT
            text = words.get_text_bounded(
                *(each * points for each in (left, top - _HEIGHT, left + _WIDTH, top))
            )
            if text.strip():
                lines = (" ".join(line.split()) for line in text.splitlines())
                yield ReadTag(tuple(filter(None, lines)), tuple(codes.get((row, column), ())))


def _codes(data: bytes, number: int) -> dict[tuple[int, int], list[str]]:
    found: dict[tuple[int, int], list[str]] = {}
    for code in by_zxing(by_pdfium(data, _DPI, number)):
        x, y = code.at_mm(_DPI)
        place = int((y - _TOP) / _HEIGHT), int((x - _LEFT) / _WIDTH)
        found.setdefault(place, []).append(code.text)
    return found
