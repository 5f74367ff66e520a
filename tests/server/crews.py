"""A served record of a sample job, crews that enter into it, and the form as a browser sends it."""

from __future__ import annotations

import json
import uuid
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from cardgen.output.writing import write_set
from cardgen.server.app import application
from cardgen.server.entries import StoredEntry, entries
from cardgen.server.store import Store
from tests.record.records import LARKSPUR, publish, sample_files
from tests.server.phones import Answer, Phone, live, opened

READINGS = f"/{LARKSPUR}/READINGS_"
RESULTS = f"/{LARKSPUR}/RESULTS_"
REPORTS = f"/{LARKSPUR}/REPORTS_"
TABLE = f"/{LARKSPUR}/READINGS_CSV_"
JSON = {"Accept": "application/json"}
GOOD = {"valve": "A1", "kind": "ohms at the controller", "value": "31.1"}
Files = Mapping[str, tuple[str, str, bytes]]


@dataclass(frozen=True, slots=True)
class Served:
    port: int
    store: Store
    web: Path

    def crew(self, name: str = "Ana") -> Phone:
        """A phone of a crew that is logged in."""
        phone = Phone(self.port)
        assert phone.log_in(name).status == 303
        return phone

    def anyone(self) -> Phone:
        return Phone(self.port)

    def stored(self, key: str = LARKSPUR) -> tuple[StoredEntry, ...]:
        return entries(self.store, key)


@contextmanager
def served(folder: Path, *jobs: str) -> Iterator[Served]:
    """The records of those jobs, of Larkspur if none is named, and crews Ana and Ben."""
    if jobs:
        for text in jobs:
            publish(text, folder / "web")
    else:
        files = sample_files("larkspur")
        write_set(folder / "web" / LARKSPUR, files, {"job_code": "LARK-06"}, replace=False)
    store = opened(folder / "web.sqlite", "Ana", "Ben")
    with live(application(folder / "web", store, secure=False)) as port:
        yield Served(port, store, folder / "web")
    store.close()


def send(
    phone: Phone,
    path: str,
    fields: Mapping[str, str],
    files: Files | None = None,
    headers: Mapping[str, str] | None = None,
) -> Answer:
    """Send a form with files as a browser does (RFC 7578)."""
    edge = uuid.uuid4().hex
    parts = [
        f'Content-Disposition: form-data; name="{name}"\r\n\r\n{value}'.encode()
        for name, value in fields.items()
    ]
    for name, (title, media, data) in (files or {}).items():
        head = f'Content-Disposition: form-data; name="{name}"; filename="{title}"'
        parts.append(f"{head}\r\nContent-Type: {media}\r\n\r\n".encode() + data)
    body = b"".join(b"--%s\r\n%s\r\n" % (edge.encode(), part) for part in parts)
    sent = {
        "Content-Type": f"multipart/form-data; boundary={edge}",
        "Origin": f"http://127.0.0.1:{phone.port}",
        "X-Token": phone.token(),
    }
    return phone.ask(
        "POST", path, body + b"--%s--\r\n" % edge.encode(), {**sent, **(headers or {})}
    )


def enter(
    phone: Phone, said: Mapping[str, str] | None = None, files: Files | None = None
) -> Answer:
    """An entry as the script sends it; what is not said is usual."""
    fields = {"id": str(uuid.uuid4()), **GOOD, **(said or {})}
    return send(phone, READINGS, fields, files, JSON)


def told(answer: Answer) -> dict[str, object]:
    found = json.loads(answer.body)
    assert isinstance(found, dict)
    return found
