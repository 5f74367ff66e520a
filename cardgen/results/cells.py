"""Turn the text of a CSV file, RFC 4180, into cells that know their line and column."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell without its quotes; line and column count from 1 and are those of its start."""

    text: str
    line: int
    column: int


class Unclosed(Exception):
    """A quote opens and is not closed, or text follows a closed one.

    Attributes:
        at: where the cell begins.
    """

    def __init__(self, at: Cell) -> None:
        super().__init__(f"line {at.line}")
        self.at = at


def separator_of(text: str) -> str:
    """Semicolon where the first line has one and no comma, as spreadsheets of some languages do."""
    first = text.splitlines()[0] if text else ""
    return ";" if ";" in first and "," not in first else ","


def records(text: str) -> Iterator[list[Cell]]:
    """Each record; empty lines are none.

    Raises:
        Unclosed: where the quotes do not fit together.
    """
    separator = separator_of(text)
    index, line, start = 0, 1, 0
    record: list[Cell] = []
    while index < len(text):
        at = Cell("", line, index - start + 1)
        if text[index] == '"':
            cell, index = _quoted(text, index, at)
            ends = [i for i, letter in enumerate(cell.text) if letter == "\n"]
            if ends:  # what follows stands on a later line
                line += len(ends)
                start = text.rindex("\n", 0, index) + 1
        else:
            end = index
            while end < len(text) and text[end] not in (separator, "\r", "\n"):
                end += 1
            cell, index = Cell(text[index:end], at.line, at.column), end
        record.append(cell)
        if index < len(text) and text[index] == separator:
            index += 1
            if index == len(text):
                record.append(Cell("", line, index - start + 1))
            continue
        if index < len(text) and text[index] not in "\r\n":
            raise Unclosed(at)
        if record != [Cell("", at.line, 1)]:
            yield record
        record = []
        if index < len(text):
            index += 2 if text.startswith("\r\n", index) else 1
            line, start = line + 1, index
    if record:
        yield record


def _quoted(text: str, index: int, at: Cell) -> tuple[Cell, int]:
    """The cell whose quote opens at `index`, and where it ends."""
    parts = []
    while True:
        end = text.find('"', index + 1)
        if end < 0:
            raise Unclosed(at)
        parts.append(text[index + 1 : end])
        if not text.startswith('""', end):
            return Cell('"'.join(parts), at.line, at.column), end + 1
        index = end + 1
