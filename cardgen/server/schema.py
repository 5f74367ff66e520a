"""The tables of the data file, as the steps by which each version grew out of the one before."""

from __future__ import annotations

import sqlite3

# https://www.sqlite.org/pragma.html#pragma_application_id: tells our files from others; "CGrd".
APPLICATION_ID = 0x43477264

# A step that was released is never changed: a new version is a new step at the end.
STEPS = (
    """
    CREATE TABLE settings (name TEXT PRIMARY KEY, value BLOB NOT NULL) STRICT, WITHOUT ROWID;

    CREATE TABLE crews (
        name TEXT PRIMARY KEY,
        pin TEXT NOT NULL,                 -- scrypt, with its parameters and salt
        version INTEGER NOT NULL,          -- another one ends all sessions
        removed INTEGER NOT NULL DEFAULT 0
    ) STRICT;

    CREATE TABLE sessions (
        id TEXT PRIMARY KEY,               -- SHA-256 of what the cookie holds
        crew TEXT NOT NULL REFERENCES crews (name),
        version INTEGER NOT NULL,
        started INTEGER NOT NULL,          -- seconds since 1970, by this server's clock
        ends INTEGER NOT NULL
    ) STRICT, WITHOUT ROWID;

    -- The order is that of `seq`: no clock decides what came first.
    CREATE TABLE entries (
        seq INTEGER PRIMARY KEY AUTOINCREMENT,
        id TEXT NOT NULL UNIQUE,           -- made by the phone: sent twice is stored once
        record_key TEXT NOT NULL,          -- of the record, as in its address
        box TEXT NOT NULL,
        valve TEXT NOT NULL,
        kind TEXT NOT NULL,
        value TEXT NOT NULL,
        notes TEXT NOT NULL,
        more TEXT NOT NULL,                -- JSON
        crew TEXT NOT NULL REFERENCES crews (name),
        said_at TEXT NOT NULL,             -- by the phone's clock, as it said it
        received_at INTEGER NOT NULL,      -- by this server's clock
        digest TEXT NOT NULL
    ) STRICT;
    CREATE INDEX entries_by_place ON entries (record_key, box, valve, kind);

    CREATE TABLE photos (
        id TEXT PRIMARY KEY REFERENCES entries (id),
        media TEXT NOT NULL,
        data BLOB NOT NULL
    ) STRICT;

    CREATE TABLE trail (
        seq INTEGER PRIMARY KEY AUTOINCREMENT,
        at INTEGER NOT NULL,
        who TEXT NOT NULL,                 -- a crew, or `office`
        what TEXT NOT NULL,
        about TEXT NOT NULL,
        network TEXT NOT NULL              -- where from, without the part that names one phone
    ) STRICT;

    CREATE TRIGGER entries_stay BEFORE UPDATE ON entries
        BEGIN SELECT RAISE(ABORT, 'entries are only added'); END;
    CREATE TRIGGER entries_remain BEFORE DELETE ON entries
        BEGIN SELECT RAISE(ABORT, 'entries are only added'); END;
    CREATE TRIGGER photos_stay BEFORE UPDATE ON photos
        BEGIN SELECT RAISE(ABORT, 'photos are only added'); END;
    CREATE TRIGGER photos_remain BEFORE DELETE ON photos
        BEGIN SELECT RAISE(ABORT, 'photos are only added'); END;
    CREATE TRIGGER trail_stays BEFORE UPDATE ON trail
        BEGIN SELECT RAISE(ABORT, 'the trail is only added to'); END;
    CREATE TRIGGER trail_remains BEFORE DELETE ON trail
        BEGIN SELECT RAISE(ABORT, 'the trail is only added to'); END;
    """,
    """
    -- An entry stays as it was entered; what a person said of it later stands beside it.
    CREATE TABLE endings (
        id TEXT PRIMARY KEY REFERENCES entries (id),
        what TEXT NOT NULL,                -- `withdrawn` or `closed`
        why TEXT NOT NULL,
        who TEXT NOT NULL REFERENCES crews (name),
        at INTEGER NOT NULL
    ) STRICT;
    CREATE TRIGGER endings_stay BEFORE UPDATE ON endings
        BEGIN SELECT RAISE(ABORT, 'endings are only added'); END;
    CREATE TRIGGER endings_remain BEFORE DELETE ON endings
        BEGIN SELECT RAISE(ABORT, 'endings are only added'); END;

    ALTER TABLE crews ADD COLUMN office INTEGER NOT NULL DEFAULT 0;
    """,
)


def version_of(connection: sqlite3.Connection) -> int:
    """How many steps the file has taken."""
    found: int = connection.execute("PRAGMA user_version").fetchone()[0]
    return found


def is_ours(connection: sqlite3.Connection) -> bool:
    found: int = connection.execute("PRAGMA application_id").fetchone()[0]
    return found == APPLICATION_ID


def grow(connection: sqlite3.Connection) -> None:
    """Take the steps that are missing, each whole or not at all."""
    for number, step in enumerate(STEPS[version_of(connection) :], version_of(connection) + 1):
        connection.executescript(
            f"BEGIN IMMEDIATE; {step} PRAGMA application_id = {APPLICATION_ID};"
            f"PRAGMA user_version = {number}; COMMIT;"
        )
