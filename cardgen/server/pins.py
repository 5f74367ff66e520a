"""Keep crews and their PINs: only a slow hash is stored, and a changed PIN ends all sessions."""

from __future__ import annotations

import hashlib
import hmac
import secrets
import sqlite3
import unicodedata
from base64 import b64decode, b64encode
from dataclasses import dataclass

from cardgen.problems import UserError
from cardgen.server.audit_trail import OFFICE, note
from cardgen.server.store import Store
from cardgen.server.weak_pins import is_weak

LEAST, MOST = 6, 128  # characters of a PIN
NAME_MOST = 40


@dataclass(frozen=True, slots=True)
class ScryptCost:
    """What one try costs: 2**n blocks of 128 * r bytes, p times over."""

    n: int
    r: int
    p: int


# OWASP Password Storage Cheat Sheet, scrypt (from memory): N=2^15, r=8, p=3 is one of the settings
# that it holds equal; this one takes 32 MB, so that two tries at once fit a small machine.
COST = ScryptCost(15, 8, 3)
_SALT_BYTES, _HASH_BYTES = 16, 32


class BadPin(UserError):
    """A name or PIN that is not accepted."""


@dataclass(frozen=True, slots=True)
class Crew:
    """A crew that may log in; another `version` ends its sessions."""

    name: str
    pin: str
    version: int


def hashed(pin: str, cost: ScryptCost = COST) -> str:
    """What is stored of a PIN, with what it was made with."""
    salt = secrets.token_bytes(_SALT_BYTES)
    return _written(salt, _scrypt(pin, salt, cost), cost)


def of_nobody() -> str:
    """What is compared where there is no such crew: it takes as long, and no PIN is it."""
    return _written(secrets.token_bytes(_SALT_BYTES), secrets.token_bytes(_HASH_BYTES), COST)


def _written(salt: bytes, found: bytes, cost: ScryptCost) -> str:
    kept, made = (b64encode(part).decode() for part in (salt, found))
    return f"scrypt ${cost.n}${cost.r}${cost.p}${kept}${made}"


def matches(pin: str, stored: str) -> bool:
    """Whether that PIN was stored; takes as long either way."""
    _, n, r, p, salt, found = stored.split("$")
    made = _scrypt(pin, b64decode(salt), ScryptCost(int(n), int(r), int(p)))
    # To scrypt, a text and the same with zeros behind it are one (RFC 2104, 2: HMAC fills up keys).
    return hmac.compare_digest(made, b64decode(found)) and pin.isprintable()


def _scrypt(pin: str, salt: bytes, cost: ScryptCost) -> bytes:
    most = 2 * 128 * cost.r * (2**cost.n + cost.p)
    text = unicodedata.normalize("NFKC", pin).encode()
    return hashlib.scrypt(
        text, salt=salt, n=2**cost.n, r=cost.r, p=cost.p, maxmem=most, dklen=_HASH_BYTES
    )


def add(
    store: Store, name: str, pin: str, *, office: bool = False, cost: ScryptCost = COST
) -> None:
    """Let a crew in, or the office; one that was removed may come back.

    Raises:
        BadPin: if the name is taken, or the PIN too easy.
    """
    name = refuse_taken(store, name)
    _keep(store, name, fit_pin(pin, name), "pin added", cost, office=office)


def refuse_taken(store: Store, name: str) -> str:
    """The name as it is kept, if it is free.

    Raises:
        BadPin: if it is not.
    """
    name = fit_name(name)
    if crew_of(store, name) is not None:
        raise BadPin(f"crew '{name}' is there already", "give it another PIN with --change")
    return name


def change(store: Store, name: str, pin: str, *, cost: ScryptCost = COST) -> None:
    """Give a crew another PIN; whoever is logged in with the old one is out.

    Raises:
        BadPin: if there is no such crew, or the PIN is too easy.
    """
    crew = known(store, name)
    _keep(store, crew.name, fit_pin(pin, crew.name), "pin changed", cost)


def remove(store: Store, name: str) -> None:
    """Let a crew in no more; what it entered stays.

    Raises:
        BadPin: if there is no such crew.
    """
    crew = known(store, name)
    with store.writing() as connection:
        connection.execute(
            "UPDATE crews SET removed = 1, version = version + 1 WHERE name = ?", (crew.name,)
        )
        note(connection, store.now(), OFFICE, "pin removed", crew.name, "local")


def crews(store: Store) -> tuple[str, ...]:
    """The names of those that may log in."""
    with store.reading() as connection:
        rows = connection.execute("SELECT name FROM crews WHERE NOT removed ORDER BY name")
        return tuple(row[0] for row in rows)


def offices(store: Store) -> tuple[str, ...]:
    """Those of them that have the office's role."""
    with store.reading() as connection:
        rows = connection.execute(
            "SELECT name FROM crews WHERE NOT removed AND office ORDER BY name"
        )
        return tuple(row[0] for row in rows)


def crew_of(store: Store, name: str) -> Crew | None:
    """The crew of that name, whatever its capitals."""
    with store.reading() as connection:
        row = _row(connection, name, "AND NOT removed")
    return Crew(*row) if row is not None else None


def known(store: Store, name: str) -> Crew:
    """The crew of that name.

    Raises:
        BadPin: if there is none.
    """
    crew = crew_of(store, name)
    if crew is None:
        raise BadPin(
            f"no crew is called '{name}'",
            "there are " + ", ".join(crews(store)) if crews(store) else "add one with --add",
        )
    return crew


def _row(connection: sqlite3.Connection, name: str, more: str) -> tuple[str, str, int] | None:
    for row in connection.execute(f"SELECT name, pin, version FROM crews WHERE 1 {more}"):  # noqa: S608
        if folded(row[0]) == folded(name):
            return (row[0], row[1], row[2])
    return None


def _keep(
    store: Store, name: str, pin: str, what: str, cost: ScryptCost, *, office: bool | None = None
) -> None:
    """`office` None leaves the role as it is."""
    stored = hashed(pin, cost)
    with store.writing() as connection:
        row = _row(connection, name, "")
        name = row[0] if row is not None else name  # a crew that comes back keeps its spelling
        connection.execute(
            "INSERT INTO crews (name, pin, version) VALUES (?, ?, 1) ON CONFLICT (name) DO UPDATE "
            "SET pin = excluded.pin, version = version + 1, removed = 0",
            (name, stored),
        )
        if office is not None:
            connection.execute("UPDATE crews SET office = ? WHERE name = ?", (int(office), name))
        note(connection, store.now(), OFFICE, what, name, "local")


def folded(name: str) -> str:
    """The same for all spellings that mean one crew."""
    return _plain(name).casefold()


def _plain(name: str) -> str:
    return " ".join(unicodedata.normalize("NFC", name).split())


def fit_name(name: str) -> str:
    """The name as it is kept.

    Raises:
        BadPin: if it is none.
    """
    plain = _plain(name)
    if not plain or len(plain) > NAME_MOST or not plain.isprintable():
        raise BadPin(
            "a crew's name is 1 to 40 letters, digits and signs", "as 'Ana' or 'crew north'"
        )
    if plain.casefold() == OFFICE:
        raise BadPin(f"'{OFFICE}' is the name of whoever sits at the server", "choose another name")
    return plain


def fit_pin(pin: str, name: str) -> str:
    """The PIN, if it is not among the first that anybody would try.

    Raises:
        BadPin: if it is.
    """
    if not LEAST <= len(pin) <= MOST or not pin.isprintable():
        raise BadPin(f"a PIN has {LEAST} to {MOST} characters", "more is better: 8 digits or words")
    if is_weak(pin, name):
        raise BadPin("that PIN is among the first that anybody tries", "take one by chance")
    return pin
