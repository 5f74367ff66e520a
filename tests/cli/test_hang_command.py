"""`cardgen hang` and `--since hanging`: what the office says of hanging, without the desk."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from cardgen.cli.main import main
from cardgen.memory.prints import MANIFEST, read_log
from tests.jobs import edit, sample
from tests.outside.pages import text_by_poppler

TAGS = ("--only", "valve-tags", "--only", "box-tags")
LAWN = "front lawn east, spray"  # of A2, as the sample's file has it; no other card says it


def run(*argv: str | Path) -> int:
    return main([str(word) for word in argv])


def park(name: str, revision: int = 1, area: str = LAWN) -> str:
    text = edit(sample("larkspur"), "code: LARK-06", f"code: {name.upper()}")
    return edit(edit(text, "revision: 1,", f"revision: {revision},"), LAWN, area)


def write(folder: Path, name: str, revision: int = 1, area: str = LAWN) -> None:
    (folder / f"{name}.yaml").write_text(park(name, revision, area), encoding="utf-8")


@pytest.fixture
def parks(tmp_path: Path) -> Path:
    folder = tmp_path / "parks"
    folder.mkdir()
    for name in ("ash", "oak"):
        write(folder, name)
    return folder


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "out"


def words_of(path: Path) -> str:
    return " ".join(" ".join(text_by_poppler(path.read_bytes())).split())


def test_what_hangs_is_the_older_side_of_the_next_print(
    parks: Path, out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("print", parks, "--out", out, *TAGS) == 0
    before = {path: path.read_bytes() for path in out.rglob("*.pdf")}
    capsys.readouterr()
    assert run("hang", out) == 0
    assert capsys.readouterr().out == (
        f"{out / 'ash'}: revision 1 of ASH hangs now\n{out / 'oak'}: revision 1 of OAK hangs now\n"
    )
    assert read_log(out / "ash").hung == {1} and read_log(out / "oak").hung == {1}
    assert {path: path.read_bytes() for path in out.rglob("*.pdf")} == before
    # Said twice, nothing is written twice.
    manifest = (out / "oak" / MANIFEST).stat().st_mtime_ns
    assert run("hang", out / "oak") == 0
    assert "was marked as hanging already" in capsys.readouterr().out
    assert (out / "oak" / MANIFEST).stat().st_mtime_ns == manifest

    # One park changes: of all that hangs its tag of A2 alone. What never hung is not new.
    write(parks, "ash", 2, "front walk")
    assert run("print", parks, "--out", out, "--since", "hanging") == 0
    said = capsys.readouterr().out
    assert "REPLACE (1)\n[ ] VB-1: valve tag A2\n" in said
    assert "TAKE DOWN" not in said and "PUT UP" not in said and "SHEETS" not in said
    assert "nothing has changed since revision 1: nothing is printed" in said
    made = {path.name for path in (out / "ash" / "since-1").iterdir()}
    assert made == {"valve-tags.pdf", "stale-tags.txt"}
    tags = words_of(out / "ash" / "since-1" / "valve-tags.pdf")
    assert "front walk" in tags and "front lawn west" not in tags
    assert not (out / "oak" / "since-1").exists()

    # The list to carry along is in the language of the print, the terminal stays English.
    assert run("print", parks / "ash.yaml", "--out", out / "ash", "--since", "hanging",
               "--language", "es") == 0  # fmt: skip
    assert "REPLACE (1)\n" in capsys.readouterr().out
    listed = (out / "ash" / "since-1" / "stale-tags.txt").read_text("utf-8").splitlines()
    date = "2026-03-14"
    assert listed == [
        "ASH · Larkspur Cottage",
        f"Revisión 2 del {date} frente a la revisión 1 del {date}",
        "",
        "REEMPLAZAR (1)",
        "[ ] VB-1: etiqueta de válvula A2",
        f"      área: {LAWN} -> front walk",
    ]
    assert run("print", parks / "ash.yaml", "--out", out / "ash", "--since", "hanging") == 0

    # The same as by its number; when that hangs, nothing is left to print.
    alone = out.with_name("alone")
    shutil.copytree(out / "ash", alone)
    again = ("print", parks / "ash.yaml", "--out", alone, *TAGS, "--since", "1")
    assert run(*again) == 0
    name = "since-1/valve-tags.pdf"
    assert (alone / name).read_bytes() == (out / "ash" / name).read_bytes()
    assert run("hang", out / "ash") == 0
    capsys.readouterr()
    assert run("print", parks / "ash.yaml", "--out", out / "ash", "--since", "HANGING") == 0
    assert capsys.readouterr().out == "nothing has changed since revision 2: nothing is printed\n"


def test_an_older_revision_and_a_mistake_that_is_taken_back(
    parks: Path, out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for revision in (1, 2):
        write(parks, "ash", revision)
        assert run("print", parks / "ash.yaml", "--out", out, *TAGS) == 0
    capsys.readouterr()
    assert run("hang", out, "--revision", "1") == 0
    assert read_log(out).hung == {1}
    assert run("hang", out) == 0 and read_log(out).hung == {1, 2}
    assert run("hang", out, "--take-back") == 0 and read_log(out).hung == {1}
    assert run("hang", out, "--take-back") == 0
    assert capsys.readouterr().out.endswith(
        "revision 2 of ASH does not hang any more\n"
        f"{out}: revision 2 of ASH was not marked as hanging\n"
    )


def test_one_folder_that_cannot_be_marked_stops_no_other(
    parks: Path, out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("print", parks, "--out", out, *TAGS) == 0
    assert run("record", parks / "oak.yaml", "--out", out / "web") == 0
    manifest = out / "ash" / MANIFEST
    manifest.write_text(manifest.read_text("utf-8").replace("ASH", "ELM", 1), encoding="utf-8")
    capsys.readouterr()
    assert run("hang", out) == 2  # the record beside them is no print
    said = capsys.readouterr()
    assert said.out == f"{out / 'oak'}: revision 1 of OAK hangs now\n"
    assert f"'{manifest}' is damaged or was changed by hand" in said.err
    (record,) = (path.parent for path in (out / "web").rglob(MANIFEST))
    assert "web" not in said.err
    assert "hung" not in json.loads((record / MANIFEST).read_text("utf-8"))
    for folder, told in (
        (record, "is that of a job record"),
        (out / "web", "nothing was printed into"),
        (parks, f"nothing was printed into '{parks}'"),
        (out / "none", f"'{out / 'none'}' cannot be read: no such file or directory"),
    ):
        assert run("hang", folder) == 2
        said = capsys.readouterr()
        assert told in said.err and said.out == "", told
    assert run("hang", out / "oak", "--revision", "7") == 2
    assert f"revision 7 was never printed into '{out / 'oak'}'" in capsys.readouterr().err


def test_where_nothing_hangs_that_is_said(
    parks: Path, out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = parks / "ash.yaml"
    print_since = ("print", job, "--out", out, "--since", "hanging")
    assert run(*print_since) == 2 and not out.exists()
    assert "there is no print yet of which anything could hang" in capsys.readouterr().err
    assert run("print", job, "--out", out, *TAGS) == 0
    before = {path: path.read_bytes() for path in out.iterdir()}
    assert run(*print_since) == 2
    said = capsys.readouterr().err
    assert "nothing of the print of ASH is marked as hanging\n" in said
    assert "way out: " in said and "cardgen hang" in said
    assert {path: path.read_bytes() for path in out.iterdir()} == before
    # What hangs stays: the same revision with other words is refused.
    assert run("hang", out) == 0
    write(parks, "ash", 1, "front walk")
    assert run(*print_since) == 2
    assert "revision 1 hangs, and the job says something else now" in capsys.readouterr().err
    # The prints of another folder know it, too.
    write(parks, "ash", 2, "front walk")
    other = out.with_name("other")
    argv = ("print", job, "--out", other, "--since", "hanging", "--manifest", out / MANIFEST)
    assert run(*argv) == 0
    assert (other / "since-1" / "valve-tags.pdf").exists()
    assert not (other / "since-1" / "wire-flags.pdf").exists()
    with pytest.raises(SystemExit):
        run("print", job, "--out", out, "--since", "hung")
    said = capsys.readouterr().err
    assert "'hung' is not a number from 0 to 1000000, and not 'hanging'" in said
