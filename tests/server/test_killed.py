"""A server that is killed while many write loses nothing that it has acknowledged."""

from __future__ import annotations

import time
import uuid
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPException
from pathlib import Path
from subprocess import Popen
from threading import Event

import pytest

from cardgen.server.backup import back_up, checked
from cardgen.server.entries import entries
from cardgen.server.store import Store
from tests.jobs import sample
from tests.record.records import LARKSPUR, publish
from tests.server.crews import enter, told
from tests.server.phones import Phone, opened, running

WRITERS, ROUNDS = 4, 2


@pytest.fixture
def web(tmp_path: Path) -> Path:
    """A real record, and crews that may enter."""
    publish(sample("larkspur"), tmp_path / "web")
    opened(tmp_path / "web.sqlite", *(f"crew {n}" for n in range(WRITERS))).close()
    return tmp_path / "web"


@pytest.fixture
def stored(web: Path) -> Iterator[Store]:
    """The data file, opened when a test asks for it."""
    store = Store(web.parent / "web.sqlite")
    yield store
    store.close()


def _write(phone: Phone, stop: Event) -> dict[str, str]:
    """Enter until the server is gone; the acknowledged values by id."""
    acknowledged: dict[str, str] = {}
    while not stop.is_set():
        id_, value = str(uuid.uuid4()), f"{30 + len(acknowledged)}"
        try:
            answer = enter(phone, {"id": id_, "value": value, "notes": "x" * 500})
        except (OSError, HTTPException, AssertionError):
            if stop.is_set():
                break  # killed: this one may or may not be stored, nobody was told
            raise
        assert answer.status == 200, answer.text
        assert told(answer)["id"] == id_
        acknowledged[id_] = value
    return acknowledged


def _all_write_until_killed(port: int, process: Popen[str], meanwhile: Path) -> dict[str, str]:
    phones = [Phone(port) for _ in range(WRITERS)]
    for number, phone in enumerate(phones):
        assert phone.log_in(f"crew {number}").status == 303
    stop, acknowledged = Event(), dict[str, str]()
    with ThreadPoolExecutor(WRITERS) as crews:
        writing = [crews.submit(_write, phone, stop) for phone in phones]
        time.sleep(0.7)
        back_up(meanwhile, meanwhile.with_name("copy.sqlite"), replace=True)
        stop.set()  # from now on an answer may be missing
        process.kill()
        for done in writing:
            acknowledged |= done.result()
    return acknowledged


def test_nothing_acknowledged_is_lost_however_often_it_is_killed(web: Path, stored: Store) -> None:
    acknowledged: dict[str, str] = {}
    for _ in range(ROUNDS):
        with running(web) as (port, process):
            acknowledged |= _all_write_until_killed(port, process, stored.path)
    assert len(acknowledged) > ROUNDS * WRITERS
    stored.prepare()
    kept = entries(stored, LARKSPUR)
    assert acknowledged.items() <= {one.id: one.value for one in kept}.items()
    assert [one.seq for one in kept] == list(range(1, len(kept) + 1))
    # A backup under way took nothing from anybody, and is sound.
    assert 0 < checked(stored.path.with_name("copy.sqlite")).entries <= len(kept)


def test_what_is_sent_again_after_the_kill_is_stored_once(web: Path, stored: Store) -> None:
    phone, said = Phone(0), {"id": str(uuid.uuid4()), "value": "31.1"}
    answers = []
    for _ in range(2):
        with running(web) as (port, process):
            phone.port = port
            if not phone.cookies:
                phone.log_in("crew 0")
            answers.append(enter(phone, said).body)
            process.kill()
    assert answers[0] == answers[1]
    stored.prepare()
    assert [one.id for one in entries(stored, LARKSPUR)] == [said["id"]]


def test_told_to_stop_it_finishes_what_it_has_begun(web: Path, stored: Store) -> None:
    with running(web) as (port, process):
        phone = Phone(port)
        phone.log_in("crew 0")
        assert enter(phone).status == 200
        process.terminate()
        assert process.wait(30) == 0
    assert not (web.parent / "web.sqlite-wal").exists()  # all is in the one file
    assert checked(stored.path).entries == 1
