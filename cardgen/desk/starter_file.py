"""Write a file that opens the desk with a double-click, by the very program that writes it."""

from __future__ import annotations

import re
import shlex
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from cardgen.output.writing import write_new
from cardgen.problems import UserError

_NAME = "cardgen-desk"
_EXECUTABLE = 0o755
# In a quoted argument of a desktop entry (Desktop Entry Specification 1.5, "The Exec key").
_QUOTED_IN_EXEC = re.compile(r'(["`$\\])')


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskStart:
    """What is started.

    Attributes:
        python: the program that runs cardgen now.
        home: the folder in which its package lies; started there, no other is found.
        folder: of the job files.
    """

    python: str
    home: str
    folder: str


def write_starter(folder: Path, where: Path, platform: str = sys.platform) -> Path:
    """The file for this machine, or for another `platform` as Python names it.

    Raises:
        UserError: if there is one already, or it cannot be written.
    """
    if not where.is_dir():
        raise UserError(f"'{where}' is not a folder", "name the one where the file is to go")
    home = Path(__file__).resolve().parents[2]  # around the package
    start = DeskStart(python=sys.executable, home=str(home), folder=str(folder))
    if any(
        re.search(r"[\x00-\x1f\x7f]", text) for text in (start.python, start.home, start.folder)
    ):
        raise UserError("a folder's name has a line break or another control sign", "rename it")
    ending, text_of = starter_of(platform)
    path = where / f"{_NAME}{ending}"
    write_new(path, text_of(start).encode())
    path.chmod(_EXECUTABLE)
    return path


def starter_of(platform: str) -> tuple[str, Callable[[DeskStart], str]]:
    """The ending of the file's name, and what makes its text."""
    if platform == "win32":
        return ".bat", windows_starter
    return (".command", mac_starter) if platform == "darwin" else (".desktop", linux_starter)


def windows_starter(start: DeskStart) -> str:
    """A window stays open if something went wrong; a name there has no quote."""
    lines = (
        "@echo off",
        "chcp 65001 >nul",
        f"cd /d {_for_cmd(start.home)}",
        f"{_for_cmd(start.python)} -m cardgen desk {_for_cmd(start.folder)}",
        "if errorlevel 1 pause",
    )
    return "".join(f"{line}\r\n" for line in lines)


def _for_cmd(text: str) -> str:
    r"""`C:\` in quotes would end with `\"`, which programs read as a quote."""
    doubled = text.replace("%", "%%")
    return f'"{doubled}\\"' if doubled.endswith("\\") else f'"{doubled}"'


def mac_starter(start: DeskStart) -> str:
    python, home, folder = map(shlex.quote, (start.python, start.home, start.folder))
    return f"#!/bin/sh\ncd {home} || exit\nexec {python} -m cardgen desk {folder}\n"


def linux_starter(start: DeskStart) -> str:
    command = f"{_for_exec(start.python)} -m cardgen desk {_for_exec(start.folder)}"
    lines = (
        "[Desktop Entry]",
        "Type=Application",
        "Name=cardgen desk",
        f"Path={_value(start.home)}",
        f"Exec={_value(command)}",
        "Terminal=true",
    )
    return "".join(f"{line}\n" for line in lines)


def _for_exec(text: str) -> str:
    doubled = _QUOTED_IN_EXEC.sub(r"\\\1", text).replace("%", "%%")
    return f'"{doubled}"'


def _value(text: str) -> str:
    """A text as the value of a key, in which a backslash begins an escape."""
    return text.replace("\\", "\\\\")
