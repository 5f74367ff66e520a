"""Hold the program against the tracer on many random yards: `python -m tests.benchmarks.oracle`.

An argument is the number of yards (2000 if left out), a second one the first seed.
"""

from __future__ import annotations

import sys
import time
from collections import Counter

from cardgen.examine import examine_text
from cardgen.problems import Verdict
from tests.oracle.compare import differences
from tests.oracle.tracer import Traced
from tests.oracle.yards import random_yard


def main(count: int = 2000, first: int = 0) -> int:
    """Print what differs, what the program refuses, how often each feature was there, the times."""
    features: Counter[str] = Counter()
    refused: Counter[str] = Counter()
    accepted = wrong = 0
    seconds = 0.0
    for seed in range(first, first + count):
        begun = time.perf_counter()
        yard = random_yard(seed)
        _ = Traced(yard.text).stretches
        seconds += time.perf_counter() - begun
        features.update(yard.features)
        problems = examine_text(yard.text).problems
        errors = {p.code for p in problems if p.verdict is Verdict.ERROR}
        refused.update(errors)
        accepted += not errors
        found = differences(yard.text)
        wrong += bool(found)
        for line in found:
            print(f"yard {seed}: {line}")
    for name, number in features.most_common():
        print(f"{number:6} {name}")
    for code, number in refused.most_common():
        print(f"{number:6} refused: {code}")
    print(f"{count} yards: {accepted} without errors, {wrong} told otherwise than the joints say")
    print(f"generator and tracer: {seconds / count * 1000:.1f} ms a yard")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
