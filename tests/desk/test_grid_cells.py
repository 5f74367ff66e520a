"""What a cell of the desk shows and writes: the same value back, and only keys that a job has."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from cardgen.desk.cell_places import CellPlaces
from cardgen.desk.grid_columns import NAME, GridColumn, GridSection
from cardgen.desk.grid_edits import changes_of
from cardgen.desk.grid_rows import forms_of, rows_of
from cardgen.desk.grid_sections import FORM, SECTION
from cardgen.editing import edited
from cardgen.job import fields
from cardgen.job.job_loader import TOP, BareEntry
from cardgen.problems import Span
from cardgen.reading import parse
from cardgen.reading.shapes import (
    BlockShape,
    Field,
    ListOf,
    OneOf,
    OrNotKnown,
    PrintedText,
    SaidShape,
    Shape,
    TableOf,
    TextsByHeading,
)
from tests.jobs import SAMPLES, sample

# Keys whose values are rows of another grid, for they are blocks of several keys.
IN_ANOTHER_GRID = {("cables", "singles"): "singles"}


def bare(shape: Shape[Any]) -> Shape[Any]:
    """Without those that only keep something beside the value."""
    while isinstance(shape, (SaidShape, PrintedText)):
        shape = shape.inner
    return shape


def item(shape: Shape[Any]) -> Shape[Any] | None:
    return bare(shape.inner) if isinstance(shape, ListOf) else None


def blocks() -> Iterator[tuple[GridSection, BlockShape[Any]]]:
    """Each grid and each form of the desk whose entries have keys, with the table of these."""
    for field in TOP.fields:
        shape = bare(field.shape)
        if isinstance(shape, TableOf) and not isinstance(shape.record, BareEntry):
            yield SECTION[field.key], shape.record
        elif isinstance(shape, BlockShape):
            yield FORM[field.key], shape
        elif isinstance(block := item(shape), BlockShape):
            yield SECTION[field.key], block
    for name in IN_ANOTHER_GRID.values():
        yield SECTION[name], fields.SINGLE


def test_every_key_of_a_job_file_has_a_cell_or_a_field_and_no_other_has() -> None:
    sections = {name for name in SECTION if not SECTION[name].owners} | FORM.keys()
    assert sections == {field.key for field in TOP.fields}
    assert {name for name in SECTION if SECTION[name].owners} == set(IN_ANOTHER_GRID.values())
    for section, block in blocks():
        elsewhere = {key for name, key in IN_ANOTHER_GRID if name == section.name}
        keys = [column.key for column in section.written]
        assert len(keys) == len(set(keys)), section.name
        assert keys and set(keys) | elsewhere == {f.key for f in block.fields}, section.name


def test_a_cell_takes_what_its_key_may_hold() -> None:
    """Several values, pairs, lists in lists; and it offers the words that are taken."""
    for section, block in blocks():
        columns = {column.key: column for column in section.written}
        for field in block.fields:
            if (section.name, field.key) not in IN_ANOTHER_GRID:
                takes_what_it_may(section.name, columns[field.key], field)


def takes_what_it_may(section: str, column: GridColumn, field: Field[Any]) -> None:
    shape, place = bare(field.shape), (section, column.key)
    is_or_not = isinstance(field.shape, OrNotKnown)
    assert column.may_be_unknown == (field.may_be_unknown or is_or_not), place
    if isinstance(shape, OneOf):
        assert set(column.offered) == set(shape.words), place
    else:
        assert not column.offered, place
    if isinstance(shape, TableOf):
        assert [f.key for f in shape.record.fields] == [column.inner], place
    assert bool(column.keyed) == isinstance(shape, (BlockShape, TextsByHeading)), place
    assert bool(column.within) == isinstance(item(shape), ListOf), place
    if isinstance(shape, ListOf):
        assert column.between, place
        assert column.listed or column.within or shape.single, place


def test_every_cell_of_the_samples_written_back_changes_no_byte() -> None:
    """No value of theirs is one that a cell cannot hold."""
    for name in SAMPLES:
        text = sample(name)
        root, _ = parse(text, "")
        for section, rows in rows_of(root).items():
            cells = [
                [row.get("id", row[NAME]), key, value]
                for row in rows
                for key, value in row.items()
                if key not in (NAME, "id") or (key == NAME and SECTION[section].lead)
            ]
            assert not [cell for cell in cells if cell[2] is None], section
            sent = {"section": section, "cells": cells}
            assert edited(text, changes_of(root, sent)) == text, section
        for name_, values in forms_of(root).items():
            fields_ = [["", key, value] for key, value in values.items()]
            assert not [field for field in fields_ if field[2] is None], name_
            sent = {"section": name_, "cells": fields_}
            assert edited(text, changes_of(root, sent)) == text, name_


def test_rare_values_are_shown_and_written_as_a_person_writes_them() -> None:
    """By hand: pairs, jumpers, and a heading of one's own list."""
    text = (
        "controllers:\n"
        "  A: {jumpers: [[7, 8, 3], [1, 2]], polarity: {hot: red, common: black}}\n"
        "stations:\n"
        "  A1: {extra: {Plants: roses, Slope: steep}}\n"
        "reels: [500 ft, 1000 ft]\n"
    )
    root, _ = parse(text, "")
    (controller,) = rows_of(root)["controllers"]
    assert controller["jumpers"] == "7, 8, 3; 1, 2"
    assert controller["polarity"] == "hot red, common black"
    assert rows_of(root)["stations"][0]["extra"] == "Plants: roses; Slope: steep"
    assert forms_of(root)["reels"] == {"reels": "500 ft, 1000 ft"}
    cells = [["A", "jumpers", "7, 8"], ["A", "polarity", "hot red, common white"]]
    new = edited(text, changes_of(root, {"section": "controllers", "cells": cells}))
    assert "A: {jumpers: [[7, 8]], polarity: {hot: red, common: white}}" in new
    cells = [["A1", "extra", "Plants: roses"]]
    new = edited(text, changes_of(root, {"section": "stations", "cells": cells}))
    assert "A1: {extra: {Plants: roses}}" in new
    cells = [["", "reels", "500 ft"], ["", "run", "15 %"]]
    new = edited(text, changes_of(root, {"section": "reels", "cells": cells[:1]}))
    assert new.endswith("\nreels: 500 ft\n")
    new = edited(text, changes_of(root, {"section": "slack", "cells": cells[1:]}))
    assert new == text + "slack: {run: 15 %}\n"
    new = edited(text, changes_of(root, {"section": "reels", "cells": [["", "reels", ""]]}))
    assert new == text.removesuffix("reels: [500 ft, 1000 ft]\n")


def test_twins_and_joints_are_written_as_a_person_writes_them() -> None:
    quarry = sample("quarry")
    root, _ = parse(quarry, "")
    rows = {row[NAME]: row for row in rows_of(root)["stations"]}
    assert rows["A10"]["valves"] == "A10a VB-4, A10b VB-4"
    joints = {row[NAME]: row for row in rows_of(root)["joints"]}
    assert joints["VB-4"]["joints"] == (
        "A-K2 white in, A-K2 white out, A9, A10a, A10b; A-K2 red in, A9; A-K2 blue in, A10a, A10b"
    )
    sent: dict[str, Any] = {
        "section": "stations",
        "cells": [["A10", "valves", "A10a VB-4, A10b VB-5"]],
    }
    assert "valves: {A10a: {box: VB-4}, A10b: {box: VB-5}}}" in edited(
        quarry, changes_of(root, sent)
    )
    more = joints["VB-4"]["joints"].replace("A-K2 red in, A9;", "A-K2 red in, A-K2 red out;")
    sent = {"section": "joints", "cells": [["VB-4", "joints", more]]}
    new = edited(quarry, changes_of(root, sent))
    assert new == quarry.replace("- [A-K2 red in, A9]", "- [A-K2 red in, A-K2 red out]")
    sent = {"section": "joints", "rows": [{"name": "VB-6", "joints": "A-K2 white, A13, A14"}]}
    assert "\n  VB-6:\n    - [A-K2 white, A13, A14]\n" in edited(quarry, changes_of(root, sent))


def test_a_key_in_british_spelling_is_the_same_column_and_stays_as_it_is() -> None:
    text = (
        "cables:\n"
        "  A-K1: {colours: [red, white], run: [A, VB-1]}\n"
        "  A-S1:\n"
        "    singles:\n"
        "      - {colour: red, count: 2}\n"
    )
    root, _ = parse(text, "")
    assert rows_of(root)["cables"][0]["colors"] == "red, white"
    assert rows_of(root)["singles"][0]["color"] == "red"
    cable = CellPlaces(root).at(Span("", 2, 20))
    assert (cable.row, cable.key) == ("A-K1", "colors")
    single = CellPlaces(root).at(Span("", 5, 19))
    assert (single.section, single.key) == ("singles", "color")
    sent = {"section": "cables", "cells": [["A-K1", "colors", "red, blue"]]}
    assert edited(text, changes_of(root, sent)) == text.replace("white]", "blue]")
    sent = {"section": "singles", "cells": [["A-S1 1", "color", "tan"]]}
    assert edited(text, changes_of(root, sent)) == text.replace("colour: red", "colour: tan")
