"""Make tables of a packet no wider than what they say: a column without a word is left out."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from cardgen.cards.card import Cell, Table
from cardgen.words import Words

NOTHING = ("", "–")


def filled_table(
    words: Words,
    columns: Sequence[str],
    rows: Sequence[tuple[Cell, ...]],
    to_write_in: Collection[str] = (),
) -> Table:
    """The columns, by their names in the catalogue, in which something is or is to be written."""
    kept = [
        index
        for index, name in enumerate(columns)
        if name in to_write_in or any(row[index] not in NOTHING for row in rows)
    ]
    return Table(
        columns=words.named("columns", [columns[index] for index in kept]),
        rows=tuple(tuple(row[index] for index in kept) for row in rows),
    )
