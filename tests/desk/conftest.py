"""What the tests of the desk share."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Executor, ThreadPoolExecutor
from pathlib import Path
from threading import Event

import pytest
from playwright.sync_api import Browser

from cardgen.desk import print_queue
from cardgen.desk.print_queue import PrintQueue
from cardgen.desk.queue_work import QueueResult, print_queued
from cardgen.output.print_request import PrintRequest
from tests.desk.queues import PATIENCE_S
from tests.record.browser import chromium


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """Closed after this folder: while Playwright runs, asyncio has no other loop in the thread."""
    with chromium() as found:
        yield found


@pytest.fixture
def may_print(monkeypatch: pytest.MonkeyPatch) -> Event:
    """The print queue prints in this process, whose modules are loaded, and while this is set.

    That it prints in processes of its own, which may be killed, is not what such a test is about.
    """
    may = Event()
    may.set()

    def printed(job_file: Path, out: Path, request: PrintRequest) -> QueueResult:
        assert may.wait(PATIENCE_S)
        return print_queued(job_file, out, request)

    def workers(queue: PrintQueue) -> Executor:
        if queue._pool is None:
            queue._pool = ThreadPoolExecutor(queue._at_once)  # type: ignore[assignment]
        assert queue._pool is not None
        return queue._pool

    monkeypatch.setattr(print_queue, "MOST_AT_ONCE", 1)  # others wait, whatever the machine has
    monkeypatch.setattr(print_queue, "print_queued", printed)
    monkeypatch.setattr(PrintQueue, "_workers", workers)
    return may
