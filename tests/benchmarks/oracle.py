"""Hold the program against the tracer on many random yards: `python -m tests.benchmarks.oracle`.

An argument is the number of yards (2000 if left out), a second one the first seed.
"""

from __future__ import annotations

import sys
from collections import Counter

from tests.oracle.cases import case
from tests.oracle.compare import differences


def main(count: int = 2000, first: int = 0) -> int:
    """Print what differs, what the program refuses, how often each feature was there."""
    features: Counter[str] = Counter()
    refused: Counter[str] = Counter()
    accepted = wrong = 0
    for seed in range(first, first + count):
        found, codes = case(seed)
        refused.update(codes)
        if found is None:
            continue
        accepted += 1
        features.update(found.yard.features)
        lines = differences(found.traced, found.job.asbuilt)
        wrong += bool(lines)
        for line in lines:
            print(f"yard {seed}: {line}")
    for name, number in features.most_common():
        print(f"{number:6} {name}")
    for code, number in refused.most_common():
        print(f"{number:6} refused: {code}")
    print(f"{count} yards: {accepted} without errors, {wrong} told otherwise than the joints say")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
