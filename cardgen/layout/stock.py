"""What lies in the printer: a sheet with a grid of cards, or a roll with one card a page.

```
paper
+-------------------------------------+
|  (left, top)                        |
|      +--------+ gap +--------+      |     card: width x height
|      | o hole |     |        |      |     safe: nothing is printed nearer to the cut
|      |  safe  |     |        |      |
|      +--------+     +--------+      |
|  footer: stamp ........ scale bar   |
+-------------------------------------+
```
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from cardgen.layout.geometry import MM_PER_INCH, Frame, Mm, frame
from cardgen.light_dataclass import dataclass, replace
from cardgen.problems import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A hole to be punched; its middle from the top left corner of the card.

    Attributes:
        marked: whether its outline is printed; no, where the stock comes with its hole.
    """

    span: Span
    x: Mm
    y: Mm
    diameter: Mm
    marked: bool = True

    @property
    def frame(self) -> Frame:
        radius = self.diameter / 2
        return frame(self.x - radius, self.y - radius, self.diameter, self.diameter)


@dataclass(frozen=True, slots=True, kw_only=True)
class Offset:
    """How far everything is moved because one printer does not print where it should.

    Attributes:
        x, y: to the right and down.
    """

    span: Span
    x: Mm
    y: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One kind of sheet or roll.

    Attributes:
        format: what its cards are called; a face is made for a format.
        dots_per_inch: of the coarsest printer that is expected.
        colored: False where the printer knows black only.
        cut: whether cut marks are printed.
        turn: degrees clockwise by which all is turned on the paper as it goes through the printer.
        folds: where a card is folded, from its left edge.
        offset: of the printer, from the proof sheet; None where it prints true.
        footer: the line of stamp and scale bar; None on a roll, whose cards say it themselves.
        turned: the stock that is the same sheet the other way round, which is tried too; or empty.
        about_in: what is told about it in other languages, by their codes.
    """

    span: Span
    name: str
    about: str
    format: str
    paper_width: Mm
    paper_height: Mm
    card_width: Mm
    card_height: Mm
    columns: int
    rows: int
    left: Mm
    top: Mm
    gap_x: Mm
    gap_y: Mm
    safe: Mm
    dots_per_inch: float
    colored: bool
    cut: bool
    turn: int = 0
    folds: tuple[Mm, ...] = ()
    hole: Hole | None = None
    offset: Offset | None = None
    footer: Frame | None = None
    turned: str = ""
    about_in: Mapping[str, str] = field(default_factory=dict, hash=False)

    @property
    def dot(self) -> Mm:
        return Mm(MM_PER_INCH / self.dots_per_inch)

    @property
    def is_single(self) -> bool:
        """A roll or a ready-cut tag: one card a page, whose edges the printer finds."""
        return self.footer is None

    @property
    def per_sheet(self) -> int:
        return self.columns * self.rows

    @property
    def card(self) -> Frame:
        """A card by itself."""
        return frame(0, 0, self.card_width, self.card_height)

    @property
    def safe_area(self) -> Frame:
        return self.card.shrunk(self.safe)

    @property
    def paper(self) -> Frame:
        return frame(0, 0, self.paper_width, self.paper_height)

    def position(self, index: int) -> Frame:
        """Where a card lies on the sheet, counted from 0, row by row."""
        row, column = divmod(index % self.per_sheet, self.columns)
        return frame(
            self.left + column * (self.card_width + self.gap_x),
            self.top + row * (self.card_height + self.gap_y),
            self.card_width,
            self.card_height,
        )


def moved(stock: Stock, x_mm: float, y_mm: float) -> Stock:
    """For a printer that prints that far left of, and above, where it should."""
    return replace(stock, offset=Offset(span=stock.span, x=Mm(x_mm), y=Mm(y_mm)))
