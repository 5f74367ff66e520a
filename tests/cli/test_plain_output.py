"""What is written on terminals that lack letters: each command in a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.jobs import edit, sample


def said(folder: Path, code_page: str, *argv: str) -> tuple[int, bytes]:
    done = subprocess.run(
        [sys.executable, "-m", "cardgen", *argv],
        cwd=folder,
        capture_output=True,
        check=False,
        env={**os.environ, "PYTHONIOENCODING": code_page, "PYTHONPATH": os.pathsep.join(sys.path)},
    )
    assert b"Traceback" not in done.stderr, done.stderr.decode(errors="replace")
    return done.returncode, done.stdout + done.stderr


def test_a_terminal_without_the_letters(tmp_path: Path) -> None:
    """The list of stale tags, a circuit with its ohms, and a site with accents."""
    first = edit(sample("larkspur"), "site: Larkspur Cottage", "site: Jardín Ω")
    (tmp_path / "job.yaml").write_text(first, encoding="utf-8")
    assert said(tmp_path, "utf-8", "print", "job.yaml", "--out", "tags")[0] == 0
    second = edit(edit(first, "revision: 1", "revision: 2"), "front lawn west", "césped del frente")
    (tmp_path / "job.yaml").write_text(second, encoding="utf-8")
    since = ("print", "job.yaml", "--out", "tags", "--since", "1", "--replace")
    code, ascii_list = said(tmp_path, "ascii", *since)
    assert code == 0
    assert b"LARK-06 - Jardin ohm" in ascii_list
    assert b"?" not in ascii_list
    code, list_1252 = said(tmp_path, "cp1252", *since)
    assert code == 0
    assert "LARK-06 · Jardín ohm" in list_1252.decode("cp1252")
    code, circuit = said(tmp_path, "cp437", "trace", "job.yaml", "A1")
    assert code == 0
    assert b"?" not in circuit


def test_a_job_that_cannot_be_told_in_these_letters(tmp_path: Path) -> None:
    text = edit(sample("larkspur"), "place: garage wall", "place: garage wall\n    plaço: 東")
    (tmp_path / "job.yaml").write_text(text, encoding="utf-8")
    code, told = said(tmp_path, "ascii", "check", "job.yaml")
    assert code == 1
    assert b"has no key 'placo'" in told
