"""Show the lists of a job file as rows: each item by its number, and what is typed as changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from cardgen.desk.grid_columns import NAME, GridColumn, GridSection
from cardgen.desk.node_lookup import entries_of, key_in, value_at
from cardgen.editing import Change, Path, Put, Remove
from cardgen.problems import UserError
from cardgen.reading.nodes import Mapping as MappingNode
from cardgen.reading.nodes import Node, Scalar, is_absent
from cardgen.reading.nodes import Sequence as SequenceNode


class BadEdit(UserError):
    """What came from the page cannot be written into the file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JobList:
    """A list of the file.

    Attributes:
        owner: the entry in which it lies; empty for one at the top of the file.
        path: where it stands.
        node: what stands there; None if nothing does.
    """

    owner: str
    path: Path
    node: Node | None

    @property
    def items(self) -> tuple[Node, ...]:
        if isinstance(self.node, SequenceNode):
            return self.node.items
        # A list of one may be written as the one.
        is_one = isinstance(self.node, Scalar) and not is_absent(self.node)
        return (self.node,) if is_one and self.node is not None else ()

    def id_of(self, number: int) -> str:
        """What the page calls an item: `3`, or `A-S1 3`."""
        return f"{self.owner} {number + 1}".strip()


@dataclass(frozen=True, slots=True)
class ListItem:
    """One row."""

    within: JobList
    number: int
    node: Node

    @property
    def path(self) -> Path:
        is_list = isinstance(self.within.node, SequenceNode)
        return (*self.within.path, self.number) if is_list else self.within.path


def lists_of(root: Node | None, grid: GridSection) -> Iterator[JobList]:
    """The lists of a section: one, or that of each of its owners."""
    if not grid.owners:
        yield JobList(owner="", path=(grid.name,), node=value_at(root, grid.name))
        return
    for entry in entries_of(root, grid.owners):
        if isinstance(entry.value, MappingNode):
            node = value_at(entry.value, grid.name)
            path = (grid.owners, entry.key.text, grid.name)
            yield JobList(owner=entry.key.text, path=path, node=node)


def items_of(root: Node | None, grid: GridSection) -> dict[str, ListItem]:
    """By what the page calls them, in the order of the file."""
    return {
        each.id_of(number): ListItem(each, number, node)
        for each in lists_of(root, grid)
        for number, node in enumerate(each.items)
    }


def list_changes(
    root: Node | None,
    grid: GridSection,
    cells: Iterable[Sequence[str]],
    removed: Sequence[str],
    rows: Iterable[Mapping[str, str]],
) -> Iterator[Change]:
    """Cells first, then what goes from behind, so that the numbers stay, then what is new.

    Raises:
        BadEdit: if the page shows what is not there any more, or what can stand nowhere.
    """
    items = items_of(root, grid)
    for row in (*(row for row, _, _ in cells), *removed):
        if row not in items:
            raise BadEdit(f"there is no row {row} any more")
    for row, key, text in cells:
        yield from _cell_change(grid, items[row], row, key, text)
    gone = {row: items[row] for row in dict.fromkeys(removed)}
    new = _by_owner(grid, rows)
    for each in lists_of(root, grid):
        numbers = [item.number for item in gone.values() if item.within == each]
        yield from _list_change(each, sorted(numbers), new.pop(each.owner, []))
    for owner in new:
        raise BadEdit(f"there is no '{owner}' in '{grid.owners}'", "add it there first")


def _cell_change(
    grid: GridSection, item: ListItem, row: str, key: str, text: str
) -> Iterator[Change]:
    column = grid.column_at(key)
    if column is None:
        raise BadEdit(f"there is no column '{key}'")
    if grid.owners and key == NAME:
        if text != item.within.owner:
            raise BadEdit(
                f"row {row} stays in '{item.within.owner}'",
                f"remove it here, and type it in a new row of '{text}'",
            )
    elif grid.is_bare:
        if not text:
            raise BadEdit(f"row {row} would be empty", "remove the row if it is not wanted")
        yield Put(path=item.path, value=column.values_in(text))
    elif not isinstance(item.node, MappingNode):
        raise BadEdit(f"row {row} is no block of keys in the file", "correct it there")
    elif text:
        path = (*item.path, key_in(item.node, column.key))
        yield Put(path=path, value=column.values_in(text), after=grid.before(column))
    elif value_at(item.node, column.key) is not None:
        yield Remove(path=(*item.path, key_in(item.node, column.key)))


def _list_change(each: JobList, gone: list[int], new: list[Any]) -> Iterator[Change]:
    left = len(each.items) - len(gone)
    if gone and not left:
        yield Remove(path=each.path)
    else:
        for number in reversed(gone):
            yield Remove(path=(*each.path, number))
    if not new:
        return
    if not left:
        yield Put(path=each.path, value=new)
        return
    if isinstance(each.node, Scalar):
        yield Put(path=each.path, value=[each.node.text])
    for number, value in enumerate(new):
        yield Put(path=(*each.path, left + number), value=value)


def _by_owner(grid: GridSection, rows: Iterable[Mapping[str, str]]) -> dict[str, list[Any]]:
    found: dict[str, list[Any]] = {}
    for row in rows:
        owner = row.get(NAME, "") if grid.owners else ""
        if grid.owners and not owner:
            raise BadEdit("this row needs the name of its cable", "type it in its first cell")
        found.setdefault(owner, []).append(_new_item(grid, row))
    return found


def _new_item(grid: GridSection, row: Mapping[str, str]) -> Any:
    assert grid.lead is not None
    if grid.is_bare:
        return grid.lead.values_in(row.get(NAME, ""))
    texts = {column.key: row.get(_cell_of(grid, column), "") for column in grid.written}
    return {c.key: c.values_in(texts[c.key]) for c in grid.written if texts[c.key]}


def _cell_of(grid: GridSection, column: GridColumn) -> str:
    return NAME if column is grid.lead else column.key
