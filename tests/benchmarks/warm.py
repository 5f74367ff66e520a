"""Run tests again and again without starting anew, for `mutant_bench.py`.

A line of input is the names of tests; the answer is
pytest's exit code and the test that failed.  The libraries are loaded
once; each run is a fork, which reads cardgen and the tests as they are at that moment.  Limits are
seconds of the processor, so that a busy machine judges as a quiet one.
"""

from __future__ import annotations

import contextlib
import importlib
import json
import os
import resource
import signal
import sys
import time

import pytest

LIBRARIES = (
    *("numpy", "reportlab.pdfgen.canvas", "yaml"),
    *("PIL.Image", "networkx", "html5lib", "jsonschema", "pypdf", "pikepdf", "pypdfium2"),
    *("uvicorn", "multipart", "itsdangerous", "sqlite3"),
)
STUCK_S = 160  # of the processor, or
WAITED_S = 900  # of the clock: it does not end, and somebody would notice
STUCK = 1


class _Watch:
    def __init__(self, tests: list[str]) -> None:
        self.began = time.process_time()
        self.failed = ""
        self.turns = {name: turn for turn, name in enumerate(tests)}

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """In the order of the command, which a run of all tests changes: there, long ones first."""
        items.sort(key=lambda item: self.turns.get(item.nodeid, len(self.turns)))

    def pytest_collection_finish(self) -> None:
        self.began = time.process_time()  # reading the tests is no part of it

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_protocol(self) -> bool | None:
        """What is not begun within the seconds of the command line is not run."""
        return True if time.process_time() - self.began > float(sys.argv[1]) else None

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed = report.nodeid


def answer(tests: list[str]) -> tuple[int, str]:
    """Pytest's exit code, and the test that failed."""
    told, tells = os.pipe()
    pid = os.fork()
    if pid == 0:
        _run(tests, tells)
    os.close(tells)
    code = _waited_for(pid)
    with os.fdopen(told) as lines:
        return code, lines.read()


def _waited_for(pid: int) -> int:
    until = time.monotonic() + WAITED_S
    status = None
    while status is None and time.monotonic() < until:
        ended, status_now = os.waitpid(pid, os.WNOHANG)
        if ended:
            status = status_now
        else:
            time.sleep(0.02)
    _end(pid)  # also what it has started and left
    if status is None:
        os.waitpid(pid, 0)
        return STUCK
    return os.waitstatus_to_exitcode(status) if os.WIFEXITED(status) else STUCK


def _run(tests: list[str], tells: int) -> None:
    os.setsid()
    nothing = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nothing, stream)
    sys.dont_write_bytecode = True  # what is compiled is of the program without fault
    resource.setrlimit(resource.RLIMIT_CPU, (STUCK_S, STUCK_S))
    code, watch = 3, _Watch(tests)
    try:
        code = int(pytest.main(["-q", "-x", "-p", "no:cacheprovider", *tests], plugins=[watch]))
        os.write(tells, watch.failed.encode())
    finally:
        os._exit(code)


def _end(group: int) -> None:
    with contextlib.suppress(ProcessLookupError):
        os.killpg(group, signal.SIGKILL)


def main() -> None:
    for name in LIBRARIES:
        importlib.import_module(name)
    for line in sys.stdin:
        print(json.dumps(answer(json.loads(line))), flush=True)


if __name__ == "__main__":
    main()
