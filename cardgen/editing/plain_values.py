"""What a text says, as plain values, and what it must say after a change."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeAlias

from cardgen.editing.text_changes import CannotEdit, Change, Path, Put, Remove, Value
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, is_absent

# A text, a list, a dict with texts as keys, or None where nothing stands after the colon.
Plain: TypeAlias = Any


def plain(node: Node | None) -> Plain:
    """The values of a text that has been read."""
    if node is None or is_absent(node):
        return None
    if isinstance(node, nodes.Mapping):
        return {entry.key.text: plain(entry.value) for entry in node.entries}
    if isinstance(node, nodes.Sequence):
        return [plain(item) for item in node.items]
    return node.text


def plain_value(value: Value) -> Plain:
    """A value that is to be put, as one of its own."""
    if isinstance(value, str):
        return value
    if isinstance(value, Mapping):
        return {key: plain_value(inner) for key, inner in value.items()}
    return [plain_value(inner) for inner in value]


def said(path: Path) -> str:
    """A path as a person says it: `stations A1 area`, `cables A-K1 run 2`."""
    return " ".join(str(part + 1) if isinstance(part, int) else part for part in path)


class PlainValues:
    """The values of a file, which take changes."""

    def __init__(self, root: Node | None) -> None:
        self.root: Plain = plain(root) or {}

    def at(self, path: Path) -> Plain:
        value = self.root
        for number, part in enumerate(path):
            if not _holds(value, part):
                raise CannotEdit(f"there is no '{said(path[: number + 1])}' in the file")
            value = value[part]
        return value

    def already_has(self, change: Change) -> bool:
        """It would change nothing."""
        if not isinstance(change, Put) or not change.path:
            return False
        holder = self.at(change.path[:-1])
        there = _holds(holder, change.path[-1])
        return there and self.at(change.path) == plain_value(change.value)

    def change(self, change: Change) -> None:
        """Do it, or say that its place is not there."""
        if not change.path:
            raise CannotEdit("the whole file cannot be changed at once")
        *way, last = change.path
        holder = self.at(tuple(way))
        if holder is None:
            holder = {} if isinstance(last, str) else []
            *before, part = way
            self.at(tuple(before))[part] = holder
        if isinstance(change, Put):
            _put(holder, last, change)
            return
        self.at(change.path)
        if isinstance(change, Remove):
            del holder[last]
        elif not isinstance(holder, dict) or not isinstance(last, str):
            raise CannotEdit(f"'{said(change.path)}' is an item of a list and has no key")
        elif change.key in holder and change.key != last:
            raise CannotEdit(f"there is a '{said((*way, change.key))}' already")
        else:
            holder[change.key] = holder.pop(last)


def _holds(value: Plain, part: str | int) -> bool:
    if isinstance(part, int):
        return isinstance(value, list) and 0 <= part < len(value)
    return isinstance(value, dict) and part in value


def _put(holder: Plain, last: str | int, change: Put) -> None:
    place = said(change.path[:-1]) or "the file"
    value = plain_value(change.value)
    if isinstance(last, str):
        if not isinstance(holder, dict):
            raise CannotEdit(f"'{place}' is not a block of 'key: value' lines")
        after = change.after if isinstance(change.after, str) else ""
        if last not in holder and after and after not in holder:
            raise CannotEdit(f"there is no '{after}' in '{place}' after which it could go")
        holder[last] = value
    elif not isinstance(holder, list) or not 0 <= last <= len(holder):
        raise CannotEdit(f"'{place}' has no place {last + 1}")
    else:
        holder[last : last + 1] = [value]
