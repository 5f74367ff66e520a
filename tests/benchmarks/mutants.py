"""See how many small faults the tests notice: `python -m tests.benchmarks.mutants COUNT [SEED]`.

First all tests run once under coverage, which says what each line is run by; the result is kept
in `.mutants/` and is made again with `--map`.  Then each mutant is put into a copy of the checkout
and met by the fastest tests of its line, then by all of them.  What nobody notices is listed,
except what `mutants_equivalent.txt` says cannot be noticed, with the reason.
"""

from __future__ import annotations

import argparse
import json
import random
import shutil
import subprocess
import sys
import time
from collections import Counter, defaultdict
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Queue
from typing import NamedTuple

from tests.benchmarks.mutation import Mutant, mutants

ROOT = Path(__file__).parents[2]
KEPT = ROOT / ".mutants"
MAP = KEPT / "map.json"
EQUIVALENT = Path(__file__).with_name("mutants_equivalent.txt")
FOLDERS = (
    *("wiring", "electrics", "checks", "allot", "asbuilt", "cards"),
    *("layout", "record", "results", "server"),
)
FIRST = 30  # tests that a mutant meets before it meets all of its line
ALL = 600
LIMIT_S = 300
NOT_COPIED = (".git", ".venv*", ".mutants", "__pycache__", ".*_cache")
KILLED = (1, 2, 3)  # exit codes of pytest: failed, interrupted, an error inside
Map = dict[str, dict[str, list[str]]]


class Case(NamedTuple):
    """A mutant of one module, by its path from the root."""

    module: str
    mutant: Mutant

    def name(self) -> str:
        source = (ROOT / self.module).read_text(encoding="utf-8")
        return f"{self.module}:{self.mutant.line} {self.mutant.shown(source)}"


def sampled(count: int, seed: int) -> list[Case]:
    """As many from each folder as its share of all mutants, at least ten."""
    found: dict[str, list[Case]] = {}
    for folder in FOLDERS:
        paths = sorted((ROOT / "cardgen" / folder).rglob("*.py"))
        found[folder] = [
            Case(str(path.relative_to(ROOT)), mutant)
            for path in paths
            for mutant in mutants(path.read_text(encoding="utf-8"))
        ]
    total = sum(map(len, found.values()))
    chance = random.Random(seed)
    drawn = [
        chance.sample(cases, min(len(cases), max(10, round(count * len(cases) / total))))
        for cases in found.values()
    ]
    return [case for cases in drawn for case in cases]


def make_map(tests: list[str]) -> None:
    """Run all tests once and keep, by module and line, those that run it, the fastest first."""
    KEPT.mkdir(exist_ok=True)
    plugin = "tests.benchmarks.lines_by_test"
    command = [sys.executable, "-m", "pytest", "-q", "-p", plugin, "-p", "no:cacheprovider"]
    subprocess.run([*command, *(tests or ["tests"])], cwd=ROOT, check=False)


class Bench:
    """Copies of the checkout, one for each worker."""

    def __init__(self, workers: int) -> None:
        self.by_line: Map = json.loads(MAP.read_text(encoding="utf-8"))
        self.free: Queue[Path] = Queue()
        for number in range(workers):
            copy = KEPT / f"copy-{number}"
            shutil.rmtree(copy, ignore_errors=True)
            skipped = shutil.ignore_patterns(
                ".git", ".venv*", ".mutants", "__pycache__", ".*_cache"
            )
            shutil.copytree(ROOT, copy, ignore=skipped)
            self.free.put(copy)

    def is_noticed(self, case: Case) -> bool:
        copy = self.free.get()
        path = copy / case.module
        source = path.read_text(encoding="utf-8")
        try:
            path.write_text(case.mutant.of(source), encoding="utf-8")
            tests = self._tests_of(case)
            return _fails(copy, _spread(tests, FIRST)) or _fails(copy, _spread(tests, ALL)[FIRST:])
        finally:
            path.write_text(source, encoding="utf-8")
            self.free.put(copy)

    def _tests_of(self, case: Case) -> list[str]:
        """Those of its line, or of the line before it where its statement begins."""
        lines = self.by_line.get(case.module, {})
        for line in range(case.mutant.line, 0, -1):
            if lines.get(str(line)):
                return lines[str(line)]
        return []


def _spread(tests: list[str], count: int) -> list[str]:
    """The first of each test module in turn, so that no module fills the selection."""
    by_module: dict[str, list[str]] = defaultdict(list)
    for test in tests:
        by_module[test.partition("::")[0]].append(test)
    turns = [
        (turn, name) for names in by_module.values() for turn, name in enumerate(names)
    ]  # in a module the fastest first
    return [name for _, name in sorted(turns, key=lambda each: each[0])][:count]


def _fails(copy: Path, tests: list[str]) -> bool:
    if not tests:
        return False
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *tests]
    environment = {"PYTHONPATH": str(copy), "PYTHONDONTWRITEBYTECODE": "1", "PATH": "/usr/bin:/bin"}
    try:
        done = subprocess.run(
            command, cwd=copy, env=environment, capture_output=True, timeout=LIMIT_S, check=False
        )
    except subprocess.TimeoutExpired:
        return True  # it runs for ever: somebody would notice
    return done.returncode in KILLED


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("count", type=int)
    parser.add_argument("seed", type=int, nargs="?", default=1)
    parser.add_argument("--map", action="store_true", help="run all tests for the map first")
    parser.add_argument("--tests", nargs="*", default=[], help="which tests the map is made of")
    parser.add_argument("--workers", type=int, default=2)
    given = parser.parse_args()
    if given.map or not MAP.exists():
        make_map(given.tests)
    cases = sampled(given.count, given.seed)
    known = set(EQUIVALENT.read_text(encoding="utf-8").splitlines()) if EQUIVALENT.exists() else ()
    bench, began = Bench(given.workers), time.monotonic()
    noticed: Counter[str] = Counter()
    of: Counter[str] = Counter()
    with ThreadPoolExecutor(given.workers) as pool:
        for case, killed in zip(cases, pool.map(bench.is_noticed, cases), strict=True):
            folder = case.module.split("/")[1]
            equivalent = any(case.name() in line for line in known)
            of[folder] += not equivalent
            noticed[folder] += killed and not equivalent
            if not killed and not equivalent:
                print(case.name(), flush=True)
    for folder in FOLDERS:
        print(f"{folder}: {noticed[folder]} of {of[folder]}")
    share, took_s = 100 * noticed.total() / of.total(), time.monotonic() - began
    print(f"{noticed.total()} of {of.total()} noticed, {share:.1f} %, {took_s:.0f} s")


if __name__ == "__main__":
    main()
