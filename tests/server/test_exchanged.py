"""A record that was cut short while it was published is served whole, or not at all."""

from __future__ import annotations

import shutil
import threading
from contextlib import ExitStack
from pathlib import Path

import pytest

from cardgen.examine import examine_text
from cardgen.files.exchange import EXCHANGE, is_unfinished
from cardgen.output.recording import RecordRequest, make_record
from cardgen.output.writing import held, write_set
from tests.files.killing import killed_half_way
from tests.record.records import LARKSPUR, publish, revision
from tests.server.crews import served

PAGES = [f"/{LARKSPUR}/{name}" for name in ("", "VB-1/", "VB-3/", "A/", "STATION_A3/")]


@pytest.fixture(scope="module")
def short(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The records after a publishing of revision 2 that was killed half-way."""
    out = tmp_path_factory.mktemp("web")
    publish(revision(1), out)
    record, _ = make_record(examine_text(revision(2)), out, RecordRequest())
    assert record is not None
    folder = out / LARKSPUR
    killed_half_way(lambda: write_set(folder, record.files, record.manifest, replace=False))
    pages = [page.read_bytes() for page in folder.glob("*/index.html")]
    pages.append((folder / "index.html").read_bytes())
    assert {b"revision 2" in page for page in pages} == {True, False}
    return out


def test_whoever_reads_first_finishes_it(short: Path, tmp_path: Path) -> None:
    with served(tmp_path) as server:
        shutil.rmtree(server.web)
        shutil.copytree(short, server.web)
        for path in PAGES:
            answer = server.anyone().get(path)
            assert answer.status == 200 and b"revision 2" in answer.body, path
        assert not is_unfinished(server.web / LARKSPUR)


def test_what_cannot_be_finished_is_not_shown(short: Path, tmp_path: Path) -> None:
    with served(tmp_path) as server:
        shutil.rmtree(server.web)
        shutil.copytree(short, server.web)
        (server.web / LARKSPUR / EXCHANGE / "plan.json").unlink()
        for path in (*PAGES, f"/{LARKSPUR}/READINGS_/VB-1"):
            answer = server.anyone().get(path)
            assert (answer.status, answer.headers["retry-after"]) == (503, "5"), path
            assert b"is being replaced by a newer one" in answer.body


def test_while_it_is_exchanged_readers_wait_and_not_for_ever(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with served(tmp_path) as server, ExitStack() as publisher:
        publisher.enter_context(held(server.web / LARKSPUR, replace=False))
        exchanging = server.web / LARKSPUR / EXCHANGE
        exchanging.mkdir()
        monkeypatch.setattr("cardgen.server.jobs.EXCHANGE_S", 0.1)
        assert server.anyone().get(PAGES[0]).status == 503
        monkeypatch.setattr("cardgen.server.jobs.EXCHANGE_S", 60.0)
        publisher.callback(exchanging.rmdir)
        done = threading.Timer(0.5, publisher.close)
        done.start()
        assert server.anyone().get(PAGES[0]).status == 200
        done.join()
