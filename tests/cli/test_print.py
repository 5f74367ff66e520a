"""`cardgen print` of only what is needed: files, folders, sheets, and what is said of wrong use."""

from __future__ import annotations

import json
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cardgen.cli.main import main
from tests.jobs import SAMPLE_JOBS, SAMPLES, sample
from tests.output.jobs import quarry
from tests.output.test_locking import started
from tests.outside.pages import by_zxing, gray_by_pdfium, text_by_pdfium
from tests.record.records import revision

ROOT = Path(__file__).parents[2]
MANIFEST = "cardgen-manifest.json"
MEADOW = ("front lawn west, spray", "front meadow")  # of A1, in VB-1


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "out"


@pytest.fixture
def job(tmp_path: Path) -> Callable[..., Path]:
    """Larkspur at a revision, with edits, as a file."""

    def write(number: int, *edits: tuple[str, str]) -> Path:
        path = tmp_path / "job.yaml"
        path.write_text(revision(number, *edits), encoding="utf-8")
        return path

    return write


def run(*argv: str | Path) -> int:
    try:
        return main(["print", *map(str, argv), "--format", "short"])
    except SystemExit as leave:  # argparse leaves by itself
        return int(leave.code or 0)


def words(text: str) -> list[str]:
    return text.split()


def files(out: Path) -> dict[str, bytes]:
    found = (path for path in out.rglob("*") if path.is_file())
    return {str(path.relative_to(out)): path.read_bytes() for path in found}


def kept(out: Path) -> dict[str, int]:
    """By card, the revision of its last print, as the manifest says."""
    cards: dict[str, int] = json.loads((out / MANIFEST).read_text("utf-8"))["cards"]
    return cards


# -- files and folders -------------------------------------------------------------------------


def test_a_print_of_some_cards_leaves_the_whole_print_as_it_is(
    job: Callable[..., Path], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(job(1), "--out", out) == 0
    before = files(out)
    assert run(job(1), "--out", out, "--box", "VB-3") == 0
    assert f"{out / 'selected' / 'valve-tags.pdf'}: 2 cards on 1 page" in capsys.readouterr().out
    after = files(out)
    made = {"selected/valve-tags.pdf", "selected/wire-flags.pdf", "selected/splice-cards.pdf"}
    assert set(after) - set(before) == made
    assert {name for name in before if before[name] != after[name]} <= {MANIFEST}
    assert run(job(1), "--out", out, "--station", "A1") == 0  # takes the place of the other
    assert set(files(out)) == set(before) | {"selected/valve-tags.pdf", "selected/wire-flags.pdf"}
    capsys.readouterr()
    assert run(job(1), "--out", out) == 0
    assert "stale" not in capsys.readouterr().out
    assert {name: files(out)[name] for name in before if name != MANIFEST} == {
        name: data for name, data in before.items() if name != MANIFEST
    }
    assert run(job(2, MEADOW), "--out", out) == 0
    assert "What is stale of revision 1: --since 1 lists it." in capsys.readouterr().out


def test_one_kind_replaces_its_own_files_only(job: Callable[..., Path], out: Path) -> None:
    assert run(job(1), "--out", out, "--only", "valve-tags", "--only", "door-legend") == 0
    assert set(files(out)) == {"valve-tags.pdf", "door-legend-A.pdf", MANIFEST}
    before = files(out)
    assert run(job(2, MEADOW), "--out", out, "--only", "valve-tags") == 0
    after = files(out)
    assert {name for name in before if before[name] != after[name]} == {"valve-tags.pdf", MANIFEST}
    assert {key: number for key, number in kept(out).items() if "tag" not in key} == {"legend A": 1}
    assert {number for key, number in kept(out).items() if "tag" in key} == {2}


def test_the_packet_alone_is_whole_and_names_what_lies_elsewhere(
    job: Callable[..., Path], out: Path
) -> None:
    assert run(job(1), "--out", out / "all") == 0
    assert run(job(1), "--out", out / "one", "--only", "packet") == 0
    assert set(files(out / "one")) == {"packet.pdf", MANIFEST}
    assert files(out / "one")["packet.pdf"] == files(out / "all")["packet.pdf"]


@pytest.mark.parametrize("name", SAMPLES)
def test_a_controller_of_each_sample(name: str, out: Path) -> None:
    controller = {"larkspur": "A", "quarry": "B", "heron": "D", "sandpiper": "P"}[name]
    assert run(SAMPLE_JOBS / f"{name}.yaml", "--out", out, "--controller", controller) == 0
    made = {Path(file).name for file in files(out)}
    assert f"door-legend-{controller}.pdf" in made
    assert {"valve-tags.pdf", "test-sheet.pdf", "wiring-drawing.pdf"} <= made
    assert {"packet.pdf", "materials.pdf", "materials.csv", "spare-list.pdf"}.isdisjoint(made)
    assert sum(file.startswith("door-legend") for file in made) == 1


def test_what_was_changed_by_hand_stops_a_part_as_well(
    job: Callable[..., Path], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tags = ("--out", out, "--only", "valve-tags")
    assert run(job(1), *tags) == 0
    (out / "valve-tags.pdf").write_bytes(b"with my remarks")
    assert run(job(1), *tags) == 2
    assert "has been changed since" in capsys.readouterr().err
    assert (out / "valve-tags.pdf").read_bytes() == b"with my remarks"


# -- sheets ------------------------------------------------------------------------------------


def test_the_sheet_begins_at_the_first_free_card_in_walking_order(
    job: Callable[..., Path], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nine cards on a sheet, three in a row; the codes name the boxes."""
    assert run(job(1), "--out", out, "--only", "valve-tags", "--start", "5") == 0
    assert "6 cards on 2 pages" in capsys.readouterr().out
    pdf = (out / "valve-tags.pdf").read_bytes()
    found = [by_zxing(gray_by_pdfium(pdf, dpi=200, page=page)) for page in (0, 1)]
    # By row and column of the grid: what lies within one card of another is in its row.
    rows = [sorted(codes, key=lambda code: (code.at_mm(200)[1] // 90, code.x)) for codes in found]
    boxes = [[code.text.rpartition("/")[2] for code in row] for row in rows]
    assert boxes == [["VB-1", "VB-1", "VB-2", "VB-2", "VB-3"], ["VB-3"]]
    assert [code.at_mm(200)[1] // 90 for code in rows[0]] == [1, 1, 2, 2, 2]
    texts = text_by_pdfium(pdf)
    assert "sheet 1 of 2" not in texts[0]  # the part-used sheet has its line already
    assert "sheet 2 of 2" in texts[1]


def test_only_the_first_file_goes_on_the_part_used_sheet(
    job: Callable[..., Path], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = ("--out", out, "--only", "valve-tags", "--only", "wire-flags")
    assert run(job(1), *asked, "--start", "9") == 0
    said = capsys.readouterr().out
    assert "valve-tags.pdf: 6 cards on 2 pages" in said
    assert "wire-flags.pdf: 28 cards on 1 page" in said  # of 12 conductors, 2 cut in VB-1
    roll = ("--stock", "roll-50x75", "--start", "20")
    assert run(job(1), *asked, *roll) == 0  # tags lie on a roll, so it is the sheet of flags
    said = capsys.readouterr().out
    assert "valve-tags.pdf: 6 cards on 7 pages" in said  # the first has the bar
    assert "wire-flags.pdf: 28 cards on 2 pages" in said


def test_copies_lie_one_behind_the_other_and_sheets_set_by_set(
    job: Callable[..., Path], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(job(1), "--out", out, "--copies", "3") == 0
    said = capsys.readouterr().out
    assert "valve-tags.pdf: 18 cards on 2 pages" in said
    tags = " ".join(text_by_pdfium((out / "valve-tags.pdf").read_bytes()))
    assert [word for word in words(tags) if word in ("A1", "A2")] == ["A1"] * 3 + ["A2"] * 3
    for file, page in (("packet.pdf", "packet page"), ("wiring-drawing.pdf", "sheet")):
        texts = text_by_pdfium((out / file).read_bytes())
        assert len(texts) % 3 == 0
        third = texts[: len(texts) // 3]
        assert texts == third * 3
        assert f"{page} 1 of {len(third)}" in texts[0]


# -- since -------------------------------------------------------------------------------------


def test_what_changed_since_is_printed_and_listed(
    job: Callable[..., Path], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(job(1), "--out", out) == 0
    before = files(out)
    capsys.readouterr()
    assert run(job(2, MEADOW), "--out", out, "--since", "1") == 0
    said = capsys.readouterr().out
    new = files(out).keys() - before.keys()
    assert new == {
        f"since-1/{name}"
        for name in (
            *("valve-tags.pdf", "door-legend-A.pdf", "test-sheet.pdf", "wiring-drawing.pdf"),
            *("packet.pdf", "stale-tags.txt", "test-sheet.csv", "test-sheet.xlsx"),
        )
    }
    listed = (out / "since-1" / "stale-tags.txt").read_text("utf-8")
    assert said.startswith(listed)
    assert listed.startswith(
        "LARK-06 · Larkspur Cottage\nRevision 2 of 2026-04-02 against revision 1 of 2026-04-01\n"
        "\nREPLACE (2)\n[ ] controller A: legend\n"
    )
    assert "[ ] VB-1: valve tag A1\n      area: front lawn west, spray -> front meadow\n" in listed
    tags = " ".join(text_by_pdfium((out / "since-1" / "valve-tags.pdf").read_bytes()))
    assert "A1" in tags and "A2" not in tags
    assert all(files(out)[name] == before[name] for name in before if name != MANIFEST)
    assert kept(out)["valve tag A1"] == 2 and kept(out)["valve tag A2"] == 1


def test_nothing_changed_prints_nothing_in_any_language_or_on_any_stock(
    job: Callable[..., Path], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tags = ("--out", out, "--only", "valve-tags", "--only", "splice-cards")
    assert run(job(1), *tags) == 0
    before = files(out)
    capsys.readouterr()
    others = ("--language", "es", "--stock", "roll-50x75", "--paper", "a4")
    assert run(job(1), *tags, *others, "--since", "1") == 0
    nothing = "nothing has changed since revision 1: nothing is printed\n"
    assert capsys.readouterr().out == nothing
    assert files(out) == before
    assert run(job(2), *tags, *others, "--since", "1") == 0
    assert capsys.readouterr().out == nothing
    assert files(out).keys() == before.keys()
    assert run(job(3, MEADOW), *tags, "--since", "2") == 0  # it is a revision to go on from
    assert "REPLACE (1)\n[ ] VB-1: valve tag A1" in capsys.readouterr().out


def test_a_chain_of_changes_is_told_step_by_step(
    tmp_path: Path, out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, tags = tmp_path / "job.yaml", ("--out", out, "--only", "valve-tags")
    path.write_text(quarry(3), encoding="utf-8")
    assert run(path, *tags) == 0
    path.write_text(quarry(5), encoding="utf-8")
    assert run(path, *tags, "--since", "3") == 0
    assert "TAKE DOWN (1)\n[ ] VB-4: valve tag A9\n" in capsys.readouterr().out
    path.write_text(quarry(6), encoding="utf-8")
    assert run(path, *tags, "--since", "5") == 0  # A9 was taken down already
    assert "nothing has changed since revision 5" in capsys.readouterr().out
    assert run(path, *tags, "--since", "3") == 0
    assert "TAKE DOWN (1)\n[ ] VB-4: valve tag A9\n" in capsys.readouterr().out


def test_the_manifest_of_another_folder_and_what_it_kept_goes_on(
    job: Callable[..., Path], out: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tags = ("--only", "valve-tags")
    assert run(job(1), "--out", out, *tags) == 0
    new, old = tmp_path / "new", out / MANIFEST
    before = files(out)
    assert run(job(2, MEADOW), "--out", new, *tags, "--since", "1", "--manifest", old) == 0
    assert set(files(new)) == {"since-1/valve-tags.pdf", "since-1/stale-tags.txt", MANIFEST}
    assert files(out) == before
    capsys.readouterr()
    assert run(job(3), "--out", new, *tags, "--since", "2") == 0
    assert "front meadow -> front lawn west, spray" in capsys.readouterr().out
    assert kept(new)["valve tag A2"] == 1


# -- wrong use ---------------------------------------------------------------------------------

WRONG = [
    (["--only", "valve-tag"], "nothing that is printed is called 'valve-tag'", "valve-tags"),
    (["--box", "VB-11"], "the job has no box 'VB-11'", "did you mean 'VB-1'?"),
    (["--station", "A77"], "the job has no station 'A77'", ""),
    (["--controller", "AA"], "the job has no controller 'AA'", ""),
    (["--only", "packet", "--box", "VB-1"], "what is named has no packet", "it has "),
    (["--start", "0"], "'0' is not a number from 1 to", ""),
    (["--start", "x"], "'x' is not a number from 1 to", ""),
    (["--start", "10"], "'id-1-letter' has 9 cards on a sheet, so there is none 10", "1 to 9"),
    (["--only", "door-legend", "--start", "2"], "no tags or flags are printed on a sheet", ""),
    (["--copies", "100"], "'100' is not a number from 1 to 99", ""),
    (["--since", "-1"], "'-1' is not a number from 0 to", ""),
    (["--since", "0"], "there is no print yet", "--manifest"),
    (["--manifest", "x.json"], "--manifest is for --since", "--since REV"),
    (["--since", "0", "--manifest", "x.json"], "there is no 'x.json'", "manifest of a print"),
]


@pytest.mark.parametrize(("asked", "sentence", "help_"), WRONG)
def test_wrong_use_is_said_and_nothing_written(
    asked: list[str],
    sentence: str,
    help_: str,
    job: Callable[..., Path],
    out: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run(job(1), "--out", out, *asked) == 2
    said = capsys.readouterr()
    assert sentence in said.err
    assert help_ in said.err
    assert said.out == ""
    assert not out.exists()


@pytest.mark.parametrize(
    ("number", "asked", "sentence"),
    [
        (3, ["--since", "2"], "revision 2 was never printed there\nway out: there is 1 and 3\n"),
        (2, ["--since", "3"], "the job is revision 2, older than 3"),
    ],
)
def test_a_revision_with_which_nothing_can_be_compared(
    number: int,
    asked: list[str],
    sentence: str,
    job: Callable[..., Path],
    out: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    tags = ("--out", out, "--only", "valve-tags")
    assert run(job(1), *tags) == 0
    assert run(job(3), *tags) == 0
    before = files(out)
    assert run(job(number), *tags, *asked) == 2
    assert sentence in capsys.readouterr().err
    assert files(out) == before


def test_a_revision_that_was_printed_is_not_changed_silently(
    job: Callable[..., Path], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tags = ("--out", out, "--only", "valve-tags")
    assert run(job(1), *tags) == 0
    before = files(out)
    assert run(job(1, MEADOW), *tags) == 2
    assert capsys.readouterr().err.endswith(
        "cardgen: revision 1 was printed before and said something else (valve tag A1)\n"
        "way out: raise 'revision' in the job; if no tag of it hangs yet, add --replace\n"
    )
    assert files(out) == before
    assert run(job(1, MEADOW), *tags, "--replace") == 0
    assert run(job(1, MEADOW), *tags) == 0


def test_a_part_does_not_leave_the_rest_of_a_changed_revision_as_it_was(
    job: Callable[..., Path], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    both = ("--out", out, "--only", "valve-tags", "--only", "splice-cards")
    assert run(job(1), *both) == 0
    blue = ("hot: A-K1 blue}", "hot: A-K1 orange}")
    for more in ([], ["--replace"]):
        assert run(job(1, blue), "--out", out, "--only", "valve-tags", *more) == 2
        assert "print all of that again with --replace" in capsys.readouterr().err
    assert run(job(1, blue), "--out", out, "--station", "A1") == 2
    assert run(job(1, blue), *both, "--replace") == 0
    assert set(kept(out).values()) == {1}


def test_a_manifest_changed_by_hand_stops_every_print_and_stays(
    job: Callable[..., Path], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tags = ("--out", out, "--only", "valve-tags")
    assert run(job(1), *tags) == 0
    path = out / MANIFEST
    path.write_text(
        path.read_text("utf-8").replace("valve tag A1", "valve tag B1"), encoding="utf-8"
    )
    before = files(out)
    for more in ([], ["--since", "1"], ["--replace"]):
        assert run(job(2), *tags, *more) == 2
        assert "is damaged or was changed by hand" in capsys.readouterr().err
    assert files(out) == before
    path.rename(out / "aside.json")
    assert run(job(2), *tags) == 2  # whose the tags are is not known without it
    assert run(job(2), *tags, "--replace") == 0


def test_the_manifest_of_another_job(
    job: Callable[..., Path], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tags = ("--out", out, "--only", "valve-tags")
    assert run(SAMPLE_JOBS / "sandpiper.yaml", *tags) == 0
    before = files(out)
    assert run(job(1), *tags, "--since", "1") == 2
    assert "the manifest is of another job" in capsys.readouterr().err
    assert run(job(1), *tags) == 2
    assert "has the print of another job" in capsys.readouterr().err
    assert files(out) == before


# -- two at once -------------------------------------------------------------------------------

SLOW_PRINTER = """
import sys, time
from pathlib import Path
from cardgen.output import printing
from cardgen.cli.main import main
go, real = Path(sys.argv[1]), printing.write_set
def slow(*args, **kwargs):
    print("about to write", flush=True)
    while not go.exists():
        time.sleep(0.01)
    real(*args, **kwargs)
printing.write_set = slow
sys.exit(main(sys.argv[2:]))
"""


def test_of_two_prints_at_once_the_manifest_keeps_both(tmp_path: Path, out: Path) -> None:
    go, path = tmp_path / "go", tmp_path / "job.yaml"
    path.write_text(sample("larkspur"), encoding="utf-8")
    asked = ("print", path, "--out", out, "--only")
    with started("-c", SLOW_PRINTER, go, *asked, "valve-tags") as first:
        second = subprocess.Popen(
            [sys.executable, "-m", "cardgen", *map(str, asked), "wire-flags"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        )
        with second:
            assert second.stderr
            assert "another cardgen is writing into" in second.stderr.readline()
            go.touch()
            assert first.wait() == 0
            said = second.stderr.read()
        assert second.returncode == 0, said
    assert {"valve-tags.pdf", "wire-flags.pdf"} <= files(out).keys()
    assert {"valve tag A1", "flag A1 A-K1 red at A"} <= kept(out).keys()


KILLED_PRINTER = """
import sys
from cardgen.cli.main import main
from tests.files.killing import die_half_way
die_half_way()
sys.exit(main(sys.argv[1:]))
"""


def test_after_a_print_that_was_killed_the_next_one_finishes_it_and_says_so(
    tmp_path: Path, job: Callable[..., Path], out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tags = ("--only", "valve-tags", "--only", "wire-flags", "--out")
    assert run(job(1), *tags, out) == 0
    shutil.copytree(out, tmp_path / "other")
    assert run(job(2), *tags, tmp_path / "other") == 0
    first, second = files(out), files(tmp_path / "other")
    argv = ["-c", KILLED_PRINTER, "print", job(2), *tags, out]
    done = subprocess.run([sys.executable, *map(str, argv)], cwd=ROOT, check=False)
    assert done.returncode == -signal.SIGKILL
    assert files(out).items() & first.items() and files(out).items() & second.items()
    capsys.readouterr()
    assert run(job(2), *tags, out) == 0
    assert "was cut short; it is finished now" in capsys.readouterr().err
    assert files(out) == second


def test_a_box_tag_that_goes_on_is_counted_as_it_is_cut(
    out: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    argv = [SAMPLE_JOBS / "quarry.yaml", "--out", out, "--only", "box-tags"]
    assert main(["print", *map(str, argv)]) == 0
    said = re.search(r"box-tags\.pdf: (\d+) cards on", capsys.readouterr().out)
    text = text_by_pdfium((out / "box-tags.pdf").read_bytes())
    stamps = re.findall(r"rev 3(?!,)", "\n".join(text))
    assert said
    assert int(said[1]) == len(stamps)
