"""Print several jobs one after the other while the pages of the desk go on answering."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Iterable, Sequence
from concurrent.futures import CancelledError, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from threading import RLock
from typing import Any

from cardgen.desk.desk_memory import DeskMemory
from cardgen.desk.job_folder import JobFolder
from cardgen.desk.kept_reasons import Reason, reason_of
from cardgen.desk.print_choices import print_request
from cardgen.desk.queue_work import (
    DONE,
    UNDER_WAY,
    QueueResult,
    QueueState,
    begin_worker,
    print_queued,
)
from cardgen.desk.told_findings import told_reason
from cardgen.output.print_request import PrintRequest
from cardgen.problems import UserError
from cardgen.words import Words

MOST_AT_ONCE = 4  # prints; our choice
_MOST_TOLD = 5  # reasons of one job; its page has all; our choice


@dataclass(slots=True)
class QueuedJob:
    """A job in the queue, by the name of its file; `memory` keeps how far it is."""

    name: str
    result: QueueResult
    memory: DeskMemory

    @property
    def state(self) -> QueueState:
        return self.result.state

    def becomes(self, result: QueueResult) -> None:
        self.result = result
        self.memory.keep_state(self.name, result.state, result.reasons)


class PrintQueue:
    """One for the desk, whatever page is open; what is left of it waits for the next desk.

    Each print writes its folder whole or not at all, so it may end at any moment.
    """

    def __init__(self, folder: JobFolder, memory: DeskMemory) -> None:
        self._folder, self._memory = folder, memory
        # One processor is left for the pages.
        self._at_once = min(MOST_AT_ONCE, max(1, (os.cpu_count() or 2) - 1))
        self._jobs: list[QueuedJob] = []
        self._request = PrintRequest()
        self._is_stopped = False
        self._pool: ProcessPoolExecutor | None = None
        self._lock = RLock()  # what is done at once calls back within `submit`
        self._recall()

    def start(self, names: Sequence[str], fields: Iterable[tuple[str, str]]) -> None:
        """Begin with these jobs, and what a form asks for.

        Raises:
            UserError: if there is none, if one is not in the folder, while others are printed, or
                if it asks for nothing that there is.
        """
        asked = tuple((name, value) for name, value in fields if name != "job")
        request = print_request(asked)
        with self._lock:
            if self._is_busy:
                raise UserError("the queue is printing", "stop it first, or wait until it is done")
            if not names:
                raise UserError("no job is chosen", "choose at least one")
            for name in names:
                self._folder.file(name)
            self._memory.keep_queue(asked, [*dict.fromkeys(names)], QueueState.WAITING)
            waiting = QueueResult(QueueState.WAITING)
            self._jobs = [QueuedJob(n, waiting, self._memory) for n in dict.fromkeys(names)]
            self._request, self._is_stopped = request, False
            self._advance()

    def stop(self) -> None:
        """What is being printed is finished; nothing more begins."""
        with self._lock:
            self._is_stopped = True

    def go_on(self) -> None:
        """With all that is not printed: what waits, and what failed and may be corrected now."""
        with self._lock:
            for job in self._jobs:
                if job.state not in (*DONE, *UNDER_WAY):
                    job.becomes(QueueResult(QueueState.WAITING))
            self._is_stopped = False
            self._advance()

    def close(self) -> None:
        """Stop, and wait for what is being written."""
        self.stop()
        pool = self._pool
        if pool is not None:
            pool.shutdown(wait=True, cancel_futures=True)

    def shown(self, words: Words) -> dict[str, Any]:
        """As the page gets it."""
        with self._lock:
            return {
                "running": self._is_busy,
                "stopped": self._is_stopped,
                "jobs": [
                    {
                        "name": job.name,
                        "state": str(job.state),
                        "told": [_told(words, each) for each in job.result.reasons[:_MOST_TOLD]],
                        "more": max(0, len(job.result.reasons) - _MOST_TOLD),
                    }
                    for job in self._jobs
                ],
            }

    @property
    def has_jobs(self) -> bool:
        return bool(self._jobs)

    @property
    def left(self) -> int:
        """How many jobs wait until somebody lets the queue go on."""
        with self._lock:
            return len(self.waiting) if self._is_stopped and not self.printing else 0

    @property
    def printing(self) -> list[str]:
        return self._in(QueueState.PRINTING)

    @property
    def waiting(self) -> list[str]:
        return self._in(QueueState.WAITING)

    def _in(self, state: QueueState) -> list[str]:
        with self._lock:
            return [job.name for job in self._jobs if job.state is state]

    def _recall(self) -> None:
        """What the last desk did not come to, to go on with; what it was printing is not done."""
        kept = self._memory.queue()
        if kept is None:
            return
        try:
            self._request = print_request(kept.asked)
            states = [(name, QueueState(state), reasons) for name, state, reasons in kept.jobs]
        except (UserError, ValueError):  # of another cardgen, with another stock
            return
        for name, state, reasons in states:
            result = QueueResult(QueueState.WAITING if state in UNDER_WAY else state, reasons)
            self._jobs.append(QueuedJob(name, result, self._memory))
        self._is_stopped = True

    @property
    def _is_busy(self) -> bool:
        states = {job.state for job in self._jobs}
        is_waiting = QueueState.WAITING in states and not self._is_stopped
        return QueueState.PRINTING in states or is_waiting

    def _advance(self) -> None:
        """Begin as many as may run at once; without any, the processes end."""
        running = sum(job.state is QueueState.PRINTING for job in self._jobs)
        for job in self._jobs:
            if running >= self._at_once or self._is_stopped:
                break
            if job.state is QueueState.WAITING and self._begin(job):
                running += 1
        if not running and self._pool is not None:
            self._pool.shutdown(wait=False)
            self._pool = None

    def _begin(self, job: QueuedJob) -> bool:
        try:
            paths = self._folder.file(job.name), self._folder.cards(job.name)
        except UserError as fault:
            job.becomes(QueueResult(QueueState.REFUSED, (reason_of(fault),)))
            return False
        job.becomes(QueueResult(QueueState.PRINTING))
        try:
            future = self._workers().submit(print_queued, *paths, self._request)
        except BrokenProcessPool:  # a process was ended from outside: the next get new ones
            self._pool = None
            future = self._workers().submit(print_queued, *paths, self._request)
        future.add_done_callback(lambda made: self._finish(job, made))
        return True

    def _workers(self) -> ProcessPoolExecutor:
        if self._pool is None:
            self._pool = ProcessPoolExecutor(
                max_workers=self._at_once,
                mp_context=multiprocessing.get_context("spawn"),  # the same on every system
                initializer=begin_worker,
            )
        return self._pool

    def _finish(self, job: QueuedJob, made: Future[QueueResult]) -> None:
        with self._lock:
            try:
                job.becomes(made.result())
            except BrokenProcessPool:
                job.becomes(QueueResult(QueueState.BROKEN))
            except CancelledError:  # the desk is closed
                job.becomes(QueueResult(QueueState.WAITING))
            self._advance()


def _told(words: Words, reason: Reason) -> dict[str, str]:
    """In the language of the page, with what it says the same of."""
    said = told_reason(reason, words.languages[0])
    others = words.list_of(reason.same_for).printed
    return {
        "sentence": said.sentence, "help": said.help, "lang": said.language, "others": others
    }  # fmt: skip
