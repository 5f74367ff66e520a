"""Several jobs with one command: each into its own folder, one fault stops no other."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Mapping
from pathlib import Path

import openpyxl
import pytest

from cardgen.cli.main import main
from cardgen.files.exchange import is_unfinished
from cardgen.memory.prints import MANIFEST
from tests.jobs import edit, sample

TAGS = ("--only", "valve-tags")


def run(*argv: str | Path) -> int:
    return main([str(word) for word in argv])


def park(name: str) -> str:
    return edit(sample("larkspur"), "code: LARK-06", f"code: {name.upper()}")


def written(folder: Path) -> Mapping[str, bytes]:
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def is_printed(folder: Path) -> bool:
    """To the last rename: a print that was cut short before that is made again."""
    return (folder / MANIFEST).exists() and not is_unfinished(folder)


@pytest.fixture
def parks(tmp_path: Path) -> Path:
    """Three jobs of which the second has an error; beside them what is no job."""
    folder = tmp_path / "parks"
    folder.mkdir()
    for name in ("ash", "elm", "oak"):
        text = park(name)
        if name == "elm":
            text = edit(text, ", hot: A-K1 yellow", "")
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    (folder / "notes.txt").write_text("call the office", encoding="utf-8")
    (folder / ".hidden.yaml").write_text("x", encoding="utf-8")
    return folder


def test_one_with_an_error_stops_no_other(
    parks: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    assert run("print", parks, "--out", out, *TAGS) == 1
    said = capsys.readouterr()
    assert said.out.endswith("3 jobs: 2 done, 1 with errors (elm.yaml)\n")
    assert said.err.count("[hot-missing]") == 1
    assert {path.name for path in out.iterdir()} == {"ash", "oak"}
    assert (out / "oak" / "valve-tags.pdf").exists()
    alone = tmp_path / "alone"
    assert run("print", parks / "oak.yaml", "--out", alone, *TAGS) == 0
    assert written(alone) == written(out / "oak")

    # Again: what is current is skipped; what is not is printed.
    (parks / "elm.yaml").write_text(park("elm"), encoding="utf-8")
    (out / "ash" / "valve-tags.pdf").unlink()
    capsys.readouterr()
    assert run("print", parks, "--out", out, *TAGS) == 0
    said = capsys.readouterr()
    assert "oak.yaml: printed already from this very file; skipped\n" in said.out
    assert said.out.endswith("3 jobs: 2 done, 1 skipped\n")
    assert (out / "ash" / "valve-tags.pdf").exists()
    # Another stock is another print.
    assert run("print", parks, "--out", out, *TAGS, "--paper", "a4") == 0
    assert capsys.readouterr().out.endswith("3 jobs: 3 done\n")


def test_on_two_processes_the_same_bytes_and_words(
    parks: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = []
    for number in ("1", "2"):
        out = tmp_path / "out"
        assert run("print", parks, "--out", out, *TAGS, "--jobs", number) == 1
        told.append((capsys.readouterr(), written(out)))
        out.rename(tmp_path / f"out-{number}")
    assert told[0] == told[1]
    assert {Path(name).parts[0] for name in told[0][1]} == {"ash", "oak"}


def test_check_and_record_of_several(
    parks: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("check", parks) == 1
    assert capsys.readouterr().out.endswith("3 jobs: 2 without errors, 1 with errors (elm.yaml)\n")
    assert run("check", parks / "ash.yaml", parks / "ash.yaml", parks, "--format", "json") == 1
    problems = json.loads(capsys.readouterr().out)["problems"]
    assert {Path(p["file"]).name for p in problems} == {"ash.yaml", "elm.yaml", "oak.yaml"}
    assert sum(p["code"] == "hot-missing" for p in problems) == 1
    web = tmp_path / "web"
    assert run("record", parks / "ash.yaml", parks / "oak.yaml", "--out", web) == 0
    assert capsys.readouterr().out.endswith("2 jobs: 2 done\n")
    assert {path.name for path in web.iterdir()} == {"ash", "oak"}


def test_export_of_several(parks: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The ending says what each becomes; what is written is read back by another library."""
    out = tmp_path / "lists"
    assert run("export", parks, "--out", out.with_suffix(".xlsx"), "--jobs", "2") == 0
    said = capsys.readouterr()
    assert said.out.endswith("3 jobs: 3 done\n")
    assert said.err.count("without the sheets") == 1  # of elm, which has an error
    assert {path.name for path in out.iterdir()} == {"ash.xlsx", "elm.xlsx", "oak.xlsx"}
    codes = {
        row[2]
        for path in out.iterdir()
        for row in openpyxl.load_workbook(path)["job"].iter_rows(values_only=True)
        if row[1] == "code"
    }
    assert codes == {"ASH", "ELM", "OAK"}
    assert run("export", parks, "--out", out.with_suffix(".csv")) == 0
    assert run("export", parks, "--out", out) == 0
    assert {path.name for path in (out / "oak").iterdir()} >= {"stations.csv", "legs.csv"}
    assert len(list(out.glob("*.csv"))) == 3
    # What is there already stays, and stops no other.
    (out / "elm.csv").unlink()
    capsys.readouterr()
    assert run("export", parks, "--out", out.with_suffix(".csv")) == 2
    said = capsys.readouterr()
    assert said.out.endswith("3 jobs: 1 done, 2 not possible (ash.yaml and oak.yaml)\n")
    assert said.err.count("is there already") == 2
    assert run("export", parks, "--out", out.with_suffix(".ods")) == 2
    assert capsys.readouterr().err.count("'.ods' is no ending for a spreadsheet") == 1


def test_what_cannot_be_is_told_once_and_before_anything_is_written(
    parks: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "other"
    other.mkdir()
    (other / "Ash.yaml").write_text(park("ash-2"), encoding="utf-8")
    empty = tmp_path / "empty"
    empty.mkdir()
    out = tmp_path / "out"
    cases: tuple[tuple[tuple[str | Path, ...], str], ...] = (
        ((parks, other, "--out", out), "would both be written into"),
        ((empty, "--out", out), "there is no job file in"),
        ((parks, "--out", out, "--stock", "nothing"), "no stock is called 'nothing'"),
        ((parks, "--out", out, "--only", "tag"), "nothing that is printed is called 'tag'"),
        ((parks, "--out", out, "--start", "3"), "--start is for the sheet of one job"),
    )
    for argv, sentence in cases:
        assert run("print", *argv) == 2
        assert capsys.readouterr().err.count(sentence) == 1
        assert not out.exists()


def test_a_job_that_is_not_there_and_a_folder_that_is_not_ours(
    parks: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    (out / "ash").mkdir(parents=True)
    (out / "ash" / "valve-tags.pdf").write_bytes(b"mine")
    jobs = (parks / "ash.yaml", parks / "birch.yaml", parks / "oak.yaml")
    assert run("print", *jobs, "--out", out, *TAGS) == 2
    said = capsys.readouterr()
    summary = "3 jobs: 1 done, 1 with errors (birch.yaml), 1 not possible (ash.yaml)\n"
    assert said.out.endswith(summary)
    assert "was not made by cardgen" in said.err
    assert (out / "ash" / "valve-tags.pdf").read_bytes() == b"mine"


def _hears_sigint() -> None:
    """Tests that a shell has put in the background were told not to, and so are their children."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


@pytest.mark.skipif(os.name == "nt", reason="Windows has neither a FIFO nor a group to stop")
@pytest.mark.parametrize(
    ("how", "number", "whole"), [(signal.SIGINT, "1", (1, 2)), (signal.SIGKILL, "2", (1, 2, 4))]
)
def test_stopped_in_the_middle_it_goes_on(
    tmp_path: Path, how: signal.Signals, number: str, whole: tuple[int, ...]
) -> None:
    """By Ctrl+C and by a kill: what is there is whole, and the rest is done the next time.

    The third job is a pipe that nobody writes into, so that the command waits there.
    """
    parks, out = tmp_path / "parks", tmp_path / "out"
    parks.mkdir()
    jobs = [parks / f"park-{n}.yaml" for n in range(1, 5)]
    for job in jobs:
        job.write_text(park(job.stem), encoding="utf-8")
    jobs[2].unlink()
    os.mkfifo(jobs[2])
    command = [sys.executable, "-m", "cardgen", "print", *map(str, jobs), "--out", str(out)]
    command += [*TAGS, "--jobs", number]
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    begun = subprocess.Popen(
        command,
        env=env,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
        preexec_fn=_hears_sigint,  # noqa: PLW1509 - no thread runs here
    )
    until = time.monotonic() + 60
    while not all(is_printed(out / f"park-{n}") for n in whole):
        assert time.monotonic() < until
        time.sleep(0.01)
    os.killpg(begun.pid, how)
    _, said = begun.communicate(timeout=60)
    assert b"Traceback" not in said
    if how == signal.SIGINT:
        assert begun.returncode == 130
        assert re.search(rb"[12] of 4 jobs are done; the same command goes on from there", said)
    assert {path.name for path in out.iterdir()} == {f"park-{n}" for n in whole}
    jobs[2].unlink()
    jobs[2].write_text(park("park-3"), encoding="utf-8")
    after = subprocess.run(command, env=env, capture_output=True, check=True, text=True).stdout
    assert after.endswith(f"4 jobs: {4 - len(whole)} done, {len(whole)} skipped\n")
    assert all((out / job.stem / "valve-tags.pdf").exists() for job in jobs)
