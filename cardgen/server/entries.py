"""Keep what crews enter: added, never changed, and once only however often it is sent."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass, fields

from cardgen.server.audit_trail import note
from cardgen.server.moments import measured_moment
from cardgen.server.store import Store

_COLUMNS = (
    *("id", "record_key", "box", "valve", "kind", "value", "notes", "more", "crew"),
    *("said_at", "seq", "received_at"),
)
_ENDING = ("what", "why", "who", "at")
_SELECT = (
    f"SELECT {', '.join(f'entries.{name}' for name in _COLUMNS)}, photos.id IS NOT NULL, "  # noqa: S608
    f"{', '.join(f'endings.{name}' for name in _ENDING)} FROM entries "
    "LEFT JOIN photos ON photos.id = entries.id LEFT JOIN endings ON endings.id = entries.id "
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
        said_at: by the phone's clock, as it said it.
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


@dataclass(frozen=True, slots=True)
class Ending:
    """What was said of an entry later: a reading is `withdrawn`, a report is `closed`.

    Attributes:
        at: seconds since 1970 by the server's clock.
    """

    what: str
    why: str
    who: str
    at: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredEntry(CrewEntry):
    """An entry as it is kept.

    Attributes:
        seq: the order in which entries came in, whatever any clock says.
        received_at: seconds since 1970 by the server's clock, noted only.
        photo: whether one belongs to it.
        ending: None while it counts.
    """

    seq: int
    received_at: int
    photo: bool
    ending: Ending | None = None


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture as it is sent out again; `media` as `image/jpeg`."""

    media: str
    data: bytes


_ENTRY = tuple(field.name for field in fields(CrewEntry))


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
    values, photo, ending = row[: len(_COLUMNS)], row[len(_COLUMNS)], row[len(_COLUMNS) + 1 :]
    named = dict(zip(_COLUMNS, values, strict=True))
    return StoredEntry(
        **named,  # type: ignore[arg-type]  # the table is strict
        photo=bool(photo),
        ending=Ending(*ending) if ending[0] is not None else None,  # type: ignore[arg-type]
    )


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


def latest_change(store: Store, record_key: str) -> tuple[int, int]:
    """Another one as soon as an entry of the record is added, withdrawn or closed."""
    with store.reading() as connection:
        found: tuple[int, int] = connection.execute(
            "SELECT coalesce(max(entries.seq), 0), count(endings.id) FROM entries "
            "LEFT JOIN endings ON endings.id = entries.id WHERE entries.record_key = ?",
            (record_key,),
        ).fetchone()
    return found


def counting(store: Store, record_key: str, valves: Sequence[str] = ()) -> tuple[StoredEntry, ...]:
    """Those at these valves, or at each, that were not withdrawn or closed, oldest first."""
    only = f"AND entries.valve IN ({', '.join('?' * len(valves))})" if valves else ""
    with store.reading() as connection:
        rows = connection.execute(
            f"{_SELECT} WHERE entries.record_key = ? AND endings.id IS NULL {only} "
            "ORDER BY entries.seq",
            (record_key, *valves),
        ).fetchall()
    return by_measuring(map(_stored, rows))


def by_measuring(found: Iterable[StoredEntry]) -> tuple[StoredEntry, ...]:
    """Oldest first by when it was measured; those of one moment in the order they came in."""
    return tuple(sorted(found, key=lambda e: (measured_moment(e.said_at, e.received_at), e.seq)))


def end(
    store: Store, entry: StoredEntry, what: str, why: str, who: str, *, network: str
) -> StoredEntry:
    """Say of an entry that it is withdrawn or closed; what was said first stays."""
    with store.writing() as connection:
        connection.execute(
            "INSERT OR IGNORE INTO endings (id, what, why, who, at) VALUES (?, ?, ?, ?, ?)",
            (entry.id, what, why, who, store.now()),
        )
        note(connection, store.now(), who, f"{what} {entry.kind}", entry.id, network)
        return _one(connection, entry.id)


def spoiled(connection: sqlite3.Connection) -> tuple[str, ...]:
    """The ids of entries that are not what was stored: their digest says something else."""
    rows = connection.execute(
        f"SELECT {', '.join(_ENTRY)}, digest, media, data FROM entries "  # noqa: S608
        "LEFT JOIN photos USING (id) ORDER BY seq"
    )
    found = []
    for *values, digest, media, data in rows:
        photo = Photo(media, data) if data is not None else None
        if _digest(CrewEntry(**dict(zip(_ENTRY, values, strict=True))), photo) != digest:
            found.append(values[0])
    return tuple(found)


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
