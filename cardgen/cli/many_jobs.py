"""Do one command for many jobs, each by itself: one after another, or on several processes.

What each says is kept together and told in the order of the jobs; one with errors stops no other.
What is current already is skipped, so that the same command goes on where it was stopped.
"""

from __future__ import annotations

import io
import json
import multiprocessing
import signal
import sys
import traceback
from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

from cardgen.cli.job_files import job_files_of, own_folder, places_for
from cardgen.cli.progress_line import progress_here
from cardgen.cli.telling import CLEAN, ERRORS, misused, tell_stages
from cardgen.english_lists import english_list
from cardgen.problems import UserError

BROKEN = 2  # by a fault of ours, or ended from outside


@dataclass(frozen=True, slots=True, kw_only=True)
class JobRun:
    """One job of many, for a process of its own: `given` are the options of the command."""

    module: str
    given: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class JobDone:
    """What came of it: the exit code, and what it said on the two streams."""

    code: int
    out: str = ""
    err: str = ""
    skipped: bool = False


def run_many(
    module: str, named: Sequence[Path], given: Mapping[str, Any], *, jobs: int, verbose: bool
) -> int:
    """The worst exit code of all.

    Raises:
        UserError: before anything is written, if an option cannot be, or two jobs would meet.
    """
    job_files = job_files_of(named)
    runs = {
        job_file: JobRun(module=module, given={**given, "job_file": job_file, **place})
        for job_file, place in _places(module, job_files, given.get("out")).items()
    }
    _refuse(module, runs, given)
    done: dict[Path, JobDone] = {}
    try:
        for job_file, one in _done(runs, jobs, verbose=verbose):
            done[job_file] = one
            _tell(job_file, one, given)
    except KeyboardInterrupt:
        print(
            f"cardgen: {len(done)} of {_count(len(runs))} are done; "
            "the same command goes on from there",
            file=sys.stderr,
        )
        raise
    if given["format"] == "json" and "out" not in given:
        print(_one_list(done.values()))
    else:
        print(_summary(done, writes="out" in given))
    return max(one.code for one in done.values())


def _places(
    module: str, job_files: Sequence[Path], out: Path | None
) -> Mapping[Path, Mapping[str, Path]]:
    """The option that says where each goes, where the command writes."""
    if out is None:
        return {job_file: {} for job_file in job_files}
    place = getattr(import_module(module), "own_place", own_folder)
    return {job_file: {"out": at} for job_file, at in places_for(job_files, out, place).items()}


def _refuse(module: str, runs: Mapping[Path, JobRun], given: Mapping[str, Any]) -> None:
    """What is wrong with the options is told once, not for each job."""
    command = import_module(module)
    if len(runs) > 1 and given.get("manifest"):
        raise UserError("--manifest is of one job", "name one job with it")
    if len(runs) > 1 and given.get("start", 1) > 1:
        raise UserError("--start is for the sheet of one job", "name one job with it")
    first = next(iter(runs.values()))
    command.refuse(command.Options(**first.given))


# ---- one after another, or several at once ---------------------------------------------------


def _done(
    runs: Mapping[Path, JobRun], jobs: int, *, verbose: bool
) -> Iterator[tuple[Path, JobDone]]:
    """Each with what came of it, in the order of the jobs."""
    waiting = _Waiting(len(runs))
    if jobs == 1 or len(runs) == 1:
        for number, (job_file, run) in enumerate(runs.items()):
            with waiting.on(number, job_file):
                one = done_alone(run)
            yield job_file, one
        return
    number, futures = 0, dict[Path, Future[JobDone]]()
    pool = ProcessPoolExecutor(
        max_workers=min(jobs, len(runs)),
        mp_context=multiprocessing.get_context("spawn"),  # the same on every system
        initializer=_begin_worker,
        initargs=(verbose,),
    )
    try:
        futures = {job_file: pool.submit(done_alone, run) for job_file, run in runs.items()}
        for number, (job_file, future) in enumerate(futures.items()):
            with waiting.on(number, job_file):
                one = _result(future)
            yield job_file, one
    except KeyboardInterrupt:
        pool.shutdown(cancel_futures=True)
        for job_file, future in [*futures.items()][number:]:
            if not future.cancelled():  # done while the first ones were waited for
                yield job_file, _result(future)
        raise
    finally:
        pool.shutdown(cancel_futures=True)  # what is being written is finished first


def _begin_worker(verbose: bool) -> None:
    """Ctrl+C goes to the whole group of processes: the first one alone decides what comes of it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if verbose:
        tell_stages()


def _result(future: Future[JobDone]) -> JobDone:
    try:
        return future.result()
    except BrokenProcessPool:
        said = "cardgen: the process for it was ended from outside; run the same command again\n"
        return JobDone(code=BROKEN, err=said)


def done_alone(run: JobRun) -> JobDone:
    """Do it, and keep what it says."""
    command = import_module(run.module)
    options = command.Options(**run.given)
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            if hasattr(command, "is_done") and command.is_done(options):
                return JobDone(code=CLEAN, skipped=True)
            code: int = command.run(options)
        except UserError as error:
            code = misused(error)
        except Exception:  # noqa: BLE001  # our own fault in one job must not cost the others
            code = BROKEN
            traceback.print_exc()
    return JobDone(code=code, out=out.getvalue(), err=err.getvalue())


# ---- what is told ----------------------------------------------------------------------------


class _Waiting:
    """A line on a terminal: which job is waited for; gone before anything else is told."""

    def __init__(self, total: int) -> None:
        self._total, self._progress = total, progress_here()

    @contextmanager
    def on(self, number: int, job_file: Path) -> Iterator[None]:
        self._progress.works(f"job {number + 1} of {self._total}: {job_file.name}")
        try:
            yield
        finally:
            self._progress.ends()


def _tell(job_file: Path, one: JobDone, given: Mapping[str, Any]) -> None:
    is_one_list = given["format"] == "json" and "out" not in given
    if one.skipped:
        print(f"{job_file}: printed already from this very file; skipped")
    sys.stderr.write(one.err)
    sys.stderr.flush()
    if not is_one_list:
        print(one.out, end="", flush=True)


def _one_list(done: Iterable[JobDone]) -> str:
    """The problems of all jobs in one list, as of one job; each says its file."""
    problems = [problem for one in done if one.out for problem in json.loads(one.out)["problems"]]
    return json.dumps({"problems": problems}, indent=2, ensure_ascii=False)


def _summary(done: Mapping[Path, JobDone], *, writes: bool) -> str:
    """`3 jobs: 1 done, 1 skipped, 1 with errors (elm.yaml)`."""
    skipped = sum(one.skipped for one in done.values())
    good = sum(one.code == CLEAN for one in done.values()) - skipped
    wrong = [file.name for file, one in done.items() if one.code == ERRORS]
    failed = [file.name for file, one in done.items() if one.code > ERRORS]
    parts = [f"{good} {'done' if writes else 'without errors'}"]
    if skipped:
        parts.append(f"{skipped} skipped")
    if wrong:
        parts.append(f"{len(wrong)} with errors ({english_list(wrong)})")
    if failed:
        parts.append(f"{len(failed)} not possible ({english_list(failed)})")
    return f"{_count(len(done))}: {', '.join(parts)}"


def _count(number: int) -> str:
    return f"{number} job{'' if number == 1 else 's'}"
