"""How far a print is, on a terminal alone; and Ctrl+C, which leaves whole what was there before."""

from __future__ import annotations

import io
import os
import pty
import re
import signal
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from cardgen.cli.progress_line import ProgressLine
from cardgen.files.exchange import EXCHANGE, WRITING
from tests.benchmarks.campus import campus
from tests.jobs import SAMPLE_JOBS, edit
from tests.outside.pages import text_by_pdfium

ROOT = Path(__file__).parents[2]
LARKSPUR = SAMPLE_JOBS / "larkspur.yaml"


def command(*argv: str | Path) -> list[str]:
    return [sys.executable, "-m", "cardgen", "print", *map(str, argv), "--format", "short"]


def on_a_terminal(*argv: str | Path) -> tuple[int, str]:
    """Exit code, and what came on the terminal that standard error is."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(command(*argv), cwd=ROOT, stderr=theirs, stdout=subprocess.DEVNULL) as it:
        os.close(theirs)
        told = b""
        while True:
            try:
                piece = os.read(ours, 4096)
            except OSError:  # Linux: the other side is closed
                break
            if not piece:
                break
            told += piece
    os.close(ours)
    return it.returncode, told.decode()


def test_a_terminal_is_told_file_by_file_and_left_clean(tmp_path: Path) -> None:
    code, told = on_a_terminal(LARKSPUR, "--out", tmp_path / "out", "--only", "valve-tags")
    assert code == 0
    assert "\rvalve-tags.pdf: 6 cards" in told  # larkspur has six valves
    assert re.search(r"\r *\r", told)  # nothing of it is left
    assert told.rindex(" \r") < told.index("note:")  # and what is told comes after it


def test_who_follows_the_stages_is_told_them_alone(tmp_path: Path) -> None:
    argv = (LARKSPUR, "--out", tmp_path / "out", "--only", "valve-tags", "--verbose")
    _, told = on_a_terminal(*argv)
    assert "8 layout" in told
    assert "6 cards" not in told


def test_a_pipe_is_told_nothing(tmp_path: Path) -> None:
    argv = command(LARKSPUR, "--out", tmp_path / "out", "--only", "valve-tags")
    done = subprocess.run(argv, cwd=ROOT, capture_output=True, check=True)
    assert b"\r" not in done.stderr
    assert b"valve-tags.pdf" not in done.stderr


def test_a_shorter_line_covers_a_longer_one() -> None:
    terminal = io.StringIO()
    line = ProgressLine(terminal)
    line.sets("valve-tags.pdf", 2016)
    line.sets("b.pdf", 1)
    line.ends()
    line.ends()
    covered = len("valve-tags.pdf: 2016 cards") - len("b.pdf: 1 card")
    assert terminal.getvalue() == (
        "\rvalve-tags.pdf: 2016 cards"
        f"\rb.pdf: 1 card{' ' * covered}"
        f"\r{' ' * len('b.pdf: 1 card')}\r"
    )


def _hears_sigint() -> None:
    """Tests that a shell has put in the background were told not to, and so are their children."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def test_control_c_is_told_in_plain_words_and_leaves_the_earlier_files(tmp_path: Path) -> None:
    job, out = tmp_path / "job.yaml", tmp_path / "out"
    job.write_text(campus(48), encoding="utf-8")
    argv = command(job, "--out", out, "--only", "valve-tags")
    subprocess.run(argv, cwd=ROOT, capture_output=True, check=True)
    before = {path: path.read_bytes() for path in out.iterdir()}
    job.write_text(edit(campus(960), "revision: 1", "revision: 2"), encoding="utf-8")
    for stage in ("5 checks", "7 cards", "8 layout"):
        stopped_in(stage, argv)
        assert {path: path.read_bytes() for path in out.iterdir()} == before
        assert not (out / WRITING).exists()
        assert not (out / EXCHANGE).exists()
    assert len(text_by_pdfium((out / "valve-tags.pdf").read_bytes())) == 6  # 48 tags, nine a sheet


def stopped_in(stage: str, argv: Sequence[str]) -> None:
    """By a Ctrl+C as soon as the stage has begun."""
    with subprocess.Popen(
        [*argv, "--verbose"],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=_hears_sigint,  # noqa: PLW1509 - no thread runs here
    ) as process:
        assert process.stderr is not None
        assert any(stage in line for line in process.stderr)  # it has begun that stage
        process.send_signal(signal.SIGINT)
        told, wrong = process.communicate(timeout=60)
    assert process.returncode == 130  # 128 and 2, the number of SIGINT in POSIX
    assert wrong.endswith("cardgen: stopped; the files that were there before are whole\n")
    assert "Traceback" not in wrong
    assert told == ""
