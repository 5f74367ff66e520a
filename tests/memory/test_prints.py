"""What was printed is kept revision by revision, and relied on only while it is as written."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from cardgen.asbuilt import AsBuilt
from cardgen.files.exchange import digest
from cardgen.files.sealing import CHECKSUM, sealed
from cardgen.memory.prints import FORMAT, MANIFEST, PrintLog, manifest_of, read_log, read_manifest
from cardgen.memory.stored_job import packed, unpacked
from cardgen.output.hanging import cards_said_otherwise, texts_hanging_at
from cardgen.output.writing import write_set
from cardgen.problems import UserError
from tests.output.jobs import printable, printed, quarry, said_of

TAGS = {"valve tag A1", "valve tag A14"}


def written(log: PrintLog, folder: Path) -> Path:
    revision = max(log.revisions)
    write_set(folder, {"a.pdf": b"a"}, manifest_of(log, revision), replace=False)
    return folder / MANIFEST


# -- kept and read back ------------------------------------------------------------------------


def test_all_revisions_come_back_as_they_were_kept(tmp_path: Path) -> None:
    log = printed(quarry(3), quarry(4))
    log = printed(quarry(5), keys=TAGS, earlier=log)
    written(log, tmp_path)
    assert read_log(tmp_path) == replace(log, files={"a.pdf": digest(b"a")})
    assert read_manifest(tmp_path / MANIFEST) == read_log(tmp_path)


def test_a_manifest_from_before_its_values_were_packed_is_read(tmp_path: Path) -> None:
    path = written(printed(quarry(3), quarry(4)), tmp_path)
    now = read_log(tmp_path)
    values = {of: json.loads(text) for of, text in unpacked(by_hand(path)["values"]).items()}
    path.write_bytes(sealed(without(path, CHECKSUM, values=values, format=1)))
    assert read_log(tmp_path) == now
    assert texts_hanging_at(read_log(tmp_path), 4) == said_of(quarry(4))


@pytest.mark.parametrize(
    ("part", "sentence"),
    [('{"weather": "fine"}', "is of another version of cardgen"), ('{"id": 3}', "is damaged")],
)
def test_a_part_that_is_no_part_of_a_job_is_told_when_it_is_needed(
    tmp_path: Path, part: str, sentence: str
) -> None:
    path = written(printed(quarry(3)), tmp_path)
    values = dict.fromkeys(unpacked(by_hand(path)["values"]), part)
    path.write_bytes(sealed(without(path, CHECKSUM, values=packed(values))))
    log = read_log(tmp_path)
    with pytest.raises(UserError, match=f"the print of 2026-06-03 {sentence}"):
        texts_hanging_at(log, 3)


def test_what_many_revisions_say_is_kept_once(tmp_path: Path) -> None:
    one = written(printed(quarry(3)), tmp_path / "one")
    ten = written(printed(quarry(3), *map(quarry, range(5, 14))), tmp_path / "ten")
    parts, of_ten = (len(unpacked(by_hand(path)["values"])) for path in (one, ten))
    assert parts < of_ten < 1.2 * parts  # from the fourth on they are as the fourth
    assert ten.stat().st_size < 4 * one.stat().st_size


def test_a_folder_without_prints_has_an_empty_log(tmp_path: Path) -> None:
    assert read_log(tmp_path) == PrintLog()
    assert read_log(tmp_path / "nowhere") == PrintLog()
    with pytest.raises(FileNotFoundError):
        read_manifest(tmp_path / "nowhere.json")


# -- what hangs after a revision ---------------------------------------------------------------


def test_what_hangs_is_each_card_as_it_was_last_printed() -> None:
    log = printed(quarry(3))
    log = printed(quarry(5), keys={"valve tag A14"}, earlier=log)  # quarry(5) is as (4)
    for revision in (3, 4):
        assert texts_hanging_at(log, revision) == said_of(quarry(3))
    tag = said_of(quarry(5))["valve tag A14"]
    assert texts_hanging_at(log, 5) == {**said_of(quarry(3)), "valve tag A14": tag}
    assert texts_hanging_at(log, 2) == {}


def test_after_a_whole_print_nothing_older_hangs() -> None:
    assert texts_hanging_at(printed(quarry(3), quarry(4)), 4) == said_of(quarry(4))


def test_what_was_told_to_be_taken_down_hangs_no_more() -> None:
    log = printed(quarry(3))
    told = replace(
        log.revisions[3], cards=frozenset(), whole=False, gone=frozenset({"valve tag A9"})
    )
    log = log.with_print("QUAR-24", 4, told)
    assert set(texts_hanging_at(log, 3)) - set(texts_hanging_at(log, 4)) == {"valve tag A9"}
    assert "valve tag A9" not in log.last


def test_each_card_has_the_revision_of_its_last_print() -> None:
    log = printed(quarry(5), keys=TAGS, earlier=printed(quarry(3)))
    assert {key for key, revision in log.last.items() if revision == 5} == TAGS
    assert set(log.last.values()) == {3, 5}
    assert set(printed(quarry(4), earlier=log).last.values()) == {4}


def test_two_parts_of_one_revision_add_up() -> None:
    log = printed(quarry(4), keys={"valve tag A1"}, earlier=printed(quarry(3)))
    log = printed(quarry(4), keys={"valve tag A14"}, earlier=log)
    assert set(log.revisions[4].cards) == TAGS
    assert not log.revisions[4].whole
    whole = printed(quarry(4), keys=TAGS, earlier=printed(quarry(3), quarry(4)))
    assert whole.revisions[4].whole
    assert texts_hanging_at(whole, 4) == said_of(quarry(4))


def built(revision: int, *, like: int = 0) -> AsBuilt:
    """The quarry as built at a revision, or as at another one but under this number."""
    return replace(printable(quarry(like or revision)).asbuilt, revision=revision)


# -- a revision must not be changed silently ---------------------------------------------------


def test_a_revision_that_says_something_else_is_found() -> None:
    now = said_of(quarry(5))  # says what the fourth says
    assert cards_said_otherwise(printed(quarry(3)), built(3), said_of(quarry(3))) == []
    found = cards_said_otherwise(printed(quarry(3)), built(3, like=5), now)
    assert {"valve tag A14", "valve tag A9", "valve tag B9"} <= set(found)  # changed, gone, changed
    assert "flag spare A-K2 red at A" in found  # new
    assert "valve tag A1" not in found
    assert cards_said_otherwise(printed(quarry(3)), built(4, like=5), now) == []


def test_of_a_part_only_what_was_printed_counts() -> None:
    now = said_of(quarry(5))
    assert (
        cards_said_otherwise(printed(quarry(3), keys={"valve tag A1"}), built(3, like=5), now) == []
    )
    assert cards_said_otherwise(printed(quarry(3), keys=TAGS), built(3, like=5), now) == [
        "valve tag A14"
    ]


def test_what_was_told_to_be_taken_down_does_not_come_back_under_the_same_number() -> None:
    only = replace(printed(quarry(3)).revisions[3], cards=frozenset(), whole=False)
    told = replace(only, gone=frozenset({"valve tag A9", "valve tag A99"}))
    log = printed(quarry(2)).with_print("QUAR-24", 3, told)
    assert cards_said_otherwise(log, built(3), said_of(quarry(3))) == ["valve tag A9"]
    again = printed(quarry(3), keys={"valve tag A9"}, earlier=log)
    assert again.revisions[3].gone == {"valve tag A99"}


# -- elsewhere ---------------------------------------------------------------------------------


def test_a_new_folder_goes_on_with_what_another_kept() -> None:
    other = printed(quarry(3))
    assert PrintLog().completed_by(other) == other
    mine = printed(quarry(4))
    both = mine.completed_by(other)
    assert both.revisions == {**other.revisions, **mine.revisions}
    assert both.last == {**other.last, **mine.last}
    assert replace(mine, job_code="LARK-06").completed_by(other) == replace(
        mine, job_code="LARK-06"
    )


# -- what cannot be relied on ------------------------------------------------------------------


def by_hand(path: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(path.read_text("utf-8"))
    return found


def without_a_card(path: Path) -> bytes:
    found = by_hand(path)
    found["revisions"]["3"]["cards"].remove("valve tag A1")
    return json.dumps(found).encode()


def without(path: Path, name: str, **others: Any) -> dict[str, Any]:
    return {key: value for key, value in by_hand(path).items() if key != name} | others


DAMAGES: dict[str, Callable[[Path], bytes]] = {
    "cut short": lambda path: path.read_bytes()[:-100],
    "a word": lambda path: path.read_bytes().replace(b"Quarry Row", b"Quarry Road"),
    "a card less": without_a_card,
    "other files": lambda path: json.dumps({**by_hand(path), "files": {}}).encode(),
    "no checksum": lambda path: json.dumps(without(path, CHECKSUM)).encode(),
    "a list": lambda _: b"[]",
    "nothing": lambda _: b"",
    "no text": lambda _: b"\xff\xfe{}",
    "nested": lambda _: b"[" * 100_000,
    "sealed, but empty": lambda _: sealed({"format": FORMAT, "cards": {}}),
    "sealed, but strange": lambda path: sealed(without(path, CHECKSUM, values={"x": 3})),
    "sealed, but not packed": lambda path: sealed(without(path, CHECKSUM, values="eA==")),
    "sealed, but without parts": lambda path: sealed(without(path, CHECKSUM, values=packed({}))),
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_manifest_is_refused_and_left_as_it_is(tmp_path: Path, damage: str) -> None:
    path = written(printed(quarry(3)), tmp_path)
    data = DAMAGES[damage](path)
    path.write_bytes(data)
    with pytest.raises(UserError, match="is damaged or was changed by hand") as fault:
        read_log(tmp_path)
    assert fault.value.help == "put it back from a copy, or move it away: then it starts over"
    assert path.read_bytes() == data


def test_set_in_other_lines_it_says_the_same(tmp_path: Path) -> None:
    path = written(printed(quarry(3)), tmp_path)
    before = read_log(tmp_path)
    path.write_text(json.dumps(by_hand(path), indent=8), encoding="utf-8", newline="\r\n")
    assert read_log(tmp_path) == before


@pytest.mark.parametrize("form", [0, 3])
def test_another_format_says_what_to_do(tmp_path: Path, form: int) -> None:
    (tmp_path / MANIFEST).write_bytes(sealed({"format": form, "job_code": "QUAR-24"}))
    with pytest.raises(UserError, match="was written by another version of cardgen") as refused:
        read_log(tmp_path)
    assert "print everything again into an empty folder" in refused.value.help


def test_what_no_class_knows_is_of_another_version(tmp_path: Path) -> None:
    manifest = {**manifest_of(printed(quarry(3)), 3), "files": {}}
    (tmp_path / MANIFEST).write_bytes(sealed({**manifest, "weather": "fine"}))
    with pytest.raises(UserError, match="was written by another version of cardgen"):
        read_log(tmp_path)


def test_a_job_record_is_no_print(tmp_path: Path) -> None:
    write_set(tmp_path, {"index.html": b"x"}, {"job_code": "QUAR-24", "key": "K"}, replace=False)
    with pytest.raises(UserError, match="is that of a job record"):
        read_log(tmp_path)


def test_a_manifest_that_cannot_be_read(tmp_path: Path) -> None:
    (tmp_path / MANIFEST).mkdir()
    with pytest.raises(UserError, match="cannot be read: is a directory"):
        read_log(tmp_path)
