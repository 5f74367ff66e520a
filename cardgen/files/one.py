"""Write one file whole or not at all: filled beside its place, on disk, then put there at once."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

EVERYONE, OWNER = 0o666, 0o600  # rights of a new file; the system takes off what it takes off


@contextmanager
def put(path: Path, *, replace: bool, rights: int = EVERYONE) -> Iterator[Path]:
    """An empty file to be filled; when the block is left, it is at `path`, or nothing has changed.

    Raises:
        FileExistsError: if there is something at `path`, unless it is to be replaced.
        OSError: if it cannot be written.
    """
    part = path.with_name(f".{path.name}.part")
    part.unlink(missing_ok=True)
    empty(part, rights)
    try:
        yield part
        flush(part)
        if replace:
            part.replace(path)
        else:
            _put_where_nothing_is(part, path, rights)
        sync_folder(path.absolute().parent)
    finally:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)


def _put_where_nothing_is(part: Path, path: Path, rights: int) -> None:
    """Unlike a rename, a link fails if something is there; not every disk and share has links."""
    try:
        os.link(part, path)
    except FileExistsError:
        raise
    except (OSError, AttributeError, NotImplementedError):
        empty(path, rights)  # it holds the name, if nothing is there
        try:
            part.replace(path)
        except OSError:
            path.unlink(missing_ok=True)
            raise


def empty(path: Path, rights: int) -> None:
    """Make an empty file, only where there is nothing."""
    os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_RDWR, rights))


def flush(path: Path) -> None:
    """Have on disk what was written into it."""
    with path.open("rb+") as stream:
        os.fsync(stream.fileno())


def sync_folder(folder: Path) -> None:
    """Make new names in it last; not every system lets a folder be opened."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
