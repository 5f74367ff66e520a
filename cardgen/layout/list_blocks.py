"""Turn lists and tables into pieces: each with what is repeated above it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import PrintedValue, Table
from cardgen.fonts import Weight
from cardgen.layout.fit import Breaks
from cardgen.layout.items import Item
from cardgen.layout.pieces import (
    BETWEEN,
    Misfit,
    Piece,
    Task,
    height_of,
    lowered,
    marks,
    strings,
    text_piece,
    too_long,
    too_wide,
)
from cardgen.layout.setting import SPACE, Placed, in_words, inline_conductor, small_swatch_size
from cardgen.layout.table import LOWEST_ROW, Look, longest_word, set_table, width_needed
from cardgen.light_dataclass import replace

APART = 5.0  # mm; between texts side by side
CLOSE = 0.3  # capital heights between the entries of a list that is dense


def set_texts(task: Task) -> tuple[Piece, ...]:
    """A list; in several columns where the face says so, as level as they can be."""
    count = task.block.across
    if count == 1:
        return set_list(task)
    width = (task.room.width - (count - 1) * APART) / count
    pieces = set_list(replace(task, room=replace(task.room, width=width)))
    ways = ((0, *cuts, len(pieces)) for cuts in combinations(range(len(pieces) + 1), count - 1))
    columns = ([pieces[a:b] for a, b in pairwise(way)] for way in ways)
    best = min(columns, key=lambda way: max(map(height_of, way)))

    def draw(x_mm: float, y_mm: float) -> Iterator[Item]:
        for number, column in enumerate(best):
            top = (
                y_mm - BETWEEN * task.capital if number else y_mm
            )  # above its first entry is no other
            for piece in column:
                yield from piece.at(x_mm + number * (width + APART), top)
                top += piece.height

    return (Piece(height=max(map(height_of, best)), draw=draw),)


def set_list(task: Task) -> tuple[Piece, ...]:
    """One entry a line, under its title if it has one."""
    between = CLOSE if task.block.dense else BETWEEN
    pieces: list[Piece] = []
    header: Placed | None = None
    if task.label:
        title = text_piece((task.label,), Weight.BOLD, task)
        pieces.append(replace(title, tied=True))
        header = title.placed
    entries = strings(task.value) if _is_words(task.value) else marks(task.value)
    for entry in entries:
        if isinstance(entry, str):
            piece = text_piece((entry,), task.block.weight, task)
        else:
            piece = _mark_piece(entry, task)
        lower = lowered(piece, between * task.capital if pieces else 0.0)
        pieces.append(replace(lower, header=header))
    return tuple(pieces)


def _mark_piece(mark: ConductorMark, task: Task) -> Piece:
    block, room = task.block, task.room
    for breaks in (Breaks.WORDS, Breaks.PARTS):
        placed = inline_conductor(
            mark,
            block.weight,
            width_mm=room.width,
            capital_mm=task.capital,
            press=room.press,
            cable=block.cable,
            breaks=breaks,
        )
        if placed is not None:
            return Piece.of(placed)
    left = small_swatch_size(block.least)[0] + SPACE * block.least
    raise too_wide((in_words(mark, cable=block.cable),), block, room.width - left)


def _is_words(value: PrintedValue) -> bool:
    return isinstance(value, str) or (
        isinstance(value, tuple) and all(isinstance(entry, str) for entry in value)
    )


def set_rows(task: Task) -> tuple[Piece, ...]:
    """The names of the columns, then the rows."""
    assert isinstance(task.value, Table)
    table = task.value
    look = _look(task)
    made = set_table(table, width_mm=task.room.width, look=look)
    if made is None:
        raise _too_wide_table(table, task, look)
    header = made.header
    if task.label:
        title = text_piece((task.label,), Weight.BOLD, task)
        down = title.height + BETWEEN * task.capital
        header = Placed(
            height=down + header.height,
            draw=lambda: (*title.at(0, 0), *made.header.at(0, down)),
        )
    return (Piece.of(header, tied=True), *(Piece.of(row, header) for row in made.rows))


def _look(task: Task) -> Look:
    block = task.block
    return Look(
        capital=task.capital,
        least=block.least,
        names=block.names,
        cable=block.cable,
        press=task.room.press,
        lowest=block.row or LOWEST_ROW,
        blank=block.blank,
        grid=block.grid,
        dense=block.dense,
    )


def _too_wide_table(table: Table, task: Task, look: Look) -> Misfit:
    over = width_needed(table, look) - task.room.width
    text = f"the table {', '.join(table.columns)}"
    least, longest = task.block.least, longest_word(table, look)
    return too_long(task.block.field, over, text, "table", least=least, longest=longest)


def set_list_or_rows(task: Task) -> tuple[Piece, ...]:
    return set_rows(task) if isinstance(task.value, Table) else set_list(task)
