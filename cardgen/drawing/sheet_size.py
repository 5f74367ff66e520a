"""The sheets of the wiring drawing: two columns on Letter and A4 lying down, one on a screen."""

from __future__ import annotations

from cardgen.layout import Mm, Stock
from cardgen.layout.geometry import Frame, frame
from cardgen.layout.setting import PrinterHead
from cardgen.light_dataclass import dataclass
from cardgen.problems import Span

COLUMN, GUTTER = 126.0, 7.0  # mm
_HIGH = 188.0  # mm; with two columns, leaves every printer's margin on Letter and on A4
_FOOTER = 7.0
# Width and height of the paper, top of the field and of its footer.
_SIZES = {
    "letter": (279.4, 215.9, 10.0, 203.5),  # 11 x 8.5 in (ANSI/ASME Y14.1, size A; from memory)
    "a4": (297.0, 210.0, 8.0, 199.0),  # ISO 216
}
SCREEN = "screen"
_SCREEN_HIGH, _MARGIN = 212.0, 3.0  # mm; a browser's page of Letter holds it under its number
PRESS = PrinterHead(dot=Mm(0), colored=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawingSheet:
    """A sheet with the field of all its columns as the one card."""

    stock: Stock
    columns: int

    @property
    def height(self) -> float:
        """Of a column."""
        return self.stock.card_height


def sheet(paper: str) -> DrawingSheet:
    """The sheet of that name; a screen has no stamp, the page around it says all that."""
    if paper == SCREEN:
        size = (COLUMN + 2 * _MARGIN, _SCREEN_HIGH + 2 * _MARGIN)
        return DrawingSheet(
            stock=_stock(paper, size, frame(_MARGIN, _MARGIN, COLUMN, _SCREEN_HIGH), None),
            columns=1,
        )
    wide, high, top, foot = _SIZES[paper]
    across = 2 * COLUMN + GUTTER
    field = frame((wide - across) / 2, top, across, _HIGH)
    footer = frame(field.x, foot, across, _FOOTER)
    return DrawingSheet(stock=_stock(paper, (wide, high), field, footer), columns=2)


def _stock(name: str, paper: tuple[float, float], field: Frame, footer: Frame | None) -> Stock:
    return Stock(
        span=Span("", 1, 1),
        name=f"drawing-{name}",
        about="wiring drawing",
        format="drawing",
        paper_width=Mm(paper[0]),
        paper_height=Mm(paper[1]),
        card_width=field.width,
        card_height=field.height,
        columns=1,
        rows=1,
        left=field.x,
        top=field.y,
        gap_x=Mm(0),
        gap_y=Mm(0),
        safe=Mm(0),
        dots_per_inch=600,
        colored=PRESS.colored,
        cut=False,
        footer=footer,
    )
