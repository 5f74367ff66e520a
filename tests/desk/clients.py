"""A desk that answers on this machine, and a client that sends what a browser would."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection, HTTPMessage
from pathlib import Path
from threading import Thread
from typing import Any
from urllib.parse import urlencode

from cardgen.desk.desk_app import desk_application
from cardgen.desk.job_folder import JobFolder
from cardgen.server.http_server import listening, server

TOKEN = "t0ken"  # noqa: S105  # of the tests
JOB = "/jobs/larkspur.yaml"
_FORM = "application/x-www-form-urlencoded"


@dataclass(frozen=True, slots=True)
class DeskAnswer:
    status: int
    headers: HTTPMessage
    content: bytes

    @property
    def text(self) -> str:
        return self.content.decode()

    def json(self) -> Any:
        return json.loads(self.content)


class DeskClient:
    """A browser on this machine; without the token a stranger."""

    def __init__(self, port: int, token: str = TOKEN) -> None:
        self.port, self.here = port, f"http://127.0.0.1:{port}"
        self.cookie = ""
        self.opened = self.get(f"/open/{token}")
        self.cookie = self.opened.headers.get("Set-Cookie", "").partition(";")[0]

    def ask(
        self, method: str, path: str, body: bytes | None, headers: Mapping[str, str]
    ) -> DeskAnswer:
        connection = HTTPConnection("127.0.0.1", self.port, timeout=30)
        try:
            connection.request(method, path, body, {"Cookie": self.cookie, **headers})
            answer = connection.getresponse()
            return DeskAnswer(answer.status, answer.headers, answer.read())
        finally:
            connection.close()

    def get(self, path: str, **headers: str) -> DeskAnswer:
        return self.ask("GET", path, None, headers)

    def post(self, path: str, body: bytes, headers: Mapping[str, str]) -> DeskAnswer:
        """As it is, with these headers alone."""
        return self.ask("POST", path, body, headers)

    def form(self, path: str, fields: Mapping[str, str | list[str]]) -> DeskAnswer:
        body = urlencode(fields, doseq=True).encode()
        return self.post(path, body, {"Origin": self.here, "Content-Type": _FORM})

    def upload(
        self, path: str, fields: Mapping[str, str], file: bytes = b"", *, language: str = "en"
    ) -> DeskAnswer:
        """A form with a file, as RFC 7578 has it."""
        parts = [f'name="{name}"\r\n\r\n{value}'.encode() for name, value in fields.items()]
        name = 'name="file"; filename="' + ("sent.xlsx" if file else "") + '"'
        parts.append(f"{name}\r\nContent-Type: application/octet-stream\r\n\r\n".encode() + file)
        start = b"--cut\r\nContent-Disposition: form-data; "
        body = b"".join(start + part + b"\r\n" for part in parts) + b"--cut--\r\n"
        media = "multipart/form-data; boundary=cut"
        headers = {"Origin": self.here, "Content-Type": media, "Accept-Language": language}
        return self.post(path, body, headers)

    def send(self, what: str, sent: Mapping[str, Any], job: str = JOB) -> DeskAnswer:
        headers = {"Origin": self.here, "Accept": "application/json"}
        headers["Content-Type"] = "application/json"
        return self.post(f"{job}/{what}", json.dumps(sent).encode(), headers)

    def data(self, job: str = JOB) -> dict[str, Any]:
        found: dict[str, Any] = self.get(f"{job}/data").json()
        return found

    def edit(self, *cells: list[str], version: str = "") -> DeskAnswer:
        """Cells of stations, of the version that the page shows."""
        version = version or self.data()["version"]
        return self.send("edit", {"version": version, "section": "stations", "cells": cells})


@contextmanager
def answering(folder: Path) -> Iterator[int]:
    """A desk of that folder; its port."""
    with listening("127.0.0.1", 0) as at:
        port = at.getsockname()[1]
        desk = server(desk_application(JobFolder(folder), token=TOKEN, port=port))
        thread = Thread(target=desk.run, kwargs={"sockets": [at]})
        thread.start()
        try:
            yield port
        finally:
            desk.should_exit = True
            thread.join()
