"""A crew logs in with its PIN, and nobody else can keep it from that."""

from __future__ import annotations

import json
import re
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from threading import Event

import pytest

from cardgen.server import pin_attempts, pins
from cardgen.server.audit_trail import network_of, trail
from cardgen.server.pin_attempts import FREE_ATTEMPTS, AttemptLimiter
from cardgen.server.store import Store
from tests.server.phones import CHEAP, PIN, Phone, application_of, live, opened, record


@contextmanager
def office(folder: Path, *, proxies: str = "") -> Iterator[tuple[int, Store, AttemptLimiter]]:
    """A server whose limiter can be looked at."""
    web, store, limiter = (
        record(folder / "web"),
        opened(folder / "d", "Ana", "Ben"),
        AttemptLimiter(),
    )
    with live(application_of(web, store, limiter=limiter), proxies=proxies) as port:
        yield port, store, limiter
    store.close()


def test_a_crew_logs_in_and_out(tmp_path: Path) -> None:
    with office(tmp_path) as (port, store, _):
        phone = Phone(port)
        assert phone.log_in(" ana ").status == 303  # capitals and blanks do not matter
        page = phone.get("/LOGIN_")
        assert "Logged in as Ana" in page.text
        out = phone.post("/LOGOUT_", token=page.token)
        assert out.headers["location"] == "/LOGIN_"
        # RFC 6265, 5.2.2: a phone forgets a cookie of no age at once.
        (forgotten,) = (line for line in out.cookies if line.startswith("cardgen-session="))
        assert "max-age=0" in forgotten.lower().split("; ")
        assert "Logged in" not in phone.get("/LOGIN_").text
        said = [(step.who, step.what, step.network) for step in trail(store)[2:]]
        assert said == [("Ana", "log in", "127.0.0.0/24"), ("Ana", "log out", "127.0.0.0/24")]


def test_a_wrong_pin_and_a_crew_that_is_not_there_look_alike(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # That a try costs as much where nobody is, is in `test_pins.py`.
    monkeypatch.setattr(pins, "COST", CHEAP)
    with office(tmp_path) as (port, store, limiter):
        pages = set()
        for crew, pin in (
            *(("Ana", "wrong-pin"), ("Ana", ""), ("Nobody", PIN), ("", ""), ("office", PIN)),
            *(("Ana' OR '1'='1", PIN), ("Ana", PIN + "\x00"), ("Ana", "x" * 60_000)),
        ):
            phone = Phone(port)
            answer = phone.log_in(crew, pin)
            assert answer.status == 403
            assert all("cardgen-session" not in line for line in answer.cookies)
            assert trail(store)[-1].what == "wrong pin"
            pages.add(re.sub('value="[^"]*"', "", answer.text))
            limiter._turns.clear()
        assert len(pages) == 1
        assert "Crew or PIN is wrong" in pages.pop()


def test_a_script_logs_in_too(tmp_path: Path) -> None:
    with office(tmp_path) as (port, _, _):
        phone = Phone(port)
        told = json.loads(phone.get("/LOGIN_", Accept="application/json").body)
        assert told["crew"] == ""
        assert phone.post("/LOGIN_", crew="Ana", pin=PIN, token=told["token"]).status == 303
        assert json.loads(phone.get("/LOGIN_", Accept="application/json").body)["crew"] == "Ana"


def test_too_many_wrong_pins_have_to_wait_but_a_known_phone_does_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pin_attempts, "NOISY_PATIENCE_S", 0)  # whoever must wait is told so
    with office(tmp_path) as (port, _, limiter):
        known, stranger = Phone(port), Phone(port)
        known.log_in()
        del known.cookies["cardgen-session"]  # it has come to its end
        for _ in range(FREE_ATTEMPTS):
            assert stranger.log_in("Ana", "wrong-pin").status == 403
        refused = stranger.log_in("Ana", PIN)
        assert refused.status == 429
        assert 1 <= int(refused.headers["retry-after"]) <= pin_attempts.PAUSE_S
        assert "You will not be locked out permanently" in refused.text
        assert known.log_in("Ana", PIN).status == 303
        # Its cookie is for Ana: for another crew it is a stranger as well.
        assert known.log_in("Ben", PIN).status == 429
        # After the wait the right PIN of a fresh phone is right.
        here = "address 127.0.0.0/24"
        limiter._turns[here] = [at - pin_attempts.PAUSE_S for at in limiter._turns[here]]
        assert Phone(port).log_in("Ben", PIN).status == 303


def test_another_spelling_of_a_crew_is_counted_as_that_crew(tmp_path: Path) -> None:
    with office(tmp_path) as (port, _, limiter):
        for name in (" ana", "ANA", "ana \t"):
            assert Phone(port).log_in(name, "wrong-pin").status == 403
        assert limiter.attempts("crew ana") == 3
        assert Phone(port).log_in("x" * 50_000, "wrong-pin").status == 403
        assert max(map(len, limiter._turns)) < 60  # no name fills the memory


def test_behind_an_address_where_another_guesses_a_right_pin_waits_for_its_turn(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pin_attempts, "PAUSE_S", 0.6)
    with office(tmp_path) as (port, _, limiter), ThreadPoolExecutor(1) as guesser:
        stop = Event()

        def guesses() -> None:
            while not stop.is_set():
                assert Phone(port).log_in("Ana", "wrong-pin").status == 403

        guessing = guesser.submit(guesses)
        while limiter.attempts("crew ana") <= FREE_ATTEMPTS:
            assert not guessing.done()
            time.sleep(0.05)
        begun = time.monotonic()
        assert Phone(port).log_in("Ana").status == 303
        took = time.monotonic() - begun
        stop.set()
        guessing.result()
    assert took < 10


NETWORKS = 6  # from which guessers come: more than have a turn within their patience of 3 pauses


def test_guessers_from_everywhere_keep_no_crew_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, seconds in (("PAUSE_S", 0.2), ("NOISY_PATIENCE_S", 0.6), ("PATIENCE_S", 0.8)):
        monkeypatch.setattr(pin_attempts, name, seconds)
    stop = Event()

    def guesses(network: int, port: int) -> int:
        tries = 0
        while not stop.is_set():
            tries += 1
            answer = Phone(port, address=f"127.7.{network}.1").log_in("Ana", f"guess-{tries}")
            assert answer.status in (403, 429)
        return tries

    with office(tmp_path) as (port, _, limiter), ThreadPoolExecutor(NETWORKS) as crowd:
        known = Phone(port)
        known.log_in()
        del known.cookies["cardgen-session"]
        guessing = [crowd.submit(guesses, network, port) for network in range(NETWORKS)]
        # Until every one of them has to wait.
        networks = [f"address 127.7.{network}.0/24" for network in range(NETWORKS)]
        try:
            while min(map(limiter.attempts, networks)) < FREE_ATTEMPTS:
                assert not any(done.done() for done in guessing)
                time.sleep(0.05)  # the guessers are to have the processor
            assert known.log_in().status == 303
            # A phone that was never here, for another crew and for the one that they guess at.
            for number, crew in enumerate(("Ben", "Ana")):
                assert Phone(port, address=f"127.9.9{number}.9").log_in(crew).status == 303
        finally:
            stop.set()
        assert sum(done.result() for done in guessing) > NETWORKS * FREE_ATTEMPTS


def test_a_device_cookie_that_is_not_ours_is_none(tmp_path: Path) -> None:
    with office(tmp_path) as (port, _, limiter):
        good = Phone(port)
        good.log_in()
        real = good.cookies["cardgen-device"]
        for fake in ("x", real[:-2], real + "x", good.cookies["cardgen-session"]):
            phone = Phone(port, {"cardgen-device": fake})
            before = limiter.attempts("address 127.0.0.0/24")
            assert phone.log_in("Ana", "wrong-pin").status == 403
            assert limiter.attempts("address 127.0.0.0/24") == before + 1


def test_only_a_named_proxy_may_say_where_a_phone_is(tmp_path: Path) -> None:
    forwarded = {"X-Forwarded-For": "203.0.113.7", "X-Forwarded-Proto": "https"}

    def network(proxies: str, folder: Path) -> str:
        with office(folder, proxies=proxies) as (port, store, _):
            phone = Phone(port)
            token = phone.get("/LOGIN_").token
            body = f"crew=Ana&pin={PIN}&token={token}".encode()
            kind = {"Content-Type": "application/x-www-form-urlencoded"}
            assert phone.ask("POST", "/LOGIN_", body, {**kind, **forwarded}).status == 303
            return trail(store)[-1].network

    assert network("", tmp_path / "a") == "127.0.0.0/24"
    assert network("192.0.2.1", tmp_path / "b") == "127.0.0.0/24"
    assert network("127.0.0.1", tmp_path / "c") == "203.0.113.0/24"


def test_what_is_kept_of_an_address() -> None:
    assert network_of("203.0.113.77") == "203.0.113.0/24"
    assert network_of("2001:db8:1:2:3::4") == "2001:db8:1::/48"
    assert network_of("::ffff:203.0.113.77") == "203.0.113.0/24"
    assert network_of("") == network_of("unix:/run/x") == "local"


def test_a_page_speaks_the_language_of_the_browser(tmp_path: Path) -> None:
    with office(tmp_path) as (port, _, _):
        phone = Phone(port)
        for asked, word in (
            *(("es-MX,es;q=0.9,en;q=0.8", "Iniciar sesión"), ("fr,es;q=0.5", "Iniciar sesión")),
            *(("", "Log in"), ("xx", "Log in"), ("en,es;q=0.9", "Log in"), (";;q=,=", "Log in")),
            ("es;q=nonsense, en;q=0.1", "Log in"),
        ):
            assert f"<h1>{word}</h1>" in phone.get("/LOGIN_", **{"Accept-Language": asked}).text
        assert "Aquí no hay página" in phone.get("/nowhere", **{"Accept-Language": "es"}).text
