"""When the data file fails, the record can still be read, and what was acknowledged is kept."""

from __future__ import annotations

import json
import os
import sqlite3
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from http.client import HTTPConnection
from pathlib import Path

import pytest

from cardgen.server import store as store_module
from cardgen.server.data_faults import DataFault, fault_of
from cardgen.server.entries import add, entries
from cardgen.server.schema import APPLICATION_ID, STEPS
from cardgen.server.store import Store, beside
from tests.server.keeping import KEEP, KEEPS, program
from tests.server.phones import JOB, Phone, application_of, entry, live, opened, record


def kept(store: Store) -> list[str]:
    return [one.id for one in entries(store, JOB)]


def refuses(phone: Phone, token: str, kind: str, notes: str = "") -> None:
    """An entry gets a clear page, and the record still comes."""
    answer = phone.post(KEEP, token=token, id="e2", notes=notes)
    assert answer.status == 503, answer
    assert kind in answer.text
    assert "Not stored" in answer.text
    assert "The record itself can be read" in answer.text
    assert answer.headers["retry-after"]
    assert phone.get(f"/{JOB}/VB-1/").status == 200


def test_a_locked_data_file(tmp_path: Path) -> None:
    web, store = record(tmp_path / "web"), opened(tmp_path / "web.sqlite", "Ana")
    with live(application_of(web, store, KEEPS)) as port:
        phone = Phone(port)
        phone.log_in()
        token = phone.token()
        store.wait = 0.2
        with closing(sqlite3.connect(store.path, isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            refuses(phone, token, "another program is using the data file")
            assert kept(store) == []  # reading does not wait for a writer
        store.wait = 20
        assert phone.post(KEEP, token=token, id="e2").status == 200
    assert kept(store) == ["e2"]
    store.close()


def test_while_many_wait_for_the_data_file_the_record_is_sent(tmp_path: Path) -> None:
    web, store = record(tmp_path / "web"), opened(tmp_path / "web.sqlite", "Ana")
    with live(application_of(web, store, KEEPS)) as port, ThreadPoolExecutor(40) as crews:
        phone = Phone(port)
        phone.log_in()
        token = phone.token()
        with closing(sqlite3.connect(store.path, isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            waiting = [
                crews.submit(Phone(port, dict(phone.cookies)).post, KEEP, token=token, id=f"e{n}")
                for n in range(40)
            ]
            time.sleep(1)
            begun = time.monotonic()
            assert phone.get(f"/{JOB}/VB-1/").status == 200
            assert time.monotonic() - begun < 3
            assert not any(done.done() for done in waiting)
            other.execute("ROLLBACK")
        assert {done.result().status for done in waiting} == {200}
    store.close()


def test_many_that_find_it_locked_do_not_wait_one_after_the_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store, waits = opened(tmp_path / "web.sqlite", "Ana"), []
    store.wait = 2.0
    usual = store_module.connected

    def noted(path: Path, *, wait_s: float) -> sqlite3.Connection:
        waits.append(wait_s)
        return usual(path, wait_s=wait_s)

    def tries(number: int) -> None:
        with pytest.raises(DataFault, match="another program"):
            add(store, [entry(str(number))], network="x")

    with closing(sqlite3.connect(store.path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        monkeypatch.setattr(store_module, "connected", noted)
        with ThreadPoolExecutor(8) as crews:
            list(crews.map(tries, range(8)))
        other.execute("ROLLBACK")
    assert sorted(waits) == [0.0] * 7 + [2.0]  # one has waited for all of them
    add(store, [entry("later")], network="x")
    store.close()


def test_pages_are_sent_while_many_wait_for_a_locked_data_file(tmp_path: Path) -> None:
    web, store = record(tmp_path / "web"), opened(tmp_path / "web.sqlite", "Ana")
    with live(application_of(web, store, KEEPS)) as port:
        phone = Phone(port)
        phone.log_in()
        token = phone.token()
        with closing(sqlite3.connect(store.path, isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            waiting = [_begin(phone, token, f"w{n}") for n in range(20)]
            assert phone.get(f"/{JOB}/VB-1/").status == 200
            other.execute("ROLLBACK")
        for connection in waiting:
            assert connection.getresponse().status == 200
            connection.close()
    assert len(kept(store)) == 20
    store.close()


def _begin(phone: Phone, token: str, id_: str):  # type: ignore[no-untyped-def]
    """An entry on its way, whose answer is not yet read."""
    connection = HTTPConnection("127.0.0.1", phone.port, timeout=60)
    cookie = "; ".join(f"{name}={value}" for name, value in phone.cookies.items())
    kind = "application/x-www-form-urlencoded"
    headers = {"Cookie": cookie, "Content-Type": kind}
    connection.request("POST", KEEP, f"token={token}&id={id_}".encode(), headers)
    return connection


def _keep_one(folder: Path) -> Store:
    """A data file with an entry in it."""
    record(folder / "web")
    store = opened(folder / "web.sqlite", "Ana")
    add(store, [entry("e1")], network="x")
    store.close()
    return store


def test_a_data_file_that_may_not_be_written(tmp_path: Path) -> None:
    store = _keep_one(tmp_path)
    store.path.chmod(0o400)
    with program(tmp_path, "as owner") as (port, _):
        phone = Phone(port)
        answer = phone.log_in()
        assert answer.status == 503
        assert "the data file cannot be written" in answer.text
        assert phone.get(f"/{JOB}/VB-1/").status == 200
    store.path.chmod(0o600)
    assert kept(store) == ["e1"]


def test_a_disk_that_is_read_only_from_the_start(tmp_path: Path) -> None:
    store = _keep_one(tmp_path)
    store.path.chmod(0o400)
    tmp_path.chmod(0o500)
    try:
        with program(tmp_path, "as owner") as (port, _):
            phone = Phone(port)
            assert phone.get(f"/{JOB}/VB-1/").status == 200
            answer = phone.get("/LOGIN_")
            assert answer.status == 503
            assert "The record itself can be read" in answer.text
    finally:
        tmp_path.chmod(0o700)
        store.path.chmod(0o600)
    assert kept(store) == ["e1"]


def test_a_disk_that_takes_no_more(tmp_path: Path) -> None:
    store, long, acknowledged = _keep_one(tmp_path), "x" * 5000, ["e1"]
    # More than the log has when the server starts, less than many entries take.
    with program(tmp_path, "400000") as (port, _):
        phone = Phone(port)
        phone.log_in()
        token = phone.token()
        for number in range(200):
            if phone.post(KEEP, token=token, id=f"n{number}", notes=long).status != 200:
                break
            acknowledged.append(f"n{number}")
        refuses(phone, token, "disk", long)
    assert 5 < len(acknowledged) < 200
    assert kept(store) == acknowledged


def test_a_full_disk_by_its_own_name(tmp_path: Path) -> None:
    store = opened(tmp_path / "web.sqlite")
    with closing(sqlite3.connect(store.path)) as connection:
        connection.execute("PRAGMA max_page_count = 1")  # SQLite says what it says of a full disk
        with pytest.raises(sqlite3.OperationalError) as told:
            connection.execute("INSERT INTO settings VALUES ('x', zeroblob(100000))")
    fault = fault_of(told.value)
    assert (fault.kind, fault.sentence) == ("full", "the disk of the server is full")
    store.close()


def _damage(path: Path) -> None:
    """Overwrite all pages but the first, which says what the file is."""
    size = path.stat().st_size
    with path.open("rb+") as stream:
        stream.seek(4096)
        stream.write(os.urandom(size - 4096))


def test_a_damaged_data_file_is_not_written_any_more(tmp_path: Path) -> None:
    store = _keep_one(tmp_path)
    _damage(store.path)
    before = store.path.read_bytes()
    with program(tmp_path) as (port, _):
        phone = Phone(port)
        assert phone.get(f"/{JOB}/VB-1/").status == 200
        answer = phone.get("/LOGIN_")
        assert answer.status == 503
        assert "the data file is damaged" in answer.text
        assert "cardgen restore" in answer.text
    assert store.path.read_bytes() == before


@pytest.mark.parametrize("what", ["pages", "head", "short", "empty", "text"])
def test_damage_is_found_at_the_start(tmp_path: Path, what: str) -> None:
    store = _keep_one(tmp_path)
    data = store.path.read_bytes()
    if what == "pages":
        _damage(store.path)
    else:
        left = {"head": b"x" * 100 + data[100:], "short": data[:5000], "empty": b"", "text": b"hi"}
        store.path.write_bytes(left[what])
    with pytest.raises(DataFault) as told:
        Store(store.path).prepare()
    assert told.value.kind in ("damaged", "other")


def test_a_link_between_tables_that_is_broken_is_damage(tmp_path: Path) -> None:
    store = _keep_one(tmp_path)
    with closing(sqlite3.connect(store.path, isolation_level=None)) as other:
        other.execute("DELETE FROM crews")  # foreign keys are off where nobody asks for them
    with pytest.raises(DataFault, match="damaged"):
        Store(store.path).prepare()


def test_a_file_of_another_program_is_not_touched(tmp_path: Path) -> None:
    path = tmp_path / "web.sqlite"
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE entries (x)")
    before = path.read_bytes()
    with pytest.raises(DataFault, match="is not a data file of cardgen"):
        Store(path).prepare()
    assert path.read_bytes() == before


def test_a_file_of_a_newer_cardgen_is_not_touched(tmp_path: Path) -> None:
    store = _keep_one(tmp_path)
    with closing(sqlite3.connect(store.path, isolation_level=None)) as other:
        other.execute(f"PRAGMA user_version = {len(STEPS) + 1}")
    with pytest.raises(DataFault, match="of a newer cardgen"):
        Store(store.path).prepare()


def test_a_new_file_is_for_its_owner_only(tmp_path: Path) -> None:
    old = os.umask(0)
    try:
        store = opened(tmp_path / "web.sqlite", "Ana")
        add(store, [entry("e1")], network="x")
        modes = {path.name: path.stat().st_mode & 0o777 for path in tmp_path.iterdir()}
    finally:
        os.umask(old)
    assert set(modes) == {"web.sqlite", "web.sqlite-wal", "web.sqlite-shm"}
    assert set(modes.values()) == {0o600}
    store.close()


def test_the_file_says_what_it_is_and_flushes_what_it_stores(tmp_path: Path) -> None:
    store = opened(tmp_path / "web.sqlite")
    with store.writing() as connection:
        found = {
            name: connection.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("application_id", "user_version", "journal_mode", "synchronous",
                         "foreign_keys", "trusted_schema")
        }  # fmt: skip
    # https://www.sqlite.org/pragma.html#pragma_synchronous: 2 is FULL.
    assert found == {
        "application_id": APPLICATION_ID,
        "user_version": len(STEPS),
        "journal_mode": "wal",
        "synchronous": 2,
        "foreign_keys": 1,
        "trusted_schema": 0,
    }
    store.close()


def test_what_fails_half_way_leaves_nothing(tmp_path: Path) -> None:
    store = opened(tmp_path / "web.sqlite", "Ana")

    def half() -> None:
        with store.writing() as connection:
            connection.execute("INSERT INTO settings VALUES ('half', x'00')")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        half()
    with store.reading() as connection:
        assert connection.execute("SELECT count(*) FROM settings").fetchone() == (1,)
    with store.writing() as connection:  # and nobody is kept out by it
        connection.execute("INSERT INTO settings VALUES ('whole', x'00')")
    store.close()


def test_a_log_without_its_file_is_not_taken_for_nothing(tmp_path: Path) -> None:
    path = tmp_path / "web.sqlite"
    beside(path, "-wal").write_bytes(b"x")
    with pytest.raises(DataFault, match="is missing"):
        Store(path).prepare()
    assert not path.exists()


def test_json_says_the_same_to_a_script(tmp_path: Path) -> None:
    record(tmp_path / "web")
    store = Store(tmp_path / "gone" / "web.sqlite")
    with live(application_of(tmp_path / "web", store)) as port:
        told = Phone(port).get("/LOGIN_", Accept="application/json")
    assert told.status == 503
    assert json.loads(told.body)["error"] == "not shown"
