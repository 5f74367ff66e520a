"""What keeps the data file from being read or written, in words, with the way out."""

from __future__ import annotations

import sqlite3

from cardgen.problems import UserError

# https://www.sqlite.org/rescode.html: the low byte of a result code is its primary code.
_KINDS = {
    sqlite3.SQLITE_BUSY: "busy",
    sqlite3.SQLITE_LOCKED: "busy",
    sqlite3.SQLITE_FULL: "full",
    sqlite3.SQLITE_IOERR: "disk",
    sqlite3.SQLITE_READONLY: "read-only",
    sqlite3.SQLITE_PERM: "read-only",
    sqlite3.SQLITE_CANTOPEN: "gone",
    sqlite3.SQLITE_CORRUPT: "damaged",
    sqlite3.SQLITE_NOTADB: "damaged",
}
_SAID = {
    "busy": ("another program is using the data file", "try again in a minute"),
    "full": ("the disk of the server is full", "the office must free up space on it"),
    "disk": ("the server cannot write to its disk", "the office must check the disk"),
    "read-only": ("the data file cannot be written", "the office must give the server its rights"),
    "gone": ("the data file cannot be opened", "the office must put its folder back"),
    "damaged": ("the data file is damaged", "the office must run 'cardgen restore' with a backup"),
    "other": ("the data file cannot be used", "the office must look at what the server says"),
}


class DataFault(UserError):
    """The data file failed; what was acknowledged before is kept, this was not stored.

    Attributes:
        kind: `busy`, `full`, `disk`, `read-only`, `gone`, `damaged`, `other`.
    """

    def __init__(self, kind: str, sentence: str = "", help_: str = "") -> None:
        said, way_out = _SAID[kind]
        super().__init__(sentence or said, help_ or way_out)
        self.kind = kind


def fault_of(error: sqlite3.Error) -> DataFault:
    """Which fault an error of SQLite is."""
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:
        return DataFault("other", f"the data file cannot be used: {error}")
    kind = _KINDS.get(code & 0xFF, "other")
    return DataFault(kind, f"the data file cannot be used: {error}" if kind == "other" else "")
