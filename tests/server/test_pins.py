"""A crew's PIN is kept as a slow hash only, and easy ones are not taken."""

from __future__ import annotations

import hashlib
from base64 import b64decode
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardgen.server import pins
from cardgen.server.audit_trail import trail
from cardgen.server.store import Store
from tests.server.phones import CHEAP, PIN, opened


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    made = opened(tmp_path / "web.sqlite")
    yield made
    made.close()


def test_the_hash_is_scrypt_as_published() -> None:
    # RFC 7914, section 12, second test vector.
    found = hashlib.scrypt(b"password", salt=b"NaCl", n=1024, r=8, p=16, dklen=64)
    assert found.hex().startswith("fdbabe1c9d3472007856e7190d01e9fe")
    stored = pins.hashed(PIN, CHEAP)
    kind, n, r, p, salt, kept = stored.split("$")
    again = hashlib.scrypt(PIN.encode(), salt=b64decode(salt), n=2 ** int(n), r=int(r), p=int(p),
                           dklen=32)  # fmt: skip
    assert (kind.strip(), again) == ("scrypt", b64decode(kept))


def test_what_one_try_costs() -> None:
    # OWASP Password Storage Cheat Sheet (from memory): N * r * p of its scrypt settings is at
    # least that of N=2^13, r=8, p=10, and the memory of one try is 128 * N * r bytes.
    cost = pins.COST
    assert 2**cost.n * cost.r * cost.p >= 2**13 * 8 * 10
    assert 128 * 2**cost.n * cost.r == 32 * 1024 * 1024
    assert pins.hashed(PIN).startswith("scrypt")


def test_a_hash_fits_its_pin_only() -> None:
    stored = pins.hashed(PIN, CHEAP)
    assert pins.matches(PIN, stored)
    assert pins.hashed(PIN, CHEAP) != stored  # salted
    for other in ("", PIN + " ", PIN + "\x00", PIN.upper(), PIN[:-1], "x" * 128):
        assert not pins.matches(other, stored)


def test_where_nobody_is_a_try_costs_as_much_and_fits_no_pin() -> None:
    nobody, somebody = pins.of_nobody(), pins.hashed(PIN)
    costs, (*_, salt, kept) = nobody.split("$")[:4], nobody.split("$")
    assert costs == somebody.split("$")[:4]
    assert (len(b64decode(salt)), len(b64decode(kept))) == (16, 32)
    assert len(nobody) == len(somebody)
    assert pins.of_nobody() != nobody
    assert not pins.matches(PIN, nobody) and not pins.matches("", nobody)


def test_a_pin_is_nowhere_in_the_file(store: Store) -> None:
    pins.add(store, "Ana", "quite-a-pin-7", cost=CHEAP)
    data = b"".join(path.read_bytes() for path in store.path.parent.iterdir())
    assert b"Ana" in data
    assert b"quite-a-pin" not in data


def test_crews_come_and_go(store: Store) -> None:
    pins.add(store, "  crew   north ", PIN, cost=CHEAP)
    pins.add(store, "Ana", PIN, cost=CHEAP)
    assert pins.crews(store) == ("Ana", "crew north")
    with pytest.raises(pins.BadPin, match="is there already"):
        pins.add(store, "ANA", PIN, cost=CHEAP)
    pins.remove(store, "ana")
    assert pins.crews(store) == ("crew north",)
    assert pins.crew_of(store, "Ana") is None
    with pytest.raises(pins.BadPin, match="no crew is called 'Ana'"):
        pins.remove(store, "Ana")
    pins.add(store, "ana", PIN, cost=CHEAP)
    back = pins.crew_of(store, "Ana")
    assert back is not None
    assert (back.name, back.version) == ("Ana", 3)
    assert [step.what for step in trail(store)] == [
        *("pin added", "pin added", "pin removed", "pin added"),
    ]


def test_a_changed_pin_is_the_only_one(store: Store) -> None:
    pins.add(store, "Ana", PIN, cost=CHEAP)
    pins.change(store, "ana", "another-51", cost=CHEAP)
    crew = pins.known(store, "Ana")
    assert pins.matches("another-51", crew.pin)
    assert not pins.matches(PIN, crew.pin)
    assert crew.version == 2


@pytest.mark.parametrize(
    "pin", ["", "12345", "x" * 129, "123456", "654321", "345678", "111111", "121212", "abcdef",
            "fedcba", "AnaAna", "valve-7\x00"]
)  # fmt: skip
def test_a_pin_that_anybody_would_try_is_not_taken(store: Store, pin: str) -> None:
    with pytest.raises(pins.BadPin):
        pins.add(store, "AnaAna", pin, cost=CHEAP)
    assert pins.crews(store) == ()


def test_a_pin_of_three_different_digits_is_taken(store: Store) -> None:
    pins.add(store, "Ana", "717373", cost=CHEAP)
    assert pins.crews(store) == ("Ana",)


@pytest.mark.parametrize("name", ["", "  ", "x" * 41, "a\u202eb", "a\x00b", "office", "OFFICE"])
def test_a_name_that_cannot_be_shown_is_not_taken(store: Store, name: str) -> None:
    with pytest.raises(pins.BadPin):
        pins.add(store, name, PIN, cost=CHEAP)
