"""How far a coil reaches with a gauge, and which gauge a way needs: plain arithmetic at inrush.

longest run = volts that may be lost / (inrush x (ohms of hot + ohms of common per length))
"""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.trade.copper import READING_TEMPERATURE, resistance
from cardgen.units import Amperes, Celsius, Gauge, GaugeSystem, Meters, Volts

# Thinnest first; what a job may be advised to use.
AWG_STEPS = tuple(Gauge(float(n), GaugeSystem.AWG) for n in (20, 18, 16, 14, 12, 10))
MM2_STEPS = tuple(Gauge(s, GaugeSystem.MM2) for s in (0.5, 0.75, 1.0, 1.5, 2.5, 4.0))


def steps(like: Gauge | None) -> tuple[Gauge, ...]:
    """The gauges of the same system, thinnest first; in AWG where it is not known."""
    return MM2_STEPS if like is not None and like.system is GaugeSystem.MM2 else AWG_STEPS


def longest_run(
    loss: Volts,
    inrush: Amperes,
    hot: Gauge,
    common: Gauge,
    celsius: Celsius = READING_TEMPERATURE,
) -> Meters:
    """How far from controller to coil `loss` volts may be spread, with no other coil on."""
    per_kilometer = resistance(hot, celsius) + resistance(common, celsius)
    return Meters(1000 * loss / (inrush * per_kilometer))


def run_table(
    loss: Volts, inrush: Amperes, gauges: Iterable[Gauge], celsius: Celsius
) -> tuple[tuple[Gauge, Meters], ...]:
    """The longest run with hot and common of each gauge."""
    return tuple((g, longest_run(loss, inrush, g, g, celsius)) for g in gauges)
