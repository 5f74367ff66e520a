"""Turn a cell into the node of what it says, by the column that it is in."""

from __future__ import annotations

from cardgen.problems import Span
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar
from cardgen.reading.shapes import ListOf
from cardgen.results.cells import Cell
from cardgen.workbook.cell_values import as_meant, is_length, listed
from cardgen.workbook.sheet_plans import SheetColumn


def cell_value(cell: Cell, column: SheetColumn, span: Span) -> Node:
    """A value, or a list where the column holds lists and the cell more than one value."""
    if not column.is_list:
        return Scalar(span, as_meant(" ".join(cell.text.split()), column.shape))
    parts = listed(cell.text, sentences=column.holds_texts, lengths=is_length(column.item))
    items = tuple(Scalar(span, as_meant(part, column.item)) for part in parts)
    single = isinstance(column.shape, ListOf) and column.shape.single and len(items) == 1
    return items[0] if single else nodes.Sequence(span, items)
