"""Find the jobs in a record's folder, and what the newest revision of each says."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from cardgen.asbuilt import AsBuilt
from cardgen.memory.prints import MANIFEST
from cardgen.memory.revisions import RevisionLog, from_json
from cardgen.output.writing import is_whole
from cardgen.record import HISTORY

EXCHANGE_S = 2.0  # s for a publisher to exchange the files of a large record; it takes a tenth


@dataclass(frozen=True, slots=True, kw_only=True)
class ServedJob:
    """One job of the record that is served; the same as long as its file is.

    Attributes:
        path: of its folder below the record's, `7Q2F9KX4M3T8`, as it stands in addresses.
        state: when its file was written, and which file it is.
        log: all that was published of it.
    """

    path: str
    state: tuple[int, int, int]
    log: RevisionLog = field(compare=False)

    @property
    def revisions(self) -> tuple[AsBuilt, ...]:
        """All that were published, oldest first."""
        return self.log.revisions

    @property
    def now(self) -> AsBuilt:
        return self.revisions[-1]


class ServedJobs:
    """The jobs of one folder; a record that is written anew meanwhile is read anew."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def at(self, path: str) -> ServedJob | None:
        """The job whose folder has that path in an address."""
        parts = path.strip("/").split("/")
        if any(part in ("", ".", "..") or part.startswith(".") or "\\" in part for part in parts):
            return None
        return _job(self.folder, "/".join(parts))

    def are_whole(self, path: str) -> bool:
        """Whether what is published along that path is of one revision everywhere."""
        if "\0" in path:
            return True  # the name of nothing
        root = Path(os.path.realpath(self.folder))
        folder = root
        for part in ("", *path.strip("/").split("/")):
            folder = Path(os.path.realpath(folder / part))
            is_here = folder.is_relative_to(root) and not part.startswith(".")
            if not is_here or not os.path.isdir(folder):  # noqa: PTH112  # any text is a path here
                return True  # no folder of the record, so nothing of it is sent
            if not is_whole(folder, patience=EXCHANGE_S):
                return False
        return True

    def __iter__(self) -> Iterator[ServedJob]:
        for folder, folders, files in os.walk(self.folder):
            folders[:] = sorted(name for name in folders if not name.startswith("."))
            if MANIFEST in files and HISTORY in files:
                folders.clear()
                job = _job(self.folder, Path(folder).relative_to(self.folder).as_posix())
                if job is not None:
                    yield job


def _job(folder: Path, path: str) -> ServedJob | None:
    file = folder / path / HISTORY
    try:
        stat = file.stat()
        state = stat.st_mtime_ns, stat.st_size, stat.st_ino
        log = _log(file, state)
    except (OSError, ValueError):  # `Unfit` is one, a path with a zero in it another
        return None
    return ServedJob(path=path, state=state, log=log)


@lru_cache(maxsize=64)
def _log(file: Path, _state: tuple[int, int, int]) -> RevisionLog:
    return from_json(file.read_bytes())
