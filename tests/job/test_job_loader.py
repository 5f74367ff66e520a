"""Whole files: what is read, what is reported, and how far the reading goes on."""

from __future__ import annotations

import codecs
from pathlib import Path

import pytest

from cardgen.job import load
from cardgen.trade.slack import Slack
from cardgen.units import Length, LengthUnit
from tests.for_each import for_each
from tests.jobs import (
    SAMPLE_JOBS,
    SAMPLES,
    Found,
    edit,
    found_in,
    loaded,
    place_of,
    problems_of,
    sample,
    well_said,
)

HEAD = """\
job: {code: T-1, site: test, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
"""
LARKSPUR = sample("larkspur")


@pytest.mark.parametrize("name", SAMPLES)
def test_sample_loads_without_a_problem(name: str) -> None:
    job, problems = load(SAMPLE_JOBS / f"{name}.yaml")
    assert job is not None
    assert problems == ()
    assert job.reported == frozenset()


def test_slack_and_reels_for_ordering_wire() -> None:
    job, problems = loaded(f"{HEAD}slack: {{run: 15 %, box end: 12 in}}\nreels: 500 ft\n")
    assert job is not None and problems == ()
    assert job.slack == Slack(run=0.15, box_end=Length(12, LengthUnit.INCHES))
    assert job.reels == (Length(500, LengthUnit.FEET),)
    usual, _ = loaded(HEAD)
    assert usual is not None
    assert (usual.slack, usual.reels) == (Slack(), ())


def test_slack_that_cannot_be_true() -> None:
    _, problems = loaded(f"{HEAD}slack: {{run: 150 %, valve: 40 ft, coils: 2 ft}}\n")
    assert [problem.sentence for problem in problems] == [
        "a part of the run of 150 % is far out of range",
        "a length of 40 ft is far out of range for slack",
        "'slack' has no key 'coils'",
    ]


def test_record_keys_of_the_samples_differ() -> None:
    jobs = [loaded(sample(name))[0] for name in SAMPLES]
    keys = {job.record.key.value for job in jobs if job and job.record}
    assert len(keys) == len(SAMPLES)


def test_smallest_file() -> None:
    job, problems = loaded(HEAD)
    assert job is not None
    assert (job.stations, job.changes, problems) == ({}, (), ())


def test_what_a_job_says() -> None:
    job, _ = loaded(LARKSPUR)
    assert job is not None and job.info is not None and job.record is not None
    assert (job.info.code.value, job.info.revision, job.info.date) == ("LARK-06", 1, "2026-03-14")
    assert job.record.address.value == "HTTPS://JOBS.EXAMPLE.COM"
    assert list(job.stations) == ["A1", "A2", "A3", "A4", "A5", "A6"]
    leg = job.cables["A-K1"].run[1].leg
    assert leg is not None and leg.value == Length(85, LengthUnit.FEET)
    assert job.controllers["A"].terminals[:3] == ("C", "1", "2")


def test_what_is_said_knows_its_place() -> None:
    job, _ = loaded(LARKSPUR)
    assert job is not None
    (hot,) = job.stations["A3"].hot or ()
    assert (hot.span.line, hot.span.column) == place_of(LARKSPUR, "A-K1 green")
    assert hot.span.length == len("A-K1 green")


@for_each(
    ("text", "found"),
    [
        ("", [("file-empty", 1, 1)]),
        ("# nothing\n", [("file-empty", 1, 1)]),
        ("hello", [("wrong-type", 1, 1)]),
        ("- a\n- b\n", [("wrong-type", 1, 1)]),
        ("{}", [("missing", 1, 1)]),
        ("job:\nrecord:\n", [("wrong-type", 1, 1), ("wrong-type", 2, 1)]),
        ("job: no\nrecord: []\n", [("wrong-type", 1, 6), ("wrong-type", 2, 9)]),
        (HEAD + "job: {}\n", [("duplicate-key", 3, 1)]),
        (HEAD + "statoins: {}\n", [("unknown-key", 3, 1)]),
        (HEAD + "Stations: {}\n", [("unknown-key", 3, 1)]),
        (HEAD + "zones: {}\n", [("unknown-key", 3, 1)]),
        (HEAD + "boxes: [VB-1, VB-2]\n", [("wrong-type", 3, 8)]),
        (HEAD + "boxes: VB-1\n", [("wrong-type", 3, 8)]),
        (HEAD + "boxes:\n- VB-1\n", [("wrong-type", 4, 1)]),
        (HEAD + "surge units: VB-1\n", [("wrong-type", 3, 14)]),
        (HEAD + "changes: {revision: 1}\n", [("wrong-type", 3, 10)]),
        (HEAD + "changes: [first issue]\n", [("wrong-type", 3, 11)]),
        (HEAD + "palettes: {seven: red}\n", [("wrong-type", 3, 19)]),
        (HEAD + "palettes: {seven: }\n", [("wrong-type", 3, 12)]),
        (HEAD + "joints: {A: [[a]]}\n", [("unknown-name", 3, 10)]),
        (HEAD + "boxes: {V: }\njoints: {V: [a, b]}\n", [("wrong-type", 4, 13)]),
        (HEAD + "boxes: {V: }\njoints: {V: [[]]}\n", [("too-few", 4, 14)]),
        (HEAD + "boxes: {V: }\njoints: {V: }\n", [("wrong-type", 4, 10)]),
        (HEAD + "boxes:\n\tV: {}\n", [("tab", 4, 1)]),
        (HEAD + "boxes: {V: {size: a: b}}\n", [("not-yaml", 3, 20)]),
        (HEAD + "boxes: &b {V: *b}\n", [("alias-unknown", 3, 15)]),
        (HEAD + "---\n", [("second-document", 3, 1)]),
        (HEAD + "\0", [("not-text", 3, 1)]),
    ],
)
def test_not_a_job(text: str, found: list[Found]) -> None:
    assert problems_of(text) == found


@pytest.mark.parametrize("empty", ["", " # to come", "\n# - one to come"])
@pytest.mark.parametrize("section", ["stations", "boxes", "joints", "surge units", "changes"])
def test_section_may_stay_empty(section: str, empty: str) -> None:
    assert problems_of(f"{HEAD}{section}:{empty}\n") == []


@for_each(
    ("old", "new", "code", "found"),
    [
        # Keys: unknown, missing, twice, split.
        ("place: garage wall", "plase: garage wall", "unknown-key", "plase"),
        ("coil: usual", "solenoid: usual", "unknown-key", "solenoid"),
        ("band: yellow tape", "color: yellow", "unknown-key", "color"),
        ("palette: five", "pallete: five", "unknown-key", "pallete"),
        ('"front beds, drip"', "front beds, drop", "comma", "drop"),
        ("place: front walk", "place: front walk, left", "comma", "left"),
        ("total limit: 1.0 A", "station limit: 1.0 A", "duplicate-key", "station limit: 1"),
        ("code: LARK-06, ", "", "missing", "job: {"),
        ("revision: 1, ", "", "missing", "job: {"),
        ("    place: garage wall\n", "", "missing", "A:\n"),
        ("run: [A, 140 ft, VB-3]", "shielded: no", "missing", "A-K2: {"),
        ('area: "front beds, drip", ', "", "missing", "A3: {"),
        ("kind: rain, ", "", "missing", "RAIN"),
        # Things without a value, or with one of another shape.
        ("place: garage wall", "place:", "wrong-type", "place:\n"),
        ("place: garage wall", "place: [garage, wall]", "wrong-type", "[garage, wall]"),
        ("place: garage wall", "place: {a: b}", "wrong-type", "{a: b}"),
        ("place: garage wall", "place: ''", "wrong-type", "''"),
        ("place: garage wall", "place: " + "x" * 201, "too-long", "x" * 201),
        ("stations: 8", "stations: eight", "value", "eight"),
        ("stations: 8", "stations: 8.0", "value", "8.0"),
        ("stations: 8", "stations: 1000", "out-of-range", "1000"),
        ("18 AWG, palette: seven", "[18 AWG], palette: seven", "wrong-type", "[18 AWG]"),
        ("sensor contact: normally closed", "sensor contact: NC", "unknown-word", "NC"),
        ("sensor jumper: removed", "sensor jumper: no", "unknown-word", "no\n"),
        ("kind: rain", "kind: wind", "unknown-word", "wind"),
        ("takes: [2-5 x 18 AWG]", "takes: []", "too-few", "[]"),
        ("run: [A, 85 ft, VB-1, 60 ft, VB-2]", "run: A to VB-2", "wrong-type", "A to VB-2"),
        ("terminals: [C, 1 to 8, MV, SEN, SEN]", "terminals: C", "wrong-type", "C\n    coil"),
        ("common: [A-K1 white, A-K2 white]", "jumpers: [7, 8]", "wrong-type", "[7, 8]"),
        ("common: [A-K1 white, A-K2 white]", "polarity: red", "wrong-type", "red\n"),
        ("band: yellow tape", "singles: {color: red}", "wrong-type", "{color"),
        ("band: yellow tape", "singles: [red]", "wrong-type", "red]"),
        # Quantities without a unit, or far out of range.
        ("85 ft", "85", "unit-missing", "85, VB-1"),
        ("85 ft", "85,5 ft", "comma", "85,5"),
        ("30 ohm", "30", "unit-missing", "30, inrush"),
        ("0.40 A", "0.40", "unit-missing", "0.40"),
        ("0.40 A", "0,40 A", "comma", "0,40"),
        ("0.23 A", "230 A", "out-of-range", "230 A"),
        ("20 V", "20", "unit-missing", "20}"),
        ("station limit: 0.5 A", "station limit: 0.5", "unit-missing", "0.5\n"),
        ("total limit: 1.0 A", "wire limit: 100", "unit-missing", "100\n"),
        ("total limit: 1.0 A", "fuse: 1.5", "unit-missing", "1.5\n"),
        ("total limit: 1.0 A", "fuse: 150 A", "out-of-range", "150 A"),
        ("18 AWG, palette: seven", "18, palette: seven", "unit-missing", "18, palette"),
        ("18 AWG, palette: seven", "17 AWG, palette: seven", "gauge-not-made", "17 AWG"),
        ("supply: 24 V AC\n", "supply: 120 V AC\n", "out-of-range", "120 V AC"),
        # Colors, dates, addresses, keys.
        ("seven: [white, red", "seven: [white, redd", "unknown-color", "redd"),
        ("date: 2026-03-14", "date: 14.3.2026", "value", "14.3.2026"),
        ("date: 2026-03-14", "date: 2026-02-30", "value", "2026-02-30"),
        ("https://jobs.example.com", "https://jobs.example.com/j", "value", "https://jobs"),
        ("https://jobs.example.com", "javascript:alert(1)", "value", "javascript"),
        ("key: 7Q2F9KX4M3T8", "key: 7q2f9kx4m3t8", "value", "7q2f9kx4m3t8"),
        ("place: front walk", "coordinates: 51 N", "value", "51 N"),
        # Names.
        ("  A4: {", "  A 4: {", "name", "A 4"),
        ("  A4: {", "  \u04104: {", "look-alike-character", "\u04104"),
        ("  A4: {", "  A\u20114: {", "look-alike-character", "A\u20114"),
        ("  A4: {", "  A3: {", "duplicate-key", 'A3: {area: "back'),
        ("  A4: {", "  VB-3: {", "name-used-twice", "VB-3: {area"),
        ("coil: usual", "coil: usaul", "unknown-name", "usaul"),
    ],
)
def test_one_break_one_problem(old: str, new: str, code: str, found: str) -> None:
    text = edit(LARKSPUR, old, new)
    assert problems_of(text) == [(code, *place_of(text, found))]


def test_all_faults_in_one_run() -> None:
    text = edit(LARKSPUR, "85 ft", "85")
    text = edit(text, "kind: rain", "kind: wind")
    text = edit(text, "palette: five", "palette: fiv")
    assert [code for code, *_ in problems_of(text)] == [
        "unit-missing",
        "unknown-name",
        "unknown-word",
    ]


def test_entry_that_cannot_be_read_is_left_out_and_remembered() -> None:
    job, _ = loaded(edit(LARKSPUR, "85 ft", "85"))
    assert job is not None
    assert list(job.cables) == ["A-K2"]
    assert job.reported == {"A-K1"}


def test_valves_of_a_station_that_cannot_be_read_are_remembered_too() -> None:
    job, _ = loaded(edit(sample("quarry"), "A10: {area:", "A10: {aera:"))
    assert job is not None
    assert job.reported == {"A10", "A10a", "A10b"}


def test_with_a_section_gone_nothing_more_is_guessed() -> None:
    assert loaded(edit(LARKSPUR, "boxes:\n", "boxs:\n"))[0] is None


@pytest.mark.parametrize(
    "word", ["no", "on", "yes", "1:30", "0x1A", "08", "1e3", "~", "null", "2026-03-14", "1_000"]
)
def test_what_yaml_might_take_for_something_else_is_text(word: str) -> None:
    job, problems = loaded(edit(LARKSPUR, "place: front walk", f"place: {word}"))
    assert job is not None
    assert (job.boxes["VB-1"].where, problems) == (word, ())


@pytest.mark.parametrize("word", ["no", "on", "null", "08", "1e3", "0x1A"])
def test_what_yaml_might_take_for_something_else_is_a_name(word: str) -> None:
    job, problems = loaded(LARKSPUR.replace("VB-2", word))
    assert job is not None
    assert (word in job.boxes, problems) == (True, ())


def from_bytes(data: bytes, folder: Path) -> list[Found]:
    path = folder / "job.yaml"
    path.write_bytes(data)
    problems = load(path)[1]
    assert all(problem.span.file == str(path) for problem in problems)
    return found_in(tuple(well_said(problem) for problem in problems))


@pytest.mark.parametrize(
    ("data", "found"),
    [
        (LARKSPUR.replace("\n", "\r\n").encode(), []),
        (LARKSPUR.replace("\n", "\r").encode(), []),
        (codecs.BOM_UTF8 + LARKSPUR.encode(), [("byte-order-mark", 1, 1)]),
        (LARKSPUR.encode("utf-16"), [("not-utf-8", 1, 1)]),
        (LARKSPUR.replace("front walk", "caf\u00e9").encode("latin-1"), [("not-utf-8", 34, 20)]),
        (LARKSPUR.replace("front walk", "caf\u00e9").encode(), []),
        (LARKSPUR.replace("t walk", "t\u00a0walk").encode(), [("unseen-character", 34, 22)]),
        (LARKSPUR.replace("front walk", "front\0walk").encode(), [("not-text", 34, 22)]),
        (b"PK\x03\x04\x14\x00\x06\x00", [("not-text", 1, 1)]),
    ],
    ids=range(9),
)  # fmt: skip
def test_bytes(data: bytes, found: list[Found], tmp_path: Path) -> None:
    assert from_bytes(data, tmp_path) == found


def test_file_that_is_not_there(tmp_path: Path) -> None:
    job, problems = load(tmp_path / "gone.yaml")
    assert (job, [p.code for p in problems]) == (None, ["file-unreadable"])


def test_a_british_spelling_of_a_key_is_understood() -> None:
    """US spelling is the usual one; a job may have the other."""
    us = HEAD + (
        "cables:\n  K1:\n    run: [A, 20 ft, VB-1]\n    singles:\n"
        "      - {color: red, gauge: 14 AWG}\n"
        "  K2: {gauge: 18 AWG, colors: [white, red], run: [A, 20 ft, VB-1]}\n"
    )
    british = us.replace("color", "colour")
    assert british.count("colour") == 2
    ours, theirs = loaded(us), loaded(british)
    assert [p.sentence for p in ours[1]] == [p.sentence for p in theirs[1]]
    assert "no key" not in " ".join(p.sentence for p in theirs[1])
    assert ours[0] is not None and theirs[0] is not None
    assert [c.word for c in theirs[0].cables["K2"].colors] == ["white", "red"]
    assert [s.color.value.word for s in theirs[0].cables["K1"].singles] == ["red"]


def test_both_spellings_of_one_key_are_one_too_many() -> None:
    said = loaded(HEAD + "cables:\n  K2: {colors: [red], colour: [red], run: [A, 20 ft, VB-1]}\n")[
        1
    ]
    assert "unknown-key" in [p.code for p in said]
