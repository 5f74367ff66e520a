"""The record as it is served: its pages with the last readings and the way to the form."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardgen.record import served as rooms
from cardgen.record.html import element
from tests.record.records import LARKSPUR, tree, words
from tests.server.crews import READINGS, Served, enter, served

BOX = f"/{LARKSPUR}/VB-1/"


@pytest.fixture
def record(tmp_path: Path) -> Iterator[Served]:
    with served(tmp_path) as found:
        yield found


def links(page: bytes) -> list[str]:
    return [e.get("href", "") for e in tree(page).iter("a")]


def test_the_page_of_a_box_leads_to_its_form(record: Served) -> None:
    page = record.anyone().get(BOX).body
    found = [link for link in links(page) if "READINGS_" in link]
    assert found == [
        "../READINGS_?box=VB-1&valve=A1",
        "../READINGS_?box=VB-1&valve=A2",
        "../READINGS_?box=VB-1",
        "../READINGS_?box=VB-1&report=1#differs",
    ]
    assert b"data-room" not in page
    assert "../READINGS_?box=A" in links(record.anyone().get(f"/{LARKSPUR}/A/").body)


def test_the_last_value_of_each_kind_stands_by_its_valve(record: Served) -> None:
    crew = record.crew()
    enter(crew, {"when": "2026-05-01"})
    enter(crew, {"value": "36", "when": "2026-06-01T09:30", "notes": "only for us"})
    enter(crew, {"kind": "volts", "value": "23.8", "when": "2026-06-02"})
    for phone in (record.anyone(), crew):
        page = phone.get(BOX).body
        text = words(page)
        assert "Ohms at the controller: 36 Ω · 2026-06-01 ✓ Within the band of 25 to 37 Ω." in text
        assert "Volts at the valve: 23.8 V · 2026-06-02" in text
        assert "31.1 Ω ·" not in text
        # Who measured, and what was noted, is for crews on their own pages only.
        assert "Ana" not in text and "only for us" not in text
    station = words(record.anyone().get(f"/{LARKSPUR}/STATION_A1/").body)
    assert "36 Ω · 2026-06-01" in station


def test_what_is_added_is_within_the_pages_own_policy(record: Served) -> None:
    enter(record.crew())
    answer = record.anyone().get(BOX)
    policy = answer.headers["content-security-policy"]
    for kind in ("style", "script"):
        for found in re.findall(f"<{kind}>(.*?)</{kind}>", answer.text, re.DOTALL):
            digest = base64.b64encode(hashlib.sha256(found.encode()).digest()).decode()
            assert digest in policy
    assert " style=" not in answer.text


def test_a_new_reading_makes_another_page_and_no_other_does(record: Served) -> None:
    phone = record.anyone()
    tag = phone.get(BOX).headers["etag"]
    assert phone.ask("GET", BOX, headers={"If-None-Match": tag}).status == 304
    enter(record.crew())
    assert phone.ask("GET", BOX, headers={"If-None-Match": tag}).status == 200


def test_the_files_on_the_disk_stay_as_they_were(record: Served) -> None:
    before = {path: path.read_bytes() for path in record.web.rglob("*") if path.is_file()}
    enter(record.crew())
    record.anyone().get(BOX)
    assert {path: path.read_bytes() for path in record.web.rglob("*") if path.is_file()} == before


def test_when_the_readings_cannot_be_read_the_record_is_still_served(record: Served) -> None:
    enter(record.crew())
    record.store.path.with_name("web.sqlite-wal").write_bytes(b"")
    record.store.path.write_bytes(b"no data file" * 1000)
    answer = record.anyone().get(BOX)
    assert answer.status == 200
    assert "Readings cannot be shown now." in words(answer.body)
    assert "31.1 Ω 25 to 37 Ω" in words(answer.body)


def test_the_phone_keeps_the_form_with_the_record(record: Served) -> None:
    worker = record.anyone().get(f"/{LARKSPUR}/offline_.js").text
    plain = (record.web / LARKSPUR / "offline_.js").read_text("utf-8")
    assert 'const PAGES=["READINGS_",' in worker
    assert "READINGS_" not in plain
    kept = [re.search("NAME=OURS\\+'([^']*)'", text) for text in (worker, plain)]
    assert kept[0] and kept[1] and kept[0][1].endswith(kept[1][1]) and kept[0][1] != kept[1][1]
    assert record.anyone().get(READINGS).status == 200  # what a worker fetches is no redirection


def test_a_name_that_is_markup_stays_a_name() -> None:
    page = f"<p>{rooms.room(rooms.VALVE, 'A<b>&1').text}</p>".encode()
    assert rooms.filled(page, lambda kind, of: element("i", kind, of)) == (
        b"<p><i>valveA&lt;b&gt;&amp;1</i></p>"
    )


def test_a_path_that_is_no_job_is_sent_as_it_is(record: Served) -> None:
    (record.web / "OTHER").mkdir()
    (record.web / "OTHER" / "index.html").write_bytes(rooms.room(rooms.VALVE, "A1").text.encode())
    assert b"data-room" in record.anyone().get("/OTHER/").body


def test_a_page_in_another_language_leads_to_a_form_in_it(record: Served) -> None:
    page = record.anyone().get(f"/{LARKSPUR}/ES_/VB-1/").body
    assert "../../READINGS_?box=VB-1&valve=A1&language=es" in links(page)
    assert "Anotar una lectura de A1" in words(page)
