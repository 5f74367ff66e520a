"""What goes where on a card: columns of blocks, each block one field with its letter heights.

A column has a few scales, from large to small, and each block its height at each of them.  A print
takes one scale for all its cards (`scales.py`), so that they look alike.
"""

from __future__ import annotations

from enum import StrEnum
from typing import TypeAlias

from cardgen.cards.card import CardKind
from cardgen.fonts import Weight
from cardgen.layout.geometry import Frame, Mm
from cardgen.light_dataclass import dataclass, replace
from cardgen.problems import Span
from cardgen.units import Meters
from cardgen.words import Words

# One for each scale, from the largest to the smallest; a single one holds for all scales.
Heights: TypeAlias = tuple[Mm, ...]


def at_scale(heights: Heights, scale: int) -> Mm:
    return heights[scale] if scale < len(heights) else heights[-1]


class Show(StrEnum):
    """How a field is shown.

    A banner is white on black, a warning white on purple, with a line inside its edge.  A symbol is
    a code without its text, which may stand elsewhere.  Auto is a table for a table,
    else a list.  Entries are a table's rows, the second cell behind or beneath the first.  A bar is
    a label and a conductor, readings are figures with their units under a title.  Named is a large
    text with its small label before it.  Valves are the rows of a box tag, wires stand one after
    another.  Blanks are labels with a line to write on, ticks labels with a box to
    tick.  A way is a drawing of boxes along their cables, with marks.
    """

    TEXT = "text"
    CONDUCTOR = "conductor"
    BOXED = "boxed"
    BANNER = "banner"
    WARNING = "warning"
    LIST = "list"
    AUTO = "auto"
    TABLE = "table"
    CODE = "code"
    SYMBOL = "symbol"
    SPLICES = "splices"
    ENTRIES = "entries"
    BLANKS = "blanks"
    TICKS = "ticks"
    BAR = "bar"
    READINGS = "readings"
    NAMED = "named"
    VALVES = "valves"
    WIRES = "wires"
    WAY = "way"


class Align(StrEnum):
    LEFT = "left"
    RIGHT = "right"
    CENTER = "center"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """Whose rule a least height follows.

    Attributes:
        words: as the face says it.
        share: of the distance; 0 for a rule that asks for no height.
        meters: from where it is read; 0 where the rule knows no distance.
    """

    words: str
    share: float
    meters: Meters


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceBlock:
    """One field of a card; `layout_fields.py` says what is meant where a face is silent.

    Attributes:
        label: field that holds its label or title; empty without.
        title: what stands there if the card does not have that field.
        names: whether a table has the names of its columns.
        capitals: height of the capitals at each scale.
        lines: how many lines a text may take.
        rule: whose rule the smallest height follows.
        small: of what stands under a color word, or as title over readings; none for `capitals`.
        afar: whether it is what `--read-from` makes larger.
        cells: how many of a row of valves are shown, from the left.
        cable: whether a conductor is shown with its cable and band.
        apart: space above it, kept even where all is tight.
        side: of a code's symbol, 0 for the width of the column.
        row: lowest height of a row of a table, of blanks or ticks; 0 for the usual.
        blank: least width of a table's column that is left for writing.
        grid: whether upright rules part the columns of a table.
        whole: smaller letters are taken where they keep it on one of several cards.
        across: how many blanks, ticks or columns of a list stand side by side.
        dense: whether the rows of a table or list stand close, and what is long in a row goes on
            over empty cells to its right.
        beside: whether it stands in a part of the column's width, see `Column.across`.
    """

    span: Span
    field: str
    show: Show
    weight: Weight
    align: Align
    capitals: Heights
    lines: int
    rule: Rule
    small: Heights
    afar: bool
    label: str
    title: str
    names: bool
    cells: int
    cable: bool
    apart: Mm
    side: Mm
    row: Mm
    blank: Mm
    grid: bool
    whole: bool
    across: int
    dense: bool
    beside: bool

    def __hash__(self) -> int:
        return hash((self.field, self.capitals))  # what is set is looked up by it, for every card

    @property
    def least(self) -> Mm:
        return self.capitals[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A frame filled with blocks from the top.

    Attributes:
        gap: space between blocks at each scale.
        bottom, middle: whether the blocks stand at the bottom or the middle of the frame.
        ruled: whether a rule separates block from block.
        flows: whether what does not fit goes on to a further card.
        again: its frame on further cards, where less stands around it; None for the same.
        first: whether it stands on the first of several cards only.
        across: in how many parts of its width the blocks that are `beside` each other stand, level
            on the last card.
        wide: how many of these parts the other blocks take, from the left; 0 for all.
    """

    span: Span
    frame: Frame
    blocks: tuple[FaceBlock, ...]
    gap: Heights
    bottom: bool
    middle: bool
    ruled: bool
    flows: bool
    again: Frame | None
    first: bool
    across: int
    wide: int

    @property
    def scales(self) -> int:
        """How many scales it has."""
        lists = [self.gap, *(h for block in self.blocks for h in (block.capitals, block.small))]
        return max(map(len, lists))

    def frame_on(self, number: int) -> Frame:
        """Where it stands on that card of several, counted from 0."""
        return self.again if number and self.again else self.frame


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceRule:
    """A rule that divides the face, from (x, y), `width` long or `height` high."""

    span: Span
    frame: Frame


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """How one kind of card looks on one format.

    Attributes:
        copies: how far to the right the same is printed again (the back of a flag).
    """

    span: Span
    name: str
    kind: CardKind
    format: str
    columns: tuple[Column, ...]
    lines: tuple[FaceRule, ...] = ()
    copies: tuple[Mm, ...] = ()

    def titled(self, words: Words) -> Face:
        """With the titles of its blocks in the languages of a print; those of one's own stay."""
        columns = (
            replace(column, blocks=tuple(_titled(block, words) for block in column.blocks))
            for column in self.columns
        )
        return replace(self, columns=tuple(columns))


def _titled(block: FaceBlock, words: Words) -> FaceBlock:
    return replace(block, title=words.own("titles", block.title).printed) if block.title else block
