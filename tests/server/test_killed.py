"""A server that is killed while many write loses nothing that it has acknowledged."""

from __future__ import annotations

import json
import time
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPException
from pathlib import Path
from threading import Event

from cardgen.server.backup import back_up, checked
from cardgen.server.entries import entries
from cardgen.server.store import Store
from tests.server.keeping import KEEP, program
from tests.server.phones import JOB, Phone, opened, record

WRITERS, ROUNDS = 4, 2


def _write(phone: Phone, token: str, crew: str, stop: Event) -> dict[str, str]:
    """Send entries until the server is gone; the acknowledged ones by id."""
    acknowledged: dict[str, str] = {}
    number = 0
    while not stop.is_set():
        number += 1
        id_, value = f"{crew}-{time.monotonic_ns()}", f"{number}"
        try:
            answer = phone.post(KEEP, token=token, id=id_, value=value, notes="x" * 2000)
        except (OSError, HTTPException):
            break  # killed: this one may or may not be stored, nobody was told
        assert answer.status == 200
        assert json.loads(answer.body)["id"] == id_
        acknowledged[id_] = value
    return acknowledged


def test_nothing_acknowledged_is_lost_however_often_it_is_killed(tmp_path: Path) -> None:
    record(tmp_path / "web")
    opened(tmp_path / "web.sqlite", *(f"crew {n}" for n in range(WRITERS))).close()
    acknowledged: dict[str, str] = {}
    for round_ in range(ROUNDS):
        with program(tmp_path) as (port, process), ThreadPoolExecutor(WRITERS) as crews:
            phones = [Phone(port) for _ in range(WRITERS)]
            for number, phone in enumerate(phones):
                assert phone.log_in(f"crew {number}").status == 303
            stop = Event()
            writing = [
                crews.submit(_write, phone, phone.token(), f"crew-{number}", stop)
                for number, phone in enumerate(phones)
            ]
            time.sleep(0.5)
            if round_ == 0:  # a backup under way takes nothing from anybody
                back_up(tmp_path / "web.sqlite", tmp_path / "copy.sqlite", replace=True)
            process.kill()
            stop.set()
            for done in writing:
                acknowledged |= done.result()
    assert len(acknowledged) > ROUNDS * WRITERS
    store = Store(tmp_path / "web.sqlite")
    store.prepare()
    kept = {one.id: one.value for one in entries(store, JOB)}
    assert acknowledged.items() <= kept.items()
    assert [one.seq for one in entries(store, JOB)] == list(range(1, len(kept) + 1))
    store.close()
    assert checked(tmp_path / "copy.sqlite").entries > 0


def test_what_is_sent_again_after_the_kill_is_stored_once(tmp_path: Path) -> None:
    record(tmp_path / "web")
    opened(tmp_path / "web.sqlite", "Ana").close()
    phone = Phone(0)
    for _ in range(2):
        with program(tmp_path) as (port, process):
            phone.port = port
            if not phone.cookies:
                phone.log_in()
            answer = phone.post(KEEP, token=phone.token(), id="e1", value="31.1")
            assert json.loads(answer.body) == {"id": "e1", "seq": 1}
            process.kill()
    store = Store(tmp_path / "web.sqlite")
    store.prepare()
    assert len(entries(store, JOB)) == 1
    store.close()


def test_told_to_stop_it_finishes_what_it_has_begun(tmp_path: Path) -> None:
    record(tmp_path / "web")
    opened(tmp_path / "web.sqlite", "Ana").close()
    with program(tmp_path) as (port, process):
        phone = Phone(port)
        phone.log_in()
        assert phone.post(KEEP, token=phone.token(), id="e1").status == 200
        process.terminate()
        assert process.wait(30) == 0
    assert not (tmp_path / "web.sqlite-wal").exists()  # all is in the one file
    assert checked(tmp_path / "web.sqlite").entries == 1
