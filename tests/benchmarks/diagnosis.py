"""Put faults into random yards, measure them with ngspice, and see what a diagnosis makes of it.

`python -m tests.benchmarks.diagnosis 40` takes 40 yards for each kind of fault and prints tables:
true place kept, places kept, after one and two advised readings, advice against halving, pairs,
sound yards (`--kind sound 1000`), time.  `--kind "hot open"` takes one kind, `--first 7` begins at
a seed, `--stations 12` makes yards of one size, `--misses` tells each case in which the true place
was lost.  A seed is always one case.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter
from collections.abc import Callable
from statistics import mean

from tests.diagnosis.kinds import KINDS, STRANGE
from tests.diagnosis.misses import told
from tests.diagnosis.tally import HEAD, Found, Tally, cases, pair_found, pair_of, tally_of

SIZES = (24, 108, 200)  # stations of one controller's yard


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("yards", type=int, nargs="?", default=20)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--kind", choices=[*KINDS, *STRANGE, *OTHER])
    parser.add_argument("--stations", type=int)
    parser.add_argument("--misses", action="store_true")
    options = parser.parse_args()
    seeds = range(options.first, options.first + options.yards)
    wanted = [options.kind] if options.kind else [*KINDS, *STRANGE, *OTHER]
    kinds = [kind for kind in wanted if kind not in OTHER]
    if kinds:
        print_kinds(kinds, seeds, print if options.misses else None, options.stations)
    for kind in wanted:
        if kind in OTHER:
            OTHER[kind](seeds, options.misses)


def print_kinds(
    kinds: list[str], seeds: range, tell: Callable[[str], None] | None, stations: int | None
) -> None:
    print(HEAD)
    tallies = {}
    for kind in kinds:
        tallies[kind] = tally_of(kind, seeds, tell, stations)
        print(f"{kind:24}{tallies[kind].row()}", flush=True)
    known = {kind: tally for kind, tally in tallies.items() if kind in KINDS}
    known["all but the strange"] = Tally.of(known.values())
    print(f"{'all but the strange':24}{known['all but the strange'].row()}")
    print("\nreadings after the walk until one place is left: as advised, by always halving")
    for kind, tally in known.items():
        if tally.readings:
            advised, halves = zip(*tally.readings, strict=True)
            print(f"{kind:24}{len(advised):5}{mean(advised):8.2f}{mean(halves):8.2f}")


def print_pairs(seeds: range, misses: bool) -> None:
    count: Counter[Found] = Counter()
    for case in filter(None, map(pair_of, seeds)):
        found = pair_found(case)
        count[found] += 1
        if misses and found is Found.NOT:
            print(told(case, [], len(case.readings)))
    kept = count[Found.AT_ONCE] + count[Found.IN_TURN]
    print(f"\npairs {count.total()}: kept {kept}, of these {count[Found.AT_ONCE]} named at once")


def print_sound(seeds: range, misses: bool) -> None:
    count = healthy = 0
    for case in cases([], seeds):
        count += 1
        is_healthy = case.diagnosed().is_healthy
        healthy += is_healthy
        if misses and not is_healthy:
            print(told(case, [], len(case.readings)))
    print(f"\nsound walks {count}, called healthy {healthy}")


def print_times(_seeds: range, _misses: bool) -> None:
    """Of three yards the slowest."""
    print("\nprocessor seconds for one diagnosis (stations), slowest of three")
    for kind in ("common open", "hot resistive", "hots touch", "wrong reading"):
        row = "".join(f"{seconds(n, kind):8.2f} ({n})" for n in SIZES)
        print(f"{kind:24}{row}", flush=True)


def seconds(stations: int, kind: str) -> float:
    times = []
    for case in cases([kind], range(3), stations):
        begun = time.process_time()
        case.diagnosed()
        times.append(time.process_time() - begun)
    return max(times)


OTHER = {"pairs": print_pairs, "sound": print_sound, "time": print_times}


if __name__ == "__main__":
    main()
