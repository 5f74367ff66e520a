"""The record as it is served: its pages with the last readings and the way to the form."""

from __future__ import annotations

import base64
import copy
import hashlib
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardgen.output.recording import RecordRequest
from cardgen.record import offline
from cardgen.server.jobs import ServedJobs
from cardgen.server.live_record import LiveRecord
from tests.jobs import sample
from tests.record.records import LARKSPUR, kept_pages, publish, revision, tree, words
from tests.server.crews import READINGS, RESULTS, Served, enter, served
from tests.server.phones import opened

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
    assert "../READINGS_?box=A" in links(record.anyone().get(f"/{LARKSPUR}/A/").body)


def test_the_last_value_of_each_kind_stands_by_its_valve(record: Served) -> None:
    crew = record.crew()
    enter(crew, {"when": "2026-05-01"})
    enter(crew, {"value": "36", "when": "2026-06-01T09:30", "notes": "only for us"})
    enter(crew, {"kind": "volts", "value": "23.8", "when": "2026-06-02"})
    for phone in (record.anyone(), crew):
        page = phone.get(BOX).body
        text = words(page)
        assert (
            "Last readings Ohms at the controller: 36 Ω · 2026-06-01 09:30"
            " ✓ The reading is within 25 to 37 Ω." in text
        )
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
    job = record.anyone().get(f"/{LARKSPUR}/")
    answer = record.anyone().get(BOX)
    for page in (job, answer):
        assert page.status == 200
        assert "Readings cannot be shown now." in words(page.body)
    assert "31.1 Ω 25 to 37 Ω" in words(answer.body)


def test_the_phone_keeps_the_form_with_the_record(record: Served) -> None:
    worker = record.anyone().get(f"/{LARKSPUR}/offline_.js").body
    published = (record.web / LARKSPUR / "offline_.js").read_bytes()
    assert kept_pages(worker) == ["READINGS_", *kept_pages(published)]
    assert digest(worker) != digest(published)  # else a phone would not make another copy
    assert record.anyone().get(READINGS).status == 200  # what a worker fetches is no redirection


def digest(worker: bytes) -> str:
    (found,) = re.findall('"digest": "([^"]+)"', worker.decode())
    return str(found)


def test_a_record_that_does_not_say_what_is_kept_is_sent_as_it_is(record: Served) -> None:
    (record.web / LARKSPUR / "offline_.json").unlink()
    published = (record.web / LARKSPUR / "offline_.js").read_bytes()
    assert record.anyone().get(f"/{LARKSPUR}/offline_.js").body == published


def test_beside_the_readings_it_is_the_page_as_it_was_published(record: Served) -> None:
    """What is told of the wiring must not depend on who sends the page."""
    names = ("", "VB-1", "A", "STATION_A1", "FIND_IN_JOB", "WIRING_DRAWING", "ES_", "ES_/VB-2")
    for name in names:
        published = (record.web / LARKSPUR / name / "index.html").read_bytes()
        live = record.anyone().get(f"/{LARKSPUR}/{name}/".replace("//", "/")).body
        assert live != published
        for link in ("READINGS_", "RESULTS_"):
            assert link.encode() not in published
        assert without_what_is_live(live) == words(published)


def without_what_is_live(page: bytes) -> str:
    """What is to be read on a page but for the links and the overview that only a server has."""
    root = copy.deepcopy(tree(page))
    for node in root.iter():
        for child in list(node):
            if child.tag == "p" and child.get("class") == "screen":
                node.remove(child)
                continue
            href = child.find("./a") if child.tag == "li" else child
            if href is not None and re.search(
                "READINGS_|RESULTS_|REPORTS_|LOGIN_", href.get("href", "")
            ):
                node.remove(child)
    return words(root)


def test_the_job_page_leads_crews_and_office_to_all_they_need(record: Served) -> None:
    found = links(record.anyone().get(f"/{LARKSPUR}/").body)
    login = f"/LOGIN_?to=/{LARKSPUR}/"
    server = [link for link in found if re.search("READINGS_|RESULTS_|REPORTS_|LOGIN_", link)]
    assert server == ["./READINGS_", "./RESULTS_", "./REPORTS_", login]


def test_the_job_page_says_how_far_the_walk_is(record: Served) -> None:
    """Six valves, counted in the job file; OL at a sound valve is outside."""
    job = f"/{LARKSPUR}/"
    assert "0 of 6 measured, 0 outside, 6 not yet." in words(record.anyone().get(job).body)
    crew = record.crew()
    enter(crew, {"when": "2026-06-01"})
    enter(crew, {"valve": "A2", "value": "OL", "when": "2026-06-01"})
    for path in (job, RESULTS):
        said = words(record.anyone().get(path).body)
        assert "2 of 6 measured, 1 outside, 4 not yet." in said
    enter(crew, {"valve": "A2", "value": "31.1", "when": "2026-06-02"})
    assert "2 of 6 measured, 0 outside, 4 not yet." in words(record.anyone().get(job).body)
    wrong = record.stored()[0].id  # withdrawn, A1 is not measured any more
    crew.post(f"{job}ENDING_", id=wrong, why="wrong valve", token=crew.token())
    assert "1 of 6 measured, 0 outside, 5 not yet." in words(record.anyone().get(job).body)
    spanish = words(record.anyone().get(f"{job}ES_/").body)
    assert "1 de 6 medidas, 0 fuera del margen, 5 faltan." in spanish
    assert "of 6 measured" not in words(record.anyone().get(f"{job}FIND_IN_JOB/").body)


def test_what_waits_is_shown_and_sent_from_every_page(record: Served) -> None:
    """In the pages as published nothing may ask a server; those of a server have the scripts."""
    for path in record.web.rglob("*.html"):
        published = path.read_text("utf-8")
        assert "connect-src" not in published and 'id="waiting"' not in published
        live = record.anyone().get(f"/{path.relative_to(record.web).as_posix()}").text
        assert 'id="waiting"' in live and live.count("new WaitingList()") == 1, path
        assert "connect-src &#x27;self&#x27;" in live or "connect-src 'self'" in live


def test_a_job_published_anew_is_shown_at_once(tmp_path: Path) -> None:
    with served(tmp_path, revision(1)) as record:
        assert "revision 1" in words(record.anyone().get(BOX).body)
        publish(revision(2, ("hot: A-K1 red", "hot: A-K1 orange")), record.web)
        text = words(record.anyone().get(BOX).body)
        assert "revision 2" in text and "orange" in text


def test_a_page_that_is_not_there_is_not_made(record: Served) -> None:
    (record.web / LARKSPUR / "VB-1" / "index.html").unlink()
    assert record.anyone().get(BOX).status == 404


def test_a_record_in_words_that_nothing_says_is_sent_as_it_is(
    record: Served, caplog: pytest.LogCaptureFixture
) -> None:
    """It was made with words of one's own, which this server was not given."""
    log = record.web / LARKSPUR / "revisions_.json"
    log.write_text(log.read_text("utf-8").replace('"es"', '"fr"'), "utf-8")
    published = (record.web / LARKSPUR / "VB-1" / "index.html").read_bytes()
    assert record.anyone().get(BOX).body == published
    (told,) = (line for line in caplog.messages if "is sent as published" in line)
    assert "fr" in told
    assert LARKSPUR in told


def test_the_foot_says_what_of_a_large_job_the_phone_keeps(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(offline, "LIMIT", 200_000)
    with served(tmp_path, sample("larkspur")) as record:
        live = record.anyone().get(BOX).body
        published = (record.web / LARKSPUR / "VB-1" / "index.html").read_bytes()
    notes = [tree(page).find(".//*[@id='saved']") for page in (live, published)]
    assert notes[0] is not None and notes[1] is not None
    assert notes[0].attrib == notes[1].attrib
    assert "Too large to save" in notes[0].get("data-saved", "")


def test_a_record_in_words_of_ones_own_is_served_in_them(tmp_path: Path) -> None:
    own = tmp_path / "own"
    (own / "words").mkdir(parents=True)
    (own / "words" / "en.yaml").write_text("record: {reach: Where it is}\n", "utf-8")
    publish(sample("larkspur"), tmp_path / "web", RecordRequest(layouts=own))
    store = opened(tmp_path / "web.sqlite", "Ana")
    shown = {}
    for layouts in (own, None):
        live = LiveRecord(ServedJobs(tmp_path / "web"), store, layouts)
        shown[layouts] = words(live(f"{BOX}index.html") or b"")
    assert "Where it is front walk" in shown[own] and "How to find it" not in shown[own]
    assert "How to find it front walk" in shown[None]
    store.close()


def test_a_path_that_is_no_job_is_sent_as_it_is(record: Served) -> None:
    (record.web / "OTHER" / "VB-1").mkdir(parents=True)
    (record.web / "OTHER" / "VB-1" / "index.html").write_bytes(b"<p>OTHER")
    assert record.anyone().get("/OTHER/VB-1/").body == b"<p>OTHER"


def test_a_page_in_another_language_leads_to_a_form_in_it(record: Served) -> None:
    page = record.anyone().get(f"/{LARKSPUR}/ES_/VB-1/").body
    assert "../../READINGS_?box=VB-1&valve=A1&language=es" in links(page)
    assert "Anotar una lectura de A1" in words(page)
