"""Find what stands under the keys of a job file."""

from __future__ import annotations

from typing import Any

from cardgen.reading.nodes import Mapping, Node


def entries_of(root: Node | None, section: str) -> tuple[Any, ...]:
    """The entries of a section, as far as it is one."""
    found = value_at(root, section)
    return found.entries if isinstance(found, Mapping) else ()


def value_at(root: Node | None, *path: str) -> Node | None:
    """What stands under these keys; None where nothing does."""
    node = root
    for key in path:
        entries = node.entries if isinstance(node, Mapping) else ()
        node = next((entry.value for entry in entries if entry.key.text == key), None)
    return node
