"""The file that opens the desk with a double-click, where quoting is at its worst."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from cardgen.desk.starter_file import DeskStart, starter_of, write_starter
from cardgen.problems import UserError

ROOT = Path(__file__).parents[2]
NAME = 'Peña\'s jobs $HOME `x` 100% "new" & a\\b'


def first_line_of(command: list[str], home: str) -> str:
    """What the desk says first; it runs as it would for a person, without our settings."""
    environment = {k: v for k, v in os.environ.items() if not k.startswith("PYTHON")}
    environment["BROWSER"] = "true"  # a browser that opens nothing
    with subprocess.Popen(
        command, cwd=home, env=environment, stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        line = process.stdout.readline()
        process.send_signal(signal.SIGINT)
        process.communicate(timeout=20)
    return line


def written(folder: Path, where: Path, platform: str) -> str:
    path = write_starter(folder, where, platform)
    assert os.access(path, os.X_OK)
    return path.read_text(encoding="utf-8")


@pytest.mark.skipif(sys.platform == "win32", reason="started by a shell of Unix")
def test_mac_and_linux_start_the_desk_of_that_folder(tmp_path: Path) -> None:
    folder = tmp_path / NAME
    folder.mkdir()
    expected = f"The desk of '{folder}' is open at\n"
    written(folder, tmp_path, "darwin")
    assert first_line_of([str(tmp_path / "cardgen-desk.command")], "/") == expected
    entry = written(folder, tmp_path, "linux")
    keys = dict(line.split("=", 1) for line in entry.splitlines()[1:])
    assert entry.startswith("[Desktop Entry]\n") and keys["Terminal"] == "true"
    # Read as the Desktop Entry Specification 1.5 says: escapes of a value, quotes, then '%%'.
    value = re.sub(r"\\\\", r"\\", keys["Exec"])
    arguments = [
        re.sub(r'\\(["`$\\])', r"\1", quoted[1:-1] if quoted.startswith('"') else quoted)
        for quoted in re.findall(r'"(?:\\.|[^"\\])*"|\S+', value)
    ]
    command = [argument.replace("%%", "%") for argument in arguments]
    assert first_line_of(command, re.sub(r"\\\\", r"\\", keys["Path"])) == expected
    with pytest.raises(UserError, match="is there already"):
        write_starter(folder, tmp_path, "linux")
    with pytest.raises(UserError, match="is not a folder"):
        write_starter(folder, tmp_path / "none")


def test_windows_gets_a_batch_file() -> None:
    """By hand: '%' doubled, '&' within quotes, CR and LF, and no quote escaped by a backslash."""
    ending, text_of = starter_of("win32")
    start = DeskStart(python=r"C:\Program Files\py\python.exe", home="C:\\", folder=r"D:\R&D 5%")
    assert (ending, text_of(start)) == (
        ".bat",
        (
            "@echo off\r\n"
            "chcp 65001 >nul\r\n"
            'cd /d "C:\\\\"\r\n'
            '"C:\\Program Files\\py\\python.exe" -m cardgen desk "D:\\R&D 5%%"\r\n'
            "if errorlevel 1 pause\r\n"
        ),
    )
