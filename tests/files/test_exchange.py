"""A set of files is exchanged together: killed at any moment, nothing is mixed unnoticed."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from cardgen.examine import examine_text
from cardgen.files.exchange import EXCHANGE, NEW, WRITING, exchange, finish, is_unfinished
from cardgen.memory.prints import MANIFEST, manifest_of, read_log, read_manifest
from cardgen.output.recording import RecordRequest, make_record
from cardgen.output.writing import held, write_set
from cardgen.problems import UserError
from tests.files.killing import killed_at, killed_half_way
from tests.output.jobs import printed, quarry
from tests.record.records import made, revision

OLD = {"a.pdf": b"old a", "b.pdf": b"old b", "VB-1/c.html": b"old c", "same.css": b"same"}
NEXT = {"a.pdf": b"new a", "VB-2/d.html": b"new d", "same.css": b"same", "VB-1/c.html": b"new c"}
MINE = {"notes.txt": b"mine"}


def contents(folder: Path) -> dict[str, bytes]:
    """All that is no rubbish and not waiting."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and path.relative_to(folder).parts[0] not in (WRITING, EXCHANGE)
    }


def old_folder(folder: Path) -> Path:
    exchange_into(folder, {**OLD, **MINE}, ())
    return folder


def exchange_into(folder: Path, files: dict[str, bytes], gone: tuple[str, ...]) -> None:
    folder.mkdir(exist_ok=True)
    finish(folder)
    exchange(folder, files, gone)


def renew(folder: Path) -> None:
    exchange_into(folder, NEXT, ("b.pdf",))


AFTER = {**NEXT, **MINE}
BEFORE = {**OLD, **MINE}


def test_killed_at_any_moment_the_folder_is_old_or_can_be_finished(tmp_path: Path) -> None:
    seen = set()
    for moment in range(1000):
        folder = old_folder(tmp_path / str(moment))
        was_killed = killed_at(moment, lambda folder=folder: renew(folder))  # type: ignore[misc]
        found = contents(folder)
        state = "old" if found == BEFORE else "new" if found == AFTER else "mixed"
        assert state != "mixed" or is_unfinished(folder)
        seen.add((state, is_unfinished(folder)))
        finished = finish(folder)
        assert contents(folder) == (AFTER if finished or state == "new" else BEFORE)
        assert not [each for each in folder.iterdir() if each.name.startswith(".")]
        if not was_killed:
            break
    else:
        pytest.fail("it never came to its end")
    assert moment > 25
    assert seen == {("old", False), ("old", True), ("mixed", True), ("new", True), ("new", False)}


@pytest.fixture
def short(tmp_path: Path) -> Path:
    """A folder whose exchange was killed after `a.pdf` and before the others."""
    folder = old_folder(tmp_path / "out")
    killed_half_way(lambda: renew(folder))
    assert is_unfinished(folder)
    assert contents(folder) == {**BEFORE, "a.pdf": b"new a"}
    return folder


def test_the_finishing_can_be_killed_at_any_moment_too(short: Path, tmp_path: Path) -> None:
    for moment in range(1000):
        folder = tmp_path / f"again {moment}"
        shutil.copytree(short, folder)
        was_killed = killed_at(moment, lambda folder=folder: finish(folder))  # type: ignore[misc]
        assert is_unfinished(folder) or contents(folder) == AFTER
        finish(folder)
        assert contents(folder) == AFTER
        if not was_killed:
            assert moment > 10
            return
    pytest.fail("it never came to its end")


def test_what_is_changed_by_hand_in_between_is_not_written_over(short: Path) -> None:
    (short / "VB-1" / "c.html").write_bytes(b"with my remarks")
    before = contents(short)
    with pytest.raises(UserError, match=r"VB-1/c\.html' was changed since a writing") as refused:
        finish(short)
    assert "move it away, or add --replace" in refused.value.help
    assert contents(short) == before
    (short / "VB-1" / "c.html").unlink()
    assert finish(short)
    assert contents(short) == AFTER


def test_what_is_changed_by_hand_in_between_is_written_over_when_asked(short: Path) -> None:
    (short / "VB-1" / "c.html").write_bytes(b"with my remarks")
    assert finish(short, replace=True)
    assert contents(short) == AFTER


def test_what_was_exchanged_and_then_changed_by_hand_stays(short: Path) -> None:
    (short / "a.pdf").write_bytes(b"with my remarks")
    assert finish(short)
    assert contents(short) == {**AFTER, "a.pdf": b"with my remarks"}


def test_what_was_to_go_and_was_changed_by_hand_stays(short: Path) -> None:
    (short / "b.pdf").write_bytes(b"with my remarks")
    assert finish(short)
    assert contents(short) == {**AFTER, "b.pdf": b"with my remarks"}


def test_a_new_file_that_is_gone_or_damaged_is_told(short: Path) -> None:
    waiting = short / EXCHANGE / NEW / "VB-1" / "c.html"
    for spoil in (lambda: waiting.write_bytes(b"half"), waiting.unlink):
        spoil()
        before = contents(short)
        with pytest.raises(UserError, match=r"in the place of .*VB-1/c\.html' is gone") as refused:
            finish(short)
        assert "--replace" in refused.value.help
        assert contents(short) == before
    assert finish(short, replace=True)  # the command that is asked to replace writes all anew
    assert not is_unfinished(short)


@pytest.mark.parametrize("plan", [b"", b"{}", None])
def test_a_plan_that_is_gone_or_damaged_is_told(short: Path, plan: bytes | None) -> None:
    path = short / EXCHANGE / "plan.json"
    path.unlink() if plan is None else path.write_bytes(plan)
    with pytest.raises(UserError, match="files are missing in"):
        finish(short)


def test_a_disk_that_fails_before_the_exchange_changes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = old_folder(tmp_path / "out")
    real = Path.mkdir

    def mkdir(path: Path, *args: object, **kwargs: object) -> None:
        if path == folder / "VB-2":
            raise OSError(28, "No space left on device")
        real(path, *args, **kwargs)  # type: ignore[arg-type]

    monkeypatch.setattr(Path, "mkdir", mkdir)
    with pytest.raises(OSError, match="No space left"):
        renew(folder)
    assert contents(folder) == BEFORE
    assert not (folder / WRITING).exists() and not is_unfinished(folder)


# -- prints and records ------------------------------------------------------------------------


@pytest.fixture
def without_flushing(monkeypatch: pytest.MonkeyPatch) -> None:
    """A kill leaves what was written, flushed to disk or not; a test without is done sooner."""
    monkeypatch.setattr(os, "fsync", lambda _: None)


def filled(folder: Path, files: Mapping[str, bytes]) -> Path:
    """With these files and nothing else in it."""
    shutil.rmtree(folder, ignore_errors=True)
    for name, data in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)
    return folder


def killed_everywhere(folder: Path, before: Mapping[str, bytes], run: Callable[[], bool]) -> int:
    """How often `run` was told of a writing cut short; each time all is of one revision after it.

    It is killed at each of its changes to the disk and then run again.
    """
    run_through = filled(folder, before)
    assert not run()
    after, announced = contents(run_through), 0
    assert before != after
    for moment in range(10_000):
        filled(folder, before)
        was_killed = killed_at(moment, run)
        was_unfinished = is_unfinished(folder)
        assert was_unfinished or contents(folder) in (before, after)
        assert run() == was_unfinished
        assert contents(folder) == after
        announced += was_unfinished
        if not was_killed:
            return announced
    pytest.fail("it never came to its end")


@pytest.mark.usefixtures("without_flushing")
def test_a_record_is_of_one_revision_after_the_next_run(tmp_path: Path) -> None:
    """Its files are made once; held and written into they are as by the command.

    Of pages that are alike, of stations and of boxes, there is one.
    """
    first = made(revision(1), tmp_path)
    folder = first.folder
    write_set(folder, without_more_of_a_kind(first.files), first.manifest, replace=False)
    before = contents(folder)
    record, _ = make_record(examine_text(revision(2)), tmp_path, RecordRequest())
    assert record is not None
    files = without_more_of_a_kind(record.files)
    assert len(files) > 10

    def run() -> bool:
        said: list[str] = []
        with held(folder, replace=False, say=said.append):
            write_set(folder, files, record.manifest, replace=False)
        return said == [f"an earlier writing into '{folder}' was cut short; it is finished now"]

    assert killed_everywhere(folder, before, run) > len(files)


def without_more_of_a_kind(files: Mapping[str, bytes]) -> dict[str, bytes]:
    return {
        name: data for name, data in files.items() if not re.match("STATION_A[2-6]|VB-[23]", name)
    }


@pytest.mark.usefixtures("without_flushing")
def test_a_print_is_of_one_revision_after_the_next_run(tmp_path: Path) -> None:
    """And the manifest, read back, knows both revisions."""
    log = printed(quarry(3))
    first = manifest_of(log, 3)
    second = manifest_of(printed(quarry(5), earlier=log), 5)

    def print_(manifest: dict[str, Any], *names: str) -> bool:
        said: list[str] = []
        files = {name: f"{name} of {manifest['revision']}".encode() for name in names}
        with held(tmp_path, replace=False, say=said.append):
            write_set(tmp_path, files, manifest, replace=False)
        return said != []

    print_(first, "tags.pdf", "flags.pdf")
    before = contents(tmp_path)
    again = partial(print_, second, "tags.pdf", "legend.pdf")
    assert killed_everywhere(tmp_path, before, again) >= 5
    assert read_log(tmp_path).revisions.keys() == {3, 5}
    assert contents(tmp_path).keys() == {"tags.pdf", "legend.pdf", MANIFEST}


def test_a_manifest_is_not_read_while_its_files_are_exchanged(tmp_path: Path) -> None:
    write_set(tmp_path, {"a.pdf": b"a"}, manifest_of(printed(quarry(3)), 3), replace=False)
    (tmp_path / EXCHANGE).mkdir()
    with pytest.raises(UserError, match="is not finished") as refused:
        read_manifest(tmp_path / MANIFEST)
    assert "print into that folder again" in refused.value.help
