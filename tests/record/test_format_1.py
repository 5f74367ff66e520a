"""Records published in the first format load for ever, and say what they said."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

import pytest

from cardgen.build.ready import ready
from cardgen.examine import examine_text
from cardgen.memory.codec import loaded
from cardgen.record import Revision, Unfit, from_json, gather
from cardgen.record.format_1 import upgraded
from cardgen.record.model import Controller, Sensor, Terminal
from tests.record.records import in_folder, publish, words

# Written by cardgen when it was of that format, and the job from which it was.
OLD = Path(__file__).parent / "references" / "format_1.json"
JOB = OLD.with_suffix(".yaml").read_text("utf-8")


def made_of(text: str) -> Revision:
    job = ready(examine_text(text))
    assert job is not None
    return gather(job)


def test_what_was_published_is_what_is_gathered_today_but_for_the_loops_of_spares() -> None:
    history = from_json(OLD.read_bytes())
    assert history.languages == ("en",)
    (revision,) = history.revisions
    now = made_of(JOB)
    assert revision.controllers == now.controllers
    assert revision.stations == now.stations


def test_a_record_of_the_first_format_is_published_on(tmp_path: Path) -> None:
    folder = tmp_path / "4C8NW2T6RJ9H"
    folder.mkdir()
    (folder / "revisions_.json").write_bytes(OLD.read_bytes())
    digest = hashlib.sha256(OLD.read_bytes()).hexdigest()
    manifest = {"job": "SAND-04", "revision": 1, "files": {"revisions_.json": digest}}
    (folder / "cardgen-manifest.json").write_text(json.dumps(manifest), encoding="utf-8")
    publish(JOB, tmp_path)  # the same revision: it says the same
    assert json.loads(in_folder(folder)["revisions_.json"])["format"] == 2
    assert "This is the first revision" in words(in_folder(folder)["VB-1/index.html"])


WHITE = {
    "cable": "A-K1",
    "word": "white",
    "code": "WH",
    "base": "white",
    "stripe": "",
    "band": "",
    "flag": "",
    "gauge": "18 AWG",
}


def controller(rows: list[list[Any]], sensors: list[str]) -> Controller:
    columns = ["terminal", "station", "area", "box", "colour at this end", "reads, Ω", "notes"]
    said = {
        "id": "A",
        "where": "wall",
        "supply": "24 V AC",
        "box": "",
        "neighbours": [],
        "terminals": {"columns": columns, "rows": rows},
        "sensors": sensors,
    }
    (found,) = upgraded({"controllers": [said]})["controllers"]
    made = loaded(Controller, found)
    assert isinstance(made, Controller)
    return made


def test_each_kind_of_row_becomes_its_facts() -> None:
    found = controller(
        [
            ["C", "common", "for A1 to A8; 2 in one connector, pigtail to C", "", WHITE, "", ""],
            ["7", "A7", "lawn", "VB-3", WHITE, "34.3", "linked with 8; red at the valve"],
            ["8", "–", "empty", "", "", "", "linked with 7"],
            ["MV", "MV-1", "master valve", "MVB-1", "to the isolator", "–", "master valve"],
            ["SEN", "RAIN FLOW", "sensor", "", "", "", ""],
            ["PATH 1", "path", "", "", WHITE, "–", ""],
            ["address 201", "D1", "trees", "DX-1", "", "–", "serial 5"],
        ],
        [],
    )
    common, seven, eight, master, sensor, path, address = found.terminals
    assert (common.use, common.name) == ("common", "C")
    assert common.wire is not None and common.wire.word == "white"
    assert seven == Terminal(name="7", use="station", owners=("A7",), linked=("8",))
    assert eight == Terminal(name="8", use="empty", linked=("7",))
    assert master == Terminal(name="MV", use="station", owners=("MV-1",))
    assert sensor == Terminal(name="SEN", use="sensor", owners=("RAIN", "FLOW"))
    assert (path.use, path.name) == ("path", "path 1")
    assert address == Terminal(name="201", use="address", owners=("D1",))


@pytest.mark.parametrize(
    ("sentence", "expected"),
    [
        (
            "RAIN: rain sensor (garage eave), normally closed, on SEN.",
            Sensor(
                id="RAIN",
                kind="rain",
                where="garage eave",
                contact="normally closed",
                in_common=False,
            ),
        ),
        (
            "F: flow sensor (main, at FS-1 (old)), on SEN by A-F red, A-F black.",
            Sensor(
                id="F",
                kind="flow",
                where="main, at FS-1 (old)",
                contact="",
                in_common=False,
                wires=("A-F red", "A-F black"),
            ),
        ),
        (
            "R: other sensor, normally open, in the common. If all stations read open, look here.",
            Sensor(id="R", kind="other", where="", contact="normally open", in_common=True),
        ),
    ],
)
def test_each_sentence_of_a_sensor_becomes_its_facts(sentence: str, expected: Sensor) -> None:
    assert controller([], [sentence]).sensors == (expected,)


@pytest.mark.parametrize("sensors", [["no sentence of that time"], [5]])
def test_what_is_not_of_that_format_is_refused(sensors: list[Any]) -> None:
    with pytest.raises((Unfit, TypeError)):
        controller([], sensors)
