"""Turn what was typed and pasted into a grid into changes of the file's text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from cardgen.address import new_record_key
from cardgen.desk.grid_columns import NAME, GridSection
from cardgen.desk.grid_lists import BadEdit, list_changes
from cardgen.desk.grid_sections import FORM, SECTION
from cardgen.desk.node_lookup import entries_of, key_in, value_at
from cardgen.editing import Change, Put, Remove, Rename
from cardgen.reading.nodes import Mapping as MappingNode
from cardgen.reading.nodes import Node

MOST_EDITS = 50_000  # of one paste: 2,000 rows with room; our choice
_LONGEST_CELL = 2_000  # characters; our choice
_NUMBERED = re.compile(r"(.*?)(\d+)")


def changes_of(root: Node | None, sent: Mapping[str, Any]) -> list[Change]:
    """The changes, in the order in which they are to be made.

    ```
    {"section": "stations", "cells": [["A1", "area", "front lawn"]],
     "rows": [{"area": "back lawn", "box": "VB-2"}], "removed": ["A7"]}
    ```

    Raises:
        BadEdit: if it is nothing that a grid of this section can send.
    """
    section = sent.get("section")
    if section in FORM:
        return list(_form_changes(root, FORM[section], _cells(sent)))
    if section not in SECTION:
        raise BadEdit(f"there is no table '{section}'")
    grid, cells, removed = SECTION[section], _cells(sent), _texts(sent.get("removed", []))
    rows = list(_rows(sent.get("rows", [])))
    if grid.lead is not None:
        return list(list_changes(root, grid, cells, removed, rows))
    names = [entry.key.text for entry in entries_of(root, section)]
    changes = list(_cell_changes(root, grid, cells, names))
    for name in removed:
        if name not in names:
            raise BadEdit(f"there is no '{name}' any more")
        names.remove(name)
        changes.append(Remove(path=(section, name)))
    changes += _new_rows(root, grid, rows, names)
    return changes


def _cell_changes(
    root: Node | None, grid: GridSection, cells: Iterable[Sequence[str]], names: list[str]
) -> Iterator[Change]:
    """Names last: until then, an entry is found under the name that the page shows."""
    renamed: list[Change] = []
    for row, key, text in cells:
        if row not in names:
            raise BadEdit(f"there is no '{row}' any more")
        if key != NAME:
            yield from _value_change(root, grid, row, key, text)
        elif text == row:
            continue
        elif text in names:
            raise BadEdit(f"there is a '{text}' already", "choose another name")
        elif not text:
            raise BadEdit(f"'{row}' needs a name", "remove the row if it is not wanted")
        else:
            names[names.index(row)] = text
            renamed.append(Rename(path=(grid.name, row), key=text))
    yield from renamed


def _value_change(
    root: Node | None, grid: GridSection, row: str, key: str, text: str
) -> Iterator[Change]:
    column = grid.column.get(key)
    if column is None:
        raise BadEdit(f"there is no column '{key}'")
    *above, last = grid.path_of(row, column)
    path = (*above, last if grid.is_bare else key_in(value_at(root, *above), last))
    if text:
        yield Put(path=path, value=column.values_in(text), after=grid.before(column))
    elif grid.is_bare:
        yield Put(path=path, value=[])
    elif value_at(root, *path) is not None:
        yield Remove(path=path)


def _new_rows(
    root: Node | None, grid: GridSection, rows: Iterable[dict[str, str]], names: list[str]
) -> Iterator[Change]:
    begun = isinstance(value_at(root, grid.name), MappingNode)
    for texts in rows:
        name = texts.pop(NAME, "") or next_name(names, grid)
        if name in names:
            raise BadEdit(f"there is a '{name}' already", "choose another name")
        names.append(name)
        values: Any = {c.key: c.values_in(texts[c.key]) for c in grid.columns if c.key in texts}
        if grid.is_bare:
            values = next(iter(values.values()), [])
        if begun:
            yield Put(path=(grid.name, name), value=values)
        else:
            yield Put(path=(grid.name,), value={name: values})
        begun = True


def next_name(names: Sequence[str], grid: GridSection) -> str:
    """`A7` after `A6`, `VB-3` after `VB-2`: what an entry is called that nobody has named.

    Raises:
        BadEdit: if it must be named.
    """
    if not grid.first:
        raise BadEdit(
            "this row needs the name of its box or controller", "type it in its name cell"
        )
    if not names:
        return grid.first
    match = _NUMBERED.fullmatch(names[-1])
    stem, number = (match[1], int(match[2])) if match else (f"{names[-1]}-", 1)
    while f"{stem}{number}" in names:
        number += 1
    return f"{stem}{number}"


def _form_changes(
    root: Node | None, form: GridSection, cells: Iterable[Sequence[str]]
) -> Iterator[Change]:
    for _, key, text in cells:
        column = form.column.get(key)
        if column is None:
            raise BadEdit(f"there is no field '{key}'")
        path = form.path_of(None, column)
        is_begun = form.is_bare or isinstance(value_at(root, form.name), MappingNode)
        if text and is_begun:
            yield Put(path=path, value=column.values_in(text))
        elif text:
            begun = {key: column.values_in(text)} | _beside(form.name, key)
            yield Put(path=(form.name,), value=begun)
        elif value_at(root, *path) is not None:
            yield Remove(path=path)


def _beside(section: str, key: str) -> dict[str, str]:
    """What a new section cannot be without, and nobody can type: the key of the record."""
    return {"key": new_record_key()} if (section, key) == ("record", "address") else {}


def _cells(sent: Mapping[str, Any]) -> list[tuple[str, str, str]]:
    cells = sent.get("cells", [])
    if not isinstance(cells, list) or len(cells) > MOST_EDITS:
        raise BadEdit("more was pasted than a job can have", "paste it in parts")
    found = [tuple(_texts(cell)) for cell in cells]
    if any(len(cell) != 3 for cell in found):
        raise BadEdit("the page sent what is no cell")
    return [(row, key, text) for row, key, text in found]


def _rows(rows: Any) -> Iterator[dict[str, str]]:
    """Each with what is said in it."""
    for row in rows if isinstance(rows, list) else ():
        if not isinstance(row, dict):
            raise BadEdit("the page sent what is no row")
        texts = zip(_texts(list(row)), _texts(list(row.values())), strict=True)
        yield {key: text for key, text in texts if text}


def _texts(values: Any) -> list[str]:
    """Each in one line: a cell of a spreadsheet may have several."""
    if not isinstance(values, list) or not all(isinstance(value, str) for value in values):
        raise BadEdit("the page sent what is no text")
    joined = [" ".join(value.split()) for value in values]
    if any(len(text) > _LONGEST_CELL for text in joined):
        raise BadEdit(f"a cell has more than {_LONGEST_CELL:,} letters", "shorten it")
    return joined
