"""What crews have measured, for everybody and for crews."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from cardgen.examine import examine_text
from cardgen.output.diagnosing import diagnosed_job
from cardgen.output.print_request import PrintRequest
from cardgen.output.recording import RecordRequest
from cardgen.words import printed
from tests.jobs import sample
from tests.record.records import publish, tree, words
from tests.server.crews import READINGS, REPORTS, RESULTS, TABLE, Served, enter, served


@pytest.fixture
def record(tmp_path: Path) -> Iterator[Served]:
    with served(tmp_path) as found:
        yield found


def test_nothing_yet(record: Served) -> None:
    assert "Nothing has been measured yet." in words(record.anyone().get(RESULTS).body)
    history = record.anyone().get(f"{RESULTS}?valve=A1")
    assert "Nothing has been measured yet." in words(history.body)


def test_the_newest_of_each_valve_in_the_order_of_the_job(record: Served) -> None:
    crew = record.crew()
    for valve, value in (("A3", "40"), ("A1", "31.1"), ("A3", "32")):
        enter(crew, {"valve": valve, "value": value})
    text = words(record.anyone().get(RESULTS).body)
    assert text.index("31.1 Ω") < text.index("32 Ω")
    assert "40 Ω" not in text


def test_what_the_values_point_to_comes_first(record: Served) -> None:
    crew = record.crew()
    for valve, value in {"A1": "31.1", "A2": "31.1", "A4": "OL", "A5": "OL"}.items():
        enter(crew, {"valve": valve, "value": value})
    text = words(record.anyone().get(RESULTS).body)
    assert "between controller A and box VB-3" in text
    assert text.index("What the readings point to") < text.index("31.1 Ω")


WALK = (
    {"valve": "A1", "value": "31.1"},
    {"valve": "A2", "value": "31.1"},
    {"valve": "A4", "value": "OL"},
    {"valve": "A5", "value": "OL"},
    {"kind": "insulation", "from": "COM-A", "value": "0.05"},
    {
        "kind": "ohms of a spare loop",
        "from": "SP-A-K1-6",
        "to": "COM-A",
        "in_box": "VB-2",
        "value": "OL",
    },
)


def test_page_record_and_command_say_one_diagnosis(record: Served, tmp_path: Path) -> None:
    """Also of values that are no valve's: the same readings go three ways."""
    crew = record.crew()
    for said in WALK:
        enter(crew, {"when": "2026-06-01T09:30", **said})
    table = tmp_path / "walk.csv"
    table.write_bytes(crew.get(TABLE).body)
    job, _ = diagnosed_job(examine_text(sample("larkspur")), table, PrintRequest())
    assert job is not None
    (part,) = job.parts
    told = [printed(text) for text in part.advice.verdict]
    told += [printed(suspect.says) for suspect in part.advice.suspects]
    told += [printed(step.do) for step in part.advice.steps]
    assert any(
        "One value shows by itself: low insulation to ground: COM-A." in text for text in told
    ), told
    assert any("common A (A-K2 white)" in text for text in told), told
    live = words(record.anyone().get(RESULTS).body)
    folder = publish(sample("larkspur"), tmp_path / "own", RecordRequest(results=table))
    kept = words((folder / "TEST_RESULTS" / "index.html").read_bytes())
    for text in told:
        assert " ".join(text.split()) in live
        assert " ".join(text.split()) in kept


def test_what_was_read_twice_was_not_read_wrong(record: Served) -> None:
    """All values count, not the newest alone. Common practice, no source: read it once more."""
    crew = record.crew()
    sound = {"A1": "31.1", "A2": "31.1", "A3": "31.9", "A5": "31.9", "A6": "31.9"}
    for valve, value in {**sound, "A4": "2400"}.items():
        enter(crew, {"valve": valve, "value": value, "when": "2026-06-01T09:30"})
    misread = "the value of A4 was read or written wrong"
    assert misread in words(record.anyone().get(RESULTS).body)
    enter(crew, {"valve": "A4", "value": "2400", "when": "2026-06-01T09:40"})
    text = words(record.anyone().get(RESULTS).body)
    assert "What the readings point to" in text and misread not in text


def test_of_several_values_of_a_valve_the_newest_says_whether_it_is_outside(
    record: Served,
) -> None:
    crew = record.crew()
    for value, minute in (("OL", "30"), ("31.1", "40")):
        enter(crew, {"value": value, "when": f"2026-06-01T09:{minute}"})
    text = words(record.anyone().get(RESULTS).body)
    assert "1 of 6 measured, 0 outside, 5 not yet." in text


def test_a_history_has_all_values_newest_first_and_how_they_moved(record: Served) -> None:
    crew = record.crew()
    for day, value in (("2024-05-01", "31.1"), ("2025-05-01", "34"), ("2026-05-01", "36.5")):
        enter(crew, {"value": value, "when": day})
    text = words(record.anyone().get(f"{RESULTS}?valve=A1").body)
    assert "Up since 2024-05-01: from 31.1 to 36.5 Ω." in text
    assert text.index("36.5 Ω 2026-05-01") < text.index("34 Ω 2025-05-01")


def test_names_notes_and_photos_are_for_crews(record: Served) -> None:
    crew = record.crew()
    enter(crew, {"notes": "under the hedge"})
    for path in (RESULTS, f"{RESULTS}?valve=A1"):
        seen = words(record.anyone().get(path).body)
        assert "31.1 Ω" in seen
        assert not any(word in seen for word in ("Ana", "under the hedge", "CSV"))
    history = words(crew.get(f"{RESULTS}?valve=A1").body)
    assert "Ana" in history and "under the hedge" in history


def test_reports_are_for_crews_newest_first(record: Served) -> None:
    crew = record.crew()
    for notes in ("the first", "the second\nin two lines"):
        enter(crew, {"kind": "difference", "box": "VB-2", "notes": notes})
    assert record.anyone().get(REPORTS).status == 303
    page = crew.get(REPORTS)
    text = words(page.body)
    assert text.index("the second") < text.index("the first")
    assert "the second<br>in two lines" in page.text
    assert 'href="VB-2/index.html"' in page.text


@pytest.mark.parametrize("path", ["/NO_JOB/READINGS_", "/NO_JOB/RESULTS_", "//x/READINGS_"])
def test_of_a_job_that_is_not_there(record: Served, path: str) -> None:
    assert record.anyone().get(path).status in (400, 404)


def test_in_spanish(record: Served) -> None:
    enter(record.crew(), {"value": "OL"})
    page = record.anyone().get(RESULTS, **{"Accept-Language": "es-MX,es;q=0.9"})
    assert '<html lang="es">' in page.text
    assert "El multímetro marca OL: el cable de estación" in words(page.body)
    again = record.anyone().get(f"{RESULTS}?language=es")
    assert "El multímetro marca OL: el cable de estación" in words(again.body)


def test_a_language_that_was_asked_for_stays(record: Served) -> None:
    crew = record.crew()
    enter(crew)
    for path in (
        f"{RESULTS}?language=es",
        f"{RESULTS}?valve=A1&language=es",
        f"{READINGS}?language=es",
    ):
        page = tree(crew.get(path).body)
        ours = [e.get("href", "") for e in page.iter("a")]
        ours += [e.get("action", "") for e in page.iter("form")]
        assert "ES_/index.html" in ours
        assert all("language=es" in link for link in ours if "_" in link.removeprefix("ES_/"))
