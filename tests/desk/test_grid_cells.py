"""What a cell of the desk shows and writes: the same value back, and only keys that a job has."""

from __future__ import annotations

from typing import Any

from cardgen.desk.grid_edits import changes_of
from cardgen.desk.grid_rows import rows_of
from cardgen.desk.grid_sections import NAME, SECTIONS
from cardgen.editing import edited
from cardgen.job import fields
from cardgen.reading import parse
from cardgen.reading.shapes import BlockShape, OrNotKnown
from tests.jobs import SAMPLES, sample

SHAPES: dict[str, BlockShape[Any]] = {
    "stations": fields.STATION,
    "boxes": fields.BOX,
    "cables": fields.CABLE,
    "controllers": fields.CONTROLLER,
    "coils": fields.COIL,
    "connectors": fields.CONNECTOR,
    "master valves": fields.MASTER_VALVE,
    "relays": fields.RELAY,
    "decoders": fields.DECODER,
    "sensors": fields.SENSOR,
    "spares": fields.SPARE,
    "pigtails": fields.PIGTAIL,
}


def test_columns_are_keys_of_the_job_file_and_offer_not_known_where_it_may_be_said() -> None:
    for section in SECTIONS:
        if section.is_bare:
            continue
        known = {field.key: field for field in SHAPES[section.name].fields}
        for column in section.columns:
            field = known[column.key]
            may_be = field.may_be_unknown or isinstance(field.shape, OrNotKnown)
            assert column.may_be_unknown == may_be, (section.name, column.key)


def test_every_cell_of_the_samples_written_back_changes_no_byte() -> None:
    """No value of theirs is one that a cell cannot hold."""
    for name in SAMPLES:
        text = sample(name)
        root, _ = parse(text, "")
        for section, rows in rows_of(root).items():
            cells = [
                [row[NAME], key, value] for row in rows for key, value in row.items() if key != NAME
            ]
            assert not [cell for cell in cells if cell[2] is None], section
            sent = {"section": section, "cells": cells}
            assert edited(text, changes_of(root, sent)) == text, section


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
