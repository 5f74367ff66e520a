"""Hold the program against the tracer on many random yards: `python -m tests.benchmarks.oracle`.

An argument is the number of yards (2000 if left out), a second one the first seed.  Of each yard
without errors the model, all cards, the outline of the drawing and the pages of the record are
compared, of every twentieth also the text of all PDFs.
"""

from __future__ import annotations

import os
import sys
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from multiprocessing import Pool
from typing import NamedTuple

from tests.oracle.cases import Case, case
from tests.oracle.compare import differences
from tests.oracle.printed import cards_differ, print_differs, record_differs

PRINT_EVERY = 20
SHOWN = 3  # differences of one yard; the rest is mostly the same once more


class Compared(NamedTuple):
    """What became of one yard.

    Attributes:
        refused: the codes of the errors that the program finds in it.
        printed: whether it was; None where nobody tried.
    """

    seed: int
    refused: frozenset[str]
    features: frozenset[str]
    printed: bool | None
    lines: tuple[str, ...]


def compared(seed: int) -> Compared:
    """A fault of the program is a difference too."""
    try:
        found, refused = case(seed)
        if found is None:
            return Compared(seed, refused, frozenset(), None, ())
        printed, lines = _lines(found)
        return Compared(seed, refused, found.yard.features, printed, tuple(lines))
    except Exception:  # noqa: BLE001 - whatever it is, the other yards are compared
        return Compared(seed, frozenset(), frozenset(), None, (traceback.format_exc(),))


def _lines(found: Case) -> tuple[bool | None, Iterator[str]]:
    said = {
        "model": differences(found.traced, found.printable.asbuilt),
        "cards": cards_differ(found),
        "record": record_differs(found),
    }
    printed = None
    if found.yard.seed % PRINT_EVERY == 0:
        lines = print_differs(found)
        printed = lines is not None
        said["print"] = lines or []
    return printed, (f"{where}: {line}" for where, lines in said.items() for line in lines)


def main(count: int = 2000, first: int = 0) -> int:
    """Print what differs, what the program refuses, and how often each feature was there."""
    begun = time.monotonic()
    with Pool(os.cpu_count()) as pool:
        every = []
        for each in pool.imap(compared, range(first, first + count), chunksize=4):
            every.append(each)
            for line in each.lines[:SHOWN]:
                print(f"yard {each.seed}: {line}", flush=True)
    _report(every)
    print(f"{time.monotonic() - begun:.0f} s")
    return 1 if any(each.lines for each in every) else 0


def _report(every: list[Compared]) -> None:
    features = Counter(name for each in every for name in each.features)
    refused = Counter(code for each in every for code in each.refused)
    for name, number in features.most_common():
        print(f"{number:6} {name}")
    for code, number in refused.most_common():
        print(f"{number:6} refused: {code}")
    accepted = [each for each in every if not each.refused]
    printed = Counter(each.printed for each in every)
    print(
        f"{len(every)} yards: {len(accepted)} without errors and compared, "
        f"{printed[True]} of them printed and read back, {printed[False]} without room on a card; "
        f"{sum(bool(each.lines) for each in every)} told otherwise than the joints say"
    )


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
