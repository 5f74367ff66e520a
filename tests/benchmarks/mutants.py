"""See how many small faults the tests notice: `python -m tests.benchmarks.mutants COUNT [SEED]`.

First all tests run once in a copy of the checkout, which says what each line is run by.  Copy and
map are kept in `.mutants/` and are what is judged until `--map` makes them anew.  Then each mutant
is put into a copy and met by the nearest and fastest tests of its line, then by more of them.  What
nobody notices is listed, but not what `mutants_equivalent.txt` says cannot be noticed, and why.
A run that is cut short goes on with `--after`; `--again LOG --seconds 300` judges its survivors
once more, with more tests: a slow one may not have had its turn.
"""

from __future__ import annotations

import argparse
import random
import time
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from tests.benchmarks.line_map import TimedTest, tests_of
from tests.benchmarks.mutant_bench import MAPPED, Bench, Case, make_map
from tests.benchmarks.mutation import mutants

EQUIVALENT = Path(__file__).with_name("mutants_equivalent.txt")
NOT_NOTICED = "NOT NOTICED"
FOLDERS = (
    *("wiring", "electrics", "checks", "allot", "asbuilt", "cards"),
    *("layout", "record", "results", "server"),
)


def sampled(count: int, seed: int) -> list[Case]:
    """As many from each folder as its share of all mutants, at least ten."""
    by_folder: dict[str, list[Case]] = {}
    for folder in FOLDERS:
        paths = sorted((MAPPED / "cardgen" / folder).rglob("*.py"))
        by_folder[folder] = [
            Case(str(path.relative_to(MAPPED)), mutant)
            for path in paths
            for mutant in mutants(path.read_text(encoding="utf-8"))
        ]
    total = sum(map(len, by_folder.values()))
    chance = random.Random(seed)
    drawn = [
        chance.sample(cases, min(len(cases), max(10, round(count * len(cases) / total))))
        for cases in by_folder.values()
    ]
    cases = [case for cases in drawn for case in cases]
    chance.shuffle(cases)  # cut short, the run has seen something of every folder
    return cases


def main() -> None:
    given = _given()
    if given.map or not MAPPED.exists():
        make_map(given.tests, given.workers)
    known = EQUIVALENT.read_text(encoding="utf-8")
    drawn = sampled(given.count, given.seed)
    cases = [case for case in drawn if f"{case.name(MAPPED)} : " not in known]
    cases = cases[given.after :]
    if given.again:
        before = given.again.read_text(encoding="utf-8").splitlines()
        survivors = "\n".join(line for line in before if f" {NOT_NOTICED} " in line)
        cases = [case for case in cases if case.name(MAPPED) in survivors]
    began = time.monotonic()
    tests = tests_of(MAPPED, [(case.module, case.mutant.line) for case in cases])
    noticed, of = _judge(cases, tests, Bench(given.workers, given.seconds), given.workers)
    for folder in FOLDERS:
        print(f"{folder}: {noticed[folder]} of {of[folder]}")
    share, took_s = 100 * noticed.total() / max(of.total(), 1), time.monotonic() - began
    print(f"{noticed.total()} of {of.total()} noticed, {share:.1f} %, {took_s:.0f} s")
    print(f"{len(drawn) - len(cases)} more cannot be noticed")


def _judge(
    cases: list[Case], tests: list[list[TimedTest]], bench: Bench, workers: int
) -> tuple[Counter[str], Counter[str]]:
    """By folder, how many were noticed of how many; each is told as it is judged."""
    noticed: Counter[str] = Counter()
    of: Counter[str] = Counter()
    with ThreadPoolExecutor(workers) as pool:
        verdicts = pool.map(bench.judged, cases, tests)
        for case, verdict in zip(cases, verdicts, strict=True):
            folder = case.module.split("/")[1]
            of[folder] += 1
            noticed[folder] += verdict.is_noticed
            says = "noticed" if verdict.is_noticed else NOT_NOTICED
            place = f"{case.module}:{case.mutant.line}"
            print(f"{of.total()} {says} by {verdict.met}: {place} {case.name(MAPPED)}", flush=True)
    return noticed, of


def _given() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("count", type=int)
    parser.add_argument("seed", type=int, nargs="?", default=1)
    parser.add_argument("--map", action="store_true", help="run all tests for the map first")
    parser.add_argument("--tests", nargs="*", default=[], help="which tests the map is made of")
    parser.add_argument("--after", type=int, default=0, help="go on behind that many judged")
    parser.add_argument("--again", type=Path, help="what a run has printed: judge its survivors")
    parser.add_argument("--seconds", type=float, default=40, help="of the processor, at each step")
    parser.add_argument("--workers", type=int, default=2)
    return parser.parse_args()


if __name__ == "__main__":
    main()
