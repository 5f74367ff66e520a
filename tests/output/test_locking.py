"""One cardgen at a time in a folder: tried with processes of their own, one of them killed.

What Windows takes, a file in the folder, is tried here by the same code; that Windows keeps a file
that is open is simulated.
"""

from __future__ import annotations

import contextlib
import json
import signal
import subprocess
import sys
import textwrap
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardgen.output import locking
from cardgen.output.locking import LOCK, locked
from cardgen.problems import CannotWrite
from tests.record.records import LARKSPUR, revision

# Publishes a job, and waits before it writes until the file `go` is there.
SLOW_PUBLISHER = textwrap.dedent("""
    import sys, time
    from pathlib import Path
    from cardgen.output import recording
    from cardgen.cli.main import main
    go, real = Path(sys.argv[1]), recording.write_set
    def slow(*args, **kwargs):
        print("about to write", flush=True)
        while not go.exists():
            time.sleep(0.01)
        real(*args, **kwargs)
    recording.write_set = slow
    sys.exit(main(sys.argv[2:]))
""")
HOLDER = textwrap.dedent("""
    import sys, time
    from pathlib import Path
    from cardgen.output import locking
    locking._held = getattr(locking, sys.argv[2])
    with locking.locked(Path(sys.argv[1])):
        print("held", flush=True)
        time.sleep(600)
""")
WAYS = ("_held", "_held_by_file")


@pytest.fixture(params=WAYS)
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """By which a folder is held, as on Unix and as on Windows."""
    monkeypatch.setattr(locking, "_held", getattr(locking, request.param))
    return str(request.param)


@contextlib.contextmanager
def started(*argv: str | Path) -> Iterator[subprocess.Popen[str]]:
    """Python with these arguments, once it has said something."""
    with subprocess.Popen(
        [sys.executable, *map(str, argv)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as process:
        try:
            assert process.stdout and process.stdout.readline()
            yield process
        finally:
            process.kill()


def test_of_two_that_publish_at_once_neither_loses_its_revision(tmp_path: Path) -> None:
    jobs = [tmp_path / f"{number}.yaml" for number in (1, 2)]
    for number, path in enumerate(jobs, 1):
        path.write_text(revision(number), encoding="utf-8")
    out, go = tmp_path / "web", tmp_path / "go"
    slow = ("-c", SLOW_PUBLISHER, go, "record", jobs[0], "--out", out)
    with started(*slow) as first:
        second = subprocess.Popen(
            [sys.executable, "-m", "cardgen", "record", jobs[1], "--out", out],
            stderr=subprocess.PIPE,
            text=True,
        )
        with second:
            assert second.stderr
            said = second.stderr.readline()
            while said and "waiting" not in said:  # notes of the job come first
                said = second.stderr.readline()
            assert f"another cardgen is writing into '{out / LARKSPUR}'" in said
            go.touch()
            assert first.wait() == 0
            said = second.stderr.read()
        assert second.returncode == 0, said
    history = json.loads((out / LARKSPUR / "revisions_.json").read_text("utf-8"))
    assert [r["revision"] for r in history["revisions"]] == [1, 2]


def test_who_waits_too_long_is_told_and_nothing_is_written(tmp_path: Path, way: str) -> None:
    out = tmp_path / "out"
    told: list[str] = []
    with (
        started("-c", HOLDER, out, way),
        pytest.raises(CannotWrite, match="another cardgen is writing into"),
        locked(out, say=told.append, patience=0.0),
    ):
        pass
    assert told == [f"another cardgen is writing into '{out}': waiting"]


def test_a_lock_goes_with_the_process_that_was_killed(tmp_path: Path, way: str) -> None:
    with started("-c", HOLDER, tmp_path, way) as holder:
        holder.send_signal(signal.SIGKILL)
        holder.wait()
        with locked(tmp_path, patience=0.0):
            pass
    assert list(tmp_path.iterdir()) == []


@pytest.mark.usefixtures("way")
def test_a_folder_that_stays_empty_is_taken_away_again(tmp_path: Path) -> None:
    with locked(tmp_path / "deep" / "out"):
        assert (tmp_path / "deep" / "out").is_dir()
    assert list(tmp_path.iterdir()) == []
    with locked(tmp_path / "deep" / "out"):
        (tmp_path / "deep" / "out" / "a.pdf").touch()
    assert (tmp_path / "deep" / "out" / "a.pdf").exists()


@pytest.mark.usefixtures("way")
def test_a_folder_taken_away_while_another_waits_is_made_anew(tmp_path: Path) -> None:
    """Else the second would hold a folder that no longer has a name."""
    out = tmp_path / "out"
    with contextlib.ExitStack() as first:
        first.enter_context(locked(out))
        with locked(out, say=lambda _: first.close()):
            (out / "a.pdf").touch()
    assert [path.name for path in out.iterdir()] == ["a.pdf"]


def test_on_windows_the_folder_is_held_by_a_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.platform", "win32")
    out = tmp_path / "out"
    with locked(out):
        assert [path.name for path in out.iterdir()] == [LOCK]
        with pytest.raises(CannotWrite, match="another cardgen"), locked(out, patience=0.0):
            pass
        (out / "a.pdf").touch()
    assert [path.name for path in out.iterdir()] == ["a.pdf"]
    # Somebody else has the file open: Windows does not let it be removed.
    with monkeypatch.context() as patch:
        patch.setattr(Path, "unlink", opened_elsewhere)
        with locked(out):
            pass
    assert (out / LOCK).exists()
    with locked(out):  # a lock file without a holder keeps nobody out
        pass
    assert not (out / LOCK).exists()


def opened_elsewhere(*_: object, **__: object) -> None:
    raise PermissionError(13, "The process cannot access the file: it is used by another process")


def test_a_folder_that_cannot_be_locked_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.platform", "win32")
    (tmp_path / LOCK).mkdir()
    with pytest.raises(CannotWrite, match="unable to open"), locked(tmp_path):
        pass
