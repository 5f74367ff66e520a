"""Put faults into random yards, measure them with ngspice, and see what a diagnosis makes of it.

`python -m tests.benchmarks.diagnosis 40` takes 40 yards for each kind of fault and prints tables:
true place kept, places kept, after advised readings, pairs, sound yards, advice against halving,
time.  `--misses` tells each case in which the true place was lost; `--kind "hot open"` takes one
kind, `--first 7` begins at a seed.  The same seeds give the same cases.
"""

from __future__ import annotations

import argparse
import random
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from statistics import mean

from tests.benchmarks.diagnosis_misses import told
from tests.diagnosis.advice import Stand, followed, halved
from tests.diagnosis.cases import Case, case_of
from tests.diagnosis.kinds import KINDS, STRANGE
from tests.diagnosis.scoring import Shown, is_kept, names

FEW = 3  # places, that somebody is sent to without another reading
SIZES = (24, 108, 200)


@dataclass(slots=True)
class Tally:
    """Of one kind of fault.

    Attributes:
        stands: of each case that a walk can show, after the walk and each advised reading.
        right: of those that it cannot: called healthy, or the true place kept.
    """

    stands: list[list[Stand]] = field(default_factory=list)
    healthy: int = 0
    right: dict[Shown, list[bool]] = field(default_factory=lambda: {s: [] for s in Shown})
    readings: list[tuple[int, int]] = field(default_factory=list)  # advised, by halving

    def after(self, readings: int) -> Iterator[Stand]:
        """Who has one place before that stays there."""
        return (stands[min(readings, len(stands) - 1)] for stands in self.stands)

    def row(self) -> str:
        cells = [f"{len(self.stands):5}", _share(s.is_true for s in self.after(0))]
        for readings in (0, 1, 2):
            few = (s.is_true and s.places <= FEW for s in self.after(readings))
            kept = [s.places for s in self.after(readings)]
            cells += [_share(few), f"{mean(kept):6.1f}" if kept else " " * 6]
        cells += [_share(s.is_true for s in self.after(2)), f"{self.healthy:6}"]
        cells += [_share(self.right[Shown.FAINT]), _share(self.right[Shown.HIDDEN])]
        return " ".join(cells)


HEAD = (
    "kind of fault               n   kept  <=3  places  <=3  places  <=3  places  kept  called"
    "  faint hidden\n"
    "                                walk  walk   walk    1       1    2       2     2 healthy"
    "  right  right"
)


def _share(values: Iterator[bool] | Sequence[bool]) -> str:
    found = list(values)
    return f"{100 * sum(found) / len(found):5.0f}" if found else "    -"


def tally_of(kind: str, seeds: range, misses: bool) -> Tally:
    tally = Tally()
    for case in _cases([kind], seeds):
        seen = case.shown
        if seen is not Shown.CLEAR:
            diagnosis = case.diagnosed()
            kept = is_kept(case.ground.ways, diagnosis, case.faults[0])
            tally.right[seen].append(kept or diagnosis.is_healthy)
            continue
        before = len(case.readings)
        stands = list(followed(case))
        tally.stands.append(stands)
        tally.healthy += stands[0].places == 0
        halves = halved(case)
        if halves is not None and stands[-1].is_true:
            tally.readings.append((len(stands) - 1, halves))
        if misses and not all(stand.is_true for stand in stands):
            print(told(case, stands, before))
    return tally


def _cases(kinds: Sequence[str], seeds: range) -> Iterator[Case]:
    for seed in seeds:
        case = case_of(seed, kinds)
        if case is not None:
            yield case


# -- pairs, sound yards, time ----------------------------------------------------------------------


def pairs_kept(seeds: range, misses: bool) -> tuple[int, int, int]:
    """Pairs that a walk shows; both said at once; both found, one after the other is mended."""
    count = at_once = in_turn = 0
    for seed in seeds:
        kinds = random.Random(f"pair {seed}").sample(list(KINDS), 2)
        case = case_of(seed, kinds)
        if case is None or any(case.mended(f).shown is not Shown.CLEAR for f in case.faults):
            continue
        count += 1
        ways, diagnosis = case.ground.ways, case.diagnosed()
        both = any(
            all(names(ways, suspect, fault) for fault in case.faults)
            for suspect in diagnosis.suspects
        )
        found = [f for f in case.faults if is_kept(ways, diagnosis, f)]
        turns = [case.mended(first) for first in found]
        after = [is_kept(ways, turn.diagnosed(), turn.faults[0]) for turn in turns]
        at_once += both
        in_turn += both or any(after)
        if misses and not (both or any(after)):
            print(told(case, [], len(case.readings)))
    return count, at_once, in_turn


def sound_called_healthy(seeds: range, misses: bool) -> tuple[int, int]:
    count = healthy = 0
    for case in _cases([], seeds):
        count += 1
        is_healthy = case.diagnosed().is_healthy
        healthy += is_healthy
        if misses and not is_healthy:
            print(told(case, [], len(case.readings)))
    return count, healthy


def seconds(stations: int, kind: str) -> float:
    """The slowest of three."""
    found = [case_of(seed, [kind], stations) for seed in range(3)]
    times = []
    for case in (case for case in found if case is not None):
        begun = time.perf_counter()
        case.diagnosed()
        times.append(time.perf_counter() - begun)
    return max(times)


# -- tables ----------------------------------------------------------------------------------------


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("yards", type=int, nargs="?", default=20)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--kind", choices=[*KINDS, *STRANGE, "pairs", "sound", "time"])
    parser.add_argument("--misses", action="store_true")
    options = parser.parse_args()
    seeds = range(options.first, options.first + options.yards)
    wanted = [options.kind] if options.kind else [*KINDS, *STRANGE, "pairs", "sound", "time"]
    tallies = {}
    if any(kind in (*KINDS, *STRANGE) for kind in wanted):
        print(HEAD)
    for kind in wanted:
        if kind in (*KINDS, *STRANGE):
            tallies[kind] = tally_of(kind, seeds, options.misses)
            print(f"{kind:24}{tallies[kind].row()}", flush=True)
    _print_all({kind: tally for kind, tally in tallies.items() if kind in KINDS})
    if "pairs" in wanted:
        count, at_once, in_turn = pairs_kept(seeds, options.misses)
        print(f"\npairs {count}: both named {at_once}, or one mended and then the other {in_turn}")
    if "sound" in wanted:
        count, healthy = sound_called_healthy(seeds, options.misses)
        print(f"\nsound walks {count}, called healthy {healthy}")
    if "time" in wanted:
        print("\nseconds for one diagnosis, slowest of three")
        for kind in ("common open", "hots touch", "wrong reading"):
            print(f"{kind:24}" + "".join(f"{seconds(n, kind):8.2f} ({n})" for n in SIZES))


def _print_all(tallies: dict[str, Tally]) -> None:
    if not tallies:
        return
    whole = Tally()
    for tally in tallies.values():
        whole.stands += tally.stands
        whole.readings += tally.readings
        whole.healthy += tally.healthy
        for seen, values in tally.right.items():
            whole.right[seen] += values
    print(f"{'all':24}{whole.row()}")
    print("\nreadings after the walk until one place is left: as advised, by always halving")
    for kind, tally in {**tallies, "all": whole}.items():
        if tally.readings:
            advised, halves = zip(*tally.readings, strict=True)
            print(f"{kind:24}{len(advised):5}{mean(advised):8.2f}{mean(halves):8.2f}")


if __name__ == "__main__":
    main()
