"""Cut pieces of wire from reels: which reels to order, and what is left over."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from cardgen.light_dataclass import dataclass
from cardgen.units import Length, Meters

NEAR = 1e-6  # m; a piece as long as a reel fits on it


@dataclass(frozen=True, slots=True, kw_only=True)
class Reels:
    """The reels to order, shortest first, each with how many.

    Attributes:
        left_over: what is on them and not cut.
        too_long: how many pieces are longer than the longest reel, and so need a splice.
    """

    order: tuple[tuple[Length, int], ...]
    left_over: Meters
    too_long: int

    @property
    def meters(self) -> Meters:
        return Meters(sum(reel.meters * number for reel, number in self.order))


def cut_from(reels: Sequence[Length], pieces: Iterable[Meters]) -> Reels:
    """Long pieces first, each from the first reel on which it has room; then shorter reels do.

    That is good and quick to follow by hand, not proven the least.  No piece is made of two ends,
    but one that is longer than the longest reel.
    """
    lengths = sorted(reels, key=lambda reel: reel.meters)
    longest, wanted = lengths[-1], sorted(pieces, reverse=True)
    used: list[float] = []  # of each longest reel what is cut from it
    too_long = 0
    for length in wanted:
        left: float = length
        too_long += left > longest.meters + NEAR
        while left > longest.meters + NEAR:
            used.append(longest.meters)
            left -= longest.meters
        room = next((n for n, cut in enumerate(used) if cut + left <= longest.meters + NEAR), None)
        if room is None:
            used.append(left)
        else:
            used[room] += left
    chosen = [next(reel for reel in lengths if cut <= reel.meters + NEAR) for cut in used]
    counts = Counter(chosen)
    return Reels(
        order=tuple((reel, counts[reel]) for reel in lengths if counts[reel]),
        left_over=Meters(max(0.0, sum(reel.meters for reel in chosen) - sum(used))),
        too_long=too_long,
    )
