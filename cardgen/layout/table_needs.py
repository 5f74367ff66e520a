"""Say what each column of a table needs: its words, its figures, room to write; and its width."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from cardgen import fonts
from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import PrintedCell, Table
from cardgen.cards.expected import TO_FILL_IN
from cardgen.fonts import Weight
from cardgen.layout.dense_rows import counted
from cardgen.layout.figures import shifts
from cardgen.layout.fit import PITCH, pieces
from cardgen.layout.geometry import NOTHING
from cardgen.layout.setting import SPACE, PrinterHead, in_words, small_swatch_size
from cardgen.layout.widths import Want, column_widths
from cardgen.light_dataclass import dataclass

LOWEST_ROW = 4.0  # mm; a row that a finger can follow (common practice)
PADDING = 0.4  # capital heights above and below a row
DENSE = 0.1  # the same in dense rows: a row of 4 mm with letters of 2.5 mm
BETWEEN, NARROW = 1.1, 0.8  # capital heights between columns; in dense rows
HEADER = 0.8  # height of the column names against that of the cells
NOTHING_HERE = "–"  # in a cell where there is nothing to write
BLANK = ("", NOTHING_HERE)
WRITE_IN = 7.0, 2.2  # capital heights of a cell for a pencil: 25 mm by 8 in the largest letters
Moves = Sequence[tuple[float, ...]]  # by row, then by column


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How the cells of one table are set.

    Attributes:
        capital: of the cells; `least` is what it may not go below.
        names: whether the columns are named above the first row.
        cable: whether a conductor is named with its cable.
        lowest: the lowest height of a row.
        blank: the least width of a column with cells in which no words stand: to write in.
        grid: whether upright rules part the columns.
        dense: whether rows stand close, and long text goes on over empty cells, see `dense_rows`.
    """

    capital: float
    least: float
    names: bool
    cable: bool
    press: PrinterHead
    lowest: float = LOWEST_ROW
    blank: float = 0.0
    grid: bool = False
    dense: bool = False

    @property
    def padding(self) -> float:
        return (DENSE if self.dense else PADDING) * self.capital

    @property
    def between(self) -> float:
        return (NARROW if self.dense else BETWEEN) * self.capital

    @property
    def header(self) -> float:
        return max(HEADER * self.capital, self.least)

    @property
    def free_lines(self) -> int:
        """How many the lowest row holds."""
        beyond_one = (self.lowest - 2 * self.padding) / self.capital - 1.0
        return 1 + max(0, int(beyond_one / PITCH))


def width_needed(table: Table, look: Look) -> float:
    """The narrowest width, for saying by how much a table is too wide."""
    narrow = sum(
        max((c.least for c in cells), default=0.0) for cells in _wants(table, look, moves_of(table))
    )
    return narrow + look.between * (len(table.columns) - 1)


def longest_word(table: Table, look: Look) -> str:
    """The word of all cells that is the widest, for saying what makes a table too wide."""
    texts = (
        in_words(cell, cable=look.cable) if isinstance(cell, ConductorMark) else cell
        for row in table.rows
        for cell in row
    )
    words = (word.strip() for text in texts for word in pieces(text))
    return max(words, key=lambda word: fonts.width(word, Weight.MEDIUM), default="")


def widths_of(table: Table, width_mm: float, look: Look, moves: Moves) -> list[float] | None:
    """Of all columns; None where their longest words are too wide together.

    In dense rows notes stand behind what they belong to where all rows then have one line.
    """
    room = width_mm - look.between * (len(table.columns) - 1)
    writing = [*_writing(table)] if look.blank else ()
    wants = _wants(table, look, moves, inline=True)
    if look.dense and sum(max((c.whole for c in cells), default=0.0) for cells in wants) > room:
        wants = _wants(table, look, moves)
    return column_widths(wants, room, writing)


def _writing(table: Table) -> Iterator[int]:
    """The columns in which nothing stands yet."""
    for index in range(len(table.columns)):
        column = [row[index] for row in table.rows]
        if "" in column and all(cell in BLANK for cell in column):
            yield index


def moves_of(table: Table) -> Moves:
    """Row by row how far each cell moves to the right, in capital heights: figures line up."""
    columns = []
    for index in range(len(table.columns)):
        cells = {number: row[index] for number, row in enumerate(table.rows)}
        filled = {
            number: cell for number, cell in cells.items() if cell not in (*BLANK, TO_FILL_IN)
        }
        found = dict(zip(filled, shifts([*filled.values()], weight_of(index)), strict=True))
        columns.append([found.get(number, 0.0) for number in cells])
    return [*zip(*columns, strict=True)]


def with_room(table: Table, moves: Moves, widths_mm: Sequence[float], look: Look) -> Moves:
    """A column whose figures would wrap if they moved stays as it is."""
    fits = [
        all(
            not moved[index]
            or (fonts.width(str(row[index]), weight_of(index)) + moved[index]) * look.capital
            <= room + NOTHING
            for row, moved in zip(table.rows, moves, strict=True)
        )
        for index, room in enumerate(widths_mm)
    ]
    return [tuple(move * fit for move, fit in zip(moved, fits, strict=True)) for moved in moves]


def _wants(table: Table, look: Look, moves: Moves, *, inline: bool = False) -> list[list[Want]]:
    """What the cells of each column need, the column's name among them."""
    columns = []
    blank = Want(least=look.blank, whole=look.blank)
    for index, name in enumerate(table.columns):
        column = [
            counted(row, index, inline=inline) if look.dense else row[index] for row in table.rows
        ]
        for_writing = all(cell in BLANK for cell in column)
        cells = [
            blank
            if for_writing or cell == ""
            else cell_want(cell, look, weight_of(index), move[index])
            for cell, move in zip(column, moves, strict=True)
        ]
        if look.names:
            words = [fonts.width(w.strip(), Weight.BOLD) * look.header for w in pieces(name)]
            whole = fonts.width(name, Weight.BOLD) * look.header
            cells.append(Want(least=max(words, default=0.0), whole=whole, height=HEADER))
        columns.append(cells)
    return columns


def cell_want(cell: PrintedCell, look: Look, weight: Weight, move_capitals: float = 0.0) -> Want:
    if cell == TO_FILL_IN:
        wide, high = WRITE_IN
        return Want(least=wide * look.capital, whole=wide * look.capital, height=high)
    left = 0.0
    if isinstance(cell, ConductorMark):
        left = small_swatch_size(look.capital, close=look.dense)[0] + SPACE * look.capital
    longest, whole = _in_capitals(cell, weight, look.cable)
    return Want(
        least=left + longest * look.capital,
        whole=left + (whole + move_capitals) * look.capital,
        free=look.free_lines,
    )


@lru_cache(maxsize=4_000)  # a table is tried at several scales, and its cells are much alike
def _in_capitals(cell: PrintedCell, weight: Weight, cable: bool) -> tuple[float, float]:
    """The widths of its longest word and of all it says, in capital heights."""
    text = shortest = cell
    if isinstance(cell, ConductorMark):
        text, shortest = in_words(cell, cable=cable), in_words(cell, cable=cable, tight=True)
    assert isinstance(text, str)
    assert isinstance(shortest, str)
    longest = max((fonts.width(p.strip(" "), weight) for p in pieces(shortest)), default=0.0)
    return longest, fonts.width(text.strip(), weight)


def weight_of(index: int) -> Weight:
    return Weight.BOLD if index == 0 else Weight.MEDIUM
