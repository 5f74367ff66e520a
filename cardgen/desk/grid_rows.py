"""Turn the nodes of a job file into the rows of its grids, each value as the file has it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from cardgen.desk.grid_sections import FORMS, NAME, SECTIONS, GridColumn, GridSection
from cardgen.editing.plain_values import plain
from cardgen.reading.nodes import KeyValue, Mapping, Node, Scalar, Sequence


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
    if not plain(node):
        return ""
    parts = [part for item in _items(node, column) if (part := _part(item, column)) is not None]
    shown = f"{column.between} ".join(parts)
    # What is left out, or holds a separator of its own, would not come back as it is.
    return shown if parts and column.values_in(shown) == _meant(node, column) else None


def _items(node: Node, column: GridColumn) -> tuple[Any, ...]:
    if isinstance(node, Sequence):
        return () if column.inner else node.items
    return node.entries if column.inner and isinstance(node, Mapping) else ()


def _part(item: Any, column: GridColumn) -> str | None:
    """One of several values: `A1`, `A-K1 white in, A1`, or `A10a VB-4`."""
    if isinstance(item, KeyValue):
        only = value_at(item.value, column.inner)
        if not isinstance(item.value, Mapping) or len(item.value.entries) > 1:
            return None
        return f"{item.key.text} {only.text}" if isinstance(only, Scalar) else None
    if isinstance(item, Sequence) and column.within:
        texts = [part.text for part in item.items if isinstance(part, Scalar)]
        return f"{column.within} ".join(texts) if len(texts) == len(item.items) else None
    return item.text if isinstance(item, Scalar) and not column.within else None


def _meant(node: Node, column: GridColumn) -> Any:
    """A list of one is as good as the one."""
    said = plain(node)
    is_one = isinstance(said, list) and len(said) == 1 and not (column.listed or column.within)
    return said[0] if is_one else said
