"""Turn what was typed and pasted into a grid into changes of the file's text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from cardgen.address import new_record_key
from cardgen.desk.grid_rows import entries_of, value_at
from cardgen.desk.grid_sections import FORMS, NAME, SECTION, GridSection
from cardgen.editing import Change, Put, Remove, Rename
from cardgen.problems import UserError
from cardgen.reading.nodes import Mapping as MappingNode
from cardgen.reading.nodes import Node

MOST_EDITS = 50_000  # of one paste: 2,000 rows with room; our choice
_LONGEST_CELL = 2_000  # characters; our choice
_NUMBERED = re.compile(r"(.*?)(\d+)")


class BadEdit(UserError):
    """What came from the page cannot be written into the file."""


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
    if section in FORMS:
        return list(_form_changes(root, str(section), _cells(sent)))
    if section not in SECTION:
        raise BadEdit(f"there is no table '{section}'")
    grid, names = SECTION[section], [entry.key.text for entry in entries_of(root, section)]
    changes = list(_cell_changes(root, grid, _cells(sent), names))
    for name in _texts(sent.get("removed", [])):
        if name not in names:
            raise BadEdit(f"there is no '{name}' any more")
        names.remove(name)
        changes.append(Remove(path=(section, name)))
    changes += _new_rows(root, grid, sent.get("rows", []), names)
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
    path = (grid.name, row) if grid.is_bare else (grid.name, row, key)
    if text:
        yield Put(path=path, value=column.values_in(text), after=_before(root, grid, row, key))
    elif grid.is_bare:
        yield Put(path=path, value=[])
    elif value_at(root, *path) is not None:
        yield Remove(path=path)


def _before(root: Node | None, grid: GridSection, row: str, key: str) -> str:
    """The key after which a new one goes: the nearest of the columns before it that is there."""
    entry = value_at(root, grid.name, row)
    there = {e.key.text for e in entry.entries} if isinstance(entry, MappingNode) else set()
    keys = [column.key for column in grid.columns]
    earlier = keys[: keys.index(key)]
    return next((each for each in reversed(earlier) if each in there), "")


def _new_rows(
    root: Node | None, grid: GridSection, rows: Any, names: list[str]
) -> Iterator[Change]:
    begun = isinstance(value_at(root, grid.name), MappingNode)
    for row in rows if isinstance(rows, list) else ():
        texts = {key: text for key, text in _row(row).items() if text}
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
    root: Node | None, section: str, cells: Iterable[Sequence[str]]
) -> Iterator[Change]:
    for _, key, text in cells:
        if key not in FORMS[section]:
            raise BadEdit(f"there is no field '{key}'")
        there = value_at(root, section)
        if text and not isinstance(there, MappingNode):
            yield Put(path=(section,), value={key: text} | _beside(section, key))
        elif text:
            yield Put(path=(section, key), value=text)
        elif value_at(root, section, key) is not None:
            yield Remove(path=(section, key))


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


def _row(row: Any) -> dict[str, str]:
    if not isinstance(row, dict):
        raise BadEdit("the page sent what is no row")
    return dict(zip(_texts(list(row)), _texts(list(row.values())), strict=True))


def _texts(values: Any) -> list[str]:
    """Each in one line: a cell of a spreadsheet may have several."""
    if not isinstance(values, list) or not all(isinstance(value, str) for value in values):
        raise BadEdit("the page sent what is no text")
    joined = [" ".join(value.split()) for value in values]
    if any(len(text) > _LONGEST_CELL for text in joined):
        raise BadEdit(f"a cell has more than {_LONGEST_CELL:,} letters", "shorten it")
    return joined
