"""Know a crew's phone again: a signed cookie for a session that the data file can end."""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass

from itsdangerous import BadData, URLSafeSerializer

from cardgen.server.audit_trail import note
from cardgen.server.store import Store

SESSION, DEVICE, VISITOR = "cardgen-session", "cardgen-device", "cardgen-visitor"
DAY_S = 24 * 60 * 60
LASTS_S = 30 * DAY_S  # our choice: a crew that comes once a month types its PIN each time
DEVICE_LASTS_S = 365 * DAY_S
# A clock that is put right by less than this ends no session.
SLACK_S = 60 * 60


@dataclass(frozen=True, slots=True)
class Session:
    """`key` is what the cookie holds, without its signature; `office` is its role."""

    key: str
    crew: str
    office: bool


def cookie(name: str, *, secure: bool) -> str:
    """The name under which a browser keeps it.

    `__Host-` makes browsers refuse it from another host of the same domain, or without TLS
    (RFC 6265bis, 4.1.3.2).
    """
    return f"__Host-{name}" if secure else name


def signed(store: Store, purpose: str, value: object) -> str:
    """Text for a cookie or form; it holds for that purpose only."""
    return str(URLSafeSerializer(store.secret, salt=purpose).dumps(value))


def unsigned(store: Store, purpose: str, text: str) -> object:
    """What was signed for that purpose; None if it was not."""
    try:
        found: object = URLSafeSerializer(store.secret, salt=purpose).loads(text)
    except BadData:
        return None
    return found


def begin(store: Store, crew: str, version: int, *, network: str) -> str:
    """Open a session; the cookie for it."""
    key, now = secrets.token_urlsafe(24), store.now()
    with store.writing() as connection:
        connection.execute("DELETE FROM sessions WHERE ends < ?", (now,))
        connection.execute(
            "INSERT INTO sessions (id, crew, version, started, ends) VALUES (?, ?, ?, ?, ?)",
            (_id(key), crew, version, now, now + LASTS_S),
        )
        note(connection, now, crew, "log in", "", network)
    return signed(store, SESSION, key)


def session_of(store: Store, text: str) -> Session | None:
    """The session of a cookie; None if forged, ended, out of date, or its PIN was changed."""
    key = unsigned(store, SESSION, text)
    if not isinstance(key, str):
        return None
    with store.reading() as connection:
        row = connection.execute(
            "SELECT sessions.crew, started, ends, office FROM sessions "
            "JOIN crews ON name = sessions.crew "
            "WHERE id = ? AND crews.version = sessions.version AND NOT removed",
            (_id(key),),
        ).fetchone()
    if row is None or not row[1] - SLACK_S <= store.now() <= row[2]:
        return None
    return Session(key, row[0], bool(row[3]))


def end(store: Store, session: Session, *, network: str) -> None:
    """Whoever holds a copy of the cookie is out as well."""
    with store.writing() as connection:
        connection.execute("DELETE FROM sessions WHERE id = ?", (_id(session.key),))
        note(connection, store.now(), session.crew, "log out", "", network)


def token_for(store: Store, holder: str) -> str:
    """What each form of a session, or of a visitor before it, must bring along."""
    return signed(store, "form", _id(holder))


def is_token(store: Store, token: str, holder: str) -> bool:
    return bool(holder) and unsigned(store, "form", token) == _id(holder)


def _id(key: str) -> str:
    return hashlib.sha256(key.encode()).hexdigest()
