"""Run tests again and again without starting anew: `python -m tests.benchmarks.warm`.

A line of input is the names of tests and how many seconds they may take; the answer is pytest's
exit code.  The libraries are loaded once; each run is a fork, which reads cardgen and the tests
as they are at that moment.
"""

from __future__ import annotations

import contextlib
import importlib
import json
import os
import signal
import sys
import time

import pytest

LIBRARIES = (
    *("hypothesis", "xdist", "numpy", "reportlab.pdfgen.canvas", "yaml", "starlette.testclient"),
    *("PIL.Image", "networkx", "html5lib", "jsonschema", "pypdf", "pikepdf", "pypdfium2"),
    *("uvicorn", "multipart", "itsdangerous", "sqlite3"),
)
TOO_LONG = 1  # somebody would notice


def code_of(tests: list[str], limit_s: float) -> int:
    pid = os.fork()
    if pid == 0:
        _run(tests)
    until = time.monotonic() + limit_s
    status = 0
    while not (ended := os.waitpid(pid, os.WNOHANG))[0]:
        if time.monotonic() > until:
            _end(pid)
            os.waitpid(pid, 0)
            return TOO_LONG
        time.sleep(0.02)
    status = ended[1]
    _end(pid)  # what it has started and left
    return os.waitstatus_to_exitcode(status) if os.WIFEXITED(status) else TOO_LONG


def _run(tests: list[str]) -> None:
    os.setsid()
    nothing = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nothing, stream)
    sys.dont_write_bytecode = True  # what is compiled is of the program without fault
    code = 3
    try:
        code = int(pytest.main(["-q", "-x", "-p", "no:cacheprovider", *tests]))
    finally:
        os._exit(code)


def _end(group: int) -> None:
    with contextlib.suppress(ProcessLookupError):
        os.killpg(group, signal.SIGKILL)


def main() -> None:
    for name in LIBRARIES:
        importlib.import_module(name)
    for line in sys.stdin:
        tests, limit_s = json.loads(line)
        print(code_of(tests, limit_s), flush=True)


if __name__ == "__main__":
    main()
