"""Turn pages of items into the bytes of a PDF: the same pages, the same bytes, no clock."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from cardgen import fonts
from cardgen.draw import operators
from cardgen.layout.geometry import points
from cardgen.layout.items import (
    Fill,
    Item,
    Outline,
    Page,
    Ring,
    Slope,
    Strokes,
    Swatch,
    Symbol,
    TextLine,
)


@dataclass(frozen=True, slots=True)
class Bookmark:
    """An entry of the outline: a page, counted from 0; level 1 is below the level 0 before it."""

    title: str
    page: int
    level: int = 0


def pdf(
    pages: Sequence[Page],
    *,
    title: str,
    subject: str,
    language: str = "en",
    outline: Sequence[Bookmark] = (),
) -> bytes:
    """The pages as one PDF with embedded fonts; at least one page is needed.

    `language` is that of the text (BCP 47), for whoever has it read aloud; `outline` names pages
    for the reader's list of contents.
    """
    assert pages, "a PDF has at least one page"
    stream = io.BytesIO()
    canvas = Canvas(
        stream, invariant=1, pageCompression=1, initialFontName=_registered(), lang=language
    )
    canvas.setTitle(title)
    canvas.setSubject(subject)
    canvas.setAuthor("")
    canvas.setCreator("cardgen")
    canvas.setProducer("cardgen")
    for number, page in enumerate(pages):
        _begin(canvas, page)
        for place, bookmark in enumerate(outline):
            if bookmark.page == number:  # titles may be the same in two annexes: the place is not
                canvas.bookmarkPage(f"{place}")
                canvas.addOutlineEntry(bookmark.title, f"{place}", level=bookmark.level)
        for item in page.items:
            _draw(canvas, item, page)
        canvas.showPage()
    if outline:
        canvas.showOutline()
    canvas.save()
    return stream.getvalue()


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


def _draw(canvas: Canvas, item: Item, page: Page) -> None:
    match item:
        case TextLine():
            _text(canvas, item, page)
        case Swatch():
            for part in item.parts:
                _draw(canvas, part, page)
        case Symbol():
            canvas._code.append(operators.symbol(item, page))  # noqa: SLF001 - raw operators
        case Fill():
            canvas._code.append(operators.fill(item, page))  # noqa: SLF001
        case Slope():
            canvas._code.append(operators.slope(item, page))  # noqa: SLF001
        case Outline():
            canvas._code.append(operators.outline(item, page))  # noqa: SLF001
        case Strokes():
            canvas._code.append(operators.strokes(item, page))  # noqa: SLF001
        case Ring():
            canvas._code.append(operators.ring(item, page))  # noqa: SLF001


def _text(canvas: Canvas, item: TextLine, page: Page) -> None:
    """One text object a line, so that a reader extracts it as one line."""
    _registered()
    made = canvas.beginText()
    made._code.append(operators.filling(item.ink))  # noqa: SLF001
    for run in item.runs:
        size = points(fonts.size(run.font, item.capital))
        x, y = item.x + run.offset * item.capital, page.height - item.y
        made.setTextOrigin(points(x), points(y))
        made.setFont(run.font, size)
        made.textOut(run.text)
    canvas.drawText(made)


@cache
def _registered() -> str:
    """Make the fonts known to reportlab once; the name of the first."""
    rl_config.useA85 = 0  # binary streams: a third smaller, and no reader minds
    for name in fonts.FONT_NAMES:
        pdfmetrics.registerFont(TTFont(name, str(fonts.path(name))))
    return fonts.FONT_NAMES[0]
