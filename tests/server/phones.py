"""A small record, its server on this machine, and phones that speak plain HTTP with it."""

from __future__ import annotations

import json
import re
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.client import HTTPConnection
from http.cookies import SimpleCookie
from pathlib import Path
from threading import Thread
from urllib.parse import urlencode

from starlette.applications import Starlette

from cardgen.server import pins
from cardgen.server.app import assembled, login_routes
from cardgen.server.entries import CrewEntry
from cardgen.server.http_server import listening, server
from cardgen.server.jobs import ServedJobs
from cardgen.server.login import Login
from cardgen.server.pin_attempts import AttemptLimiter
from cardgen.server.routing import PageRoute
from cardgen.server.served_files import ServedFiles
from cardgen.server.store import Store

JOB = "7Q2F9KX4M3T8"
PIN = "valve-90210"
CHEAP = pins.ScryptCost(4, 1, 1)  # the real cost is a quarter of a second for each try
PAGE = (
    '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
    '<meta http-equiv="Content-Security-Policy" content="default-src &#x27;none&#x27;">'
    "<title>VB-1</title></head><body>VB-1</body></html>\n"
)


def record(out: Path) -> Path:
    """A folder as `cardgen record` leaves it, as far as a web host cares."""
    box = out / JOB / "VB-1"
    box.mkdir(parents=True)
    for folder in (out / JOB, box):
        (folder / "index.html").write_text(PAGE, encoding="utf-8")
    (out / JOB / "offline_.js").write_text("'use strict';\n", encoding="utf-8")
    (out / JOB / "cardgen-manifest.json").write_text("{}", encoding="utf-8")
    return out


def opened(path: Path, *crews: str, clock: Callable[[], float] = time.time) -> Store:
    """A data file in which these crews have the PIN."""
    store = Store(path, clock=clock, wait=20)
    store.prepare()
    for name in crews:
        pins.add(store, name, PIN, cost=CHEAP)
    return store


def entry(id_: str, **said: str) -> CrewEntry:
    """An entry; what is not said is usual."""
    usual = {
        "id": id_,
        "record_key": JOB,
        "box": "VB-1",
        "valve": "A1",
        "kind": "ohms",
        "value": "31.1",
        "notes": "",
        "crew": "Ana",
        "said_at": "2026-06-01T10:00:00Z",
    }
    return CrewEntry(**{**usual, **said})


@contextmanager
def live(served: Starlette, *, proxies: str = "") -> Iterator[int]:
    """The server in a thread of its own; the port."""
    answering = server(served, proxies)
    with listening("127.0.0.1", 0) as at:
        thread = Thread(target=answering.run, kwargs={"sockets": [at]}, daemon=True)
        thread.start()
        try:
            yield at.getsockname()[1]
        finally:
            answering.should_exit = True
            thread.join(30)


def application_of(
    web: Path,
    store: Store,
    *pages: PageRoute,
    secure: bool = False,
    limiter: AttemptLimiter | None = None,
) -> Starlette:
    """A server with the login and these pages."""
    login = Login(limiter or AttemptLimiter())
    return assembled(
        (*login_routes(login), *pages), ServedFiles(web), ServedJobs(web), store, secure=secure
    )


@contextmanager
def serving(folder: Path, *crews: str) -> Iterator[tuple[int, Store]]:
    """A record in `folder/web` and its data beside it, served; the port and the data."""
    web, store = record(folder / "web"), opened(folder / "web.sqlite", *crews)
    with live(application_of(web, store)) as port:
        yield port, store
    store.close()


def command(*argv: str | Path) -> list[str]:
    return [sys.executable, "-m", "cardgen", *map(str, argv)]


@contextmanager
def running(*argv: str | Path) -> Iterator[tuple[int, subprocess.Popen[str]]]:
    """`cardgen serve` at a free port or the one in `argv`, until it answers; its port."""
    process = subprocess.Popen(
        command("serve", "--port", "0", *argv),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    try:
        found = re.search(r"served at http://\S+:(\d+)/", process.stdout.readline())
        assert found, process.communicate(timeout=30)
        yield int(found[1]), process
    finally:
        process.kill()
        process.wait(30)
        for stream in (process.stdout, process.stderr):
            assert stream is not None
            stream.close()


@dataclass(frozen=True, slots=True)
class Answer:
    """What the server said."""

    status: int
    headers: Mapping[str, str]
    body: bytes
    cookies: tuple[str, ...]

    @property
    def text(self) -> str:
        return self.body.decode()

    @property
    def token(self) -> str:
        """The token in the form of the page."""
        found = re.search(r'name="token" value="([^"]+)"', self.text)
        assert found, self.text[-500:]
        return found[1]


@dataclass(slots=True)
class Phone:
    """A browser as far as cookies go; `address` is its own, any of this machine's."""

    port: int
    cookies: dict[str, str] = field(default_factory=dict)
    address: str = "127.0.0.1"

    def ask(
        self,
        method: str,
        path: str,
        body: bytes | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Answer:
        """Send one request as it is."""
        own = (self.address, 0)
        connection = HTTPConnection("127.0.0.1", self.port, timeout=60, source_address=own)
        try:
            sent = dict(headers or {})
            if self.cookies:
                said = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
                sent.setdefault("Cookie", said)
            connection.request(method, path, body, sent)
            got = connection.getresponse()
            set_ = tuple(value for name, value in got.getheaders() if name == "set-cookie")
            headers = {name.lower(): value for name, value in got.getheaders()}
            answer = Answer(got.status, headers, got.read(), set_)
        finally:
            connection.close()
        for line in set_:
            for name, morsel in SimpleCookie(line).items():
                self.cookies[name] = morsel.value
                if morsel["max-age"] == "0":
                    del self.cookies[name]
        return answer

    def get(self, path: str, **headers: str) -> Answer:
        return self.ask("GET", path, headers=headers)

    def post(self, path: str, **fields: str) -> Answer:
        """Send a form as the page's own button does."""
        headers = {
            "Content-Type": "application/x-www-form-urlencoded",
            "Origin": f"http://127.0.0.1:{self.port}",
        }
        return self.ask("POST", path, urlencode(fields).encode(), headers)

    def log_in(self, crew: str = "Ana", pin: str = PIN, **more: str) -> Answer:
        """Load the form, fill it in, send it."""
        token = self.get("/LOGIN_").token
        return self.post("/LOGIN_", crew=crew, pin=pin, token=token, **more)

    def token(self) -> str:
        """What a script needs to send something."""
        told = json.loads(self.get("/LOGIN_", Accept="application/json").body)
        return str(told["token"])


def raw(port: int, sent: bytes, *, wait: float = 30) -> bytes:
    """Send bytes as they are; all that comes back until the other side closes."""
    with socket.create_connection(("127.0.0.1", port), timeout=wait) as stream:
        stream.sendall(sent)
        got = b""
        try:
            while piece := stream.recv(65536):
                got += piece
        except ConnectionResetError:
            pass  # cut off by the server, which is an answer too
        return got


def status(answer: bytes) -> int:
    """The number in the first line of a raw answer; 0 if there is none."""
    return int(answer.split(b" ", 2)[1]) if answer.startswith(b"HTTP/1.1 ") else 0
