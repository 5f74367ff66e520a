"""A path as it is pasted: read back by the shell itself, where there is one."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

import pytest

from cardgen.cli.main import main
from cardgen.cli.shell_words import pasted

NAMES = ("job.yaml", "My Job.yaml", "it's.yaml", "a&b;c.yaml", "$HOME.yaml", "-x.yaml", 'a"b', "*")


@pytest.mark.skipif(os.name == "nt", reason="there is no POSIX shell")
def test_a_posix_shell_reads_what_is_pasted() -> None:
    line = "; ".join(f"printf '%s\\n' {pasted(name, windows=False)}" for name in NAMES)
    read = subprocess.run(["sh", "-c", line], capture_output=True, check=True, text=True).stdout
    assert [name.removeprefix("./") for name in read.splitlines()] == list(NAMES)


def test_quotes_of_windows() -> None:
    """By the rules of the C run-time (Microsoft, "Parsing C command-line arguments")."""
    quoted = {
        "job.yaml": "job.yaml",
        "C:\\Jobs\\My Job.yaml": '"C:\\Jobs\\My Job.yaml"',
        "a&b.yaml": '"a&b.yaml"',
        "it's.yaml": '"it\'s.yaml"',
        "-x.yaml": ".\\-x.yaml",
    }
    assert {name: pasted(name, windows=True) for name in quoted} == quoted


@pytest.mark.skipif(os.name == "nt", reason="there is no POSIX shell")
def test_the_command_that_new_shows(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = tmp_path / "My Job"
    assert main(["new", str(job)]) == 0
    assert capsys.readouterr().out.endswith(f"then: cardgen check '{job}'\n")
