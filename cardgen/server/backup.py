"""Copy a data file while it is in use, and put a copy in its place: whole, or not at all."""

from __future__ import annotations

import sqlite3
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path

from cardgen.files.one import OWNER, empty, flush, put, sync_folder
from cardgen.server.audit_trail import OFFICE, note
from cardgen.server.data_faults import DataFault, fault_of
from cardgen.server.entries import spoiled
from cardgen.server.lock import held
from cardgen.server.schema import grow
from cardgen.server.store import beside, connected, look_at, new_secret, refuse_half_restored


@dataclass(frozen=True, slots=True)
class BackupCounts:
    """What is in a copy.

    Attributes:
        spoiled: the ids of entries whose digest does not match: they are not what was stored.
    """

    entries: int
    photos: int
    crews: int
    spoiled: tuple[str, ...] = ()


def back_up(path: Path, out: Path, *, replace: bool) -> BackupCounts:
    """Write a copy of the data file as of now, however many write into it meanwhile.

    Raises:
        DataFault: with nothing written.
    """
    refuse_half_restored(path)
    if out.exists() and not replace:
        raise DataFault(
            "other", f"'{out}' is there already", "choose another name, or add --replace"
        )
    try:
        with put(out, replace=replace, rights=OWNER) as part:
            _copy(path, part)
            return checked(part)
    except sqlite3.Error as error:
        raise fault_of(error) from error
    except OSError as error:
        raise _cannot_write(out, error) from error


def restore(file: Path, path: Path, *, now_s: int) -> tuple[BackupCounts, Path | None]:
    """Put a copy in the place of the data file; that is kept, and its name told.

    Whoever was logged in must do so again: the copy may know a session that was ended since.

    Raises:
        DataFault: with the data file as it was.
    """
    if not file.is_file():
        raise DataFault("other", f"there is no file '{file}'", "name what 'cardgen backup' wrote")
    part = beside(path, "-restoring")
    try:
        copied = checked(file)
        with held(path):
            part.unlink(missing_ok=True)
            empty(part, OWNER)
            _copy(file, part)
            with closing(connected(part)) as connection:
                grow(connection)
                connection.execute("BEGIN IMMEDIATE")
                connection.execute("DELETE FROM sessions")
                new_secret(connection)
                note(connection, now_s, OFFICE, "restored", "", "local")
                connection.execute("COMMIT")
            flush(part)
            kept = _moved_aside(path)
            part.replace(path)
            sync_folder(path.absolute().parent)
    except sqlite3.Error as error:
        raise fault_of(error) from error
    except OSError as error:
        raise _cannot_write(path, error) from error
    return copied, kept


def checked(file: Path) -> BackupCounts:
    """What is in a data file that is sound through and through.

    Raises:
        DataFault: if it is not.
    """
    try:
        with closing(connected(file, write=False)) as connection:
            look_at(connection, file, check="integrity_check")
            entries, photos, crews = [
                connection.execute(f"SELECT count(*) FROM {table}").fetchone()[0]  # noqa: S608
                for table in ("entries", "photos", "crews")
            ]
            wrong = spoiled(connection)
    except sqlite3.Error as error:
        if getattr(error, "sqlite_errorcode", None) == sqlite3.SQLITE_NOTADB:
            sentence = f"'{file}' is no file that 'cardgen backup' wrote"
            raise DataFault("other", sentence, "name one that it wrote") from error
        fault = fault_of(error)
        raise DataFault(fault.kind, f"'{file}': {fault.sentence}", fault.help) from error
    except DataFault as fault:
        if fault.kind != "damaged":
            raise
        raise DataFault("damaged", f"'{file}' is damaged", "use an older backup") from fault
    return BackupCounts(entries, photos, crews, wrong)


def _copy(source: Path, target: Path) -> None:
    """A copy as of one moment, into an empty file."""
    with closing(connected(source, write=False)) as old, closing(connected(target)) as new:
        look_at(old, source)
        old.backup(new)
        new.execute("PRAGMA journal_mode = DELETE")


def _moved_aside(path: Path) -> Path | None:
    """The present data file under another name, with its log; None if there is none."""
    with suppress(sqlite3.Error), closing(connected(path)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")  # a damaged one keeps its log
    number = 1
    while beside(path, f"-before-restore-{number}").exists():
        number += 1
    if not path.exists():  # an earlier restore was cut short after it had moved the file
        number = max(1, number - 1)
    aside = beside(path, f"-before-restore-{number}")
    if path.exists():
        path.rename(aside)
    log = beside(path, "-wal")
    if log.exists():
        log.rename(beside(aside, "-wal"))
    beside(path, "-shm").unlink(missing_ok=True)
    return aside if aside.exists() else None


def _cannot_write(path: Path, error: OSError) -> DataFault:
    if isinstance(error, FileExistsError):
        return DataFault("other", f"'{path}' is there already", "choose another name")
    return DataFault(
        "other",
        f"'{path}' cannot be written: {(error.strerror or str(error)).lower()}",
        "look for a full disk, or a folder without the right to write",
    )
