"""A backup is whole or not there; a restore keeps what it replaces, and can be cut short."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path
from threading import Event

import pytest

from cardgen.server import backup, sessions
from cardgen.server.audit_trail import trail
from cardgen.server.backup import BackupCounts, back_up, checked, restore
from cardgen.server.data_faults import DataFault
from cardgen.server.entries import Photo, add, entries
from cardgen.server.lock import held
from cardgen.server.store import Store, beside
from tests.server.phones import JOB, entry, opened

NOW = 1_800_000_000


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    made = opened(tmp_path / "web.sqlite", "Ana")
    add(made, [entry("e1")], network="x", photo=Photo("image/jpeg", b"photo"))
    add(made, [entry("e2")], network="x")
    yield made
    made.close()


def ids(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as connection:
        return [row[0] for row in connection.execute("SELECT id FROM entries ORDER BY seq")]


def test_a_backup_holds_all_of_it_in_one_file(store: Store, tmp_path: Path) -> None:
    out = tmp_path / "copy.sqlite"
    assert back_up(store.path, out, replace=False) == BackupCounts(entries=2, photos=1, crews=1)
    assert ids(out) == ["e1", "e2"]
    assert out.stat().st_mode & 0o777 == 0o600
    names = {path.name for path in tmp_path.iterdir()}
    assert names == {"web.sqlite", "web.sqlite-wal", "web.sqlite-shm", "copy.sqlite"}


def test_nothing_is_overwritten_unasked(store: Store, tmp_path: Path) -> None:
    out = tmp_path / "copy.sqlite"
    out.write_bytes(b"mine")
    with pytest.raises(DataFault, match="is there already"):
        back_up(store.path, out, replace=False)
    assert out.read_bytes() == b"mine"
    back_up(store.path, out, replace=True)
    assert ids(out) == ["e1", "e2"]


def test_a_backup_that_fails_leaves_nothing(store: Store, tmp_path: Path) -> None:
    before = {path.name for path in tmp_path.iterdir()}
    with pytest.raises(DataFault, match="cannot be written"):
        back_up(store.path, tmp_path / "no" / "copy.sqlite", replace=False)
    store.close()
    data = store.path.read_bytes()
    store.path.write_bytes(data[:4096] + b"x" * (len(data) - 4096))
    with pytest.raises(DataFault):
        back_up(store.path, tmp_path / "copy.sqlite", replace=False)
    assert {path.name for path in tmp_path.iterdir()} <= before


def test_a_backup_while_others_write_is_as_of_one_moment(store: Store, tmp_path: Path) -> None:
    stop = Event()

    def writes() -> int:
        number = 0
        while not stop.is_set():
            number += 1
            pair = [entry(f"{number}-a"), entry(f"{number}-b")]
            add(store, pair, network="x")
        return number

    with ThreadPoolExecutor() as crews:
        writing = crews.submit(writes)
        found = []
        for number in range(5):
            out = tmp_path / f"copy-{number}.sqlite"
            back_up(store.path, out, replace=False)
            found.append(ids(out)[2:])
        stop.set()
        written = writing.result()
    assert written > 0
    assert len(entries(store, JOB)) == 2 + 2 * written  # the writer was not disturbed
    for one in found:
        assert len(one) % 2 == 0  # never half a transaction
        assert one == [f"{n}-{part}" for n in range(1, len(one) // 2 + 1) for part in "ab"]


def test_a_restore_puts_the_copy_in_place_and_keeps_what_was_there(
    store: Store, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.sqlite"
    back_up(store.path, copy, replace=False)
    add(store, [entry("e3")], network="x")
    store.close()
    copied, kept = restore(copy, store.path, now_s=NOW)
    assert (copied.entries, kept) == (2, beside(store.path, "-before-restore-1"))
    assert kept is not None
    assert ids(kept) == ["e1", "e2", "e3"]
    again = Store(store.path)
    again.prepare()
    assert [one.id for one in entries(again, JOB)] == ["e1", "e2"]
    assert (trail(again)[-1].what, trail(again)[-1].at) == ("restored", NOW)
    again.close()
    _, second = restore(copy, store.path, now_s=NOW)
    assert second == beside(store.path, "-before-restore-2")


def test_what_was_put_aside_can_be_put_back(store: Store, tmp_path: Path) -> None:
    copy = tmp_path / "copy.sqlite"
    back_up(store.path, copy, replace=False)
    add(store, [entry("e3")], network="x")
    store.close()
    _, first = restore(copy, store.path, now_s=NOW)
    assert first is not None
    restore(first, store.path, now_s=NOW)
    assert ids(store.path) == ["e1", "e2", "e3"]
    assert ids(first) == ["e1", "e2", "e3"]  # and is still there


def test_a_damaged_file_is_put_aside_with_its_log(store: Store, tmp_path: Path) -> None:
    copy, dead = tmp_path / "copy.sqlite", tmp_path / "dead"
    back_up(store.path, copy, replace=False)
    dead.mkdir()
    log = beside(store.path, "-wal").read_bytes()
    (dead / "web.sqlite").write_bytes(b"x" * 8192)
    (dead / "web.sqlite-wal").write_bytes(log)
    _, aside = restore(copy, dead / "web.sqlite", now_s=NOW)
    assert aside is not None
    assert beside(aside, "-wal").read_bytes() == log  # someone may still get entries out of it
    assert ids(dead / "web.sqlite") == ["e1", "e2"]


def test_what_a_killed_server_left_is_put_aside_whole(store: Store, tmp_path: Path) -> None:
    copy, dead = tmp_path / "copy.sqlite", tmp_path / "dead"
    back_up(store.path, copy, replace=False)
    add(store, [entry("e3")], network="x")
    dead.mkdir()
    for ending in ("", "-wal"):
        (dead / f"web.sqlite{ending}").write_bytes(beside(store.path, ending).read_bytes())
    _, aside = restore(copy, dead / "web.sqlite", now_s=NOW)
    assert aside is not None
    assert ids(aside) == ["e1", "e2", "e3"]
    assert ids(dead / "web.sqlite") == ["e1", "e2"]


def test_a_restore_brings_back_no_session(store: Store, tmp_path: Path) -> None:
    cookie = sessions.begin(store, "Ana", 1, network="x")
    session = sessions.session_of(store, cookie)
    assert session is not None
    back_up(store.path, tmp_path / "copy.sqlite", replace=False)
    sessions.end(store, session, network="x")
    store.close()
    restore(tmp_path / "copy.sqlite", store.path, now_s=NOW)
    again = Store(store.path)
    again.prepare()
    assert sessions.session_of(again, cookie) is None
    assert again.secret != store.secret
    again.close()


def test_what_marks_a_running_server_is_for_its_owner_only(store: Store, tmp_path: Path) -> None:
    before, old = set(tmp_path.iterdir()), os.umask(0)
    try:
        with held(store.path):
            (mark,) = set(tmp_path.iterdir()) - before
            assert mark.stat().st_mode & 0o777 == 0o600
    finally:
        os.umask(old)


def test_a_restore_waits_for_no_server(store: Store, tmp_path: Path) -> None:
    back_up(store.path, tmp_path / "copy.sqlite", replace=False)
    add(store, [entry("e3")], network="x")
    with held(store.path), pytest.raises(DataFault, match="a server is running"):
        restore(tmp_path / "copy.sqlite", store.path, now_s=NOW)
    assert ids(store.path) == ["e1", "e2", "e3"]
    with held(store.path), pytest.raises(DataFault, match="a server is running"), held(store.path):
        pass


@pytest.mark.parametrize("what", ["text", "other", "cut", "pages", "folder", "missing"])
def test_what_is_no_sound_copy_is_not_put_in_place(store: Store, tmp_path: Path, what: str) -> None:
    copy = tmp_path / "copy.sqlite"
    back_up(store.path, copy, replace=False)
    data = copy.read_bytes()
    copy.unlink()
    if what == "text":
        copy.write_bytes(b"hello")
    elif what == "other":
        with closing(sqlite3.connect(copy)) as connection:
            connection.execute("CREATE TABLE entries (x)")
    elif what == "cut":
        copy.write_bytes(data[: len(data) // 2])
    elif what == "pages":
        copy.write_bytes(data[:4096] + b"x" * (len(data) - 4096))
    elif what == "folder":
        copy.mkdir()
    before = store.path.read_bytes()
    with pytest.raises(DataFault):
        restore(copy, store.path, now_s=NOW)
    assert store.path.read_bytes() == before
    assert not beside(store.path, "-restoring").exists()


@pytest.mark.parametrize("logged", [False, True])
def test_a_restore_that_was_cut_short_is_noticed_and_done_again(
    store: Store, tmp_path: Path, logged: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = tmp_path / "copy.sqlite"
    back_up(store.path, copy, replace=False)
    store.close()

    class Killed(BaseException):
        """The power goes."""

    moved = backup._moved_aside

    def killed(path: Path) -> Path | None:
        moved(path)
        if logged:
            beside(path, "-wal").write_bytes(b"a log that was not moved")
        raise Killed

    monkeypatch.setattr(backup, "_moved_aside", killed)
    with pytest.raises(Killed):
        restore(copy, store.path, now_s=NOW)
    with pytest.raises(DataFault, match="cut short"):
        Store(store.path).prepare()
    with pytest.raises(DataFault, match="cut short"):
        back_up(store.path, tmp_path / "other.sqlite", replace=False)
    monkeypatch.undo()
    _, kept = restore(copy, store.path, now_s=NOW)
    assert kept == beside(store.path, "-before-restore-1")
    assert kept is not None
    assert ids(kept) == ids(store.path) == ["e1", "e2"]
    Store(store.path).prepare()


def test_a_damaged_data_file_can_be_replaced_and_is_kept(store: Store, tmp_path: Path) -> None:
    copy = tmp_path / "copy.sqlite"
    back_up(store.path, copy, replace=False)
    store.close()
    damaged = store.path.read_bytes()[:4096] + b"x" * 9000
    store.path.write_bytes(damaged)
    _, kept = restore(copy, store.path, now_s=NOW)
    assert kept is not None
    assert kept.read_bytes() == damaged
    assert checked(store.path) == BackupCounts(entries=2, photos=1, crews=1)


def test_a_restore_where_nothing_was(store: Store, tmp_path: Path) -> None:
    copy = tmp_path / "copy.sqlite"
    back_up(store.path, copy, replace=False)
    new = tmp_path / "new.sqlite"
    assert restore(copy, new, now_s=NOW) == (BackupCounts(entries=2, photos=1, crews=1), None)
    assert ids(new) == ["e1", "e2"]


def test_a_file_of_another_kind_is_no_damaged_backup(store: Store, tmp_path: Path) -> None:
    other = tmp_path / "readings.csv"
    other.write_text("when,valve,kind,value\n" * 50)
    with pytest.raises(DataFault) as caught:
        restore(other, store.path, now_s=NOW)
    assert caught.value.sentence == f"'{other}' is no file that 'cardgen backup' wrote"
