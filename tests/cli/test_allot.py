"""`cardgen allot` as a person types it: what it prints and writes, and what it leaves alone."""

from __future__ import annotations

import json
import stat
from pathlib import Path

import pytest

from cardgen.examine import examine
from tests.cli.test_cli import run
from tests.jobs import SAMPLE_JOBS, edit, sample

BARE = edit(sample("larkspur"), "box: VB-2, hot: A-K1 yellow}", "box: VB-2}")
SHORT = BARE.replace("palette: five", "colors: [white, red]")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.yaml"
    path.write_bytes(BARE.encode())
    return path


def test_it_shows_what_it_would_do_and_writes_nothing(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("allot", job) == 0
    said = capsys.readouterr()
    assert said.err == ""
    assert said.out == (
        "station  conductors from the controller outward  color changes\n"
        "-------  --------------------------------------  -------------\n"
        "A6       A-K1 yellow (A to VB-2)                 none\n"
        "\n"
        "color changes in all: 0\n"
        "\n"
        "cable  leg           needs                 has  size    smallest that would do\n"
        "-----  ------------  --------------------  ---  ------  ----------------------\n"
        "A-K1   A to VB-1     5 (4 hots, 1 common)  7    18 AWG  20 AWG\n"
        "A-K1   VB-1 to VB-2  3 (2 hots, 1 common)  7    18 AWG  20 AWG\n"
        "A-K2   A to VB-3     3 (2 hots, 1 common)  5    18 AWG  20 AWG\n"
        "\n"
        "Nothing is written yet: add --in-place, or --out FILE for a new file.\n"
    )
    assert job.read_bytes() == BARE.encode()
    assert list(job.parent.iterdir()) == [job]


def test_a_new_file(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    new = job.with_name("new.yaml")
    assert run("allot", job, "--out", new) == 0
    assert new.read_text("utf-8") == sample("larkspur")
    assert job.read_bytes() == BARE.encode()
    assert "new.yaml is written" in capsys.readouterr().out
    assert run("allot", job, "--out", new) == 2
    assert "is there already" in capsys.readouterr().err


def test_in_place_keeps_the_file_s_rights_and_its_byte_order_mark(job: Path) -> None:
    job.write_bytes(b"\xef\xbb\xbf" + BARE.replace("\n", "\r\n").encode())
    job.chmod(0o640)
    assert run("allot", job, "--in-place") == 0
    assert job.read_bytes() == b"\xef\xbb\xbf" + sample("larkspur").replace("\n", "\r\n").encode()
    assert stat.S_IMODE(job.stat().st_mode) == 0o640
    assert list(job.parent.iterdir()) == [job]
    assert not examine(job).has_errors


def test_in_place_through_a_link_changes_the_file_behind_it(job: Path) -> None:
    link = job.with_name("link.yaml")
    link.symlink_to(job.name)
    assert run("allot", link, "--in-place") == 0
    assert link.is_symlink()
    assert job.read_text("utf-8") == sample("larkspur")


def test_in_place_where_nothing_can_be_written(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # A folder in the way of the file that is written first stops root as well.
    (job.parent / f".{job.name}.part").mkdir()
    assert run("allot", job, "--in-place") == 2
    assert "cannot be written" in capsys.readouterr().err
    assert job.read_bytes() == BARE.encode()


def test_not_both(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("allot", job, "--in-place", "--out", job.with_name("new.yaml")) == 2
    assert "not allowed with" in capsys.readouterr().err


def test_nothing_to_do(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job.write_text(sample("larkspur"), "utf-8")
    before = job.stat().st_mtime_ns
    assert run("allot", job, "--in-place") == 0
    assert "has its hot already" in capsys.readouterr().out
    assert job.stat().st_mtime_ns == before


def test_too_few_conductors(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = edit(SHORT, "box: VB-3, hot: A-K2 red}", "box: VB-3}")
    job.write_text(edit(text, "box: VB-3, hot: A-K2 blue}", "box: VB-3}"), "utf-8")
    before = job.read_bytes()
    assert run("allot", job, "--in-place") == 1
    said = capsys.readouterr()
    assert "3 (2 hots, 1 common)  2 TOO FEW" in said.out
    assert "A-K2 between 'A' and 'VB-3' needs 3 conductors (2 hots, 1 common), it has 2" in said.err
    assert "way out: lay a cable with 3 or more, or another one beside it" in said.err
    assert said.err.endswith("No wires assigned. Fix the errors above first.\n")
    assert "A6 " not in said.out
    assert job.read_bytes() == before


def test_json(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("allot", job, "--format", "json") == 0
    found = json.loads(capsys.readouterr().out)
    assert found["given"] is True
    assert found["stations"] == [
        {
            "station": "A6",
            "hot": ["A-K1 yellow"],
            "path": [{"conductor": "A-K1 yellow", "from": "A", "to": "VB-2"}],
            "color_changes": 0,
            "splices": 0,
        }
    ]
    assert found["legs"][0] == {
        "cable": "A-K1",
        "from": "A",
        "to": "VB-1",
        "hots": 4,
        "commons": 1,
        "others": 0,
        "spares": 0,
        "needs": 5,
        "has": 7,
        "smallest_size": "20 AWG",
        "no_size_does": False,
    }


def test_json_where_it_cannot(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job.write_text(SHORT.replace("box: VB-3, hot: A-K2 red}", "box: VB-3}"), "utf-8")
    assert run("allot", job, "--format", "json") == 1
    said = capsys.readouterr()
    assert json.loads(said.out)["given"] is False
    (problem, *_) = json.loads(said.err)["problems"]
    assert problem["verdict"] == "error"


def test_a_job_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("allot", tmp_path / "none.yaml") == 1
    assert "file-unreadable" in capsys.readouterr().err


def test_hot_missing_says_who_can_help(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("check", job) == 1
    assert "run 'cardgen allot' to have one picked" in capsys.readouterr().err


def test_a_sample_is_complete() -> None:
    assert run("allot", SAMPLE_JOBS / "quarry.yaml") == 0
