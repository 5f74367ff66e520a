"""Resistance of a copper conductor per length, from its gauge, at 20 C.

AWG: diameter d = 0.005 in x 92^((36 - n)/39) (ASTM B258, as quoted in NBS Handbook 100), solid
annealed copper of 100 % IACS conductivity, 0.017241 ohm mm2/m at 20 C (NBS Handbook 100).
mm2: IEC 60228:2004, tables 1 and 2, highest resistance of plain class 1 and 2 conductors.
"""

from __future__ import annotations

import math

from cardgen.units import Celsius, Gauge, GaugeSystem, OhmsPerKilometre

READING_TEMPERATURE = Celsius(20.0)
RESISTIVITY_IACS = 0.017241  # ohm mm2/m at 20 C
_MM_PER_INCH = 25.4  # exact

_IEC_60228_PLAIN = {0.5: 36.0, 0.75: 24.5, 1.0: 18.1, 1.5: 12.1, 2.5: 7.41, 4.0: 4.61}


def awg_area_mm2(number: float) -> float:
    """Cross-section of an AWG size in mm2."""
    diameter = 0.005 * math.pow(92, (36 - number) / 39) * _MM_PER_INCH
    return math.pi / 4 * diameter**2


def resistance(gauge: Gauge) -> OhmsPerKilometre:
    """Ohms per kilometre of one conductor at 20 C.

    A size that is not made is refused when a job is read, so it cannot come here.
    """
    if gauge.system is GaugeSystem.AWG:
        return OhmsPerKilometre(1000 * RESISTIVITY_IACS / awg_area_mm2(gauge.size))
    return OhmsPerKilometre(_IEC_60228_PLAIN[gauge.size])
