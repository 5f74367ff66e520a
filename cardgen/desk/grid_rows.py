"""Turn the nodes of a job file into the rows of its grids, each value as the file has it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from cardgen.desk.grid_columns import NAME, GridColumn, GridSection
from cardgen.desk.grid_lists import items_of
from cardgen.desk.grid_sections import FORMS, SECTIONS
from cardgen.desk.node_lookup import entries_of, value_at
from cardgen.editing.plain_values import plain
from cardgen.reading.nodes import KeyValue, Mapping, Node, Scalar, Sequence


def rows_of(root: Node | None) -> dict[str, list[dict[str, Any]]]:
    """By section: `{"name": "A1", "area": "front lawn", ...}`.

    What cannot be shown as one line of text is None: it is changed in the file only.
    """
    return {section.name: list(_rows(root, section)) for section in SECTIONS}


def _rows(root: Node | None, section: GridSection) -> Iterator[dict[str, Any]]:
    if section.lead is not None:
        yield from _list_rows(root, section, section.lead)
        return
    for entry in entries_of(root, section.name):
        yield _row(section, entry.key.text, entry.value)


def _list_rows(
    root: Node | None, section: GridSection, lead: GridColumn
) -> Iterator[dict[str, Any]]:
    """With the number by which the page names each."""
    for id_, item in items_of(root, section).items():
        row = _row(section, item.within.owner, item.node)
        if not section.owners:
            row[NAME] = _text(item.node if section.is_bare else value_at(item.node, lead.key), lead)
        yield {"id": id_, **row}


def forms_of(root: Node | None) -> dict[str, dict[str, str | None]]:
    """By section of one entry, the value of each of its keys."""
    return {
        form.name: {
            column.key: _text(value_at(root, *form.path_of(None, column)), column)
            for column in form.columns
        }
        for form in FORMS
    }


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
    has_keys = bool(column.inner or column.keyed)
    if isinstance(node, Sequence):
        return () if has_keys else node.items
    return node.entries if has_keys and isinstance(node, Mapping) else ()


def _part(item: Any, column: GridColumn) -> str | None:
    """One of several values: `A1`, `A-K1 white in, A1`, `A10a VB-4`, or `Plants: roses`."""
    if isinstance(item, KeyValue) and column.keyed:
        value, sign = item.value, column.keyed.strip()
        return f"{item.key.text}{sign} {value.text}" if isinstance(value, Scalar) else None
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
