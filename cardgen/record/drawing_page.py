"""Set the wiring drawing: its sheets as pictures, then all of it in words."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.draw.svg import svg
from cardgen.drawing import HomeRun, Sheet, outline
from cardgen.record import names
from cardgen.record.html import Markup, element
from cardgen.record.page_frame import PageFrame, document, heading, section


def drawing_page(frame: PageFrame, homes: Sequence[HomeRun], sheets: Sequence[Sheet]) -> bytes:
    """The words serve those who cannot read the pictures."""
    words = frame.words
    title = words("drawing title", site=frame.now.site)
    texts = [element("p", outline(home), class_="text item") for home in homes]
    return document(
        frame,
        names.DRAWING,
        title,
        heading(frame, words("drawing")),
        element("p", words("drawing hint"), class_="small screen"),
        *(_picture(frame, sheet, number) for number, sheet in enumerate(sheets, 1)),
        section(words("as text"), *texts),
    )


def _picture(frame: PageFrame, sheet: Sheet, number: int) -> Markup:
    """Under its number, which the drawing goes on to; a keyboard can push it sideways too."""
    title = frame.words.of("drawing", "sheet", number=number)
    pushed = element(
        "div",
        Markup(svg(sheet.page, sheet.groups, title=title)),
        class_="sheet",
        tabindex="0",
        role="region",
        aria_label=title,
    )
    return element("section", element("h2", title), pushed, class_="drawn")
