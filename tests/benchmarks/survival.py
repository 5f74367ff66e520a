"""Measure which QR symbol survives best in its frame: `python tests/benchmarks/survival.py`.

For each frame and each candidate (level x version) the printed picture is damaged in a seeded way
and read by three decoders that share no code.  A score is the share of damaged pictures that were
read, over all decoders, for each kind of damage.  `--table` prints the scores as
`survival_scores.py` keeps them.  Same run, same numbers.
"""

from __future__ import annotations

import argparse
import zlib
from collections.abc import Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial

import cv2
import numpy as np

from cardgen.layout import load_layouts
from cardgen.layout.face import Show
from cardgen.layout.geometry import MM_PER_INCH
from cardgen.layout.qr import encode, module_size
from tests.benchmarks.damage import DAMAGES, EDGE, SCALE, Picture, photograph, thermal
from tests.benchmarks.decoders import readers
from tests.benchmarks.survival_scores import total


@dataclass(frozen=True, slots=True, order=True)
class Room:
    """The square that a face leaves for a code, and the printer's dots."""

    side: float
    dpi: float

    @property
    def dot(self) -> float:
        return MM_PER_INCH / self.dpi


# Hosts of several lengths: no symbol holds all; several keys and boxes, because no reader likes all
# patterns of modules alike.  With the second host they are as long as those of the samples.
HOSTS = ("J.EXAMPLE", "JOBS.EXAMPLE.COM", "RECORDS.OF-OUR-JOBS.EXAMPLE.COM/SITES")
STEMS = ("7Q2F9KX4M3T8/VB-", "K5T0VD83XB6Z/SB-", "9RM3E7PB2HX5/VB-", "4C8NW2T6RJ9H/PB-")
ADDRESSES = {
    host: tuple(f"HTTPS://{host}/{stem}{n}" for n in (1, 4, 7, 9) for stem in STEMS)
    for host in HOSTS
}
CANDIDATES = (("M", 2), ("M", 3), ("M", 4), ("Q", 3), ("Q", 4), ("H", 3), ("H", 4))
# On coarse dots where a symbol of version 3 or 4 gets one dot more a module, from 4 on; on fine
# ones, which fill any frame, so that no frame of a face lies farther from the nearest than 6 %.
ROOMS = (
    *(Room(side, 203.2) for side in (18.5, 20.5, 23.125, 25.625, 27.75, 30.75)),
    *(Room(side, 600) for side in (19, 21.3, 23.9, 26.8, 30, 33.6, 37.6)),
)
COARSE = 250  # dots per inch; a printer of fewer is taken for a thermal one
TRIALS = 20


@dataclass(frozen=True, slots=True)
class Candidate:
    """One way to fill a room; `dots` is the side of a module."""

    level: str
    version: int
    dots: int

    def __str__(self) -> str:
        return f"{self.version}-{self.level}, {self.dots} dots"


Score = Mapping[str, float]  # by damage


# ---- what is compared ------------------------------------------------------------------------


def frames() -> set[Room]:
    """Of all shipped faces on all stock they go on."""
    layouts, _ = load_layouts()
    return {
        Room(min(block.side or column.frame.width, column.frame.width), stock.dots_per_inch)
        for face in layouts.faces
        for stock in layouts.stocks.values()
        if stock.format == face.format
        for column in face.columns
        for block in column.blocks
        if block.show in (Show.CODE, Show.SYMBOL)
    }


def candidates(room: Room) -> list[Candidate]:
    """Each level in the versions that are worth a comparison, in the largest modules."""
    return [
        Candidate(level, version, round(module / room.dot))
        for level, version in CANDIDATES
        if (module := module_size(17 + 4 * version, room.side, room.dot))
    ]


def addresses(candidate: Candidate) -> tuple[str, ...]:
    """The longest that the symbol holds."""
    holding = (
        a for a in reversed(ADDRESSES.values()) if encode(a[0], candidate.level, candidate.version)
    )
    return next(holding)


# ---- one picture ------------------------------------------------------------------------------


def printed(room: Room, candidate: Candidate, address: str, chance: np.random.Generator) -> Picture:
    """The frame as it leaves the printer, with a strip of card and its neighbors' ink around."""
    made = encode(address, candidate.level, candidate.version)
    assert made is not None
    side = round(room.side / room.dot)
    around = round(EDGE * side)
    card = np.full((side + 2 * around,) * 2, 235, np.float32)
    card[: around // 2, ::3] = 20  # rules and letters outside the frame
    card[around:, : around // 2] = np.where(np.arange(side + around) % 40 < 18, 20, 235)[:, None]
    modules = np.where(np.array([*map(list, made.rows)]), 20, 235)
    symbol = np.kron(modules, np.ones((candidate.dots,) * 2))
    size = symbol.shape[0]
    start = around + (side - size) // 2
    card[start : start + size, start : start + size] = symbol
    worn = thermal(card, chance) if room.dpi < COARSE else card
    seen = round(len(card) * room.dot * SCALE)
    way = cv2.INTER_AREA if room.dot * SCALE < 1 else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(worn, (seen, seen), interpolation=way), np.float32)


# ---- scores -----------------------------------------------------------------------------------


def survival(candidate: Candidate, room: Room, trials: int = TRIALS) -> Score:
    """The share read by each kind of damage, over all its strengths and all decoders."""
    texts = addresses(candidate)
    score: dict[str, float] = {}
    for name, (damage, strengths) in DAMAGES.items():
        read: list[bool] = []
        for strength in strengths:
            for trial in range(trials):
                chance = np.random.default_rng([zlib.crc32(name.encode()), trial])
                address = texts[trial % len(texts)]
                picture = damage(printed(room, candidate, address, chance), strength, chance)
                read += readers(photograph(picture, chance), address)
        score[name] = sum(read) / len(read)
    return score


def measure(room: Room, which: Sequence[Candidate], trials: int) -> dict[Candidate, Score]:
    """Every candidate in that room, on all processors."""
    with ProcessPoolExecutor(initializer=partial(cv2.setNumThreads, 1)) as pool:
        scores = pool.map(partial(survival, room=room, trials=trials), which)
        return dict(zip(which, scores, strict=True))


def percents(score: Score) -> tuple[int, ...]:
    return tuple(round(100 * score[name]) for name in DAMAGES)


# ---- what is printed ---------------------------------------------------------------------------


def show(room: Room, found: Mapping[Candidate, Score]) -> None:
    """One line for each candidate, best first."""
    print(f"\n{room.side:g} mm at {room.dpi:g} dots per inch", flush=True)
    print(f"{'':14}{'total':>6}" + "".join(f"{name:>10}" for name in DAMAGES))
    for one in sorted(found, key=lambda c: -total(percents(found[c]))):
        shares = percents(found[one])
        print(f"{one!s:14}{total(shares):6.1f}" + "".join(f"{share:10}" for share in shares))


def table(measured: Mapping[Room, Mapping[Candidate, Score]]) -> None:
    """The scores in percent, as the data table of the program has them."""
    for room, found in measured.items():
        print(f"    ({room.dpi < COARSE}, {room.side:g}): {{")
        for one, score in found.items():
            print(f'        ("{one.level}", {one.version}): {percents(score)},')
        print("    },")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--table", action="store_true", help="print it as the program keeps it")
    parser.add_argument("--trials", type=int, default=TRIALS)
    options = parser.parse_args()
    everything = {}
    for room in ROOMS:
        everything[room] = measure(room, candidates(room), options.trials)
        show(room, everything[room])
    if options.table:
        table(everything)


if __name__ == "__main__":
    main()
