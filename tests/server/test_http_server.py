"""Nobody holds a connection by being slow: requests, bodies and answers have an end."""

from __future__ import annotations

import signal
import socket
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from cardgen.server import http_server, request_body
from cardgen.server.request_body import PHOTO_BYTES
from tests.server.phones import (
    JOB,
    Phone,
    application_of,
    live,
    opened,
    raw,
    record,
    serving,
    status,
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("bodies")


@pytest.fixture(scope="module")
def port(folder: Path) -> Iterator[int]:
    """A server that waits for tenths of seconds."""
    with pytest.MonkeyPatch.context() as patch:
        for name in ("READ_TIMEOUT_S", "WRITE_TIMEOUT_S", "DRAIN_TIMEOUT_S"):
            patch.setattr(http_server, name, 0.3)
        patch.setattr(http_server, "KEEP_ALIVE_S", 1)
        patch.setattr(request_body, "START_S", 0.3)
        with serving(folder, "Ana") as (found, _):
            yield found


@pytest.mark.parametrize("sent", [b"", b"G", b"GET /LOGIN_ HTTP/1.1\r\nHost: x\r\nX-A: b"])
def test_a_request_that_does_not_come_to_its_end_is_cut_off(port: int, sent: bytes) -> None:
    assert status(raw(port, sent)) == 0


def test_a_second_request_that_stays_half_is_cut_off_too(port: int) -> None:
    whole = b"GET /LOGIN_ HTTP/1.1\r\nHost: x\r\n\r\n"
    got = raw(port, whole + whole[:20])
    assert got.count(b"HTTP/1.1 200") == 1


def test_a_body_that_does_not_come_to_its_end_is_answered(port: int) -> None:
    kind = "application/x-www-form-urlencoded"
    head = f"POST /LOGIN_ HTTP/1.1\r\nHost: x\r\nContent-Type: {kind}\r\nContent-Length: 50\r\n"
    got = raw(port, f"{head}\r\ncrew=".encode())
    assert status(got) == 408
    assert b"Nothing is stored" in got


def test_a_larger_body_has_more_time() -> None:
    minutes = request_body.deadline_s(PHOTO_BYTES) / 60
    assert 10 < minutes < 60


def test_headers_have_an_end(port: int) -> None:
    got = raw(port, b"GET / HTTP/1.1\r\nHost: x\r\nX-Long: " + b"x" * 200_000)
    assert status(got) in (0, 400)
    cookie = "Cookie: " + "; ".join(f"c{n}={n}" for n in range(5_000))
    assert status(raw(port, f"GET / HTTP/1.1\r\n{cookie}\r\n\r\n".encode())) in (0, 400)


def test_a_phone_that_goes_away_half_way_leaves_nothing_behind(
    port: int, caplog: pytest.LogCaptureFixture
) -> None:
    kind = b"Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 50\r\n"
    for headers in (b"Content-Length: 50\r\n", kind):
        for _ in range(20):
            with socket.create_connection(("127.0.0.1", port)) as stream:
                stream.sendall(b"POST /LOGIN_ HTTP/1.1\r\nHost: x\r\n" + headers + b"\r\ncrew")
    assert Phone(port).get("/LOGIN_").status == 200
    assert not [told for told in caplog.records if told.levelname == "ERROR"]


def test_who_takes_nothing_of_an_answer_is_cut_off(port: int, folder: Path) -> None:
    whole = 30_000_000  # more than the systems of both sides take in advance
    (folder / "web" / JOB / "large.bin").write_bytes(bytes(whole))
    with socket.create_connection(("127.0.0.1", port), timeout=30) as stream:
        stream.sendall(f"GET /{JOB}/large.bin HTTP/1.1\r\nHost: x\r\n\r\n".encode())
        got = len(stream.recv(1))
        time.sleep(2.5)  # far longer than WRITE_TIMEOUT_S
        with suppress(ConnectionResetError):
            while piece := stream.recv(1_000_000):
                got += len(piece)
    assert got < whole


def test_a_browser_that_sends_far_too_much_still_sees_why_not(port: int) -> None:
    size = 20_000_000
    kind = {"Content-Type": "application/x-www-form-urlencoded"}
    answer = Phone(port).ask("POST", "/LOGIN_", bytes(size), kind)
    assert answer.status == 413
    assert "Send less" in answer.text


@pytest.mark.parametrize(
    "head", [b"POST /LOGIN_ HTTP/1.1", b"GET /LOGIN_ HTTP/1.1", b"PUT /x HTTP/1.1"]
)
def test_a_body_that_nobody_reads_has_an_end_too(port: int, head: bytes) -> None:
    with socket.create_connection(("127.0.0.1", port), timeout=30) as stream:
        stream.sendall(head + b"\r\nHost: x\r\nContent-Length: 900000\r\n\r\n")
        assert status(stream.recv(65536)) in (200, 405, 413, 415)
        with suppress(BrokenPipeError, ConnectionResetError):
            for _ in range(300):  # a byte now and then, for far longer than DRAIN_TIMEOUT_S
                stream.sendall(b"x")
                time.sleep(0.05)
            raise AssertionError("still open")


def test_one_address_cannot_take_all_connections(
    port: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(http_server, "LOOPBACK", ())
    monkeypatch.setattr(http_server, "CONNECTIONS_OF_ONE", 5)
    ask = b"GET /LOGIN_ HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"
    idle = [_from("127.0.0.2", port) for _ in range(5)]
    with _from("127.0.0.2", port) as one_more, suppress(ConnectionResetError, BrokenPipeError):
        one_more.sendall(ask)
        assert one_more.recv(100) == b""
    assert status(raw(port, ask)) == 200  # from another address
    for stream in idle:
        stream.close()


def _from(address: str, port: int) -> socket.socket:
    return socket.create_connection(("127.0.0.1", port), source_address=(address, 0))


def test_idle_connections_of_this_machine_do_not_keep_a_crew_out(
    port: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(http_server, "CONNECTIONS_OF_ONE", 5)
    idle = [socket.create_connection(("127.0.0.1", port)) for _ in range(50)]
    assert Phone(port).get("/LOGIN_").status == 200
    for stream in idle:
        stream.close()


def test_a_proxy_may_bring_all_the_crews(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(http_server, "LOOPBACK", ())
    monkeypatch.setattr(http_server, "CONNECTIONS_OF_ONE", 5)
    web, store = record(tmp_path / "web"), opened(tmp_path / "web.sqlite", "Ana")
    with live(application_of(web, store), proxies="127.0.0.9,127.0.0.1") as port:
        idle = [socket.create_connection(("127.0.0.1", port)) for _ in range(10)]
        assert Phone(port).get("/LOGIN_").status == 200
        for stream in idle:
            stream.close()
    store.close()


@pytest.mark.parametrize("wish", [signal.SIGINT, signal.SIGTERM])
def test_a_signal_to_stop_is_a_wish(wish: signal.Signals) -> None:
    async def nothing(*_: object) -> None: ...

    answering = http_server.server(nothing)
    before = {each: signal.getsignal(each) for each in (signal.SIGINT, signal.SIGTERM)}
    try:
        http_server.stops_when_told(answering)
        assert not answering.should_exit
        signal.raise_signal(wish)
        assert answering.should_exit
    finally:
        for each, handler in before.items():
            signal.signal(each, handler)


def test_it_says_once_that_it_is_told_to_stop() -> None:
    async def nothing(*_: object) -> None: ...

    said: list[str] = []
    answering = http_server.server(nothing, on_stop=lambda: said.append("stops"))
    assert isinstance(answering, http_server.TellingServer)
    for _ in range(2):
        answering.handle_exit(signal.SIGTERM, None)
        assert said == ["stops"]
        assert answering.should_exit
