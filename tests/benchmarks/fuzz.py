"""Spoil files at random and see that nothing raises: `python -m tests.benchmarks.fuzz COUNT`.

COUNT job files (50,000 if left out), from the sample jobs and random yards; a fifth as many each of
stock, faces, words and readings; and two fifths as many sound yards, examined and built.  Each
number tells its text: `python -m tests.benchmarks.fuzz KIND NUMBER` prints it.
"""

from __future__ import annotations

import os
import sys
import tempfile
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from multiprocessing import Pool
from pathlib import Path
from random import Random

from tests.jobs import SAMPLES, sample
from tests.oracle.yards import random_yard
from tests.property.mutations import (
    judge_face,
    judge_job,
    judge_readings,
    judge_stock,
    judge_words,
    mutated,
)

LAYOUTS = Path(__file__).parents[2] / "layouts"
SAMPLE_EVERY = 25  # jobs; yards are much smaller
LINES = 25  # of a file of words
READINGS = """\
id,when,job,box,valve,kind,value,by,notes
,2026-03-14,LARK-1,VB-1,A1,ohms at the coil,31.2,JD,dry
5f0c7d3e-3c3b-5d0e-9d53-6d5b3d2f9a41,2026-03-14,LARK-1,VB-1,A2,ohms at the controller,OL,JD,"a, b"
,2026-03-14T08:15:00Z,,,A3,volts,23.8,,
"""


@cache
def _files(folder: str) -> tuple[str, ...]:
    return tuple(p.read_text(encoding="utf-8") for p in sorted((LAYOUTS / folder).glob("*.yaml")))


def job(number: int, rng: Random) -> str:
    if number % SAMPLE_EVERY == 0:
        return mutated(sample(rng.choice(SAMPLES)), rng)
    return mutated(random_yard(number).text, rng)


def words(rng: Random) -> str:
    """Some lines of the English texts, below the head of their section."""
    lines = rng.choice(_files("words")).split("\n")
    first = rng.randrange(len(lines))
    heads = [line for line in lines[:first] if line and line[0].isalpha()]
    return mutated("\n".join([*heads[-1:], *lines[first : first + LINES]]), rng)


KINDS: dict[str, Callable[[int, Random], str]] = {
    "job": job,
    "yard": lambda number, _: random_yard(number).text,
    "stock": lambda _, rng: mutated(rng.choice(_files("stock")), rng),
    "face": lambda _, rng: mutated(rng.choice(_files("faces")), rng),
    "words": lambda _, rng: words(rng),
    "readings": lambda _, rng: mutated(READINGS, rng),
}
JUDGES: dict[str, Callable[[str], None]] = {
    "job": judge_job,
    "yard": judge_job,
    "stock": judge_stock,
    "face": judge_face,
    "readings": judge_readings,
}


def text_of(kind: str, number: int) -> str:
    return KINDS[kind](number, Random(f"{kind} {number}"))


def judged(case: tuple[str, int]) -> str:
    """What was raised; empty if nothing."""
    kind, number = case
    try:
        text = text_of(kind, number)
        if kind == "words":
            with tempfile.TemporaryDirectory() as folder:
                judge_words(text, Path(folder))
        else:
            JUDGES[kind](text)
    except Exception:  # noqa: BLE001 - whatever it is, it is what is looked for
        return traceback.format_exc()
    return ""


def cases(count: int) -> Iterator[tuple[str, int]]:
    """Kinds in turn, so that a run that is cut short has some of each."""
    shares = {"job": 5, "yard": 2, "stock": 1, "face": 1, "words": 1, "readings": 1}
    for turn in range(-(-count // shares["job"])):
        for kind, share in shares.items():
            yield from ((kind, turn * share + n) for n in range(share))


def main(count: int = 50_000) -> int:
    done: Counter[str] = Counter()
    raised: Counter[str] = Counter()
    with Pool(os.cpu_count()) as pool:
        todo = cases(count)
        for (kind, number), told in zip(cases(count), pool.imap(judged, todo, 16), strict=True):
            done[kind] += 1
            if told:
                raised[kind] += 1
                print(f"{kind} {number}: {told}", flush=True)
    for kind, number in done.items():
        print(f"{number:8} {kind:10} {raised[kind]} raised")
    return 1 if raised else 0


if __name__ == "__main__":
    if len(sys.argv) == 3:
        print(text_of(sys.argv[1], int(sys.argv[2])))
        sys.exit()
    sys.exit(main(*map(int, sys.argv[1:])))
