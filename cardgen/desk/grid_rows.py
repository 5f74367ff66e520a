"""Turn the nodes of a job file into the rows of its grids, each value as the file has it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from cardgen.desk.grid_sections import FORMS, NAME, SECTIONS, GridColumn, GridSection
from cardgen.reading.nodes import Mapping, Node, Scalar, Sequence


def rows_of(root: Node | None) -> dict[str, list[dict[str, Any]]]:
    """By section: `{"name": "A1", "area": "front lawn", ...}`.

    What cannot be shown as one line of text is None: it is changed in the file only.
    """
    return {section.name: list(_rows(root, section)) for section in SECTIONS}


def _rows(root: Node | None, section: GridSection) -> Iterator[dict[str, Any]]:
    for entry in entries_of(root, section.name):
        yield _row(section, entry.key.text, entry.value)


def forms_of(root: Node | None) -> dict[str, dict[str, str | None]]:
    """By section of one entry, the value of each of its keys."""
    return {
        name: {key: _text(value_at(root, name, key), GridColumn(key=key)) for key in keys}
        for name, keys in FORMS.items()
    }


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


def _row(section: GridSection, name: str, value: Node) -> dict[str, Any]:
    row: dict[str, Any] = {NAME: name}
    for column in section.columns:
        row[column.key] = _text(value if section.is_bare else value_at(value, column.key), column)
    return row


def _text(node: Node | None, column: GridColumn) -> str | None:
    """`A-K1 red, A-S1 red A1`; None where a cell cannot hold it."""
    if node is None:
        return ""
    if isinstance(node, Scalar):
        return node.text
    parts = tuple(_parts(node))
    if not column.between or len(parts) != len(getattr(node, "items", ())):
        return None
    if any(column.between in part for part in parts):
        return None  # it would come back as two
    return f"{column.between} ".join(parts)


def _parts(node: Node) -> Iterator[str]:
    for item in node.items if isinstance(node, Sequence) else ():
        if isinstance(item, Scalar):
            yield item.text
