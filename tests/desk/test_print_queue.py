"""The print queue: each job by itself, stopped and going on, and never half a print."""

from __future__ import annotations

import json
import pickle
import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from threading import Event

import pytest
from pypdf import PdfReader

from cardgen.desk.desk_memory import DeskMemory
from cardgen.desk.kept_reasons import as_json, from_json, reasons_of
from cardgen.desk.queue_work import QueueState, print_queued
from cardgen.desk.told_findings import told, told_reason
from cardgen.faults import ALL
from cardgen.files.exchange import is_unfinished
from cardgen.memory.prints import MANIFEST
from cardgen.output.print_request import PrintRequest
from cardgen.problems import Verdict
from tests.desk.clients import DeskClient, answering
from tests.desk.queues import is_over, reasons_in, states, until
from tests.faults.test_examples import JOBS, problems_of
from tests.jobs import edit, sample

TAGS: dict[str, str | list[str]] = {
    "only": ["valve-tags"],
    "stock": "id-1-letter",
    "language": "en",
}
PARKS = ("ash", "elm", "fir", "oak")


def park(name: str) -> str:
    return edit(sample("larkspur"), "code: LARK-06", f"code: {name.upper()}")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Four parks, of which elm has a station without a wire, and with a box that is not there."""
    for name in PARKS:
        text = park(name)
        if name == "elm":
            text = edit(text, "box: VB-1, hot: A-K1 blue", "box: VB-9, hot: A-K1 blue")
        (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    return tmp_path


@pytest.fixture
def desk(folder: Path) -> Iterator[DeskClient]:
    with answering(folder) as port:
        yield DeskClient(port)


def test_a_queue_prints_skips_and_says_what_failed(desk: DeskClient, folder: Path) -> None:
    files = [f"{name}.yaml" for name in PARKS]
    chosen = desk.form("/queue/choose", {"job": files})
    assert chosen.status == 200 and "Chosen jobs: 4" in chosen.text
    # One was printed from its own page: the very same is not made again.
    assert desk.form("/jobs/fir.yaml/print", {**TAGS, "start": "1"}).status == 200
    printed = (folder / "fir-cards" / "valve-tags.pdf").stat().st_mtime_ns
    started = desk.form("/queue", {**TAGS, "job": files})
    assert (started.status, started.headers["Location"]) == (303, "/queue")
    told = until(desk, is_over)
    assert states(told) == ["printed", "faulty", "current", "printed"]
    reason, *_ = told["jobs"][1]["told"]
    assert "VB-9" in reason["sentence"] and reason["help"]
    assert (folder / "fir-cards" / "valve-tags.pdf").stat().st_mtime_ns == printed
    assert not (folder / "elm-cards").exists()
    for name in ("ash", "oak"):
        pages = PdfReader(folder / f"{name}-cards" / "valve-tags.pdf").pages
        assert name.upper() in pages[0].extract_text()
    # Corrected, it is printed when one goes on; the others stay as they are.
    (folder / "elm.yaml").write_text(park("elm"), encoding="utf-8")
    (folder / "ash.yaml").write_text(park("ash").replace("front beds", "roses"), encoding="utf-8")
    desk.send("go-on", {}, "/queue")
    assert states(until(desk, is_over)) == ["printed", "printed", "current", "printed"]
    # What was printed and says something else now is left to a person.
    desk.form("/queue", {**TAGS, "job": "ash.yaml"})
    assert states(until(desk, is_over)) == ["otherwise"]
    assert "ya se imprimió, y decía otra cosa" in reasons_in(desk, "es")
    assert "was printed before" in reasons_in(desk, "en")


def test_a_queue_that_is_stopped_goes_on_from_there(
    desk: DeskClient, folder: Path, may_print: Event
) -> None:
    may_print.clear()
    (folder / "elm.yaml").write_text(park("elm"), encoding="utf-8")
    files = [f"{name}.yaml" for name in PARKS]
    desk.form("/queue", {**TAGS, "job": files})
    assert desk.form("/queue", {**TAGS, "job": files}).status == 409  # it is printing
    desk.send("stop", {}, "/queue")
    may_print.set()
    told = until(desk, is_over)
    assert told["stopped"] and {*states(told)} == {"printed", "waiting"}
    for job in told["jobs"]:
        cards = folder / job["name"].replace(".yaml", "-cards")
        assert (cards / MANIFEST).exists() == (job["state"] == "printed")
    desk.send("go-on", {}, "/queue")
    assert states(until(desk, is_over)) == ["printed"] * 4
    for names in ([], ["../x.yaml"], ["no.yaml"]):
        assert desk.form("/queue", {**TAGS, "job": names}).status in (404, 409), names


def test_errors_that_are_alike_are_one_reason(folder: Path) -> None:
    """The six stations of larkspur, counted in its file."""
    text = re.sub(r", hot: A-K. \w+", "", park("ash"))
    (folder / "ash.yaml").write_text(text, encoding="utf-8")
    made = print_queued(folder / "ash.yaml", folder / "ash-cards", PrintRequest())
    assert made.state is QueueState.FAULTY
    (reason,) = made.reasons
    assert reason.sentence == "A1 has no hot wire yet"
    assert reason.same_for == ("A2", "A3", "A4", "A5", "A6")
    assert not (folder / "ash-cards").exists()


def test_a_desk_that_is_closed_leaves_whole_prints(folder: Path) -> None:
    with answering(folder) as port:
        desk = DeskClient(port)
        desk.form("/queue", {**TAGS, "job": [f"{name}.yaml" for name in PARKS]})
        until(desk, lambda told: "printing" in states(told))
    printed = [path for path in folder.iterdir() if path.is_dir()]
    assert len(printed) < len(PARKS)
    for cards in printed:
        assert not is_unfinished(cards) and (cards / MANIFEST).exists()
        assert len(PdfReader(cards / "valve-tags.pdf").pages) >= 1


@pytest.mark.usefixtures("may_print")
def test_a_queue_is_told_in_the_language_of_the_page_by_this_desk_and_the_next(
    folder: Path,
) -> None:
    text = re.sub(r", hot: A-K. \w+", "", park("ash"))
    (folder / "ash.yaml").write_text(text, encoding="utf-8")
    (folder / "elm.yaml").write_text("job: [", encoding="utf-8")
    (folder / "fir-cards").mkdir()
    (folder / "fir-cards" / "valve-tags.pdf").write_text("of another program", encoding="utf-8")
    with answering(folder) as port:
        desk = DeskClient(port)
        files = ["ash.yaml", "elm.yaml", "fir.yaml"]
        desk.form("/queue", {**TAGS, "language": "es", "job": files})
        assert states(until(desk, is_over)) == ["faulty", "faulty", "refused"]
        told = {language: reasons_in(desk, language) for language in ("en", "es")}
    assert "A1 has no hot wire yet; " in told["en"] and "; A2 to A6\n" in told["en"]
    assert "was not made by cardgen or has been changed since; move it away" in told["en"]
    assert "A1 todavía no tiene cable de estación; " in told["es"] and "; A2 a A6\n" in told["es"]
    assert "no lo hizo cardgen, o cambió después; muévalo a otro lugar; " in told["es"]
    with answering(folder) as port:
        desk = DeskClient(port)
        assert {language: reasons_in(desk, language) for language in ("en", "es")} == told


def test_what_an_older_desk_has_kept_of_its_queue_is_told_as_it_is(folder: Path) -> None:
    memory = DeskMemory(folder)
    memory.keep_queue((("only", "valve-tags"),), ["ash.yaml", "elm.yaml"], "refused")
    old = [["'ash.yaml' cannot be read: permission denied", "look where it went"]]
    with closing(sqlite3.connect(memory.path)) as db, db:
        db.execute("UPDATE queue SET told = ? WHERE file = 'ash.yaml'", (json.dumps(old),))
    with answering(folder) as port:
        desk = DeskClient(port)
        assert "cannot be read: permission denied" in reasons_in(desk, "en")
        assert "falta el permiso; busque dónde quedó" in reasons_in(desk, "es")
    with closing(sqlite3.connect(memory.path)) as db, db:
        db.execute("UPDATE queue SET told = '[{}]'")
    with answering(folder) as port:
        assert DeskClient(port).get("/queue/state").json()["jobs"] == []


def test_every_problem_can_be_kept_and_told_later(tmp_path: Path) -> None:
    """By the examples of all faults of jobs: what comes back says the same in both languages."""
    count = 0
    for fault in ALL.values():
        if fault.base not in JOBS:
            continue
        for problem in problems_of(fault, fault.wrong, tmp_path):
            error = replace(problem, verdict=Verdict.ERROR)
            (kept,) = from_json(as_json(pickle.loads(pickle.dumps(reasons_of([error])))))  # noqa: S301
            for language in ("en", "es"):
                assert told_reason(kept, language) == told(problem, language)
            count += 1
    assert count > 150
