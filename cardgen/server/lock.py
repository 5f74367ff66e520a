"""Let one `serve` or `restore` at a time have a data file.

The lock is that of an empty file beside it.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from cardgen.files.lock_file import LockTaken, lock_file
from cardgen.server.data_faults import DataFault, fault_of
from cardgen.server.store import beside


def refuse_other_names(path: Path) -> None:
    """The lock lies beside the file, so a file of two names would have two.

    Raises:
        DataFault: if it is a symbolic link, or has another hard link.
    """
    if path.is_symlink():
        target = os.path.realpath(path)
        raise DataFault("other", f"'{path}' is a symbolic link", f"name the file itself: {target}")
    if path.exists() and path.stat().st_nlink > 1:
        raise DataFault(
            "other",
            f"'{path}' has another name too, as a hard link",
            "remove that, so that no other server has the file under it",
        )


@contextmanager
def held(path: Path) -> Iterator[None]:
    """Hold the data file as its only server or restorer; crews' PINs and backups need no such hold.

    Raises:
        DataFault: if another holds it, or its folder cannot be written.
    """
    refuse_other_names(path)
    mark = beside(path, "-serving")
    try:
        connection = lock_file(mark)
    except LockTaken as taken:
        raise DataFault(
            "busy", f"a server is running on '{path}'", "stop it first, then try again"
        ) from taken
    except sqlite3.Error as error:
        raise fault_of(error) from error
    with closing(connection):
        mark.chmod(0o600)
        yield
