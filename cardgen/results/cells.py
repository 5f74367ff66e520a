"""Turn the text of a CSV file, RFC 4180, into cells that know their line and column."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator

from cardgen.light_dataclass import dataclass, replace


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


SEPARATORS = ",;\t|"
_LINE_END = re.compile("\r\n|\r|\n")
# A cell in quotes, in which a quote is written twice, or one without; then what ends it.
_CELL = {
    separator: re.compile(
        rf'(?:"([^"]*(?:""[^"]*)*)"|((?!")[^{re.escape(separator)}\r\n]*))({re.escape(separator)}|\r\n|\r|\n|\Z)'
    )
    for separator in SEPARATORS
}


def records(text: str, separator: str = "") -> Iterator[list[Cell]]:
    """Each record; empty lines are none.

    Raises:
        Unclosed: where the quotes do not match up.
    """
    separator = separator or separator_of(text)
    lines = [0, *(found.end() for found in _LINE_END.finditer(text))]
    record: list[Cell] = []
    index, end = 0, separator
    while end:
        line = bisect_right(lines, index)
        at = Cell("", line, index - lines[line - 1] + 1)
        found = _CELL[separator].match(text, index)
        if found is None:
            raise Unclosed(at)
        quoted, plain, end = found.groups()
        said = plain if quoted is None else quoted.replace('""', '"')
        record.append(replace(at, text=said))
        index = found.end()
        if end != separator:
            if record[1:] or said:
                yield record
            record = []
