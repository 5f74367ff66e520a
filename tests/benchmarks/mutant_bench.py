"""Copies of the checkout in which tests meet mutants."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from queue import Queue
from typing import NamedTuple

from tests.benchmarks.line_map import ROOT, TimedTest, function_of
from tests.benchmarks.mutation import Mutant

KEPT = ROOT / ".mutants"
MAPPED = KEPT / "mapped"  # a copy as it was when the map was made, and the map
WARM = Path(__file__).with_name("warm.py")
COVERED_BY = ROOT / "tests" / "covered_by.txt"  # which test covers a module that has none by name
STEPS = (20, 100, 800)  # how many tests a mutant meets before it meets more of its line
NOTICED = (1, 2, 3)  # exit codes of pytest: failed, interrupted, an error inside
NO_SUCH_TEST = 4  # a module cannot be read, or a value in a test's name is another one
NOT_COPIED = (".git", ".venv*", ".mutants", "__pycache__", ".*_cache", ".hypothesis")


class Case(NamedTuple):
    """A mutant of one module, by its path from the root."""

    module: str
    mutant: Mutant

    def name(self, root: Path = ROOT) -> str:
        """The same wherever the module has grown elsewhere: without the number of the line."""
        source = (root / self.module).read_text(encoding="utf-8")
        line = source.splitlines()[self.mutant.line - 1].strip()
        place = f"{self.module} {function_of(source, self.mutant.line)}".rstrip()
        return f"{place} : {line} : {self.mutant.shown(source)}"


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

    def __init__(self, workers: int, budget_s: float) -> None:
        self.doubtful: set[str] = set()  # failed without a mutant, too
        self.free: Queue[tuple[Path, subprocess.Popen[str]]] = Queue()
        for number in range(workers):
            copy = KEPT / f"copy-{number}"
            shutil.rmtree(copy, ignore_errors=True)
            shutil.copytree(MAPPED, copy, ignore=shutil.ignore_patterns(".mutants"))
            command = [sys.executable, "-P", str(WARM), str(budget_s)]
            waiting = subprocess.Popen(
                command, cwd=copy, env=_environment(copy), text=True,
                stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            )  # fmt: skip
            self.free.put((copy, waiting))

    def judged(self, case: Case, tests: Sequence[TimedTest]) -> Judged:
        copy, waiting = self.free.get()
        chosen = _spread(tests, case.module)
        try:
            for begin, end in zip((0, *STEPS), STEPS, strict=False):
                names = [test.name for test in chosen[begin:end]]
                if names and self._is_noticed_by(names, copy, waiting, case):
                    return Judged(is_noticed=True, met=begin + len(names))
            return Judged(is_noticed=False, met=len(chosen[: STEPS[-1]]))
        finally:
            self.free.put((copy, waiting))

    def _is_noticed_by(
        self, names: list[str], copy: Path, waiting: subprocess.Popen[str], case: Case
    ) -> bool:
        """Whether tests fail with the mutant and pass without it; others are left out from now."""
        while names := [name for name in names if name not in self.doubtful]:
            with _put_in(copy, case):
                fails, by = _asked(waiting, names)
            if not fails:
                return False
            fails, by = _asked(waiting, [by] if by else names)
            if not fails:
                return True
            if not by:
                return False
            self.doubtful.add(by)
        return False


@contextmanager
def _put_in(copy: Path, case: Case) -> Iterator[None]:
    path = copy / case.module
    source, was = path.read_text(encoding="utf-8"), path.stat()
    try:
        path.write_text(case.mutant.of(source), encoding="utf-8")
        yield
    finally:
        path.write_text(source, encoding="utf-8")
        os.utime(path, ns=(was.st_atime_ns, was.st_mtime_ns))  # what is compiled is of it


def _spread(tests: Sequence[TimedTest], module: str) -> list[TimedTest]:
    """Those of its own test module, then the fastest of each in turn; a second is a turn.

    What many tests share counts for each of them, so that times say little within a module.
    """
    by_module: dict[str, list[TimedTest]] = defaultdict(list)
    for test in tests:
        by_module[test.name.partition("::")[0]].append(test)
    turns = [
        (not _is_own(name, module), (turn + test.took_s) / _nearness(name, module), test)
        for name, ours in by_module.items()
        for turn, test in enumerate(ours)
    ]
    return [test for *_, test in sorted(turns)]


def _is_own(tests: str, module: str) -> bool:
    """Whether these tests have the module's name, or are said to cover it."""
    folder, _, file = module.removeprefix("cardgen/").rpartition("/")
    return tests in (f"tests/{folder}/test_{file}", _covering().get(module))


def _nearness(tests: str, module: str) -> int:
    """How many tests of a module are taken while one of a module far away is."""
    folder = module.removeprefix("cardgen/").partition("/")[0]
    return 10 if tests.startswith(f"tests/{folder}/") else 1


@cache
def _covering() -> dict[str, str]:
    lines = COVERED_BY.read_text(encoding="utf-8").splitlines()
    return dict(line.split(maxsplit=1) for line in lines)


def _asked(waiting: subprocess.Popen[str], names: Sequence[str]) -> tuple[bool, str]:
    """Whether one of the tests fails, and which; none by name if a module cannot be read."""
    code, failed = _answer(waiting, names)
    if code == NO_SUCH_TEST:
        modules = sorted({name.partition("::")[0] for name in names})
        code, failed = _answer(waiting, modules)
    return code in NOTICED, failed


def _answer(waiting: subprocess.Popen[str], names: Sequence[str]) -> tuple[int, str]:
    assert waiting.stdin is not None and waiting.stdout is not None
    print(json.dumps(names), file=waiting.stdin, flush=True)
    code, failed = json.loads(waiting.stdout.readline())
    return code, failed
