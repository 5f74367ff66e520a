"""Keep what crews enter: added, never changed, and once only however often it is sent."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Sequence
from dataclasses import asdict, dataclass

from cardgen.server.audit_trail import note
from cardgen.server.store import Store

_COLUMNS = (
    *("id", "record_key", "box", "valve", "kind", "value", "notes", "more", "crew"),
    *("said_at", "seq", "received_at"),
)
# Of some kinds there are several values at one valve, or at none.
_ENDS = "json_extract(more, '$.start'), json_extract(more, '$.to')"
_SELECT = (
    f"SELECT {', '.join(f'entries.{name}' for name in _COLUMNS)}, photos.id IS NOT NULL "  # noqa: S608
    "FROM entries LEFT JOIN photos ON photos.id = entries.id "
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CrewEntry:
    """One thing that a crew says about one place.

    Attributes:
        id: a UUID made by the phone; the same one sent again is the same entry.
        record_key: of the record, as in its address.
        valve: empty if it is about the whole box.
        kind: what it is, as `cardgen.results` names it.
        value: as read, `31.1` or `OL`; empty where there is none.
        more: JSON of what else belongs to that kind.
        said_at: by the phone's clock, as it said it; it orders nothing.
    """

    id: str
    record_key: str
    box: str
    valve: str
    kind: str
    value: str
    notes: str
    crew: str
    said_at: str
    more: str = "{}"


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredEntry(CrewEntry):
    """An entry as it is kept.

    Attributes:
        seq: the order in which entries came in, whatever any clock says.
        received_at: seconds since 1970 by the server's clock, noted only.
        photo: whether one belongs to it.
    """

    seq: int
    received_at: int
    photo: bool


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture as it is sent out again; `media` as `image/jpeg`."""

    media: str
    data: bytes


class Conflict(Exception):
    """An entry of that id is there already and says something else."""


def add(
    store: Store, entries: Sequence[CrewEntry], *, network: str, photo: Photo | None = None
) -> tuple[StoredEntry, ...]:
    """Store all of them in one transaction, the photo with the first; those known stay as they are.

    Raises:
        Conflict: if an id is known for something else; nothing is stored then.
        DataFault: if the file cannot be written; nothing is stored then.
    """
    with store.writing() as connection:
        for number, entry in enumerate(entries):
            own = photo if number == 0 else None
            if not _is_known(connection, entry, own):
                _insert(connection, entry, own, store.now())
                note(connection, store.now(), entry.crew, f"entry {entry.kind}", entry.id, network)
        return tuple(_one(connection, entry.id) for entry in entries)


def _is_known(connection: sqlite3.Connection, entry: CrewEntry, photo: Photo | None) -> bool:
    row = connection.execute("SELECT digest FROM entries WHERE id = ?", (entry.id,)).fetchone()
    if row is not None and row[0] != _digest(entry, photo):
        raise Conflict(entry.id)
    return row is not None


def _insert(
    connection: sqlite3.Connection, entry: CrewEntry, photo: Photo | None, received_at: int
) -> None:
    values = {**asdict(entry), "received_at": received_at, "digest": _digest(entry, photo)}
    marks = ", ".join(f":{name}" for name in values)
    connection.execute(f"INSERT INTO entries ({', '.join(values)}) VALUES ({marks})", values)  # noqa: S608
    if photo is not None:
        row = (entry.id, photo.media, photo.data)
        connection.execute("INSERT INTO photos (id, media, data) VALUES (?, ?, ?)", row)


def _digest(entry: CrewEntry, photo: Photo | None) -> str:
    picture = hashlib.sha256(photo.data).hexdigest() if photo is not None else ""
    text = json.dumps({**asdict(entry), "photo": picture}, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()


def _one(connection: sqlite3.Connection, id_: str) -> StoredEntry:
    return _stored(connection.execute(f"{_SELECT} WHERE entries.id = ?", (id_,)).fetchone())


def _stored(row: Sequence[object]) -> StoredEntry:
    *values, photo = row
    named = dict(zip(_COLUMNS, values, strict=True))
    return StoredEntry(**named, photo=bool(photo))  # type: ignore[arg-type]  # the table is strict


def entries(
    store: Store, record_key: str, *, box: str = "", valve: str = "", kind: str = ""
) -> tuple[StoredEntry, ...]:
    """The entries of a record in the order they came in; only of that box, valve, kind if named."""
    wanted = {"record_key": record_key, "box": box, "valve": valve, "kind": kind}
    named = {name: value for name, value in wanted.items() if value}
    where = " AND ".join(f"entries.{name} = :{name}" for name in named)
    with store.reading() as connection:
        rows = connection.execute(f"{_SELECT} WHERE {where} ORDER BY entries.seq", named).fetchall()
    return tuple(map(_stored, rows))


def newest(store: Store, record_key: str, valves: Sequence[str] = ()) -> tuple[StoredEntry, ...]:
    """The last entry of each kind at these valves, or at each, in the order they came in."""
    only = f"AND valve IN ({', '.join('?' * len(valves))})" if valves else ""
    chosen = (
        f"SELECT max(seq) FROM entries WHERE record_key = ? {only} GROUP BY valve, kind, {_ENDS}"  # noqa: S608
    )
    with store.reading() as connection:
        rows = connection.execute(
            f"{_SELECT} WHERE entries.seq IN ({chosen}) ORDER BY entries.seq", (record_key, *valves)
        )
        return tuple(map(_stored, rows.fetchall()))


def entry_of(store: Store, id_: str) -> StoredEntry | None:
    """The entry of that id."""
    with store.reading() as connection:
        row = connection.execute(f"{_SELECT} WHERE entries.id = ?", (id_,)).fetchone()
    return _stored(row) if row is not None else None


def photo_of(store: Store, id_: str) -> Photo | None:
    """The photo of an entry."""
    with store.reading() as connection:
        row = connection.execute("SELECT media, data FROM photos WHERE id = ?", (id_,)).fetchone()
    return Photo(*row) if row is not None else None
