"""`cardgen print --crew`: one PDF for a crew, the very file that the desk makes."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.cli.main import main
from cardgen.memory.prints import MANIFEST
from tests.desk.clients import DeskClient, answering
from tests.desk.test_crew_bundles import OTHERS, OURS, names_in, parts
from tests.jobs import SAMPLE_JOBS, edit, sample

QUARRY = SAMPLE_JOBS / "quarry.yaml"


def run(*argv: str | Path) -> int:
    return main([str(word) for word in argv])


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "out"


def test_the_boxes_that_are_named_or_all_of_a_controller(
    out: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    crew = ("--crew", "Crew Ana", "--box", "VB-5", "--box", "VB-2")
    kinds = [f"--only={kind}" for kind in ("valve-tags", "box-tags", "test-sheet", "survey")]
    assert run("print", QUARRY, "--out", out, *crew, *kinds) == 0
    said = capsys.readouterr().out
    file = out / "crews" / "crew-ana.pdf"
    assert f"{file}: " in said
    assert "No survey list: the job has nothing to find out in these boxes.\n" in said
    found = parts(file)
    assert list(found) == ["Valve tags", "Box tags", "Test sheet"]
    assert names_in(found["Valve tags"]) == OURS
    sheet = " ".join(found["Test sheet"].split())
    assert "This sheet has only these boxes: VB-2 and VB-5." in sheet and "Crew Ana" in sheet
    # Beside it other crews; without a box all of the job, as without --crew.
    assert run("print", QUARRY, "--out", out, "--crew", "2", "--controller", "B") == 0
    assert run("print", QUARRY, "--out", out, "--crew", "3") == 0
    files = sorted(path.relative_to(out).as_posix() for path in out.rglob("*.pdf"))
    assert files == ["crews/crew-2.pdf", "crews/crew-3.pdf", "crews/crew-ana.pdf"]
    of_all = names_in(parts(out / "crews" / "crew-3.pdf")["Valve tags"])
    assert {*of_all} >= {*OURS, *OTHERS}
    # The desk makes the same bytes of the same choice.
    (tmp_path / "quarry.yaml").write_text(sample("quarry"), encoding="utf-8")
    with answering(tmp_path) as port:
        DeskClient(port).form(
            "/jobs/quarry.yaml/crews",
            {
                "crew": "Crew Ana",
                "box": ["VB-2", "VB-5"],
                "only": ["valve-tags", "box-tags"],
                "sheet": ["test-sheet", "survey"],
                "stock": "id-1-letter",
            },
        )
    made = tmp_path / "quarry-cards" / "crews" / "crew-ana.pdf"
    assert made.read_bytes() == file.read_bytes()


def test_several_jobs_have_each_its_own_file(
    out: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    parks = tmp_path / "parks"
    parks.mkdir()
    for name in ("ash", "oak"):
        text = edit(sample("larkspur"), "code: LARK-06", f"code: {name.upper()}")
        (parks / f"{name}.yaml").write_text(text, encoding="utf-8")
    argv = ("print", parks, "--out", out, "--crew", "Ana", "--box", "VB-1")
    assert run(*argv) == 0 and run(*argv) == 0
    assert capsys.readouterr().out.endswith("2 jobs: 2 done\n")  # which is never skipped
    for name in ("ash", "oak"):
        found = parts(out / name / "crews" / "crew-ana.pdf")
        assert list(found) == ["Valve tags", "Test sheet"] and name.upper() in found["Valve tags"]


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (["--box", "VB-55"], "the job has no box 'VB-55'\nway out: did you mean 'VB-5'?"),
        (["--controller", "Z"], "the job has no controller 'Z'\nway out: it has A and B"),
        (["--box", "VB-5", "--controller", "A"], "way out: leave out one of the two"),
        (["--station", "A1"], "--station is not for --crew"),
        (["--since", "1"], "--since is not for --crew"),
        (["--only", "packet"], "'packet' is nothing for a crew's boxes alone"),
        (["--only", "survey"], "no tags are chosen for the crew"),
        (["--stock", "roll-50x75"], "no stock in sheets"),
        (["--crew", " "], "the crew has no name"),
        (["--crew", "Ana 555-010-4477"], "'555-010-4477' looks like a phone number"),
    ],
)
def test_what_cannot_be_is_said_and_writes_nothing(
    asked: list[str], told: str, out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("print", QUARRY, "--out", out, "--crew", "Ana", *asked) == 2
    said = capsys.readouterr()
    assert told in said.err and said.out == ""
    assert not (out / MANIFEST).exists() and not (out / "crews").exists()
