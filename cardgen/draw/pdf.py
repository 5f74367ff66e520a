"""Turn pages of items into the bytes of a PDF: the same pages, the same bytes, no clock."""

from __future__ import annotations

import io
import math
import zlib
from collections.abc import Iterable, Sequence
from functools import cache

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFDocument, PDFName, PDFStream
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from cardgen import fonts
from cardgen.draw.bookmark import Bookmark
from cardgen.draw.operators import Known, PartOfRun, page_content
from cardgen.fonts import GlyphRun
from cardgen.layout.geometry import points
from cardgen.layout.items import Page


def pdf(
    pages: Iterable[Page],
    *,
    title: str,
    subject: str,
    language: str = "en",
    outline: Sequence[Bookmark] = (),
    one_sided: bool = False,
) -> bytes:
    """The pages as one PDF with embedded fonts; at least one page is needed.

    Each page is asked for when the one before it is drawn.  `language` is that of the text
    (BCP 47), for whoever has it read aloud; `outline` names pages for a reader's list of contents;
    what is `one_sided` is for cards that are cut out.
    """
    stream = io.BytesIO()
    canvas = Canvas(
        stream,
        invariant=1,
        pageCompression=1,
        initialFontName=_registered(fonts.FONT_NAMES[0]),
        pdfVersion=(1, 7),
        lang=language,
    )
    canvas.setTitle(title)
    canvas.setSubject(subject)
    canvas.setAuthor("")
    canvas.setCreator("cardgen")
    canvas.setProducer("cardgen")
    canvas.setCatalogEntry("ViewerPreferences", _print_dialog(one_sided=one_sided))
    letters = _Letters(canvas._doc)  # noqa: SLF001 - the fonts of a file are known by its document
    known: Known = {}
    for number, page in enumerate(pages):
        _begin(canvas, page)
        for place, bookmark in enumerate(outline):
            if bookmark.page == number:  # titles may be the same in two annexes: the place is not
                canvas.bookmarkPage(f"{place}")
                canvas.addOutlineEntry(bookmark.title, f"{place}", level=bookmark.level)
        canvas._code.append(page_content(page, letters.encoded, known))  # noqa: SLF001 - raw operators
        canvas.showPage()
        _compress(canvas._doc)  # noqa: SLF001
    assert canvas.getPageNumber() > 1, "a PDF has at least one page"
    if outline:
        canvas.showOutline()
    canvas.save()
    return stream.getvalue()


def _print_dialog(*, one_sided: bool) -> dict[str, str]:
    """What a print dialog begins with (ISO 32000-1:2008, table 150): what is cut must be true."""
    wishes = {"PrintScaling": PDFName("None"), "PickTrayByPDFSize": "true"}
    return {**wishes, "Duplex": PDFName("Simplex")} if one_sided else wishes


def _begin(canvas: Canvas, page: Page) -> None:
    """A page as it goes through the printer: turned clockwise, y still upwards."""
    wide, high = _size(page.width), _size(page.height)
    canvas.setPageSize((high, wide) if page.turn in (90, 270) else (wide, high))
    if page.turn == 90:
        canvas.transform(0, -1, 1, 0, 0, wide)
    elif page.turn == 180:
        canvas.transform(-1, 0, 0, -1, wide, high)
    elif page.turn == 270:
        canvas.transform(0, 1, -1, 0, high, 0)


def _size(length: float) -> float:
    """Rounded down as it is written, so that no renderer begins a further dot."""
    return math.floor(points(length) * 10_000) / 10_000


def _compress(document: PDFDocument) -> None:
    """The last page's operators at once, and not all of them when the file is written."""
    page = document.Pages.pages[-1]
    compressed = zlib.compress(page.stream.encode("ascii"))
    page.Contents = PDFStream(PDFDictionary({"Filter": PDFName("FlateDecode")}), compressed)
    page.stream = None


class _Letters:
    """The text of one file as its fonts have it: each run once."""

    def __init__(self, document: PDFDocument) -> None:
        self._document = document
        self._known: dict[tuple[str, str], tuple[PartOfRun, ...]] = {}

    def encoded(self, run: GlyphRun) -> tuple[PartOfRun, ...]:
        """By font of the file: one holds 256 letters, so another run may need two."""
        key = run.font, run.text
        if key not in self._known:
            font = pdfmetrics.getFont(_registered(run.font))
            self._known[key] = tuple(
                (font.getSubsetInternalName(number, self._document), f"({_escaped(codes)})")
                for number, codes in font.splitString(run.text, self._document)
            )
        return self._known[key]


def _escaped(codes: bytes) -> str:
    """As what stands in a literal string (ISO 32000-1:2008, 7.3.4.2)."""
    return "".join(_ESCAPED[code] for code in codes)


_ESCAPED = tuple(
    f"\\{chr(code)}" if chr(code) in "()\\" else chr(code) if 32 <= code < 127 else f"\\{code:03o}"
    for code in range(256)
)


@cache
def _registered(font: str) -> str:
    """Make a font known to reportlab, once and only if something is set in it; its name."""
    rl_config.useA85 = 0  # binary streams: a third smaller, and no reader minds
    pdfmetrics.registerFont(TTFont(font, str(fonts.path(font))))
    return font
