"""A forged, stale, stolen or replayed cookie opens nothing."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from itsdangerous import URLSafeSerializer

from cardgen.server import pins, sessions
from cardgen.server.store import Store
from tests.server.keeping import KEEP, KEEPS
from tests.server.phones import CHEAP, PIN, Phone, application_of, live, opened, record

MONTH = 30 * 24 * 3600


class Clock:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.at = 1_800_000_000.0

    def __call__(self) -> float:
        return self.at


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def store(tmp_path: Path, clock: Clock) -> Iterator[Store]:
    made = opened(tmp_path / "web.sqlite", "Ana", "Ben", clock=clock)
    yield made
    made.close()


def crew_of(store: Store, cookie: str) -> str:
    session = sessions.session_of(store, cookie)
    return session.crew if session else ""


def test_a_session_is_known_again(store: Store) -> None:
    ana = sessions.begin(store, "Ana", 1, network="x")
    ben = sessions.begin(store, "Ben", 1, network="x")
    assert (crew_of(store, ana), crew_of(store, ben)) == ("Ana", "Ben")


def test_a_cookie_made_by_another_is_nothing(store: Store) -> None:
    good = sessions.begin(store, "Ana", 1, network="x")
    session = sessions.session_of(store, good)
    assert session is not None
    key, _, signature = good.rpartition(".")
    forged = [
        *("", ".", key, f"{key}.", f"{key}.{signature[:-1]}", f"{key}.{signature[::-1]}"),
        *(f"{key}x.{signature}", good + "x", f"{good}.{signature}", "x" * 5000, "é", "\x00"),
        URLSafeSerializer(b"guessed", salt=sessions.SESSION).dumps(session.key),
        # Signed by us, but for another purpose.
        sessions.signed(store, sessions.DEVICE, session.key),
        sessions.signed(store, "form", session.key),
        # Signed by us, but of no session.
        sessions.signed(store, sessions.SESSION, "no such key"),
        sessions.signed(store, sessions.SESSION, ["Ana"]),
        sessions.signed(store, sessions.SESSION, {"crew": "Ana"}),
    ]
    assert {crew_of(store, cookie) for cookie in forged} == {""}


def test_a_copy_of_the_data_file_gives_no_cookie(store: Store) -> None:
    cookie = sessions.begin(store, "Ana", 1, network="x")
    session = sessions.session_of(store, cookie)
    assert session is not None
    with store.reading() as connection:
        (kept,) = connection.execute("SELECT id FROM sessions").fetchone()
    assert session.key not in kept  # only its digest is there


def test_after_the_logout_a_copied_cookie_is_nothing(store: Store) -> None:
    cookie = sessions.begin(store, "Ana", 1, network="x")
    other = sessions.begin(store, "Ana", 1, network="x")
    session = sessions.session_of(store, cookie)
    assert session is not None
    sessions.end(store, session, network="x")
    assert crew_of(store, cookie) == ""
    assert crew_of(store, other) == "Ana"  # her other phone


def test_a_session_has_an_end(store: Store, clock: Clock) -> None:
    cookie = sessions.begin(store, "Ana", 1, network="x")
    clock.at += MONTH - 10
    assert crew_of(store, cookie) == "Ana"
    clock.at += 20
    assert crew_of(store, cookie) == ""


def test_a_clock_set_back_makes_no_session_longer(store: Store, clock: Clock) -> None:
    cookie = sessions.begin(store, "Ana", 1, network="x")
    clock.at -= 600  # put right
    assert crew_of(store, cookie) == "Ana"
    clock.at -= 7 * 24 * 3600  # put back by a week
    assert crew_of(store, cookie) == ""


@pytest.mark.parametrize("what", ["changed", "removed", "removed and back"])
def test_another_pin_ends_all_sessions_of_that_crew(store: Store, what: str) -> None:
    cookies = [sessions.begin(store, "Ana", 1, network="x") for _ in range(2)]
    ben = sessions.begin(store, "Ben", 1, network="x")
    if what == "changed":
        pins.change(store, "Ana", PIN, cost=CHEAP)
    else:
        pins.remove(store, "Ana")
    if what == "removed and back":
        pins.add(store, "Ana", PIN, cost=CHEAP)
    assert [crew_of(store, cookie) for cookie in cookies] == ["", ""]
    assert crew_of(store, ben) == "Ben"


def test_a_token_holds_for_its_session_only(store: Store) -> None:
    token = sessions.token_for(store, "one")
    assert sessions.is_token(store, token, "one")
    assert not sessions.is_token(store, token, "two")
    assert not sessions.is_token(store, sessions.token_for(store, ""), "")
    assert not sessions.is_token(store, sessions.signed(store, sessions.SESSION, "one"), "one")
    assert "one" not in token


def test_over_the_wire_a_replayed_cookie_is_refused(tmp_path: Path) -> None:
    web, store = record(tmp_path / "web"), opened(tmp_path / "web.sqlite", "Ana")
    with live(application_of(web, store, KEEPS)) as port:
        phone = Phone(port)
        login = phone.log_in()
        for line in login.cookies:
            assert "HttpOnly" in line
            assert "SameSite=strict" in line
            assert "Path=/" in line
            assert "Domain" not in line
        thief = Phone(port, dict(phone.cookies))
        token = thief.token()
        assert thief.post(KEEP, token=token, id="e1").status == 200
        assert phone.post("/LOGOUT_", token=phone.token()).status == 303
        assert thief.post(KEEP, token=token, id="e2").status == 401
        assert phone.post(KEEP, token=token, id="e3").status == 401
    store.close()


def test_behind_tls_cookies_go_no_other_way(tmp_path: Path) -> None:
    web, store = record(tmp_path / "web"), opened(tmp_path / "web.sqlite", "Ana")
    with live(application_of(web, store, KEEPS, secure=True)) as port:
        phone = Phone(port)
        for line in phone.log_in().cookies:
            assert line.startswith("__Host-cardgen-")
            assert "Secure" in line
        plain = Phone(port, {n.removeprefix("__Host-"): v for n, v in phone.cookies.items()})
        assert plain.get("/LOGIN_").token  # still the form: the name counts
    store.close()
