"""Find what stands under the keys of a job file."""

from __future__ import annotations

from typing import Any

from cardgen.reading.nodes import Mapping, Node

_BRITISH = {"colour": "color", "colours": "colors"}  # what a job file may say as well


def entries_of(root: Node | None, section: str) -> tuple[Any, ...]:
    """The entries of a section, as far as it is one."""
    found = value_at(root, section)
    return found.entries if isinstance(found, Mapping) else ()


def value_at(root: Node | None, *path: str) -> Node | None:
    """What stands under these keys; None where nothing does."""
    node = root
    for key in path:
        entries = node.entries if isinstance(node, Mapping) else ()
        written = key_in(node, key)
        node = next((entry.value for entry in entries if entry.key.text == written), None)
    return node


def key_in(node: Node | None, key: str) -> str:
    """A key as the file has it, which may be in British spelling."""
    there = {entry.key.text for entry in node.entries} if isinstance(node, Mapping) else set()
    british = next((word for word, us in _BRITISH.items() if us == key), key)
    return british if british in there and key not in there else key


def column_of(key: str) -> str:
    """What the page calls a key of an entry."""
    return _BRITISH.get(key, key)
