"""`cardgen diagnose`: what it prints, its JSON, the sheet, and every fault at its cell."""

from __future__ import annotations

import io
import json
import time
from pathlib import Path

import pytest
from pypdf import PdfReader

from cardgen.cli import progress_line
from cardgen.cli.progress_line import ProgressLine, told_after
from tests.cli.test_cli import run
from tests.jobs import SAMPLE_JOBS, edit, sample
from tests.outside.pages import text_by_poppler

QUARRY = SAMPLE_JOBS / "quarry.yaml"
HEAD = "when,valve,kind,value\n"
# Expected ohms of the valves of A-K2: TRADE.md, section 5.2, by hand.
SOUND = {"A9": 32.3, "A10a": 17.3, "A11": 35.2, "A12": 35.2, "A13": 37.2, "A14": 37.2}


def walk(folder: Path, **read: str) -> Path:
    """A file in which all of A-K2 was measured."""
    values = SOUND | read
    rows = (f"2026-05-20,{valve},ohms at the controller,{v}\n" for valve, v in values.items())
    path = folder / "readings.csv"
    path.write_text(HEAD + "".join(rows), encoding="utf-8")
    return path


@pytest.fixture
def beyond_vb_4(tmp_path: Path) -> Path:
    """The row "common open" of TRADE.md, section 3.2: all beyond a place OL, all before good."""
    return walk(tmp_path, **dict.fromkeys(("A11", "A12", "A13", "A14"), "OL"))


def test_a_broken_common_is_found_between_the_last_good_box_and_the_first_dead(
    beyond_vb_4: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("diagnose", QUARRY, beyond_vb_4) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert "Quarry Row Offices 6 readings, newest of 2026-05-20" in text
    assert "common A (A-K2 white), between box VB-4 and box VB-5, or its splice" in text
    assert "! A11 OL; expected 35" in text
    assert "MEASURE NEXT" in text
    assert "Until it is fixed, A11 to A14 do not run" in text
    assert "Lock off A and B." in text


def test_what_no_metal_joins_is_told_part_by_part(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A and B have separate commons; the insulation of B1 is below one megohm by itself."""
    readings, out = walk(tmp_path, A11="OL"), tmp_path / "faults.pdf"
    rows = ("B1,ohms at the controller,31.8", "B2,ohms at the controller,31.8", "B1,insulation,0.1")
    with readings.open("a", encoding="utf-8") as file:
        file.writelines(f"2026-05-20,{row}\n" for row in rows)
    assert run("diagnose", QUARRY, readings, "--out", out) == 0
    told = capsys.readouterr().out
    assert told.index("CONTROLLER A\n============") < told.index("CONTROLLER B\n============")
    assert told.count("One value shows by itself: low insulation to ground: hot B1") == 1
    assert told.endswith("fault sheet on 1 page\n")  # B by itself is sound


def test_a_sound_walk_raises_no_alarm(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("diagnose", QUARRY, walk(tmp_path)) == 0
    text = capsys.readouterr().out
    assert "All 6 readings fit the job: nothing measured points to a fault." in text
    assert "WHAT FITS" not in text and "BEFORE YOU WORK" not in text


def test_json_has_the_values_and_the_words(
    beyond_vb_4: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("diagnose", QUARRY, beyond_vb_4, "--format", "json") == 0
    whole = json.loads(capsys.readouterr().out)
    assert (whole["job"], whole["revision"]) == ("QUAR-24", 3)
    (found,) = whole["diagnoses"]
    assert found["controllers"] == ["A"]
    assert {v["valve"]: v["value"] for v in found["values"] if v["is_off"]} == dict.fromkeys(
        ("A11", "A12", "A13", "A14"), "OL"
    )
    first = found["suspects"][0]
    assert first["faults"][0]["kind"] == "open"
    assert first["says"] == "Fits: an open wire or splice."
    assert sum(suspect["share"] for suspect in found["suspects"]) == pytest.approx(1, abs=0.01)
    assert all(step["says"] for step in found["steps"])


def test_the_sheet_is_written_whole_and_over_nothing(
    beyond_vb_4: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "faults.pdf"
    command: list[str | Path] = ["diagnose", QUARRY, beyond_vb_4, "--out", out]
    assert run(*command) == 0
    assert capsys.readouterr().out.endswith(f"{out}: fault sheet on 1 page\n")
    data = out.read_bytes()
    assert "FAULT SHEET" in text_by_poppler(data)[0]
    assert PdfReader(io.BytesIO(data)).metadata.title == "Fault sheet"  # type: ignore[union-attr]
    assert run(*command) == 2
    assert f"'{out}' is there already" in capsys.readouterr().err
    assert run(*command, "--replace", "--language", "es", "--paper", "a4", "--ink", "one") == 0
    assert "HOJA DE FALLAS" in text_by_poppler(out.read_bytes())[0]


@pytest.mark.parametrize("paper", ["half-letter", "half-a4"])
def test_half_a_sheet_is_a_stock(
    beyond_vb_4: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], paper: str
) -> None:
    out = tmp_path / "faults.pdf"
    assert run("diagnose", QUARRY, beyond_vb_4, "--out", out, "--stock", paper) == 0
    assert "FAULT SHEET" in text_by_poppler(out.read_bytes())[0]
    assert capsys.readouterr().err == ""


def test_a_fault_of_the_file_is_told_at_its_cell_and_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "faults.pdf"
    readings = walk(tmp_path, A77="31")
    assert run("diagnose", QUARRY, readings, "--format", "short", "--out", out) == 1
    told = capsys.readouterr()
    # Row 1 is the head, the valve that no job has the seventh of the values.
    assert f"{readings}:8:12: error: " in told.err and "[reading-of-no-valve]" in told.err
    assert told.out == "" and not out.exists()
    assert "Nothing diagnosed." in told.err


def test_a_job_with_an_error_is_told_as_check_tells_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "broken.yaml"
    text = edit(sample("larkspur"), "box: VB-2, hot: A-K1 yellow", "box: VB-2, hot: A-K1 green")
    job.write_text(text, encoding="utf-8")
    assert run("diagnose", job, walk(tmp_path), "--format", "short") == 1
    assert "[conductor-used-twice]" in capsys.readouterr().err


def test_a_file_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("diagnose", QUARRY, tmp_path / "none.csv") == 2
    assert "none.csv' cannot be read: no such file or directory" in capsys.readouterr().err


# ---- what takes long is told ---------------------------------------------------------------


def shown_of(pause_s: float, takes_s: float, monkeypatch: pytest.MonkeyPatch) -> str:
    terminal = io.StringIO()
    monkeypatch.setattr(progress_line, "progress_here", lambda: ProgressLine(terminal))
    with told_after(pause_s, "comparing"):
        time.sleep(takes_s)
    return terminal.getvalue()


def test_what_takes_long_is_told_and_gone_at_the_end(monkeypatch: pytest.MonkeyPatch) -> None:
    shown = shown_of(0.01, 0.3, monkeypatch)
    assert shown.startswith("\rcomparing ...")
    assert shown.rsplit("\r", 2)[1].strip() == ""  # written over with blanks


def test_what_is_quick_is_not_told(monkeypatch: pytest.MonkeyPatch) -> None:
    assert shown_of(30.0, 0.0, monkeypatch) == ""
