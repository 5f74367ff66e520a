"""Copies of the checkout in which tests meet mutants."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections import defaultdict
from collections.abc import Sequence
from pathlib import Path
from queue import Queue
from typing import NamedTuple

from tests.benchmarks.line_map import ROOT, TimedTest
from tests.benchmarks.mutation import Mutant

KEPT = ROOT / ".mutants"
MAPPED = KEPT / "mapped"  # a copy as it was when the map was made, and the map
STEPS = (8, 60, 400)  # how many tests a mutant meets before it meets more of its line
BUDGET_S = 120.0  # and as many as take this long, measured when the map was made
SLOW = 10  # times as long as then: what takes longer does not end
NOTICED = (1, 2, 3)  # exit codes of pytest: failed, interrupted, an error inside
NO_SUCH_TEST = 4  # a module cannot be read, or a value in a test's name is another one
NOT_COPIED = (".git", ".venv*", ".mutants", "__pycache__", ".*_cache", ".hypothesis")


class Case(NamedTuple):
    """A mutant of one module, by its path from the root."""

    module: str
    mutant: Mutant

    def name(self, root: Path = ROOT) -> str:
        source = (root / self.module).read_text(encoding="utf-8")
        line = source.splitlines()[self.mutant.line - 1].strip()
        return f"{self.module} : {line} : {self.mutant.shown(source)}"


class Judged(NamedTuple):
    """How many tests it met until one failed, or that none did, and which these were."""

    is_noticed: bool
    met: int


def make_map(tests: Sequence[str], workers: int) -> None:
    """Run all tests in a new copy; only those that pass there can notice a mutant there."""
    shutil.rmtree(MAPPED, ignore_errors=True)
    shutil.copytree(ROOT, MAPPED, ignore=shutil.ignore_patterns(*NOT_COPIED))
    spread = ["-n", str(workers), "--dist", "loadgroup", "--no-loadscope-reorder"]
    plugin = ["-p", "tests.benchmarks.lines_by_test", "-p", "no:cacheprovider"]
    command = [sys.executable, "-m", "pytest", "-q", *spread, *plugin, *(tests or ["tests"])]
    subprocess.run(command, cwd=MAPPED, env=_environment(MAPPED), check=False)
    _compile(MAPPED)


def _compile(copy: Path) -> None:
    """Keep the program and the tests compiled, so that each run reads only its mutant."""
    command = [sys.executable, "-m", "compileall", "-q", "cardgen", "tests"]
    subprocess.run(command, cwd=copy, check=True)
    command = [sys.executable, "-m", "pytest", "-q", "--collect-only", "-p", "no:cacheprovider"]
    silent = subprocess.DEVNULL
    subprocess.run(command, cwd=copy, env=_environment(copy), stdout=silent, check=True)


def _environment(copy: Path) -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(copy)}


class Bench:
    """Copies of what the map was made of, one for each worker, each with a process that waits."""

    def __init__(self, workers: int) -> None:
        self.free: Queue[tuple[Path, subprocess.Popen[str]]] = Queue()
        for number in range(workers):
            copy = KEPT / f"copy-{number}"
            shutil.rmtree(copy, ignore_errors=True)
            shutil.copytree(MAPPED, copy, ignore=shutil.ignore_patterns(".mutants"))
            command = [sys.executable, "-m", "tests.benchmarks.warm"]
            waiting = subprocess.Popen(
                command, cwd=copy, env=_environment(copy), text=True,
                stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            )  # fmt: skip
            self.free.put((copy, waiting))

    def judged(self, case: Case, tests: Sequence[TimedTest]) -> Judged:
        copy, waiting = self.free.get()
        path = copy / case.module
        source, was = path.read_text(encoding="utf-8"), path.stat()
        chosen = _spread(tests, case.module)
        try:
            path.write_text(case.mutant.of(source), encoding="utf-8")
            met = 0
            for step in STEPS:
                if _fails(waiting, chosen[met:step]):
                    return Judged(is_noticed=True, met=min(step, len(chosen)))
                met = min(step, len(chosen))
            return Judged(is_noticed=False, met=met)
        finally:
            path.write_text(source, encoding="utf-8")
            os.utime(path, ns=(was.st_atime_ns, was.st_mtime_ns))  # what is compiled is of it
            self.free.put((copy, waiting))


def _spread(tests: Sequence[TimedTest], module: str) -> list[TimedTest]:
    """The fastest of each test module in turn, its own folder first; a second costs a turn."""
    by_module: dict[str, list[TimedTest]] = defaultdict(list)
    for test in tests:
        by_module[test.name.partition("::")[0]].append(test)
    folder = module.replace("cardgen/", "tests/").rpartition("/")[0]
    turns = [
        (turn + int(test.took_s), not name.startswith(folder), test)
        for name, ours in by_module.items()
        for turn, test in enumerate(ours)
    ]
    left_s = BUDGET_S
    chosen = []
    for _, _, test in sorted(turns):
        if test.took_s <= left_s:
            left_s -= test.took_s
            chosen.append(test)
    return chosen


def _fails(waiting: subprocess.Popen[str], tests: Sequence[TimedTest]) -> bool:
    if not tests:
        return False
    limit_s = 60 + SLOW * sum(test.took_s for test in tests)
    names = [test.name for test in tests]
    code = _asked(waiting, names, limit_s)
    if code == NO_SUCH_TEST:
        code = _asked(waiting, sorted({name.partition("::")[0] for name in names}), 10 * limit_s)
    return code in NOTICED


def _asked(waiting: subprocess.Popen[str], names: Sequence[str], limit_s: float) -> int:
    assert waiting.stdin is not None and waiting.stdout is not None
    print(json.dumps([names, limit_s]), file=waiting.stdin, flush=True)
    return int(waiting.stdout.readline())
