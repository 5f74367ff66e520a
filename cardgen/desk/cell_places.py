"""Find the row and the cell that stand at a line and column of the file."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass

from cardgen.desk.grid_columns import NAME
from cardgen.desk.grid_lists import items_of
from cardgen.desk.grid_sections import SECTIONS
from cardgen.desk.node_lookup import column_of
from cardgen.problems import Span
from cardgen.reading.nodes import Mapping, Node, Sequence

Place = tuple[int, int]


@dataclass(frozen=True, slots=True)
class GridCell:
    """Where a problem is shown; empty parts where it belongs to nothing smaller."""

    section: str = ""
    row: str = ""
    key: str = ""


class CellPlaces:
    """Every value of the file with its place, down to the keys of an entry."""

    def __init__(self, root: Node | None) -> None:
        cells = () if root is None else (*_cells(root), *_list_cells(root))
        found = sorted(cells, key=lambda each: each[0])
        self._places = [place for place, _ in found]
        self._cells = [cell for _, cell in found]

    def at(self, span: Span) -> GridCell:
        """The cell at which a problem is, or the last one that begins before it."""
        number = bisect_right(self._places, (span.line, span.column))
        return self._cells[number - 1] if number else GridCell()


def _cells(root: Node) -> Iterator[tuple[Place, GridCell]]:
    """Keys and values, an outer one before those inside it."""
    for section in root.entries if isinstance(root, Mapping) else ():
        name = section.key.text
        yield _place(section.key.span), GridCell(name)
        for row in section.value.entries if isinstance(section.value, Mapping) else ():
            is_form = not isinstance(row.value, Mapping | Sequence)
            whole = GridCell(name, "", row.key.text) if is_form else GridCell(name, row.key.text)
            yield _place(row.key.span), whole
            if _place(row.value.span) > _place(row.key.span):
                yield _place(row.value.span), whole
            for cell in row.value.entries if isinstance(row.value, Mapping) else ():
                inner = GridCell(name, row.key.text, column_of(cell.key.text))
                yield _place(cell.key.span), inner
                yield _place(cell.value.span), inner


def _list_cells(root: Node) -> Iterator[tuple[Place, GridCell]]:
    """Items of lists that are grids of their own, behind what they lie in."""
    for section in SECTIONS:
        for id_, item in items_of(root, section).items() if section.lead else ():
            yield _place(item.node.span), GridCell(section.name, id_, NAME)
            for cell in item.node.entries if isinstance(item.node, Mapping) else ():
                inner = GridCell(section.name, id_, column_of(cell.key.text))
                yield _place(cell.key.span), inner
                yield _place(cell.value.span), inner


def _place(span: Span) -> Place:
    return span.line, span.column
