"""Show changes of a job to a person, one line for each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from cardgen.editing import Change, Put, Remove, Value
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar, short

_NOTHING = "nothing"


def change_lines(changes: Sequence[Change], root: Node) -> Iterator[str]:
    """`stations A1 area: front lawn -> front lawn west`; `root` is the job before."""
    for change in changes:
        old = _at(root, change.path)
        if isinstance(change, Put):
            before = _shown(old) if old is not None else _NOTHING
            yield f"{_way(change.path, root)}: {before} -> {_in_line(change.value)}"
        elif isinstance(change, Remove):
            yield f"{_way(change.path, root)}: {_shown(old)} -> {_NOTHING}"


def _way(path: Sequence[str | int], root: Node) -> str:
    """The keys; of a list the number of the thing in it, and of a run the leg."""
    parts: list[str] = []
    for number, key in enumerate(path):
        if isinstance(key, int):
            parts.append(_leg(path, number, root) or f"({key + 1})")
        else:
            parts.append(key)
    return " ".join(parts)


def _leg(path: Sequence[str | int], number: int, root: Node) -> str:
    """`A to VB-1`: a length in a run stands between two places."""
    run, key = _at(root, path[:number]), path[number]
    if number == 0 or path[number - 1] != "run" or not isinstance(run, nodes.Sequence):
        return ""
    assert isinstance(key, int)
    if key % 2 == 0 or key + 1 >= len(run.items):
        return ""
    return f"{_shown(run.items[key - 1])} to {_shown(run.items[key + 1])}"


def _at(node: Node, path: Sequence[str | int]) -> Node | None:
    found: Node | None = node
    for key in path:
        if isinstance(key, int):
            items = found.items if isinstance(found, nodes.Sequence) else ()
            found = items[key] if key < len(items) else None
        else:
            entries = found.entries if isinstance(found, nodes.Mapping) else ()
            found = next((e.value for e in entries if e.key.text == key), None)
    return found


def _shown(node: Node | None) -> str:
    return _NOTHING if node is None else short(_in_line(_plain(node)))


def _plain(node: Node) -> Value:
    if isinstance(node, Scalar):
        return " ".join(node.text.split())
    if isinstance(node, nodes.Sequence):
        return [_plain(item) for item in node.items]
    return {entry.key.text: _plain(entry.value) for entry in node.entries}


def _in_line(value: Value) -> str:
    if isinstance(value, str):
        return value or _NOTHING
    if isinstance(value, Mapping):
        return ", ".join(f"{key}: {_in_line(each)}" for key, each in value.items())
    return ", ".join(_in_line(each) for each in value)
