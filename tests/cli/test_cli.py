"""The commands as a person types them: what they print where, and their exit codes."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

from cardgen.cli.main import main
from cardgen.job import schema
from cardgen.reading import parse
from tests.jobs import SAMPLE_JOBS, edit, sample


def run(*argv: str | Path) -> int:
    try:
        return main([str(word) for word in argv])
    except SystemExit as leave:  # argparse leaves by itself
        return int(leave.code or 0)


@pytest.fixture
def broken(tmp_path: Path) -> Path:
    text = edit(sample("larkspur"), "box: VB-2, hot: A-K1 yellow", "box: VB-2, hot: A-K1 green")
    text = edit(text, "inrush: 0.40 A", "inrush: 0.40")
    path = tmp_path / "broken.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_check_of_a_good_job(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("check", SAMPLE_JOBS / "larkspur.yaml", "--format", "short") == 0
    said = capsys.readouterr()
    assert said.out.endswith("larkspur.yaml: 2 notes\n")
    assert [line.rpartition("[")[2] for line in said.err.splitlines()] == [
        "several-commons]",
        "sensor-on-terminals]",
    ]


def test_a_problem_shows_its_line_with_a_mark_under_the_very_value(
    broken: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("check", broken) == 1
    said = capsys.readouterr().err
    lines = said.splitlines()
    at = next(i for i, line in enumerate(lines) if line.endswith("[unit-missing]"))
    assert lines[at].startswith(f"{broken}:")
    source, mark = lines[at + 1], lines[at + 2]
    start = mark.index("^")
    assert source[start : start + mark.count("^")] == "0.40"
    assert "way out: " in said


def test_all_faults_in_one_run_and_in_every_format(
    broken: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    codes = {"unit-missing", "conductor-used-twice"}
    assert run("check", broken, "--format", "json") == 1
    found = json.loads(capsys.readouterr().out)["problems"]
    assert codes == {p["code"] for p in found if p["verdict"] == "error"}
    assert run("check", broken, "--format", "short") == 1
    short = capsys.readouterr().err
    assert short.count(": error: ") == 2
    for p in found:
        place = f"{p['file']}:{p['line']}:{p['column']}"
        assert f"{place}: {p['verdict']}: {p['sentence']} [{p['code']}]" in short


def test_nothing_is_written_while_there_is_an_error(
    broken: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("print", broken, "--out", tmp_path / "out") == 1
    assert not (tmp_path / "out").exists()
    assert "Nothing printed" in capsys.readouterr().err


def test_print_into_a_folder_that_is_a_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "out").write_bytes(b"mine")
    assert run("print", SAMPLE_JOBS / "larkspur.yaml", "--out", tmp_path / "out") == 2
    said = capsys.readouterr()
    assert "is a file, not a folder" in said.err
    assert said.out == ""


def test_print_on_a_stock_that_is_not_there(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = SAMPLE_JOBS / "larkspur.yaml"
    assert run("print", job, "--out", tmp_path / "out", "--stock", "roll") == 2
    assert "roll-50x75" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("distance", "said"),
    [
        ("0.8", "a length has no unit"),
        ("80 cm", "the unit in '80 cm' is not known here"),
        ("9 m", "a tag is read from 0.25 to 3 m, not from 9 m"),
    ],
)
def test_a_distance_that_is_none(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], distance: str, said: str
) -> None:
    job = SAMPLE_JOBS / "larkspur.yaml"
    assert run("print", job, "--out", tmp_path / "out", "--read-from", distance) == 2
    assert f"--read-from: {said}" in capsys.readouterr().err


def test_tags_read_from_farther_have_larger_letters_or_are_not_printed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tags = ("print", SAMPLE_JOBS / "larkspur.yaml", "--only", "valve-tags", "--out", tmp_path / "o")
    assert run(*tags, "--read-from", "3 ft") == 0  # 0.91 m: id, box and color of 3.7 mm
    assert run(*tags, "--read-from", "4.5 ft") == 1  # 5.5 mm
    assert "or read it from nearer than 1.3716 m" in capsys.readouterr().err
    assert run(*tags, "--read-from", "4.5 ft", "--stock", "a7-letter") == 0


def test_trace_shows_the_way_out_and_back(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("trace", SAMPLE_JOBS / "quarry.yaml", "A1") == 0
    said = [line.strip() for line in capsys.readouterr().out.splitlines()]
    steps = [line for line in said if " to " in line and " AWG" in line]
    assert [step.split("  ")[0] for step in steps] == [
        "A-K1 red",
        "A-S1 red A1",
        "A-S1 white",
        "A-K1 white",
    ]
    assert "SB-1: joint (as built) of A-K1 red in + A-S1 red A1 out" in said
    assert "coil of A1, 30 ohm (24 to 36)" in said  # 15 % and 1 ohm either way, as on the tag
    assert said[-1].startswith(
        "33.2 ohm (27 to 39) at the controller"
    )  # sum of the segments, by hand


def test_trace_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("trace", SAMPLE_JOBS / "quarry.yaml", "A10", "--format", "json") == 0
    circuits = json.loads(capsys.readouterr().out)["circuits"]
    assert [c["id"] for c in circuits] == ["A10a", "A10b"]
    assert all(round(c["ohms_20C"], 1) == 17.3 for c in circuits)
    assert all(step["cable"] == "A-K2" for c in circuits for step in c["hot"] + c["common"])


@pytest.mark.parametrize(
    ("hot", "known"),
    [
        ("not known", ""),
        ("[A-K1 green to VB-1, not known]", "A-K1 green from terminal 3 of A to VB-1"),
        ("[not known, A-K1 green]", "A-K1 green from VB-1 to the coil of A3"),
        (
            "[A-K1 green to VB-1, not known, A-K1 orange from VB-1]",
            "A-K1 green from terminal 3 of A to VB-1; A-K1 orange from VB-1 to the coil of A3",
        ),
    ],
)
def test_trace_of_a_hot_that_is_known_at_one_end(
    hot: str, known: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A3 is on terminal 3, in VB-2; K1 goes to VB-1 and on to VB-2."""
    in_part = f"its hot is known in part: {known}; the rest is not known"
    said = in_part if known else "its hot is not known"
    job = tmp_path / "job.yaml"
    job.write_text(edit(sample("larkspur"), "hot: A-K1 green", f"hot: {hot}"), encoding="utf-8")
    assert run("trace", job, "A3") == 0
    assert capsys.readouterr().out.splitlines()[1] == f"  {said}"
    assert run("trace", job, "A3", "--format", "json") == 0
    (circuit,) = json.loads(capsys.readouterr().out)["circuits"]
    assert circuit["reason"] == said


def test_trace_of_a_hot_of_which_a_joint_shows_one_end(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "job.yaml"
    text = edit(sample("larkspur"), "hot: A-K1 green", "hot: not known")
    joints = "joints:\n  VB-2: [[A-K1 green, A3], [A-K1 yellow, A6], [A-K1 white, A3, A6]]\n"
    job.write_text(edit(text, "sensors:\n", f"{joints}sensors:\n"), encoding="utf-8")
    run("trace", job, "A3")
    known = "its hot is known in part: A-K1 green on the coil of A3; the rest is not known"
    assert known in capsys.readouterr().out


def test_trace_of_a_decoder_says_where_to_measure(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("trace", SAMPLE_JOBS / "heron.yaml", "D1") == 0
    assert "measure at the decoder" in capsys.readouterr().out


def test_a_station_that_has_a_fault_is_not_called_unknown(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "job.yaml"
    job.write_text(edit(sample("larkspur"), "box: VB-1, hot: A-K1 red", "box: VB-9, hot: A-K1 red"))
    assert run("trace", job, "A1") == 1
    said = capsys.readouterr().err
    assert "A1 cannot be traced: fix the errors first" in said
    assert "there is no box 'VB-9'" in said
    assert "no station" not in said
    assert run("trace", job, "Q7") == 2
    assert "way out: 'cardgen trace JOB' shows all" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        (["chek", "job.yaml"], "there is no command 'chek'\nway out: did you mean 'check'?"),
        (["zzz"], "there is no command 'zzz'\nway out: there are new, check, trace,"),
        (["print", "j", "--out", "o", "--paper", "a5"], "--paper: 'a5' is none of letter, a4"),
        (["check", "j", "--format", "xml"], "--format: 'xml' is none of text, short, json"),
        (["serve", "web", "--port", "99999"], "--port: '99999' is not a number from 0 to 65535"),
        (["serve", "web", "--port", "http"], "--port: 'http' is not a number from 0 to 65535"),
    ],
)
def test_a_mistyped_command_line_is_told_in_plain_words(
    argv: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(*argv) == 2
    assert said in capsys.readouterr().err


def test_paper_may_be_written_as_it_is_called(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job, out = SAMPLE_JOBS / "larkspur.yaml", tmp_path / "tags"
    assert run("print", job, "--out", out, "--paper", "A4", "--only", "spare-list") == 0
    assert "spare-list.pdf: 1 card on 1 page" in capsys.readouterr().out


def test_trace_of_an_unknown_station_names_the_nearest(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert run("trace", SAMPLE_JOBS / "quarry.yaml", "A99") == 2
    assert "no station 'A99'" in capsys.readouterr().err


def test_new_writes_a_job_without_errors_and_keeps_what_is_there(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "mine.yaml"
    assert run("new", path) == 0
    assert run("check", path) == 0
    assert capsys.readouterr().out.endswith("3 warnings\n")  # code, site and address are nobody's
    before = path.read_bytes()
    assert run("new", path) == 2
    assert path.read_bytes() == before
    other = tmp_path / "other.yaml"
    assert run("new", other) == 0
    assert other.read_bytes() != before  # its key is its own


def test_explain(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("explain", "common-stops") == 0
    assert "common-stops" in capsys.readouterr().out
    assert run("explain", "common-stop") == 2
    assert "did you mean 'common-stops'?" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["check", "trace", "print"])
@pytest.mark.parametrize("data", [b"", b"\x00\x01\x02", b"[" * 5000, b"a: b: c", b"\xff\xfea"])
def test_no_traceback_for_what_is_no_job(
    tmp_path: Path, command: str, data: bytes, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "bad.yaml"
    path.write_bytes(data)
    more: list[str | Path] = ["--out", tmp_path / "out"] if command == "print" else []
    assert run(command, path, *more) == 1
    assert f"{path}:1:" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_a_job_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("check", tmp_path / "gone.yaml") == 1
    assert "cannot be read" in capsys.readouterr().err


def test_used_wrongly() -> None:
    assert run() == 2
    assert run("paint") == 2
    assert run("print", "x.yaml") == 2


def test_help_needs_no_heavy_library() -> None:
    script = (
        "import sys\nfrom cardgen.cli.main import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit:\n    pass\n"
        "heavy = {'yaml', 'reportlab', 'starlette', 'uvicorn', 'sqlite3', 'dataclasses'}\n"
        "print(sorted(heavy & set(sys.modules)), file=sys.stderr)\n"
        "print(sorted(m for m in sys.modules if m.startswith('cardgen.')), file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    heavy, ours = done.stderr.splitlines()
    assert heavy == "[]"
    assert ast.literal_eval(ours) == [
        *("cardgen.cli", "cardgen.cli.main", "cardgen.cli.parser", "cardgen.cli.selecting"),
        "cardgen.printer",
    ]
    for command in ("new", "check", "trace", "print", "explain", "manual"):
        assert f"    {command} " in done.stdout


def test_the_schema_is_one_that_json_schema_accepts() -> None:
    jsonschema.Draft202012Validator.check_schema(schema())
    assert parse("a: 1", "x")[0] is not None
