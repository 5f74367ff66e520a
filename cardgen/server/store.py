"""Open the data file for reading and writing: what is acknowledged is on disk, whole or not at all.

Each use has a connection of its own, and each writing is one transaction.  SQLite in WAL mode with
`synchronous=FULL` has flushed a transaction to disk when COMMIT returns
(https://www.sqlite.org/pragma.html#pragma_synchronous), so a killed server loses nothing that it
has answered for.
"""

from __future__ import annotations

import math
import secrets
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from threading import Lock

from cardgen.files.one import OWNER, put
from cardgen.server.data_faults import DataFault, fault_of
from cardgen.server.schema import STEPS, grow, is_ours, version_of

WAIT_S = 5.0  # for another program to finish
TURN_S = 60.0  # for one's turn among the writers of this one, each of which is done soon
_BUGS = (sqlite3.IntegrityError, sqlite3.ProgrammingError, sqlite3.NotSupportedError)


def beside(path: Path, ending: str) -> Path:
    return path.with_name(f"{path.name}{ending}")


class Store:
    """The data file of one record.

    Attributes:
        clock: seconds since 1970; it is only ever noted, it orders nothing.
        wait: seconds for another program to finish before the data file counts as busy.
        fault: why the file may not be used at all, since it was looked at.
    """

    def __init__(
        self, path: Path, *, clock: Callable[[], float] = time.time, wait: float = WAIT_S
    ) -> None:
        self.path, self._clock, self.wait = path, clock, wait
        self._writer, self._found_busy = Lock(), -math.inf
        self._secret: bytes | None = None
        self.fault: DataFault | None = None
        # While one connection is open, closing another one does not fold the log into the file.
        self._kept_open: sqlite3.Connection | None = None

    def now(self) -> int:
        """Seconds since 1970, as this machine's clock says."""
        return int(self._clock())

    def prepare(self) -> None:
        """Make the data file if there is none, else look whether it is sound.

        Raises:
            DataFault: if it cannot be used as it is; where it is damaged, it is not used any more.
        """
        try:
            self._prepare()
        except DataFault as fault:
            self.fault = fault if fault.kind == "damaged" else None
            raise

    def _prepare(self) -> None:
        refuse_half_restored(self.path)
        try:
            if not self.path.exists():
                _make(self.path)
            with closing(connected(self.path, wait_s=self.wait)) as connection:
                look_at(connection, self.path)
                connection.execute("PRAGMA journal_mode = WAL")
                grow(connection)
            self._kept_open = connected(self.path)
            self._kept_open.execute("SELECT count(*) FROM settings").fetchone()
        except sqlite3.Error as error:
            raise fault_of(error) from error
        except OSError as error:
            kind = "gone" if isinstance(error, FileNotFoundError) else "read-only"
            raise DataFault(kind) from error

    def close(self) -> None:
        if self._kept_open is not None:
            self._kept_open.close()
            self._kept_open = None

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """A view of the data as of one moment, whoever writes meanwhile.

        Raises:
            DataFault: if the file cannot be read.
        """
        with self._used("BEGIN", self.wait) as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """One transaction: on disk when the block is left, or not there at all.

        Raises:
            DataFault: with nothing stored.
        """
        # SQLite lets its waiting writers try at random; this lets one after the other.
        came = time.monotonic()
        if not self._writer.acquire(timeout=TURN_S):
            raise DataFault("busy")
        try:
            # Where one before has waited in vain since, it is not waited for once more.
            wait = self.wait if self._found_busy < came else 0.0
            with self._used("BEGIN IMMEDIATE", wait) as connection:
                yield connection
        except DataFault as fault:
            if fault.kind == "busy":
                self._found_busy = time.monotonic()
            raise
        finally:
            self._writer.release()

    @contextmanager
    def _used(self, begin: str, wait: float) -> Iterator[sqlite3.Connection]:
        if self.fault is not None:
            raise self.fault
        try:
            with closing(connected(self.path, wait_s=wait)) as connection:
                connection.execute(begin)
                yield connection
                connection.execute("COMMIT")  # what fails before is rolled back by closing
        except _BUGS:
            raise
        except sqlite3.Error as error:
            raise fault_of(error) from error

    @property
    def secret(self) -> bytes:
        """What cookies and forms are signed with; made with the file, new after a restore."""
        if self._secret is None:
            with self.reading() as connection:
                row = connection.execute("SELECT value FROM settings WHERE name = 'secret'")
                self._secret = bytes(row.fetchone()[0])
        return self._secret


def connected(path: Path, *, wait_s: float = WAIT_S, write: bool = True) -> sqlite3.Connection:
    """A connection to a file that is there; none is ever made by opening it."""
    mode = "rw" if write else "ro"
    connection = sqlite3.connect(
        f"{path.absolute().as_uri()}?mode={mode}",
        uri=True,
        timeout=wait_s,
        isolation_level=None,
        check_same_thread=False,
    )
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA trusted_schema = OFF")
    return connection


def look_at(connection: sqlite3.Connection, path: Path, *, check: str = "quick_check") -> None:
    """Refuse a file that is not ours, of a newer cardgen, or damaged.

    `integrity_check` compares the indexes with their tables too, which takes longer.

    Raises:
        DataFault: with what it is.
    """
    if not is_ours(connection):
        raise DataFault(
            "other", f"'{path}' is not a data file of cardgen", "name another one with --data"
        )
    if version_of(connection) > len(STEPS):
        raise DataFault("other", f"'{path}' is of a newer cardgen", "bring cardgen up to date")
    found = connection.execute(f"PRAGMA {check}(1)").fetchone()[0]
    if found != "ok" or connection.execute("PRAGMA foreign_key_check").fetchone():
        raise DataFault("damaged")


def refuse_half_restored(path: Path) -> None:
    """A restore that was cut short has moved the file away and not yet put the other in its place.

    Raises:
        DataFault: if so; a log without its file means the same or worse.
    """
    log = beside(path, "-wal")
    if not path.exists() and (beside(path, "-restoring").exists() or log.exists()):
        raise DataFault(
            "damaged", f"'{path}' is missing: a restore was cut short", "run the restore again"
        )


def new_secret(connection: sqlite3.Connection) -> None:
    """Whatever was signed before no longer holds."""
    connection.execute(
        "INSERT OR REPLACE INTO settings VALUES ('secret', ?)", (secrets.token_bytes(32),)
    )


def _make(path: Path) -> None:
    """A new data file that only its owner may read."""
    with (
        suppress(FileExistsError),  # another command has made it meanwhile
        put(path, replace=False, rights=OWNER) as part,
        closing(connected(part)) as connection,
    ):
        grow(connection)
        new_secret(connection)
