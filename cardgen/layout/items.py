"""What lies on a page: text, rules, boxes, swatches, symbols and marks at exact points."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from typing import TypeAlias

from cardgen.fonts import GlyphRun, Weight
from cardgen.layout.geometry import Frame, Mm
from cardgen.light_dataclass import dataclass, replace

BLACK = "#000000"
WHITE = "#FFFFFF"


@dataclass(frozen=True, slots=True, kw_only=True)
class TextLine:
    """One line of text.

    Attributes:
        x, y: left end of the base line.
        capital: height of the capitals.
        text: the whole line; `runs` are its pieces by font, at a capital height of 1.
    """

    x: Mm
    y: Mm
    capital: Mm
    weight: Weight
    text: str
    runs: tuple[GlyphRun, ...]
    ink: str = BLACK


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    frame: Frame
    ink: str = BLACK


@dataclass(frozen=True, slots=True, kw_only=True)
class Slope:
    """A filled band from one level to another: its left ends, and its width at every level.

    ```
    (x1, y1)    +---+
               /   /
    (x2, y2)  +---+
              width
    ```
    """

    x1: Mm
    y1: Mm
    x2: Mm
    y2: Mm
    width: Mm
    ink: str = BLACK


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    x1: Mm
    y1: Mm
    x2: Mm
    y2: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Strokes:
    """Straight lines of one width with square-cut ends."""

    segments: tuple[Segment, ...]
    width: Mm
    ink: str = BLACK


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A rectangle drawn as a line that lies wholly inside the frame."""

    frame: Frame
    width: Mm
    ink: str = BLACK


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """A circle as a line: the hole to be punched."""

    x: Mm
    y: Mm
    diameter: Mm
    width: Mm
    ink: str = BLACK


Part: TypeAlias = Fill | Slope | Strokes | Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class Swatch:
    """A picture of a conductor's insulation, made of plain parts.

    Attributes:
        shows: the color in words, `white/black`.
    """

    frame: Frame
    shows: str
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Symbol:
    """A QR symbol.

    Attributes:
        frame: all that belongs to the symbol, quiet zone included; nothing else may lie here.
        x, y: top left corner of the dark modules.
        rows: row by row from the top; a byte for each module, 1 where it is dark.
        address: what it holds.
    """

    frame: Frame
    x: Mm
    y: Mm
    module: Mm
    rows: tuple[bytes, ...]
    address: str
    level: str


Item: TypeAlias = TextLine | Fill | Slope | Strokes | Outline | Ring | Swatch | Symbol


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedItems:
    """Items as they were set, from a corner of their own, and where on the page that corner lies.

    A card is set once and drawn where it lies: on a full sheet most numbers are those of its
    neighbors, which keeps files small, and nothing is copied to be moved.
    """

    x: Mm
    y: Mm
    items: tuple[Item, ...]


@dataclass(frozen=True, kw_only=True)
class Page:
    """One side of paper.

    Attributes:
        placed: the cards that lie on it.
        own: what lies on the page itself, drawn and read after them.
        cards: their ids, in order.
        turn: degrees clockwise by which it is printed turned: 0, 90, 180 or 270.
    """

    width: Mm
    height: Mm
    placed: tuple[PlacedItems, ...] = ()
    own: tuple[Item, ...] = ()
    cards: tuple[str, ...] = ()
    turn: int = 0

    @cached_property
    def items(self) -> tuple[Item, ...]:
        """All that lies on it, from the corner of the page."""
        on_cards = (i for at in self.placed for i in all_moved(at.items, at.x, at.y))
        return (*on_cards, *self.own)


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Items of a page that belong together, for readers that do not see it.

    Attributes:
        says: what they show, in words.
        level: how deep in the tree of what is shown, from 1.
    """

    says: str
    level: int
    items: tuple[Item, ...]


def moved(item: Item, dx_mm: float, dy_mm: float) -> Item:
    """The same item elsewhere; a print moves so many that the frequent ones are spelt out."""
    match item:
        case TextLine():
            return TextLine(
                x=Mm(item.x + dx_mm),
                y=Mm(item.y + dy_mm),
                capital=item.capital,
                weight=item.weight,
                text=item.text,
                runs=item.runs,
                ink=item.ink,
            )
        case Slope():
            return replace(
                item,
                x1=Mm(item.x1 + dx_mm),
                y1=Mm(item.y1 + dy_mm),
                x2=Mm(item.x2 + dx_mm),
                y2=Mm(item.y2 + dy_mm),
            )
        case Ring():
            return replace(item, x=Mm(item.x + dx_mm), y=Mm(item.y + dy_mm))
        case Fill():
            return Fill(frame=item.frame.moved(dx_mm, dy_mm), ink=item.ink)
        case Outline():
            return Outline(frame=item.frame.moved(dx_mm, dy_mm), width=item.width, ink=item.ink)
        case Strokes():
            segments = tuple([_moved(s, dx_mm, dy_mm) for s in item.segments])
            return Strokes(segments=segments, width=item.width, ink=item.ink)
        case Swatch():
            parts = tuple(moved_part(part, dx_mm, dy_mm) for part in item.parts)
            return replace(item, frame=item.frame.moved(dx_mm, dy_mm), parts=parts)
        case Symbol():
            at = item.frame.moved(dx_mm, dy_mm)
            return replace(item, frame=at, x=Mm(item.x + dx_mm), y=Mm(item.y + dy_mm))


def moved_part(part: Part, dx_mm: float, dy_mm: float) -> Part:
    found = moved(part, dx_mm, dy_mm)
    assert isinstance(found, Fill | Slope | Strokes | Outline)  # moving changes no kind
    return found


def _moved(s: Segment, dx: float, dy: float) -> Segment:
    return Segment(x1=Mm(s.x1 + dx), y1=Mm(s.y1 + dy), x2=Mm(s.x2 + dx), y2=Mm(s.y2 + dy))


def all_moved(items: Iterable[Item], dx_mm: float, dy_mm: float) -> tuple[Item, ...]:
    return tuple(moved(item, dx_mm, dy_mm) for item in items)
