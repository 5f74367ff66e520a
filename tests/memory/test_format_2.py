"""Records published in the second format load on, and say what they said: no more, no less.

Both files were written by cardgen when it was of that format, from the jobs beside them.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

import pytest

from cardgen.asbuilt import AsBuilt
from cardgen.asbuilt.model import Landed, Role, Use
from cardgen.examine import examine_text
from cardgen.memory.changes import changes, same
from cardgen.memory.codec import TooOld, Unfit
from cardgen.memory.format_2 import upgraded
from cardgen.memory.revisions import from_json, to_json
from cardgen.output.as_printable import as_printable
from cardgen.output.recording import RecordRequest
from cardgen.output.writing import CannotWrite
from tests.jobs import edit
from tests.record.records import BOTH, in_folder, publish, tree, words
from tests.record.test_metal import LIVE

REFERENCES = Path(__file__).parent / "references"
OLD = REFERENCES / "format_2.json"
JOB = OLD.with_suffix(".yaml").read_text("utf-8")
# Of the job LIVE: green is on a hot, and the file of that time says that it is spare.
FALSE = REFERENCES / "format_2_false.json"
KEY = "7Q2F9KX4M3T8"


def made_of(text: str) -> AsBuilt:
    job = as_printable(examine_text(text))
    assert job is not None
    return job.asbuilt


def kept(file: Path) -> AsBuilt:
    (revision,) = from_json(file.read_bytes()).revisions
    return revision


def published(file: Path, out: Path, job: str) -> Path:
    """The folder of a record as that cardgen left it, as far as it is read again."""
    folder = out / KEY
    folder.mkdir()
    (folder / "revisions_.json").write_bytes(file.read_bytes())
    digest = hashlib.sha256(file.read_bytes()).hexdigest()
    manifest = {"job": job, "revision": 1, "files": {"revisions_.json": digest}}
    (folder / "cardgen-manifest.json").write_text(json.dumps(manifest), encoding="utf-8")
    return folder


def test_of_a_sound_job_an_older_file_says_the_same_as_today() -> None:
    """Dead ends, a joined spare, a return of its own, a path and a sensor are in it."""
    then, now = kept(OLD), made_of(JOB)
    assert same(then, now) and same(now, then)
    assert then.boxes and [changes(box.id, then, now) for box in now.boxes] == [()] * 6


@pytest.mark.parametrize(
    ("old", "new", "box", "what"),
    [
        ("hot: K1 blue}", "hot: K1 yellow}", "VB-3", "hot"),
        ("reserved for: lights", "reserved for: drip", "VB-2", "spares"),
        ("small: {takes:", "tiny: {takes:", "VB-3", "joints"),
        ("40 ft, VB-3]", "45 ft, VB-3]", "VB-2", "neighbours"),
        ("return: K2 green", "return: K2 yellow", "VB-4", "spares"),
        ("box: VB-1, hot: K1 red", "box: VB-3, hot: K1 red", "VB-3", "capped"),
        ("box: VB-1, hot: K1 red", "box: VB-3, hot: K1 red", "VB-2", "passing"),
    ],
)
def test_what_is_otherwise_is_told_against_an_older_file_too(
    old: str, new: str, box: str, what: str
) -> None:
    then, now = kept(OLD), made_of(edit(JOB, old, new))
    assert what in {change.what for change in changes(box, then, now)}
    assert not same(then, now)


def test_a_tag_that_called_a_live_conductor_spare_is_out_of_date(tmp_path: Path) -> None:
    folder = published(FALSE, tmp_path, "METAL-1")
    publish(LIVE.replace("revision: 1", "revision: 2"), tmp_path)
    for box in ("VB-2", "VB-3"):
        page = tree((folder / box / "index.html").read_bytes())
        assert any(node.get("class") == "alarm" for node in page.iter()), box
        told = words(page)
        assert "If your tag says revision 1: a new tag is due. Since then:" in told
        assert "spares: was K1 green, now none" in told
    told = words((folder / "VB-1" / "index.html").read_bytes())
    assert "spares: was K1 green (A to VB-3), now K1 green (A to VB-1)" in told


def test_what_said_something_false_is_not_replaced_unasked(tmp_path: Path) -> None:
    published(FALSE, tmp_path, "METAL-1")
    with pytest.raises(CannotWrite, match="revision 1 was published before and said something"):
        publish(LIVE, tmp_path)
    folder = publish(LIVE, tmp_path, RecordRequest(replace=True))
    assert json.loads((folder / "revisions_.json").read_bytes())["format"] == 3


def test_a_record_of_the_second_format_is_published_on(tmp_path: Path) -> None:
    folder = published(OLD, tmp_path, "FINCH-1")
    publish(JOB, tmp_path)  # the same revision: it says the same
    assert json.loads(in_folder(folder)["revisions_.json"])["format"] == 3
    assert "This is the first revision" in words(in_folder(folder)["VB-1/index.html"])
    assert in_folder(folder) == in_folder(publish(JOB, tmp_path / "anew", BOTH))


def test_pages_of_an_older_file_say_what_it_knows(tmp_path: Path) -> None:
    """An older revision is published after it: the newest is still the one of that file."""
    second = tmp_path / "second.json"
    second.write_bytes(OLD.read_bytes().replace(b'"revision": 1,', b'"revision": 2,'))
    folder = published(second, tmp_path, "FINCH-1")
    publish(JOB, tmp_path)
    strip = words((folder / "A" / "index.html").read_bytes())
    assert "Terminal C Colour at this end white WH K1 · 18 AWG Colour at this end white" in strip
    assert "Terminal 1 A1 front lawn, spray VB-1 Colour at this end red RD K1" in strip
    path = words((folder / "D" / "index.html").read_bytes())
    assert "Path, side 1 Colour at this end red RD P" in path
    box = words((folder / "VB-1" / "index.html").read_bytes())
    assert "Capped ends red RD K1 · 18 AWG · to VB-2 Spares here SP-1 green" in box
    assert "dead" not in box
    kept_too = from_json((folder / "revisions_.json").read_bytes()).revisions
    assert [each.revision for each in kept_too] == [1, 2] and kept_too[1] == kept(second)


def test_what_is_upgraded_is_kept_in_the_present_format() -> None:
    history = from_json(OLD.read_bytes())
    assert from_json(to_json(history)) == history


# ---- piece by piece ------------------------------------------------------------------------


def revision(uses: list[Any], terminals: list[Any]) -> dict[str, Any]:
    joint = {"uses": uses, "members": [], "held": "", "as_built": False}
    boxes = [{"joints": [joint], "passing": [{"mark": None, "uses": uses}]}]
    return {"boxes": boxes, "controllers": [{"id": "D", "terminals": terminals}]}


@pytest.mark.parametrize(
    ("said", "use"),
    [
        ("hot A7", Use(role=Role.HOT, of="A7")),
        ("common A", Use(role=Role.COMMON, of="A")),
        ("path 1 of D", Use(role=Role.PATH, of="D", side="1")),
        ("return MV", Use(role=Role.RETURN, of="MV")),
        ("spare SP-1", Use(role=Role.SPARE, of="SP-1")),
        ("sensor S", Use(role=Role.SENSOR, of="S")),
    ],
)
def test_each_text_becomes_its_use(said: str, use: Use) -> None:
    (box,) = upgraded(revision([said], []))["boxes"]
    for found in (box["joints"][0]["uses"], box["passing"][0]["uses"]):
        assert [Use(**each) for each in found] == [use]


def test_rows_of_one_terminal_become_one_terminal_with_each_wire_once() -> None:
    """Each common stood on each C, so four rows for two wires on two terminals."""
    rows: list[dict[str, Any]] = [
        {"name": "C", "use": "common", "owners": [], "linked": [], "wire": wire}
        for wire in ("white", "blue", "white", "blue")
    ]
    rows.append({"name": "path 2", "use": "path", "owners": [], "linked": [], "wire": "black"})
    rows.append({"name": "1", "use": "station", "owners": ["A1"], "linked": [], "wire": None})
    (controller,) = upgraded(revision([], rows))["controllers"]
    common, path, station = controller["terminals"]
    assert [wire["mark"] for wire in common["wires"]] == ["white", "blue"]
    assert common["wires"][0]["uses"] == [{"role": "common", "of": "D", "side": ""}]
    assert path["wires"][0]["uses"] == [{"role": "path", "of": "D", "side": "2"}]
    assert station == {"name": "1", "use": "station", "owners": ["A1"], "linked": []}
    assert all(set(wire) <= set(Landed.__slots__) for wire in common["wires"])


@pytest.mark.parametrize("uses", [["warm A1"], [5], 5, [""]])
def test_what_is_not_of_that_format_is_refused(uses: Any) -> None:
    with pytest.raises(Unfit):
        upgraded(revision(uses, []))


def test_a_file_of_the_first_format_says_what_to_do(tmp_path: Path) -> None:
    first = b'{"format": 1, "revisions": []}'
    with pytest.raises(TooOld):
        from_json(first)
    folder = publish(JOB, tmp_path)
    (folder / "revisions_.json").write_bytes(first)
    before = in_folder(folder)
    with pytest.raises(CannotWrite, match="so old that its revisions cannot be read") as refused:
        publish(JOB, tmp_path)
    assert refused.value.help == "publish all revisions anew into an empty folder"
    assert in_folder(folder) == before
