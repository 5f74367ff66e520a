"""Draw the sheet of a stock with its cards numbered, so that the first free one can be chosen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.desk.desk_shell import labeled_input
from cardgen.layout import Stock
from cardgen.layout.geometry import Frame
from cardgen.record.html import Markup, element
from cardgen.words import Words

_PX_PER_MM = 1.2  # a card of 54 x 86 mm is one that a thumb hits; our choice
_EDGE_MM = 1.5  # around the paper, for its outline; our choice


def first_card(words: Words, stocks: Iterable[Stock]) -> Markup:
    """The number as a field, and a picture for each stock, of which the script shows one.

    Without the script the field will do.
    """
    label = words("desk.first card")
    field = labeled_input(label, "start", value="1", type="number", min="1", step="1")
    pictures = (
        element("div", _sheet(stock, label.printed), data_stock=stock.name, hidden=True)
        for stock in stocks
        if stock.per_sheet > 1
    )
    return element("div", field, *pictures, id="first-card", class_="wide")


def _sheet(stock: Stock, label: str) -> Markup:
    """To scale, in millimeters, with the line of stamp and scale bar, which says what is below."""
    across, down = stock.paper_width + 2 * _EDGE_MM, stock.paper_height + 2 * _EDGE_MM
    return element(
        "svg",
        _rect(stock.paper, "paper"),
        _rect(stock.footer, "footer") if stock.footer is not None else None,
        *(_card(stock, index) for index in range(stock.per_sheet)),
        viewBox=f"{-_EDGE_MM:g} {-_EDGE_MM:g} {across:g} {down:g}",
        width=f"{across * _PX_PER_MM:g}",
        height=f"{down * _PX_PER_MM:g}",
        role="img",
        aria_label=label,
        data_columns=str(stock.columns),
    )


def _card(stock: Stock, index: int) -> Markup:
    """With a cross that is shown when it is used."""
    at = stock.position(index)
    return element(
        "g",
        _rect(at, "edge"),
        *_hole(stock, at),
        element("path", d=_cross(at), class_="cross"),
        element(
            "text",
            str(index + 1),
            x=f"{at.x + at.width / 2:g}",
            y=f"{at.y + at.height / 2:g}",
            class_="number",
        ),
        class_="card",
        data_number=str(index + 1),
    )


def _rect(at: Frame, class_: str) -> Markup:
    return element(
        "rect",
        x=f"{at.x:g}",
        y=f"{at.y:g}",
        width=f"{at.width:g}",
        height=f"{at.height:g}",
        class_=class_,
    )


def _hole(stock: Stock, at: Frame) -> Iterator[Markup]:
    if stock.hole is not None:
        x, y, radius = at.x + stock.hole.x, at.y + stock.hole.y, stock.hole.diameter / 2
        yield element("circle", cx=f"{x:g}", cy=f"{y:g}", r=f"{radius:g}", class_="hole")


def _cross(at: Frame) -> str:
    down = f"M{at.x:g} {at.y:g}L{at.right:g} {at.bottom:g}"
    return f"{down}M{at.right:g} {at.y:g}L{at.x:g} {at.bottom:g}"
