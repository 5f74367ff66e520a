"""Make the tables of a packet no wider than what they say: an empty column is left out."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import Cell, Table
from cardgen.cards.expected import NOTHING
from cardgen.words import Words, printed


def filled_table(
    words: Words,
    columns: Sequence[str],
    rows: Sequence[tuple[Cell, ...]],
    always: Collection[str] = (),
) -> Table:
    """The columns, by their names in the catalogue, in which something is said.

    `always` are those that are there to be written in, or say something by being empty.
    """
    kept = [
        index
        for index, name in enumerate(columns)
        if name in always or any(_says(row[index]) for row in rows)
    ]
    return Table.of(
        words.named("columns", [columns[index] for index in kept]),
        (tuple(row[index] for index in kept) for row in rows),
    )


def _says(cell: Cell) -> bool:
    return isinstance(cell, ConductorMark) or printed(cell) not in ("", NOTHING)
