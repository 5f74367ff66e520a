"""Make a campus of any size, and time each stage as it grows: `python tests/benchmarks/campus.py`.

Each controller has 48 stations on two home runs: one of flagged singles past eight boxes of three,
one that changes to singles at a splice box.  Twice the stations should take twice the time.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import Any
from unittest.mock import patch

sys.path.insert(0, str(Path(__file__).parents[2]))

import cardgen.examine
from cardgen.checks import CHECKS

STAGES = ("load_text", "make_up", "Network", "trace", "StepTable", "read_all", "run_all", "check")
SIZES = (2000, 4000, 8000)
PER_CONTROLLER = 48
PER_BOX = 3
SLOWEST = 8  # checks to name

_HEAD = """\
job: {code: CAMP-1, site: Campus, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 19 V}
"""


def campus(stations: int) -> str:
    """A job of at least so many stations."""
    controllers = [f"A{n}" for n in range(1, -(-stations // PER_CONTROLLER) + 1)]
    sections: dict[str, list[str]] = {
        key: [] for key in ("controllers", "cables", "boxes", "stations", "spares")
    }
    for controller in controllers:
        for section, line in _controller(controller):
            sections[section].append(f"  {line}\n")
    return _HEAD + "".join(f"{key}:\n{''.join(lines)}" for key, lines in sections.items())


def _controller(name: str) -> Iterator[tuple[str, str]]:
    common = f"common: [{name}-N white, {name}-S white, {name}-T white]"
    yield (
        "controllers",
        f"{name}: {{place: house {name}, supply: 24 V AC, stations: 48, coil: usual, {common}}}",
    )
    north = [f"{name}-N{n}" for n in range(1, 9)]
    south = [f"{name}-S{n}" for n in range(1, 10)]
    for cable, first, places in (
        ("N", 1, [name, *north]),
        ("S", 25, [name, south[0]]),
        ("T", 25, south),
    ):
        run = places[0] + "".join(f", 60 ft, {box}" for box in places[1:])
        singles = (
            f"{{color: red, gauge: 14 AWG, flags: {first} to {first + 23}}}, "
            "{color: white, gauge: 12 AWG}, {color: orange, gauge: 14 AWG, flags: [SP-1, SP-2]}"
        )
        yield (
            "cables",
            f"{name}-{cable}: {{singles: [{singles}], band: {cable} {name}, run: [{run}]}}",
        )
        yield (
            "spares",
            f"{name}-{cable}-SP: {{conductor: {name}-{cable} orange SP-1, to: {places[-1]}}}",
        )
    for box in (*north, south[0], *south[1:]):
        yield "boxes", f"{box}: {{place: spot {box}}}"
    for number in range(1, PER_CONTROLLER + 1):
        far = number > PER_CONTROLLER // 2
        box = (south[1:] if far else north)[(number - 1) % 24 // PER_BOX]
        cables = ("S", "T") if far else ("N",)
        hot = ", ".join(f"{name}-{cable} red {number}" for cable in cables)
        station = (
            f"{{controller: {name}, terminal: {number}, area: lawn, box: {box}, hot: [{hot}]}}"
        )
        yield "stations", f"{name}-{number:02d}: {station}"


def measured(stations: int) -> dict[str, float]:
    """Seconds of each stage, and of each check."""
    times: dict[str, float] = {}
    text = campus(stations)
    with ExitStack() as stack:
        for stage in STAGES:
            work = _timed(times, stage, getattr(cardgen.examine, stage))
            stack.enter_context(patch.object(cardgen.examine, stage, work))
        found = cardgen.examine.examine_text(text)
    worse = [p for p in found.problems if p.verdict.value != "note"]
    assert found.facts and not worse, worse[:3]
    facts = replace(found.facts)  # anew, so that the first check to need a thing pays for it
    for one in CHECKS:
        name = f"{one.__module__.rpartition('.')[2]}.{one.__name__}"
        _timed(times, f"check {name}", lambda one=one: list(one(facts)))()
    return times


def _timed(times: dict[str, float], what: str, work: Callable[..., Any]) -> Callable[..., Any]:
    def run(*arguments: Any) -> Any:
        begun = time.perf_counter()
        result = work(*arguments)
        times[what] = time.perf_counter() - begun
        return result

    return run


def main() -> None:
    tables = {size: measured(size) for size in SIZES}
    print(f"{'seconds':44}" + "".join(f"{size:>9}" for size in SIZES) + "   growth, 2 is linear")
    stages = [what for what in tables[SIZES[0]] if what in STAGES]
    checks = [what for what in tables[SIZES[0]] if what.startswith("check ")]
    checks.sort(key=lambda what: -tables[SIZES[-1]][what])
    for what in (*stages, *checks[:SLOWEST]):
        row = [tables[size][what] for size in SIZES]
        growth = row[-1] / row[-2]
        print(f"{what:44}" + "".join(f"{s:9.3f}" for s in row) + f"{growth:9.1f}")


if __name__ == "__main__":
    main()
