"""Entries are added, never changed, stored once however often they come, in the order they came."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest

from cardgen.server.audit_trail import trail
from cardgen.server.entries import Conflict, Photo, add, entries, photo_of
from cardgen.server.store import Store
from tests.server.keeping import KEEP, KEEPS
from tests.server.phones import JOB, Phone, application_of, entry, live, opened, record


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    made = opened(tmp_path / "web.sqlite", "Ana", "Ben")
    yield made
    made.close()


def test_an_entry_comes_back_as_it_was_said(store: Store) -> None:
    said = entry(
        "e1", value="OL", notes="Größe 5 Ω", said_at="1999-01-01T00:00:00Z", more='{"a":1}'
    )
    (stored,) = add(store, [said], network="192.0.2.0/24", photo=Photo("image/jpeg", b"\xff\xd8"))
    assert (stored.seq, stored.photo) == (1, True)
    for name in said.__slots__:
        assert getattr(stored, name) == getattr(said, name)
    assert entries(store, JOB) == (stored,)
    assert photo_of(store, "e1") == Photo("image/jpeg", b"\xff\xd8")
    assert photo_of(store, "e2") is None


def test_the_same_sent_again_is_stored_once_and_answered_alike(store: Store) -> None:
    first = add(store, [entry("e1"), entry("e2")], network="x")
    assert add(store, [entry("e1"), entry("e2")], network="y") == first
    # A part of it that was not stored before comes after what was.
    again = add(store, [entry("e2"), entry("e3")], network="x")
    assert [one.seq for one in again] == [2, 3]
    assert len(entries(store, JOB)) == 3


@pytest.mark.parametrize(
    "other",
    [{"value": "31.2"}, {"notes": "x"}, {"crew": "Ben"}, {"valve": "A2"}, {"said_at": "later"}],
)
def test_an_id_that_says_something_else_stores_nothing(store: Store, other: dict[str, str]) -> None:
    add(store, [entry("e1")], network="x")
    with pytest.raises(Conflict):
        add(store, [entry("e0"), entry("e1", **other)], network="x")
    assert [one.id for one in entries(store, JOB)] == ["e1"]


def test_another_photo_is_another_entry(store: Store) -> None:
    photo = Photo("image/jpeg", b"one")
    add(store, [entry("e1")], network="x", photo=photo)
    with pytest.raises(Conflict):
        add(store, [entry("e1")], network="x", photo=Photo("image/jpeg", b"two"))
    assert photo_of(store, "e1") == photo


def test_what_is_stored_can_be_found_by_its_place(store: Store) -> None:
    said = [
        entry("1"),
        entry("2", box="VB-2"),
        entry("3", valve="A2"),
        entry("4", kind="volts"),
        entry("5", record_key="OTHER"),
    ]
    add(store, said, network="x")

    def found(**where: str) -> list[str]:
        return [one.id for one in entries(store, JOB, **where)]

    assert found() == ["1", "2", "3", "4"]
    assert found(box="VB-1") == ["1", "3", "4"]
    assert found(box="VB-1", valve="A1") == ["1", "4"]
    assert found(valve="A1", kind="volts") == ["4"]


def test_nothing_stored_can_be_changed_or_taken_away(store: Store) -> None:
    add(store, [entry("e1")], network="x", photo=Photo("image/jpeg", b"x"))
    for statement in (
        *("UPDATE entries SET value = '1'", "DELETE FROM entries"),
        *("UPDATE photos SET data = x'00'", "DELETE FROM photos"),
        *("UPDATE trail SET who = 'x'", "DELETE FROM trail"),
    ):
        with pytest.raises(sqlite3.IntegrityError, match="added"), store.writing() as connection:
            connection.execute(statement)
    assert entries(store, JOB)[0].value == "31.1"


def test_an_entry_of_no_crew_is_refused_whole(store: Store) -> None:
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        add(store, [entry("e1"), entry("e2", crew="Nobody")], network="x")
    assert entries(store, JOB) == ()


def test_the_trail_tells_who_stored_what_from_where(store: Store) -> None:
    add(store, [entry("e1", kind="volts")], network="192.0.2.0/24")
    last = trail(store)[-1]
    assert (last.who, last.what, last.about) == ("Ana", "entry volts", "e1")
    assert last.network == "192.0.2.0/24"


def test_a_clock_set_back_changes_no_order(tmp_path: Path) -> None:
    times = iter([2_000_000_000.0] * 4 + [1_000_000_000.0] * 4)
    store = opened(tmp_path / "d.sqlite", clock=lambda: next(times, 1_500_000_000.0))
    with store.writing() as connection:
        connection.execute("INSERT INTO crews (name, pin, version) VALUES ('Ana', 'x', 1)")
    for number in range(6):
        said_at = f"20{30 - number}-01-01T00:00:00Z"  # the phone's clock runs backward too
        add(store, [entry(str(number), said_at=said_at)], network="x")
    stored = entries(store, JOB)
    assert [one.id for one in stored] == list("012345")
    assert [one.seq for one in stored] == [1, 2, 3, 4, 5, 6]
    received = [one.received_at for one in stored]
    assert received != sorted(received)  # the clock really went back, and is noted as it was
    store.close()


def test_two_crews_writing_at_once_lose_nothing(tmp_path: Path) -> None:
    web, store = record(tmp_path / "web"), opened(tmp_path / "web.sqlite", "Ana", "Ben")
    with live(application_of(web, store, KEEPS)) as port:

        def writes(crew: str) -> list[int]:
            phone = Phone(port)
            phone.log_in(crew)
            token = phone.token()
            answers = [
                phone.post(KEEP, token=token, id=f"{crew}-{n}", value=f"{n}") for n in range(40)
            ]
            assert {answer.status for answer in answers} == {200}
            return [json.loads(answer.body)["seq"] for answer in answers]

        with ThreadPoolExecutor() as crews:
            places = list(crews.map(writes, ["Ana", "Ben"]))
    assert sorted(places[0] + places[1]) == list(range(1, 81))
    for crew, own in zip(("Ana", "Ben"), places, strict=True):
        assert own == sorted(own)
        assert [o.value for o in entries(store, JOB) if o.crew == crew] == [*map(str, range(40))]
    store.close()


def test_two_programs_writing_at_once_lose_nothing(tmp_path: Path) -> None:
    one, two = opened(tmp_path / "d.sqlite", "Ana"), Store(tmp_path / "d.sqlite")
    two.prepare()

    def writes(store: Store, start: int) -> None:
        for number in range(start, start + 50):
            add(store, [entry(str(number))], network="x")

    with ThreadPoolExecutor() as both:
        for done in [both.submit(writes, one, 0), both.submit(writes, two, 100)]:
            done.result()
    assert len(entries(one, JOB)) == 100
    for store in (one, two):
        store.close()


def test_what_is_answered_is_in_the_file_for_any_other_reader(store: Store) -> None:
    add(store, [entry("e1")], network="x")
    with closing(sqlite3.connect(store.path)) as other:
        assert other.execute("SELECT id FROM entries").fetchall() == [("e1",)]
        assert other.execute("PRAGMA journal_mode").fetchone() == ("wal",)
