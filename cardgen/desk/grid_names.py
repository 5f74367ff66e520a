"""Call the keys of a job in a line of changes as the grids and fields of the desk call them."""

from __future__ import annotations

from cardgen.desk.grid_sections import FORM
from cardgen.words import Words
from cardgen.workbook.change_lines import KeyNames, Path

_NAMES_BELOW = ("extra", "valves")  # headings of the user's own, and valves by name


class GridNames(KeyNames):
    """In the words of a page; a key that has no column there, or is a name, stays as it is."""

    def __init__(self, words: Words) -> None:
        self._words = words
        self.nothing = words("stale.nothing").printed

    def key(self, path: Path) -> str:
        section, last = path[0], str(path[-1])
        if len(path) == 1:
            return self._said("form" if section in FORM else "row of", last)
        if section in FORM:
            return self._said("field", last)
        is_name = len(path) == 2 or path[-2] in _NAMES_BELOW
        return last if is_name else self._said("column", last)

    def leg(self, one: str, two: str) -> str:
        return self._words("stale.moved", before=one, after=two).printed

    def _said(self, kind: str, key: str) -> str:
        word = f"desk.{kind} {key}"
        return self._words(word).printed if self._words.has(word) else key
