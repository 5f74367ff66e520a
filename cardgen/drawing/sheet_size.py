"""The sheets of the wiring drawing: upright, one field on Letter and A4, so both say the same."""

from __future__ import annotations

from cardgen.layout import Mm, Stock
from cardgen.layout.geometry import Frame, frame
from cardgen.layout.setting import PrinterHead
from cardgen.problems import Span

FIELD = (190.0, 249.0)  # mm; leaves every printer's margin on both sheets
_TOP, _FOOTER = 10.0, 8.0
_SIZES = {
    "letter": (215.9, 279.4),  # 8.5 x 11 in (ANSI/ASME Y14.1, size A; from memory)
    "a4": (210.0, 297.0),  # ISO 216
}
PRESS = PrinterHead(dot=Mm(0), colored=True)


def sheet(paper: str) -> Stock:
    """The sheet of that name with the field as its one card."""
    wide, high = _SIZES[paper]
    left = (wide - FIELD[0]) / 2
    return Stock(
        span=Span("", 1, 1),
        name=f"drawing-{paper}",
        about="wiring drawing",
        format="drawing",
        paper_width=Mm(wide),
        paper_height=Mm(high),
        card_width=Mm(FIELD[0]),
        card_height=Mm(FIELD[1]),
        columns=1,
        rows=1,
        left=Mm(left),
        top=Mm(_TOP),
        gap_x=Mm(0),
        gap_y=Mm(0),
        safe=Mm(0),
        dots_per_inch=600,
        colored=PRESS.colored,
        cut=False,
        footer=_footer(wide, left),
    )


def _footer(wide: float, left: float) -> Frame:
    return frame(left, _TOP + FIELD[1] + 2, wide - 2 * left, _FOOTER)
