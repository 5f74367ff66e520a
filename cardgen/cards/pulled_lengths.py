"""How much more cable is ordered than the runs are long.

24 in at each valve: WSU construction standard 32 80 00, public.  10 % of the run, and a coil for
every 200 ft: common practice, no source; that the coil takes 24 in too is assumed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from cardgen.units import Length, LengthUnit, Meters

EXTRA = 0.10
COIL = Length(2.0, LengthUnit.FEET)
COIL_EVERY = Length(200.0, LengthUnit.FEET)


def with_slack(legs: Iterable[float], valves: int) -> Meters:
    """The legs, in meters, of one cable or conductor that serves so many valves."""
    lengths = tuple(legs)
    coils = valves + sum(math.floor(each / COIL_EVERY.meters + 1e-9) for each in lengths)
    return Meters(sum(lengths) * (1 + EXTRA) + coils * COIL.meters)
