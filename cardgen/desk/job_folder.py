"""Know the job files of one folder, and let nothing outside it be read or written."""

from __future__ import annotations

import os
import re
from pathlib import Path

from cardgen.problems import UserError
from cardgen.reading.files import LARGEST_FILE

_NAME = re.compile(r"[^./\\:\0-\x1f][^/\\:\0-\x1f]*\.ya?ml")
_LONGEST_NAME = 200  # characters; file systems take 255 bytes


class NotInFolder(UserError):
    """There is no such file in the folder, or it is not a plain file there."""


class JobFolder:
    """The folder that was named; a link in it is never followed, wherever it leads."""

    def __init__(self, folder: Path) -> None:
        """Raises:
        UserError: if there is no such folder.
        """
        if not folder.is_dir():
            raise UserError(f"'{folder}' is not a folder", "name the folder of your job files")
        self.path = folder.resolve(strict=True)

    def names(self) -> list[str]:
        """The YAML files in it, by name."""
        with os.scandir(self.path) as entries:
            found = [entry.name for entry in entries if entry.is_file(follow_symlinks=False)]
        return sorted(name for name in found if _is_name(name))

    def file(self, name: str) -> Path:
        """Where a job file lies.

        Raises:
            NotInFolder: if it is not a plain file of this folder.
        """
        path = self.new_file(name)
        if path.is_symlink() or not path.is_file():
            raise NotInFolder(f"there is no job file '{name}' in '{self.path}'")
        return path

    def new_file(self, name: str) -> Path:
        """Where a file of that name would lie.

        Raises:
            NotInFolder: if it is no name of a job file.
        """
        if not _is_name(name):
            raise NotInFolder(f"'{name}' is no name of a job file", "give it a name like site.yaml")
        return self.path / name

    def free_name(self, stem: str) -> str:
        """`stem.yaml`, or with the first number behind it that no file has."""
        names = (f"{stem}.yaml", *(f"{stem}-{number}.yaml" for number in range(2, 1000)))
        return next(name for name in names if not os.path.lexists(self.path / name))

    def cards(self, name: str) -> Path:
        """The folder into which a job is printed.

        Raises:
            NotInFolder: if something else is there, which would lead the print elsewhere.
        """
        path = self.path / f"{self.new_file(name).stem}-cards"
        if path.is_symlink() or (path.exists() and not path.is_dir()):
            raise NotInFolder(f"'{path}' is no folder of its own", "move it away")
        return path

    def printed_file(self, name: str, inside: str) -> Path:
        """A file in the print folder of a job; `inside` may say one subfolder.

        Raises:
            NotInFolder: if there is no such plain file.
        """
        path = self.cards(name)
        for part in inside.split("/"):
            if part in ("", ".", "..") or "\\" in part or ":" in part or "\0" in part:
                raise NotInFolder(f"there is no file '{inside}' in the print of '{name}'")
            path /= part
            if path.is_symlink():
                raise NotInFolder(f"'{inside}' is a link, which is not followed")
        if not path.is_file():
            raise NotInFolder(f"there is no file '{inside}' in the print of '{name}'")
        return path


def read_plain(path: Path) -> bytes:
    """What a file holds, unless it has become a link since it was looked at.

    Raises:
        OSError: if it cannot be read.
    """
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
    with os.fdopen(os.open(path, flags), "rb") as stream:
        return stream.read(LARGEST_FILE + 1)


def _is_name(name: str) -> bool:
    return len(name) <= _LONGEST_NAME and _NAME.fullmatch(name) is not None
