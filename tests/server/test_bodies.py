"""Nobody holds a connection by being slow: requests, bodies and answers have an end."""

from __future__ import annotations

import socket
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from cardgen.server import bodies, wire
from cardgen.server.visit import PHOTO_SIZE
from tests.server.phones import JOB, Phone, raw, serving, status


@pytest.fixture
def port(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[int]:
    """A server that waits for tenths of seconds."""
    monkeypatch.setattr(wire, "ASKING", 0.3)
    monkeypatch.setattr(wire, "LISTENING", 0.3)
    monkeypatch.setattr(wire, "KEPT", 1)
    monkeypatch.setattr(bodies, "_START", 0.3)
    with serving(tmp_path, "Ana") as (found, _):
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
    minutes = bodies.deadline(PHOTO_SIZE) / 60
    assert bodies.deadline(0) < 60
    assert 10 < minutes < 60


def test_headers_have_an_end(port: int) -> None:
    got = raw(port, b"GET / HTTP/1.1\r\nHost: x\r\nX-Long: " + b"x" * 200_000)
    assert status(got) in (0, 400)
    cookie = "Cookie: " + "; ".join(f"c{n}={n}" for n in range(5_000))
    assert status(raw(port, f"GET / HTTP/1.1\r\n{cookie}\r\n\r\n".encode())) in (0, 400)


def test_a_phone_that_goes_away_half_way_leaves_nothing_behind(port: int) -> None:
    for _ in range(20):
        with socket.create_connection(("127.0.0.1", port)) as stream:
            stream.sendall(b"POST /LOGIN_ HTTP/1.1\r\nContent-Length: 50\r\n\r\ncrew")
    assert Phone(port).get("/LOGIN_").status == 200


def test_who_takes_nothing_of_an_answer_is_cut_off(port: int, tmp_path: Path) -> None:
    whole = 30_000_000  # more than the systems of both sides take in advance
    (tmp_path / "web" / JOB / "large.bin").write_bytes(bytes(whole))
    with socket.create_connection(("127.0.0.1", port), timeout=30) as stream:
        stream.sendall(f"GET /{JOB}/large.bin HTTP/1.1\r\nHost: x\r\n\r\n".encode())
        time.sleep(1.5)  # far longer than LISTENING
        got = 0
        with suppress(ConnectionResetError):
            while piece := stream.recv(1_000_000):
                got += len(piece)
    assert got < whole


def test_idle_connections_do_not_keep_a_crew_out(port: int) -> None:
    idle = [socket.create_connection(("127.0.0.1", port)) for _ in range(50)]
    assert Phone(port).get("/LOGIN_").status == 200
    for stream in idle:
        stream.close()
