"""Lock by a file: SQLite's own lock, on an empty one.

It works wherever SQLite does, Windows too, and goes with the process that holds it, however that
ends.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path


class LockTaken(Exception):
    """Another holds the file."""


def lock_file(path: Path) -> sqlite3.Connection:
    """The file, made if it is not there; it is locked until this is closed.

    Raises:
        LockTaken: if another holds it.
        sqlite3.Error: if it cannot be made or locked.
    """
    connection = sqlite3.connect(path, timeout=0, isolation_level=None)
    try:
        connection.execute("PRAGMA journal_mode = MEMORY")  # else a second file is beside it
        connection.execute("BEGIN EXCLUSIVE")
    except sqlite3.Error as fault:
        connection.close()
        if fault.sqlite_errorcode & 0xFF == sqlite3.SQLITE_BUSY:  # the low byte is its primary code
            raise LockTaken from fault
        raise
    return connection
