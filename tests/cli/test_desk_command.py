"""`cardgen desk FOLDER` where the folder is missing: asked once on a terminal, else the way out."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.terminals import ROOT, terminal

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="a terminal of Unix")
DESK = ("-m", "cardgen", "desk", "my jobs", "--no-browser")


def test_no_and_nothing_make_no_folder(tmp_path: Path) -> None:
    for keys in ("n\n", "\n", "\x04"):  # Ctrl+D ends what is typed
        with terminal(tmp_path, *DESK) as screen:
            screen.waits_for("There is no folder 'my jobs'. Make it? [y/n] ")
            screen.types(keys)
            screen.waits_for("way out: name another folder")
            screen.waits_for_the_end()
        assert screen.code == 2
        assert list(tmp_path.iterdir()) == []


def test_yes_makes_it_and_it_is_not_asked_again(tmp_path: Path) -> None:
    with terminal(tmp_path, *DESK) as screen:
        screen.waits_for("[y/n] ")
        screen.types("Yes\n")
        screen.waits_for("Ctrl+C closes the desk.")
    assert (tmp_path / "my jobs").is_dir()
    with terminal(tmp_path, *DESK) as screen:
        screen.waits_for("Ctrl+C closes the desk.")
    assert "[y/n]" not in screen.shown


@pytest.mark.parametrize(
    ("name", "told", "way_out"),
    [
        ("my jobs", "there is no folder 'my jobs'", "make it with: mkdir 'my jobs'"),
        ("a file", "'a file' is not a folder", "name the folder of your job files"),
        ("gone/jobs", "'gone/jobs' is not a folder", "name the folder of your job files"),
    ],
)
def test_without_a_terminal_the_way_out_is_told(
    tmp_path: Path, name: str, told: str, way_out: str
) -> None:
    (tmp_path / "a file").write_text("", encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "cardgen", "desk", name, "--no-browser"],
        cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, text=True,
        stdin=subprocess.DEVNULL, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr == f"cardgen: {told}\nway out: {way_out}\n"
    assert [path.name for path in tmp_path.iterdir()] == ["a file"]
