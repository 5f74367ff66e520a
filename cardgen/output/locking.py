"""Let one cardgen at a time read and write a folder.

The lock is on the folder itself, so that no file of it is left.  Windows locks no folders: there it
is on a file in it, which is there as long as the lock.  Either goes with the process that holds it,
however that ends.
"""

from __future__ import annotations

import contextlib
import os
import sqlite3
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from pathlib import Path

from cardgen.files.lock_file import LockTaken, lock_file
from cardgen.problems import CannotWrite, cannot_write

if sys.platform != "win32":
    import fcntl

PATIENCE = 60.0  # s; a whole print of a large job takes a tenth of it
PAUSE = 0.05  # s
LOCK = ".cardgen-lock"

Leave = Callable[[Sequence[Path]], None]  # lets go, and takes away those folders that are empty


@contextmanager
def locked(
    folder: Path, *, say: Callable[[str], None] | None = None, patience: float = PATIENCE
) -> Iterator[None]:
    """Hold the folder; it is made if it is not there, and taken away again if it stays empty.

    `say` is told once where another holds it; after `patience` seconds that is refused.

    Raises:
        CannotWrite: if it cannot be made, or another holds it for too long.
    """
    until, made = time.monotonic() + patience, _made(folder)
    while (leave := _held(folder)) is None:
        if say is not None:
            say(f"another cardgen is writing into '{folder}': waiting")
            say = None
        if time.monotonic() > until:
            raise CannotWrite(
                f"another cardgen is writing into '{folder}'", "wait until it is done"
            )
        time.sleep(PAUSE)
        made += _made(folder)
    try:
        yield
    finally:
        leave(made)


def _made(folder: Path) -> list[Path]:
    """Make the folder and those around it; which of them were not there, outer ones first."""
    if folder.exists() and not folder.is_dir():
        raise CannotWrite(f"'{folder}' is a file, not a folder", "name a folder after --out")
    missing = [path for path in (folder, *folder.parents) if not path.exists()]
    made: list[Path] = []
    try:
        for path in reversed(missing):
            with contextlib.suppress(FileExistsError):  # another was quicker
                path.mkdir()
                made.append(path)
    except OSError as fault:
        raise cannot_write(folder, fault) from fault
    return made


def _take_away(made: Sequence[Path]) -> None:
    for path in reversed(made):
        with contextlib.suppress(OSError):  # not empty: then it is wanted
            path.rmdir()


def _held(folder: Path) -> Leave | None:
    """What lets go of it; None while another holds the folder or has just taken it away."""
    if sys.platform != "win32":
        leave = _held_itself(folder)
    else:
        leave = _held_by_file(folder)
    return leave


if sys.platform != "win32":

    def _held_itself(folder: Path) -> Leave | None:
        """As `_held`, without a file of it."""
        try:
            handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        except FileNotFoundError:
            return None
        except OSError as fault:
            raise cannot_write(folder, fault) from fault
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            if os.path.samestat(os.fstat(handle), folder.stat()):
                return partial(_leave_folder, handle)
        except (BlockingIOError, FileNotFoundError):
            pass
        except OSError as fault:  # a network share that knows no locks
            os.close(handle)
            raise cannot_write(folder, fault) from fault
        os.close(handle)
        return None

    def _leave_folder(handle: int, made: Sequence[Path]) -> None:
        _take_away(made)  # as long as nobody else can have it
        os.close(handle)


def _held_by_file(folder: Path) -> Leave | None:
    """As `_held`; Windows does not let SQLite's file be taken away while somebody has it open."""
    try:
        return partial(_leave_file, lock_file(folder / LOCK), folder / LOCK)
    except LockTaken:
        return None
    except sqlite3.Error as fault:
        if not folder.exists():
            return None
        raise cannot_write(folder, OSError(str(fault))) from fault


def _leave_file(lock: sqlite3.Connection, path: Path, made: Sequence[Path]) -> None:
    lock.close()
    with contextlib.suppress(OSError):  # another has it open: then it is his
        path.unlink()
    _take_away(made)
