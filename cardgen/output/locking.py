"""Let one cardgen at a time read and write a folder.

The lock is on the folder itself, so that no file of it is left; it goes with the process that
holds it, however that ends.  Windows locks no folders: there nothing keeps two apart.
"""

from __future__ import annotations

import contextlib
import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from cardgen.output.writing import CannotWrite, cannot

if sys.platform != "win32":
    import fcntl

PATIENCE = 60.0  # s; a whole print of a large job takes a tenth of it
PAUSE = 0.05  # s


@contextmanager
def locked(
    folder: Path, *, waiting: Callable[[Path], None] | None = None, patience: float = PATIENCE
) -> Iterator[None]:
    """Hold the folder; it is made if it is not there, and taken away again if it stays empty.

    `waiting` is called once where another holds it; after `patience` seconds that is refused.

    Raises:
        CannotWrite: if it cannot be made, or another holds it for too long.
    """
    until, made = time.monotonic() + patience, _made(folder)
    while (handle := _held(folder)) is None and sys.platform != "win32":
        if waiting is not None:
            waiting(folder)
            waiting = None
        if time.monotonic() > until:
            raise CannotWrite(
                f"another cardgen is writing into '{folder}'", "wait until it is done"
            )
        time.sleep(PAUSE)
        made += _made(folder)
    try:
        yield
    finally:
        for path in reversed(made):
            with contextlib.suppress(OSError):  # not empty: then it is wanted
                path.rmdir()
        if handle is not None:
            os.close(handle)


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
        raise cannot(folder, fault) from fault
    return made


def _held(folder: Path) -> int | None:
    """The folder, open and locked; None while another holds it or has just taken it away."""
    if sys.platform == "win32":
        return None
    try:
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    except FileNotFoundError:
        return None
    except OSError as fault:
        raise cannot(folder, fault) from fault
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if os.path.samestat(os.fstat(handle), folder.stat()):
            return handle
    except (BlockingIOError, FileNotFoundError):
        pass
    except OSError as fault:  # a network share that knows no locks
        os.close(handle)
        raise cannot(folder, fault) from fault
    os.close(handle)
    return None
