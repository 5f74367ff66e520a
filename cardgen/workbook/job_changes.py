"""Compare two states of a job and say what changes lead from one to the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.editing import Change, Put, Remove, Value
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar
from cardgen.workbook.sheets_out import one_line

Path = tuple[str | int, ...]


def changes_between(old: Node, new: Node) -> tuple[Change, ...]:
    """In the order of the file; nothing for what is only written otherwise."""
    return tuple(_of_mapping(old, new, ()))


def value_of(node: Node) -> Value:
    """What a node says, without its place."""
    if isinstance(node, Scalar):
        return one_line(node)
    if isinstance(node, nodes.Sequence):
        return [value_of(item) for item in node.items]
    return {one_line(entry.key): value_of(entry.value) for entry in node.entries}


def _of_mapping(old: Node, new: Node, path: Path) -> Iterator[Change]:
    before = {entry.key.text: entry.value for entry in entries_in(old)}
    after = {entry.key.text: entry.value for entry in entries_in(new)}
    previous = ""
    for key, node in before.items():
        if key not in after and same(node) is not None:
            yield Remove(path=(*path, key))
    for key, node in after.items():
        if key in before:
            yield from _of_node(before[key], node, (*path, key))
        else:
            yield Put(path=(*path, key), value=value_of(node), after=previous)
        previous = key


def _of_node(old: Node, new: Node, path: Path) -> Iterator[Change]:
    if same(old) == same(new):
        return
    if entries_in(old) and entries_in(new):
        yield from _of_mapping(old, new, path)
    elif _items(old) and len(_items(old)) == len(_items(new)):
        for index, (before, after) in enumerate(zip(_items(old), _items(new), strict=True)):
            yield from _of_node(before, after, (*path, index))
    else:
        yield Put(path=path, value=value_of(new))


def same(node: Node | None) -> object:
    """Alike for what means the same: one value and a list of it, nothing and an empty block."""
    if node is None:
        return None
    if isinstance(node, nodes.Sequence):
        items = [same(item) for item in node.items]
        return items[0] if len(items) == 1 and isinstance(items[0], str) else items
    if isinstance(node, nodes.Mapping):
        return {one_line(e.key): same(e.value) for e in node.entries} or None
    return one_line(node) or (None if not node.quoted else "")


def entries_in(node: Node | None) -> tuple[nodes.KeyValue, ...]:
    return node.entries if isinstance(node, nodes.Mapping) else ()


def _items(node: Node) -> Sequence[Node]:
    return node.items if isinstance(node, nodes.Sequence) else ()
