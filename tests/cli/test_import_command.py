"""`cardgen export` and `import` as a person types them: what they write, and what they leave."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path

import pytest

from cardgen.examine import examine
from tests.cli.test_cli import run
from tests.jobs import edit, sample

Said = pytest.CaptureFixture[str]


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.yaml"
    path.write_bytes(sample("larkspur").replace("\n", "\r\n").encode("utf-8-sig"))
    return path


def test_there_and_back(job: Path, capsys: Said) -> None:
    """A workbook, a folder and a list change nothing; what is typed is shown, then written."""
    before = job.read_bytes()
    for name in ("book.xlsx", "folder", "list.csv"):
        out = job.with_name(name)
        assert run("export", job, "--out", out) == 0
        assert run("import", out, "--into", job, "--in-place") == 0
        said = capsys.readouterr()
        assert "says the same already; nothing is changed." in said.out, name
        assert "[sheet-" not in said.err
        assert job.read_bytes() == before
        if out.is_file():
            assert run("export", job, "--out", out) == 2
            assert "is there already" in capsys.readouterr().err
            assert run("export", job, "--out", out, "--replace") == 0
    table = job.with_name("list.csv")
    text = table.read_text("utf-8-sig").replace("back lawn north, rotor", "=north")
    table.write_text(text, "utf-8")
    capsys.readouterr()
    assert run("import", table, "--into", job) == 0
    assert capsys.readouterr().out == (
        "stations A4 area: back lawn north, rotor -> =north\n"
        "Nothing is written yet: add --in-place.\n"
    )
    assert job.read_bytes() == before
    assert run("import", table, "--into", job, "--in-place") == 0
    after = job.read_bytes().decode("utf-8")
    assert after == edit(before.decode("utf-8"), '"back lawn north, rotor"', "=north")


def test_what_is_told_can_be_pasted(tmp_path: Path, capsys: Said) -> None:
    """Followed word by word, as a shell takes it apart, with blanks in the names."""
    job, book, new = (tmp_path / name for name in ("My Park.yaml", "My List.xlsx", "New 1.yaml"))
    job.write_text(sample("larkspur"), "utf-8")
    assert run("export", job, "--out", book) == 0
    assert run("import", book, "--out", new) == 0
    told = re.findall(r"then: cardgen (.*)", capsys.readouterr().out)
    assert len(told) == 2
    for line in told:
        assert run(*shlex.split(line)) == 0, line


def test_a_new_job(job: Path, capsys: Said) -> None:
    book, new = job.with_name("book.xlsx"), job.with_name("new.yaml")
    assert run("export", job, "--out", book) == 0
    assert run("import", book, "--out", new) == 0
    assert not examine(new).has_errors
    assert run("import", book, "--out", new) == 2  # never over what is there
    capsys.readouterr()
    table = job.with_name("own.csv")
    table.write_text("Station;Area\n1;lawn\nx;beds\n", "utf-8")
    assert run("import", table, "--out", job.with_name("own.yaml")) == 1
    said = capsys.readouterr()
    assert f"{table}:3:1: error: 'x' names no station [sheet-name]" in said.err
    assert said.err.endswith("Nothing is written. Fix the errors above first.\n")
    assert not job.with_name("own.yaml").exists()
    assert "sites" not in said.err


def test_several_sites_and_one_job(job: Path, capsys: Said) -> None:
    """What would be mixed is said; where a folder has no meaning, it is refused."""
    table, book = job.with_name("own.csv"), job.with_name("book.xlsx")
    table.write_text("Site;Station;Area\nElm;1;lawn\nOak;1;beds\n", "utf-8")
    assert run("import", table, "--out", job.with_name("own.yaml")) == 1
    assert run("import", table, "--into", job) == 1
    assert capsys.readouterr().err.count("cardgen: the list has 2 sites: name a folder, ") == 2
    assert run("import", table, "--into", job, "--format", "json") == 1
    assert [p["code"] for p in json.loads(capsys.readouterr().err)["problems"]] == ["duplicate-key"]
    assert run("export", job, "--out", book) == 0
    assert run("import", book, "--out", job.with_name("sites")) == 2
    assert run("import", table, "--out", book) == 2
    said = capsys.readouterr().err
    assert "is the workbook of one job" in said and "is a file, not a folder" in said


def test_what_a_list_and_a_folder_do_not_share_is_named(job: Path, capsys: Said) -> None:
    table, folder = job.with_name("own.csv"), job.with_name("sites")
    table.write_text("Site;Station;Area\nElm;1;lawn\nOak;1;beds\nOak;2;trees\n", "utf-8")
    assert run("import", table, "--out", folder) == 0
    elm, oak = folder / "elm.yaml", folder / "oak.yaml"
    table.write_text("Site;Station;Area\nOak;1;beds\nAsh;1;lawn\n", "utf-8")
    capsys.readouterr()
    assert run("import", table, "--into", folder, "--in-place") == 0
    assert capsys.readouterr().out == (
        "no job has the site 'Ash' yet: import the list with --out to make one\n"
        f"{elm} is not in the list, and left as it is: Elm\n"
        f"{oak}: not in the list, and left as they are: A2\n"
        "1 job says the same already; nothing is changed.\n"
    )
    before = oak.read_bytes()
    assert run("import", table, "--out", folder) == 0
    assert (folder / "ash.yaml").exists() and oak.read_bytes() == before
    said = capsys.readouterr().out
    assert f"{oak} is there already and stays as it is: Oak\n" in said
    assert "1 job is written." in said
    oak.write_text("job: [", "utf-8")  # then nobody knows whose job it is
    assert run("import", table, "--into", folder, "--in-place") == 1
    assert "oak.yaml:2:1: error" in capsys.readouterr().err


def test_what_is_used_wrongly(job: Path, capsys: Said, monkeypatch: pytest.MonkeyPatch) -> None:
    book = job.with_name("book.xlsx")
    assert run("export", job, "--out", job.with_suffix(".ods")) == 2
    assert run("import", job.with_name("no.csv"), "--into", job) == 2
    assert run("import", job.with_name("no.csv"), "--out", book, "--in-place") == 2
    said = capsys.readouterr().err
    assert "'.ods' is no ending for a spreadsheet" in said
    assert "no.csv' cannot be read" in said and "name the job after --into" in said
    assert run("export", job, "--out", book) == 0
    monkeypatch.setattr("cardgen.results.xlsx_cells.is_installed", lambda: False)
    assert run("export", job, "--out", book, "--replace") == 0
    assert run("import", book, "--into", job) == 1
    assert capsys.readouterr().err.count("'cardgen manual install' says how to add it") == 1
