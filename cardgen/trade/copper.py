"""Resistance of a copper conductor per length, from gauge, construction and temperature.

AWG: diameter d = 0.005 in x 92^((36 - n)/39) (ASTM B258, as quoted in NBS Handbook 100), solid
annealed copper of 100 % IACS conductivity, 0.017241 ohm mm2/m at 20 C (NBS Handbook 100).
mm2: IEC 60228:2004, tables 1 and 2, highest resistance of plain class 1 and 2 conductors; the
standard allows a stranded conductor of class 2 no more than a solid one.
"""

from __future__ import annotations

import math
from enum import StrEnum
from functools import cache

from cardgen.units import Celsius, Gauge, GaugeSystem, Length, Ohms, OhmsPerKilometer

READING_TEMPERATURE = Celsius(20.0)  # of everything that a meter is expected to read
RESISTIVITY_IACS = 0.017241  # ohm mm2/m at 20 C
AWG_COEFFICIENT = 0.00393  # per C, of the resistance at 20 C; annealed copper of 100 % IACS
STRANDED_AWG = 1.02  # stranded over solid, for the lay; ASTM B8 class B, from memory
_IEC_ZERO = 230.0  # C below zero: IEC 60228 annex, R(20) = R(t) x 250/(230 + t)
_MM_PER_INCH = 25.4  # exact

_IEC_60228_PLAIN = {0.5: 36.0, 0.75: 24.5, 1.0: 18.1, 1.5: 12.1, 2.5: 7.41, 4.0: 4.61}


class Construction(StrEnum):
    SOLID = "solid"
    STRANDED = "stranded"


def awg_area_mm2(number: float) -> float:
    """Cross-section of an AWG size in mm2."""
    diameter = 0.005 * math.pow(92, (36 - number) / 39) * _MM_PER_INCH
    return math.pi / 4 * diameter**2


@cache
def resistance(
    gauge: Gauge,
    celsius: Celsius = READING_TEMPERATURE,
    construction: Construction = Construction.SOLID,
) -> OhmsPerKilometer:
    """Ohms per kilometer of one conductor.

    A size that is not made is refused when a job is read, so it cannot come here.
    """
    if gauge.system is GaugeSystem.MM2:
        warm = (_IEC_ZERO + celsius) / (_IEC_ZERO + READING_TEMPERATURE)
        return OhmsPerKilometer(_IEC_60228_PLAIN[gauge.size] * warm)
    warm = 1 + AWG_COEFFICIENT * (celsius - READING_TEMPERATURE)
    lay = STRANDED_AWG if construction is Construction.STRANDED else 1.0
    return OhmsPerKilometer(1000 * RESISTIVITY_IACS / awg_area_mm2(gauge.size) * warm * lay)


def at_temperature(at_20: OhmsPerKilometer, celsius: Celsius) -> OhmsPerKilometer:
    """A resistance given at 20 C, at another temperature; annealed copper of 100 % IACS."""
    return OhmsPerKilometer(at_20 * (1 + AWG_COEFFICIENT * (celsius - READING_TEMPERATURE)))


def of_conductor(
    gauge: Gauge | None,
    construction: Construction,
    at_20: OhmsPerKilometer | None,
    celsius: Celsius = READING_TEMPERATURE,
) -> OhmsPerKilometer | None:
    """Ohms per kilometer: from what its data sheet gives at 20 C, or else from the tables.

    None where neither that nor the gauge is known.
    """
    if at_20 is not None:
        return at_temperature(at_20, celsius)
    return None if gauge is None else resistance(gauge, celsius, construction)


def of_pigtail(gauge: Gauge, length: Length | None, celsius: Celsius = READING_TEMPERATURE) -> Ohms:
    """Ohms of a short wire; none where its length is not said, as no meter would show them."""
    if length is None:
        return Ohms(0.0)
    return Ohms(resistance(gauge, celsius) * length.meters / 1000)
