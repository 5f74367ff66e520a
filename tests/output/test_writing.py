"""Files are written whole or not at all, and nothing of the user's is overwritten."""

from __future__ import annotations

import json
import resource
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from cardgen.files.exchange import is_unfinished
from cardgen.memory.prints import MANIFEST
from cardgen.output.writing import held, replace_file, write_new, write_set
from cardgen.problems import CannotWrite

OLD = {"a.pdf": b"old a", "b.pdf": b"old b"}
NEW = {"a.pdf": b"new a", "c.pdf": b"new c"}


def write(
    folder: Path, files: dict[str, bytes], job: str = "DEMO-1", *, replace: bool = False
) -> None:
    write_set(folder, files, {"job_code": job}, replace=replace)


def contents(folder: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in folder.iterdir() if p.name != MANIFEST}


def test_a_new_folder_is_made_and_filled(tmp_path: Path) -> None:
    write(tmp_path / "deep" / "out", OLD)
    assert contents(tmp_path / "deep" / "out") == OLD
    manifest = json.loads((tmp_path / "deep" / "out" / MANIFEST).read_text("utf-8"))
    assert set(manifest["files"]) == set(OLD)


def test_an_earlier_print_is_replaced_and_what_it_had_more_goes(tmp_path: Path) -> None:
    write(tmp_path, OLD)
    write(tmp_path, NEW)
    assert contents(tmp_path) == NEW


def test_what_was_changed_by_hand_stays(tmp_path: Path) -> None:
    write(tmp_path, OLD)
    (tmp_path / "a.pdf").write_bytes(b"with my remarks")
    with pytest.raises(CannotWrite, match=r"a\.pdf' was not made by cardgen or has been changed"):
        write(tmp_path, NEW)
    assert contents(tmp_path) == {**OLD, "a.pdf": b"with my remarks"}


def test_a_file_of_someone_else_stays(tmp_path: Path) -> None:
    (tmp_path / "c.pdf").write_bytes(b"mine")
    with pytest.raises(CannotWrite, match=r"c\.pdf"):
        write(tmp_path, NEW)
    assert contents(tmp_path) == {"c.pdf": b"mine"}


def test_other_files_in_the_folder_are_left_alone(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_bytes(b"mine")
    write(tmp_path, OLD)
    write(tmp_path, NEW)
    assert contents(tmp_path) == {**NEW, "notes.txt": b"mine"}


def test_a_file_left_over_but_changed_by_hand_is_not_taken_away(tmp_path: Path) -> None:
    write(tmp_path, OLD)
    (tmp_path / "b.pdf").write_bytes(b"with my remarks")
    write(tmp_path, NEW)
    assert contents(tmp_path) == {**NEW, "b.pdf": b"with my remarks"}


def test_the_print_of_another_job_stays(tmp_path: Path) -> None:
    write(tmp_path, OLD)
    with pytest.raises(CannotWrite, match="another job"):
        write(tmp_path, {"d.pdf": b"d"}, job="OTHER-2")
    assert contents(tmp_path) == OLD


def test_it_is_overwritten_when_asked(tmp_path: Path) -> None:
    (tmp_path / "a.pdf").write_bytes(b"mine")
    write(tmp_path, NEW, replace=True)
    assert contents(tmp_path) == NEW


@pytest.mark.parametrize("manifest", ["", "[]", "{", '{"files": 3}', "\udcff"])
def test_a_damaged_manifest_makes_everything_a_stranger(tmp_path: Path, manifest: str) -> None:
    write(tmp_path, OLD)
    (tmp_path / MANIFEST).write_bytes(manifest.encode(errors="surrogateescape"))
    with pytest.raises(CannotWrite, match=r"a\.pdf"):
        write(tmp_path, NEW)
    assert contents(tmp_path) == OLD


def test_a_file_in_place_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"mine")
    with pytest.raises(CannotWrite, match="is a file, not a folder"):
        write(tmp_path / "out", NEW)
    assert (tmp_path / "out").read_bytes() == b"mine"


def test_a_folder_in_place_of_a_file(tmp_path: Path) -> None:
    (tmp_path / "a.pdf").mkdir()
    with pytest.raises(CannotWrite):
        write(tmp_path, NEW, replace=True)
    assert not (tmp_path / "c.pdf").exists()
    assert not list(tmp_path.glob(".*.part"))


def test_a_file_that_cannot_be_replaced_half_way_is_told_and_finished_by_the_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As where a reader holds the old one open and the system does not let it go."""
    write(tmp_path, OLD)
    real = Path.replace

    def replace(path: Path, target: Path) -> Path:
        if target.name == "c.pdf":
            raise PermissionError(13, "Permission denied")
        return real(path, target)

    with monkeypatch.context() as patched:
        patched.setattr(Path, "replace", replace)
        with pytest.raises(CannotWrite, match="some files are new and some old now") as refused:
            write(tmp_path, NEW)
    assert refused.value.help.endswith("then run it again: that finishes it first")
    assert is_unfinished(tmp_path)
    with held(tmp_path, replace=False):
        assert contents(tmp_path) == NEW


def test_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(CannotWrite, match="cannot be written"):
        write(tmp_path / "file" / "out", NEW)


@contextmanager
def largest_file(size: int) -> Iterator[None]:
    """As on a full disk, writing fails beyond `size` bytes of a file."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, handler)


def test_no_room_for_the_last_file_leaves_the_old_ones_whole(tmp_path: Path) -> None:
    write(tmp_path, OLD)
    before = (tmp_path / MANIFEST).read_bytes()
    with largest_file(100_000), pytest.raises(CannotWrite, match="cannot be written"):
        write(tmp_path, {"a.pdf": b"new a", "b.pdf": b"x" * 200_000})
    assert contents(tmp_path) == OLD
    assert (tmp_path / MANIFEST).read_bytes() == before


def test_a_single_new_file_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    write_new(path, b"first")
    with pytest.raises(CannotWrite, match="is there already"):
        write_new(path, b"second")
    assert path.read_bytes() == b"first"
    assert [p.name for p in tmp_path.iterdir()] == ["job.yaml"]


def test_a_file_is_replaced_only_while_it_is_what_was_read(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(b"old")
    replace_file(path, b"new", expected=b"old")
    assert path.read_bytes() == b"new"
    with pytest.raises(CannotWrite, match="has changed in the meantime"):
        replace_file(path, b"newer", expected=b"old")
    assert contents(tmp_path) == {"job.yaml": b"new"}


DEEP = {"VB-1/index.html": b"one", "VB-2/index.html": b"two", "index.html": b"all"}


def deep_contents(folder: Path) -> dict[str, bytes]:
    found = (p for p in folder.rglob("*") if p.is_file() and p.name != MANIFEST)
    return {str(p.relative_to(folder)): p.read_bytes() for p in found}


def test_a_name_may_say_a_subfolder(tmp_path: Path) -> None:
    write(tmp_path, DEEP)
    write(tmp_path, {**DEEP, "VB-1/index.html": b"new"})
    assert deep_contents(tmp_path) == {**DEEP, "VB-1/index.html": b"new"}


def test_files_of_one_name_in_two_subfolders_are_told_apart(tmp_path: Path) -> None:
    write(tmp_path, DEEP)
    (tmp_path / "VB-2" / "index.html").write_bytes(b"one")  # what VB-1 holds
    with pytest.raises(CannotWrite, match=r"VB-2/index\.html' was not made by cardgen"):
        write(tmp_path, DEEP | {"VB-2/index.html": b"three"})


@pytest.mark.parametrize("make", [Path.symlink_to, Path.hardlink_to])
def test_what_is_no_folder_stops_the_writing(
    tmp_path: Path, make: Callable[[Path, Path], None]
) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    target = elsewhere if make is Path.symlink_to else tmp_path / "file"
    (tmp_path / "file").write_bytes(b"mine")
    (tmp_path / "out").mkdir()
    make(tmp_path / "out" / "VB-1", target)
    with pytest.raises(CannotWrite, match="VB-1' is no folder of its own"):
        write(tmp_path / "out", DEEP, replace=True)
    assert list(elsewhere.iterdir()) == []
    assert [p.name for p in (tmp_path / "out").iterdir()] == ["VB-1"]
