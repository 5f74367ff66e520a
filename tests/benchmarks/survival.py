"""Measure which QR symbol survives best in its frame: `python tests/benchmarks/survival.py`.

For each frame of the shipped faces and each candidate (level x version x module, wider quiet
zone, two smaller symbols) the printed picture is damaged in a seeded way and read by three decoders
that share no code.  A score is the share of damaged pictures that were read, over all decoders.
`--table` prints the scores as `cardgen/layout/survival.py` keeps them.  Same run, same numbers.
"""

from __future__ import annotations

import argparse
import math
import zlib
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial

import cv2
import numpy as np

from cardgen.layout import load_layouts
from cardgen.layout.face import Show
from cardgen.layout.geometry import MM_PER_INCH
from cardgen.layout.qr import QUIET, encode, module_size
from cardgen.layout.survival import COARSE
from tests.benchmarks.damage import DAMAGES, SCALE, Picture, photograph, thermal
from tests.benchmarks.decoders import readers


@dataclass(frozen=True, slots=True, order=True)
class Room:
    """The square that a face leaves for a code, and the printer's dots."""

    side: float
    dpi: float

    @property
    def dot(self) -> float:
        return MM_PER_INCH / self.dpi


# 42 letters, as in the samples; several, because no reader likes all patterns of modules alike.
STEMS = ("7Q2F9KX4M3T8/VB-", "K5T0VD83XB6Z/SB-", "9RM3E7PB2HX5/VB-", "4C8NW2T6RJ9H/PB-")
ADDRESSES = tuple(f"HTTPS://JOBS.EXAMPLE.COM/{stem}{n}" for n in (1, 4, 7, 9) for stem in STEMS)
SHORT = tuple(address.replace("JOBS.EXAMPLE.COM", "J.EXAMPLE") for address in ADDRESSES)
# Level and version; the samples need at least 3-M, 3-Q and 4-H, shorter addresses go into 3-H.
CANDIDATES = (("H", 3), ("H", 4), ("H", 5), ("H", 6), ("Q", 3), ("Q", 4), ("M", 3))
WIDER = (("H", 3), ("H", 4), ("Q", 3), ("M", 3))  # also with a wider quiet zone
TWICE = (("H", 4), ("Q", 3), ("M", 3))  # also as two smaller symbols on the same area
# Measured for all frames of the shipped faces, each of which is like one of these.
ROOMS = (
    Room(21, 203.2), Room(28, 203.2),
    Room(19, 600), Room(21.5, 600), Room(24.5, 600), Room(27.8, 600), Room(31.5, 600),
    Room(37, 600),
)  # fmt: skip
AROUND = 3.0  # mm of the card that are seen round the frame
TRIALS = 12


@dataclass(frozen=True, slots=True)
class Candidate:
    """One way to fill a room.

    Attributes:
        dots: the side of a module.
        less: by how many dots that is less than the room would allow.
        copies: how many of the symbol; two stand side by side on a strip of the frame's area, which
            is as large as two can be on it.
    """

    level: str
    version: int
    dots: int
    less: int = 0
    copies: int = 1

    def __str__(self) -> str:
        twice = "2 x " if self.copies == 2 else ""
        wider = ", wider margin" if self.less else ""
        return f"{twice}{self.version}-{self.level}, {self.dots} dots{wider}"


Score = Mapping[str, float]  # by damage with its strength


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


def alike(one: Room, other: Room) -> bool:
    """Within 6 %, and both on a printer of coarse dots or both of fine ones."""
    same = (one.dpi < COARSE) is (other.dpi < COARSE)
    return same and abs(one.side / other.side - 1) <= 0.06


def candidates(room: Room) -> list[Candidate]:
    """Each level in its smallest version and some larger, each also with a wider margin."""
    found = []
    for level, version in CANDIDATES:
        side = 17 + 4 * version
        module = module_size(side, room.side, room.dot)
        if module is not None:
            dots = round(module / room.dot)
            found.append(Candidate(level, version, dots))
            if (level, version) in WIDER and module_size(side, room.side, room.dot, less_dots=1):
                found.append(Candidate(level, version, dots - 1, less=1))
        # Below the least module on purpose: to see what two symbols on that area would be worth.
        dots = int(room.side / math.sqrt(2) / room.dot / (side + 2 * QUIET))
        if (level, version) in TWICE and dots >= 2:
            found.append(Candidate(level, version, dots, copies=2))
    return found


def addresses(candidate: Candidate) -> tuple[str, ...]:
    """Those of the samples, or shorter ones where the symbol is too small for them."""
    return ADDRESSES if holds_samples(candidate) else SHORT


def holds_samples(candidate: Candidate) -> bool:
    return encode(ADDRESSES[0], candidate.level, candidate.version) is not None


def plain(found: Iterable[Candidate]) -> Candidate:
    """What everyone prints: level M, the smallest version, as large as it goes."""
    return min((c for c in found if _is_usual(c)), key=lambda c: c.version)


def _is_usual(candidate: Candidate) -> bool:
    one = candidate.copies == 1 and not candidate.less
    return one and candidate.level == "M" and holds_samples(candidate)


# ---- one picture ------------------------------------------------------------------------------


def printed(room: Room, candidate: Candidate, address: str, chance: np.random.Generator) -> Picture:
    """The frame as it leaves the printer, with a strip of card and its neighbors' ink around."""
    made = encode(address, candidate.level, candidate.version)
    assert made is not None
    around = round(AROUND / room.dot)
    side = round(room.side / math.sqrt(candidate.copies) / room.dot)  # of the square of each
    card = np.full((side + 2 * around, candidate.copies * side + 2 * around), 235, np.float32)
    card[: around // 2, ::3] = 20  # rules and letters outside the frame
    card[around:, : around // 2] = np.where(np.arange(side + around) % 40 < 18, 20, 235)[:, None]
    symbol = np.kron(np.where(np.array(made.rows), 20, 235), np.ones((candidate.dots,) * 2))
    size = symbol.shape[0]
    y = around + (side - size) // 2
    for copy in range(candidate.copies):
        x = y + copy * side
        card[y : y + size, x : x + size] = symbol
    worn = thermal(card, chance) if room.dpi < COARSE else card
    high, wide = (round(dots * room.dot * SCALE) for dots in card.shape)
    way = cv2.INTER_AREA if room.dot * SCALE < 1 else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(worn, (wide, high), interpolation=way), np.float32)


# ---- scores -----------------------------------------------------------------------------------


def survival(candidate: Candidate, room: Room, trials: int = TRIALS) -> Score:
    """The share read by each kind and strength of damage, and by reader under its name."""
    score: dict[str, float] = {}
    by_reader: dict[str, list[bool]] = defaultdict(list)
    texts = addresses(candidate)
    for name, (damage, strengths) in DAMAGES.items():
        for strength in strengths:
            read: list[bool] = []
            for trial in range(trials):
                chance = np.random.default_rng([zlib.crc32(name.encode()), trial])
                address = texts[trial % len(texts)]
                picture = damage(printed(room, candidate, address, chance), strength, chance)
                each = list(readers(photograph(picture, chance), address, candidate.copies))
                read += each
                for reader, one in zip(("zxing", "zbar", "opencv"), each, strict=True):
                    by_reader[reader].append(one)
            score[f"{name} {strength:g}"] = sum(read) / len(read)
    shares = {reader: sum(all_) / len(all_) for reader, all_ in by_reader.items()}
    return {**score, **shares, "all": sum(shares.values()) / len(shares)}


def measure(room: Room, which: Sequence[Candidate], trials: int) -> dict[Candidate, Score]:
    """Every candidate in that room, on all processors."""
    with ProcessPoolExecutor(initializer=partial(cv2.setNumThreads, 1)) as pool:
        scores = pool.map(partial(survival, room=room, trials=trials), which)
        return dict(zip(which, scores, strict=True))


# ---- what is printed ---------------------------------------------------------------------------


def show(room: Room, found: Mapping[Candidate, Score]) -> None:
    """One line for each candidate, best first; then level M and the best by damage."""
    print(f"\n{room.side:g} mm at {room.dpi:g} dots per inch", flush=True)
    ranked = sorted(found, key=lambda c: -found[c]["all"])
    print(f"{'':28}{'all':>6}{'ZXing':>8}{'ZBar':>8}{'OpenCV':>8}")
    for one in ranked:
        shares = "".join(f"{found[one][r]:8.0%}" for r in ("zxing", "zbar", "opencv"))
        print(f"{one!s:28}{found[one]['all']:6.1%}{shares}")
    usual = plain(found)
    best = next(c for c in ranked if c.copies == 1 and holds_samples(c))
    print(f"{'damage':28}{usual!s:>14}{best!s:>14}")
    for name in list(found[best])[:-4]:
        print(f"{name:28}{found[usual][name]:14.0%}{found[best][name]:14.0%}")


def table(measured_: Mapping[Room, Mapping[Candidate, Score]]) -> None:
    """The scores in percent, as the data table of the program has them."""
    for room, found in measured_.items():
        coarse = room.dpi < COARSE
        print(f"    ({coarse}, {room.side:g}): {{")
        for one, score in found.items():
            if one.copies == 1:
                key = f'("{one.level}", {one.version}, {one.less})'
                print(f"        {key}: {100 * score['all']:.1f},")
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
