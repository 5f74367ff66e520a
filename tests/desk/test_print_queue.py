"""The print queue: each job by itself, stopped and going on, and never half a print."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader

from cardgen.desk.queue_work import QueueState, print_queued
from cardgen.files.exchange import is_unfinished
from cardgen.memory.prints import MANIFEST
from cardgen.output.print_request import PrintRequest
from tests.desk.clients import DeskClient, answering
from tests.desk.queues import is_over, states, until
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
    (sentence, help_), *_ = told["jobs"][1]["told"]
    assert "VB-9" in sentence and help_
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
    told = until(desk, is_over)
    assert states(told) == ["otherwise"] and "was printed before" in told["jobs"][0]["told"][0][0]


def test_a_queue_that_is_stopped_goes_on_from_there(desk: DeskClient, folder: Path) -> None:
    (folder / "elm.yaml").write_text(park("elm"), encoding="utf-8")
    files = [f"{name}.yaml" for name in PARKS]
    desk.form("/queue", {**TAGS, "job": files})
    assert desk.form("/queue", {**TAGS, "job": files}).status == 409  # it is printing
    desk.send("stop", {}, "/queue")
    told = until(desk, is_over)
    assert told["stopped"] and "waiting" in states(told)
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
    assert [sentence for sentence, _ in made.told] == [
        "A1 has no hot wire yet; the same for A2 to A6"
    ]
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
