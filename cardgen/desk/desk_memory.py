"""Keep beside the job files what the desk would forget when it ends: steps back, the print queue.

One SQLite file in the folder.  It is a help and no more: where it cannot be read or written, the
desk works on without it.

```
steps   the texts of a job file in the order in which they were written, each with its version
files   at which of its steps a file is
queue   the jobs of the print queue with their states;  asked   what is printed of them
```
"""

from __future__ import annotations

import contextlib
import json
import sqlite3
import zlib
from collections.abc import Callable, Iterable, Sequence
from contextlib import closing
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import TypeVar

from cardgen.desk.kept_reasons import Reason, as_json, from_json

MEMORY_FILE = ".cardgen-desk.sqlite"
MOST_STEPS = 200  # back, of one file; our choice
MOST_BYTES = 64 * 1024 * 1024  # of all texts, as they are packed; our choice
# https://www.sqlite.org/pragma.html#pragma_application_id: tells our files from others; "CGds".
_APPLICATION_ID = 0x43476473
_VERSION = 1  # of the tables
_PATIENCE_S = 1.0  # while another desk writes into it; our choice
# What keeps it from being written and is no fault of the file: a folder or disk that takes nothing.
_NOT_NOW = (
    *(sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM, sqlite3.SQLITE_BUSY),
    *(sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_AUTH, sqlite3.SQLITE_LOCKED),
)
_TABLES = """
    CREATE TABLE IF NOT EXISTS steps (
        number INTEGER PRIMARY KEY AUTOINCREMENT,  -- the lowest is the oldest
        file TEXT NOT NULL,
        step INTEGER NOT NULL,
        version TEXT NOT NULL,
        text BLOB NOT NULL,                        -- packed by zlib
        UNIQUE (file, step)
    ) STRICT;
    CREATE TABLE IF NOT EXISTS files (file TEXT PRIMARY KEY, step INTEGER NOT NULL) STRICT;
    CREATE TABLE IF NOT EXISTS queue (
        place INTEGER PRIMARY KEY,
        file TEXT NOT NULL,
        state TEXT NOT NULL,
        told TEXT NOT NULL                         -- JSON
    ) STRICT;
    CREATE TABLE IF NOT EXISTS asked (fields TEXT NOT NULL) STRICT;  -- JSON, of the form
"""
_LOOKS = (
    *("SELECT * FROM steps LIMIT 1", "SELECT * FROM files LIMIT 1"),
    *("SELECT * FROM queue LIMIT 1", "SELECT * FROM asked LIMIT 1"),
)
T = TypeVar("T")
Fields = tuple[tuple[str, str], ...]


class MemoryTrouble(StrEnum):
    """Why a file that is there is no memory; the words of the page are `desk.memory NAME`."""

    DAMAGED = "damaged"
    FOREIGN = "foreign"
    OTHER_VERSION = "other version"


class _NotOurs(Exception):
    def __init__(self, trouble: MemoryTrouble) -> None:
        super().__init__(trouble)
        self.trouble = trouble


@dataclass(frozen=True, slots=True)
class KeptText:
    """The bytes of a file, and the digest that names them."""

    version: str
    data: bytes


@dataclass(frozen=True, slots=True)
class KeptSteps:
    """Attributes:
    back, forward: what undo and redo bring, the next one last.
    """

    back: tuple[KeptText, ...] = ()
    forward: tuple[KeptText, ...] = ()


@dataclass(frozen=True, slots=True)
class KeptQueue:
    """Attributes:
    asked: the fields of the form.
    jobs: file, state, and why it was not printed.
    """

    asked: Fields
    jobs: tuple[tuple[str, str, tuple[Reason, ...]], ...]


class DeskMemory:
    """That of one folder; several desks on it share it."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / MEMORY_FILE
        self.trouble: MemoryTrouble | None = None
        self.is_kept = True

    # ---- steps back and forward ----------------------------------------------------------------

    def steps(self, file: str, version: str) -> KeptSteps:
        """Those around the version that the file has now; none if it is another than was kept."""

        def read(memory: sqlite3.Connection) -> KeptSteps:
            at = _step_of(memory, file, version)
            if at is None:
                return KeptSteps()
            rows = "SELECT step, version, text FROM steps WHERE file = ? ORDER BY step"
            found = [
                (step, KeptText(of, zlib.decompress(text)))
                for step, of, text in memory.execute(rows, (file,))
            ]
            back = tuple(text for step, text in found if step < at)
            return KeptSteps(back, tuple(text for step, text in reversed(found) if step > at))

        return self._asked(read, KeptSteps())

    def keep_change(self, file: str, before: KeptText, after: KeptText) -> None:
        """A step more, to be said before the file is written: either state is found again."""

        def write(memory: sqlite3.Connection) -> None:
            at = _step_of(memory, file, before.version)
            if at is None:  # what was kept does not lead here
                memory.execute("DELETE FROM steps WHERE file = ?", (file,))
                at = 0
                _put_step(memory, file, at, before)
            memory.execute("DELETE FROM steps WHERE file = ? AND step > ?", (file, at))
            _put_step(memory, file, at + 1, after)
            _go_to(memory, file, at + 1)
            oldest = at + 1 - MOST_STEPS
            memory.execute("DELETE FROM steps WHERE file = ? AND step < ?", (file, oldest))
            _let_go_of_the_oldest(memory)

        self._written(write)

    def keep_move(self, file: str, before: str, steps: int) -> None:
        """So many steps forward from the version `before`, or back."""

        def write(memory: sqlite3.Connection) -> None:
            at = _step_of(memory, file, before)
            if at is not None:
                _go_to(memory, file, at + steps)

        self._written(write)

    # ---- the print queue -----------------------------------------------------------------------

    def queue(self) -> KeptQueue | None:
        """As it was when the last desk ended; None where there was none."""

        def read(memory: sqlite3.Connection) -> KeptQueue | None:
            asked = memory.execute("SELECT fields FROM asked").fetchone()
            if asked is None:
                return None
            rows = memory.execute("SELECT file, state, told FROM queue ORDER BY place")
            jobs = tuple((file, state, from_json(told)) for file, state, told in rows)
            return KeptQueue(_fields(asked[0]), jobs)

        return self._asked(read, None)

    def keep_queue(self, asked: Fields, files: Sequence[str], state: str) -> None:
        """A new queue, all of it in one state."""

        def write(memory: sqlite3.Connection) -> None:
            memory.execute("DELETE FROM queue")
            memory.execute("DELETE FROM asked")
            memory.execute("INSERT INTO asked VALUES (?)", (json.dumps(asked),))
            rows = [(place, file, state, "[]") for place, file in enumerate(files)]
            memory.executemany("INSERT INTO queue VALUES (?, ?, ?, ?)", rows)

        self._written(write)

    def keep_state(self, file: str, state: str, reasons: Iterable[Reason]) -> None:
        """How far one of its jobs is."""

        def write(memory: sqlite3.Connection) -> None:
            row = (state, as_json(reasons), file)
            memory.execute("UPDATE queue SET state = ?, told = ? WHERE file = ?", row)

        self._written(write)

    # ---- the file ------------------------------------------------------------------------------

    def look(self) -> MemoryTrouble | None:
        """What is wrong with the file now."""

        def read(memory: sqlite3.Connection) -> None:
            for query in _LOOKS:
                memory.execute(query).fetchone()

        self._asked(read, None)
        return self.trouble

    def _asked(self, read: Callable[[sqlite3.Connection], T], none: T) -> T:
        """What is read of it; `none` where there is no file, or none that can be read."""
        if not self.path.exists() and not self.path.is_symlink():
            self.trouble = None
            return none
        found, is_read = self._done(read)
        return found if is_read and found is not None else none

    def _written(self, write: Callable[[sqlite3.Connection], None]) -> None:
        _, self.is_kept = self._done(write)

    def _done(self, work: Callable[[sqlite3.Connection], T]) -> tuple[T | None, bool]:
        """Whole or not at all; what keeps it from being done is a trouble of the file, or none."""
        try:
            with closing(self._open()) as memory:
                memory.execute("BEGIN IMMEDIATE")
                found = work(memory)
                memory.execute("COMMIT")
        except _NotOurs as fault:
            self.trouble = fault.trouble
        except (zlib.error, ValueError, TypeError):  # in a file of ours that says what it must not
            self.trouble = MemoryTrouble.DAMAGED
        except sqlite3.Error as fault:
            code = getattr(fault, "sqlite_errorcode", sqlite3.SQLITE_ERROR)
            code &= 0xFF  # the primary one
            self.trouble = None if code in _NOT_NOW else MemoryTrouble.DAMAGED
        else:
            self.trouble = None
            return found, True
        return None, False

    def _open(self) -> sqlite3.Connection:
        """Made if it is not there, as every database of SQLite."""
        if self.path.is_symlink():
            raise _NotOurs(MemoryTrouble.FOREIGN)
        memory = sqlite3.connect(self.path, timeout=_PATIENCE_S, isolation_level=None)
        with contextlib.ExitStack() as unless_good:
            unless_good.callback(memory.close)
            ours = _number(memory, "PRAGMA application_id")
            version = _number(memory, "PRAGMA user_version")
            if not ours and not _number(memory, "SELECT COUNT(*) FROM sqlite_master"):
                _make(memory)
            elif ours != _APPLICATION_ID:
                raise _NotOurs(MemoryTrouble.FOREIGN)
            elif version != _VERSION:
                raise _NotOurs(MemoryTrouble.OTHER_VERSION)
            unless_good.pop_all()
        return memory


def _make(memory: sqlite3.Connection) -> None:
    memory.execute("PRAGMA auto_vacuum = FULL")  # so that it gets smaller, too
    memory.executescript(
        f"BEGIN IMMEDIATE; {_TABLES}"
        f"PRAGMA application_id = {_APPLICATION_ID}; PRAGMA user_version = {_VERSION}; COMMIT;"
    )


def _number(memory: sqlite3.Connection, query: str) -> int:
    found: int = memory.execute(query).fetchone()[0]
    return found


def _step_of(memory: sqlite3.Connection, file: str, version: str) -> int | None:
    """At which step the file is, by what it says.

    A desk that was ended between the two writings has left it a step before or behind.
    """
    row = memory.execute(
        "SELECT steps.step FROM steps JOIN files USING (file) "
        "WHERE file = ? AND version = ? AND abs(steps.step - files.step) <= 1 "
        "ORDER BY abs(steps.step - files.step)",
        (file, version),
    ).fetchone()
    return None if row is None else row[0]


def _put_step(memory: sqlite3.Connection, file: str, step: int, text: KeptText) -> None:
    packed = zlib.compress(text.data)
    row = (file, step, text.version, packed)
    memory.execute("INSERT INTO steps (file, step, version, text) VALUES (?, ?, ?, ?)", row)


def _go_to(memory: sqlite3.Connection, file: str, step: int) -> None:
    memory.execute("INSERT OR REPLACE INTO files VALUES (?, ?)", (file, step))


def _let_go_of_the_oldest(memory: sqlite3.Connection) -> None:
    """The oldest of all is the first of its file, so that no file loses one in between."""
    memory.execute(
        "DELETE FROM steps WHERE number IN (SELECT number FROM (SELECT number, "
        "sum(length(text)) OVER (ORDER BY number DESC) AS bytes FROM steps) WHERE bytes > ?)",
        (MOST_BYTES,),
    )


def _fields(text: str) -> Fields:
    return tuple((str(one), str(two)) for one, two in json.loads(text))
