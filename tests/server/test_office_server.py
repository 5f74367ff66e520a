"""What the office sees of its server: spoiled rows, a second name of the file, large tables."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import threading
from contextlib import closing
from pathlib import Path

import pytest

from cardgen.server.backup import back_up, restore
from cardgen.server.data_faults import DataFault
from cardgen.server.entries import Photo, add, spoiled
from cardgen.server.lock import held
from tests.server.crews import TABLE, enter, send, served
from tests.server.phones import (
    Phone,
    application_of,
    command,
    entry,
    live,
    opened,
    record,
    running,
)


def changed_by_another_program(path: Path, statement: str) -> None:
    """As a program would that knows nothing of the rule that entries are only added."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("DROP TRIGGER entries_stay")
        connection.execute("DROP TRIGGER photos_stay")
        connection.execute(statement)
        connection.commit()


SPOILING = (
    "UPDATE entries SET value = '13.1' WHERE id = 'b'",
    "UPDATE entries SET crew = 'Ben' WHERE id = 'b'",
    "UPDATE photos SET data = x'00' WHERE id = 'b'",
)


@pytest.mark.parametrize("statement", SPOILING)
def test_a_row_that_is_not_what_was_stored_is_told(tmp_path: Path, statement: str) -> None:
    path = tmp_path / "web.sqlite"
    store = opened(path, "Ana", "Ben")
    for id_ in "abc":
        add(store, [entry(id_)], network="x", photo=Photo("image/jpeg", b"xyz"))
    with store.reading() as connection:
        assert spoiled(connection) == ()
    store.close()
    changed_by_another_program(path, statement)
    copied = back_up(path, tmp_path / "copy.sqlite", replace=False)
    assert copied.spoiled == ("b",)
    restored, _ = restore(tmp_path / "copy.sqlite", path, now_s=1)
    assert restored.spoiled == ("b",)


def test_a_row_that_is_not_what_was_stored_is_told_by_the_commands(tmp_path: Path) -> None:
    record(tmp_path / "web")
    (tmp_path / "web" / "7Q2F9KX4M3T8" / "revisions_.json").write_text("{}")
    path = tmp_path / "web.sqlite"
    store = opened(path, "Ana")
    add(store, [entry(id_) for id_ in "abc"], network="x")
    store.close()
    changed_by_another_program(path, SPOILING[0])
    told = subprocess.run(
        command("backup", tmp_path / "web", "--out", tmp_path / "again.sqlite"),
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert "1 entry is not what was stored: b" in told.stderr
    with running(tmp_path / "web") as (_, process):
        process.terminate()
        assert process.stderr is not None
        assert "1 entry is not what was stored: b" in process.stderr.read()


def test_a_file_of_two_names_is_not_served(tmp_path: Path) -> None:
    opened(tmp_path / "d.sqlite").close()
    (tmp_path / "link.sqlite").symlink_to(tmp_path / "d.sqlite")
    with pytest.raises(DataFault, match="symbolic link"), held(tmp_path / "link.sqlite"):
        pass
    with held(tmp_path / "d.sqlite"):
        pass
    os.link(tmp_path / "d.sqlite", tmp_path / "other.sqlite")
    for name in ("d.sqlite", "other.sqlite"):
        with pytest.raises(DataFault, match="another name"), held(tmp_path / name):
            pass


@pytest.mark.parametrize("secure", [True, False])
def test_behind_tls_a_browser_comes_by_https_only(tmp_path: Path, secure: bool) -> None:
    """RFC 6797, 7.2: the header must not be sent over plain HTTP."""
    web, store = record(tmp_path / "web"), opened(tmp_path / "web.sqlite")
    with live(application_of(web, store, secure=secure)) as port:
        for path in ("/7Q2F9KX4M3T8/", "/LOGIN_", "/nothing"):
            found = Phone(port).get(path).headers.get("strict-transport-security", "")
            assert found == ("max-age=31536000" if secure else "")
    store.close()


def table(day: int) -> bytes:
    """Four hundred readings, one in each minute of that day."""
    rows = (
        f"2026-06-{day:02}T{n // 60:02}:{n % 60:02},A{n % 6 + 1},volts,{20 + n / 1000:.3f}\r\n"
        for n in range(400)
    )
    return f"when,valve,kind,value\r\n{''.join(rows)}".encode()


def test_large_tables_do_not_hold_up_an_entry(tmp_path: Path) -> None:
    """Ten tables are sent at once, more than there are threads of the data."""
    with served(tmp_path) as found:
        phones = [found.crew() for _ in range(10)]
        answers: list[int] = []

        def send_table(phone: Phone, day: int) -> None:
            files = {"table": ("r.csv", "text/csv", table(day))}
            answers.append(send(phone, TABLE, {}, files).status)

        crew = found.crew("Ben")
        threads = [
            threading.Thread(target=send_table, args=(phone, day))
            for day, phone in enumerate(phones, 1)
        ]
        for thread in threads:
            thread.start()
        entered = 0
        while any(thread.is_alive() for thread in threads):
            assert enter(crew).status == 200
            entered += 1
        assert answers == [200] * 10
        assert entered > 20  # about ninety; where they wait for the tables, one or two
