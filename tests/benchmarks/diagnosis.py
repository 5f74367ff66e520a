"""Put faults into random yards, measure them with ngspice, and see what a diagnosis makes of it.

`python -m tests.benchmarks.diagnosis 40` takes 40 yards for each kind of fault and prints tables:
true place kept, places kept, after one and two advised readings, advice against halving, pairs,
sound yards (`--kind sound 1000`), time (`--kind time 3`: the slowest of three seeds, by kind).
`--kind "hot open"` takes one kind, `--kind pairs 100` a hundred pairs, `--first 7` begins at a
seed, `--stations 12` makes yards of one size, `--misses` tells each case in which the true place
was lost.  A seed is always one case.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from itertools import islice
from statistics import mean

from tests.diagnosis.cases import Case
from tests.diagnosis.kinds import KINDS, STRANGE
from tests.diagnosis.misses import told
from tests.diagnosis.tally import HEAD, KEPT, Found, Tally, cases, pair_found, pairs_from, tally_of

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
            OTHER[kind](seeds, options.stations, options.misses)


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


def print_pairs(seeds: range, stations: int | None, misses: bool) -> None:
    """As many pairs as there are seeds, from the first seed on."""
    found: Counter[Found] = Counter()
    of_kind: dict[str, list[bool]] = defaultdict(list)
    for case in islice(pairs_from(seeds.start, stations), len(seeds)):
        how = pair_found(case)
        found[how] += 1
        for fault in case.faults:
            of_kind[fault.kind].append(how in KEPT)
        if misses and how not in KEPT:
            print(f"{how.name}\n{told(case, [], len(case.readings))}", flush=True)
    kept = sum(found[how] for how in KEPT)
    print(f"\npairs {found.total()}: kept {kept} ({100 * kept / found.total():.0f} %), of these")
    print(f"{found[Found.AT_ONCE]} named at once, {found[Found.IN_TURN]} in turn and so said")
    print(f"{found[Found.UNSAID]} in turn and not so said, {found[Found.NOT]} not")
    for kind in filter(of_kind.__contains__, KINDS):
        print(f"{kind:24}{sum(of_kind[kind]):5} of{len(of_kind[kind]):4}")


def print_sound(seeds: range, stations: int | None, misses: bool) -> None:
    count = healthy = 0
    for case in cases([], seeds, stations):
        count += 1
        is_healthy = case.diagnosed().is_healthy
        healthy += is_healthy
        if misses and not is_healthy:
            print(told(case, [], len(case.readings)))
    print(f"\nsound walks {count}, called healthy {healthy}")


def print_times(seeds: range, stations: int | None, _misses: bool) -> None:
    """Of each kind and of pairs the slowest of these seeds, those kinds first that take longest."""
    sizes = (stations,) if stations else SIZES
    times = {kind: [slowest(cases([kind], seeds, n)) for n in sizes] for kind in [*KINDS, *STRANGE]}
    times["pairs"] = [slowest(islice(pairs_from(seeds.start, n), len(seeds))) for n in sizes]
    print(f"\nprocessor seconds for one diagnosis (stations), slowest of {len(seeds)}")
    for kind in sorted(times, key=lambda kind: -max(times[kind])):
        row = "".join(f"{each:8.2f} ({n})" for each, n in zip(times[kind], sizes, strict=True))
        print(f"{kind:24}{row}")


def slowest(walked: Iterable[Case]) -> float:
    """Nothing where no yard has a place for the fault."""
    return max(map(seconds, walked), default=0.0)


def seconds(case: Case) -> float:
    begun = time.process_time()
    case.diagnosed()
    return time.process_time() - begun


OTHER = {"pairs": print_pairs, "sound": print_sound, "time": print_times}


if __name__ == "__main__":
    main()
