"""How much more cable is ordered than the runs are long.

24 in at each valve: WSU construction standard 32 80 00, public.  10 % of the run, and a coil for
every 200 ft: common practice, no source; that the coil takes 24 in too is assumed.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable

from cardgen.job.model import Job
from cardgen.units import METRES_PER_FOOT, Length, LengthUnit, Metres, plain

EXTRA = 0.10
COIL = Length(2.0, LengthUnit.FEET)
COIL_EVERY = Length(200.0, LengthUnit.FEET)


def with_slack(legs: Iterable[Length], valves: int) -> Metres:
    """The legs of one cable or conductor that serves so many valves."""
    lengths = [leg.metres for leg in legs]
    coils = valves + sum(math.floor(each / COIL_EVERY.metres + 1e-9) for each in lengths)
    return Metres(sum(lengths) * (1 + EXTRA) + coils * COIL.metres)


def usual_unit(job: Job) -> LengthUnit:
    """Of most legs of the job; feet where they are as many."""
    legs = [stop.leg.value.unit for cable in job.cables.values() for stop in cable.run if stop.leg]
    counts = Counter(legs)
    more = counts[LengthUnit.METRES] > counts[LengthUnit.FEET]
    return LengthUnit.METRES if more else LengthUnit.FEET


def in_units(metres: Metres, usual: LengthUnit, *, up: bool) -> tuple[Length, Length]:
    """In the unit of the job and in the other one, to whole units, rounded up where ordered."""
    whole = math.ceil if up else round
    feet = Length(whole(metres / METRES_PER_FOOT - 1e-9), LengthUnit.FEET)
    metric = Length(whole(metres - 1e-9), LengthUnit.METRES)
    return (feet, metric) if usual is LengthUnit.FEET else (metric, feet)


def in_both(lengths: tuple[Length, Length]) -> str:
    """`694 ft (212 m)`."""
    one, other = lengths
    return f"{plain(one.amount)} {one.unit} ({plain(other.amount)} {other.unit})"
