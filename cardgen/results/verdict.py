"""Turn one measured value and what the job expects there into a verdict: a name and its numbers.

Ohms, hot to common, both lifted at the controller, by the number of coils on the way:

    0        wire      wire + coil/3   wire + coil/2     wire + coil      wire + 2 coils      OL
    |--short--|--low--|----third----|------half------|-----within-----|--high--double--high--| open

Common practice, no source, but for the parallel coils.  What fits two of them is told as both,
and nothing is told that the value alone does not prove.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from cardgen.asbuilt import Band, BuiltValve, rounding
from cardgen.results.measured import Kind, Measured

COIL = 0.15  # of the coil's ohms; common practice, no source, as the printed band
METER = 1.0  # ohms, leads and contacts of the meter; common practice, no source
OPEN = 1000.0  # ohms; a meter that shows more might as well show OL; common practice, no source
CURRENT = 0.25  # of the expected current; assumed: coils of one sort differ by as much
SOUND, DOUBTFUL = 1.0, 0.1  # megohms to earth; common practice, no source


class Outcome(StrEnum):
    """`GOOD`: as expected.  `LOOK`: a person should look.  `UNKNOWN`: nothing can be told."""

    GOOD = "good"
    LOOK = "look"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """Attributes:
    name: of the words in the catalogue: `verdict.NAME` and `next.NAME`.
    values: what goes into them, numbers rounded as they are shown.
    line_voltage: nobody may be sent into the box with a meter just so.
    """

    name: str
    outcome: Outcome
    values: Mapping[str, str] = field(default_factory=dict)
    line_voltage: bool = False

    @property
    def next_name(self) -> str:
        """What to do: `next.NAME`."""
        return "line-voltage" if self.line_voltage and self.outcome is Outcome.LOOK else self.name


def verdict(measured: Measured, valve: BuiltValve) -> Finding:
    """What the value says by itself; `compare` says what several say together."""
    finding = _JUDGES[measured.kind](measured.value, valve)
    values = {"valve": valve.id, "box": valve.box, "controller": valve.controller}
    return Finding(
        name=finding.name,
        outcome=finding.outcome,
        values={**values, **finding.values},
        line_voltage=valve.line_voltage,
    )


def expected_band(kind: Kind, valve: BuiltValve) -> tuple[float, float] | None:
    """Between what `verdict` takes a value of that kind for good, as it is printed."""
    band = {Kind.CONTROLLER: valve.ohms, Kind.COIL: valve.coil}.get(kind)
    if valve.device or (valve.decoder is not None and kind is Kind.CONTROLLER):
        band = None
    if band is not None:
        return rounding.around(band)
    if kind in (Kind.VOLTS, Kind.MILLIAMPERES) and (valve.latching or valve.decoder is not None):
        return None
    if kind is Kind.VOLTS and valve.volts and not valve.line_voltage:
        return rounding.volts_around(*valve.volts)
    if kind is Kind.MILLIAMPERES and valve.milliamperes is not None:
        around = CURRENT * valve.milliamperes
        return valve.milliamperes - around, valve.milliamperes + around
    return (SOUND, math.inf) if kind is Kind.INSULATION else None


# ---- ohms at the controller ----------------------------------------------------------------


def _at_controller(value: float, valve: BuiltValve) -> Finding:
    if valve.device or valve.decoder is not None:
        return _unknown("ohms-mean-nothing")
    if value > OPEN:
        return _look("open")
    if valve.ohms is None or valve.coil is None:
        return _unknown("not-known")
    if is_within(value, valve.ohms):
        return _good("within", **_band(valve.ohms))
    if value > valve.ohms.high:
        return _above(value, valve.ohms, valve.coil, coils=1 + len(valve.others))
    return _below(value, valve.ohms, valve.coil, coils=1 + len(valve.others))


def _above(value: float, loop: Band, coil: Band, *, coils: int) -> Finding:
    wire = _wire(loop, coil, coils)
    extra = f"{value - loop.expected:.0f}"
    for fewer in range(1, coils):
        if _fits(value, wire, coil.expected / fewer):
            return _look("coils-missing", expected=str(coils), read=str(fewer), **_band(loop))
    if _fits(value, wire, 2 * coil.expected / coils):
        return _look("double", extra=extra, **_band(loop))
    return _look("high", extra=extra, **_band(loop))


def _below(value: float, loop: Band, coil: Band, *, coils: int) -> Finding:
    """The wire's own ohms are near enough `loop` less its coils, also where they lie apart."""
    wire = _wire(loop, coil, coils)
    share = f"{100 * value / wire:.0f}" if wire else ""
    if value < wire - METER:
        return _look("short-before", share=share, wire=f"{wire:.1f}", **_band(loop))
    if value <= wire + METER:
        return _look("short", wire=f"{wire:.1f}", **_band(loop))
    one_more = _fits(value, wire, coil.expected / (coils + 1))
    two_more = _fits(value, wire, coil.expected / (coils + 2))
    more = {"coils": str(coils + 1), "or_coils": str(coils + 2), "expected": str(coils)}
    if one_more and two_more:
        return _look("low-or-coils", **more, **_band(loop))
    if one_more:
        return _look("half" if coils == 1 else "coils-too-many", **more, **_band(loop))
    if two_more:
        return _look("third" if coils == 1 else "low-or-coils", **more, **_band(loop))
    return _look("low", wire=f"{wire:.1f}", **_band(loop))


def _wire(loop: Band, coil: Band, coils: int) -> float:
    return max(loop.expected - coil.expected / coils, 0.0)


def _fits(value: float, wire: float, coil: float) -> bool:
    return abs(value - wire - coil) <= COIL * coil + METER


# ---- ohms at the coil ----------------------------------------------------------------------


def _at_coil(value: float, valve: BuiltValve) -> Finding:
    if valve.device:
        return _unknown("ohms-mean-nothing")
    if value > OPEN:
        return _look("coil-open")
    if valve.coil is None:
        return _unknown("not-known")
    band = _band(valve.coil)
    if is_within(value, valve.coil):
        return _good("coil-within", **band)
    if value > valve.coil.high:
        return _look("coil-high", **band)
    if value <= METER:
        return _look("coil-short", **band)
    return _look("coil-half" if _fits(value, 0.0, valve.coil.expected / 2) else "coil-low", **band)


# ---- while it runs -------------------------------------------------------------------------


def _in_volts(value: float, valve: BuiltValve) -> Finding:
    if valve.latching or valve.decoder is not None:
        return _unknown("pulse-only")
    if value < 1:
        return _look("volts-none")
    found = expected_band(Kind.VOLTS, valve)
    if found is None:
        return _unknown("not-known")
    low, high = found
    band = {"low": f"{low:.1f}", "high": f"{high:.1f}"}
    if value < low:
        return _look("volts-low", **band)
    return _look("volts-high", **band) if value > high else _good("volts-within", **band)


def _in_milliamperes(value: float, valve: BuiltValve) -> Finding:
    if valve.latching or valve.decoder is not None:
        return _unknown("pulse-only")
    if value < 10:  # what a clamp shows around nothing; assumed
        return _look("current-none")
    found = expected_band(Kind.MILLIAMPERES, valve)
    if found is None:
        return _unknown("not-known")
    said = {"expected": str(valve.milliamperes), "beside": ", ".join(valve.beside)}
    if value > found[1]:
        return _look("current-high", **said)
    if value < found[0]:
        return _look("current-low-beside" if valve.beside else "current-low", **said)
    return _good("current-within", **said)


def _to_earth(value: float, _valve: BuiltValve) -> Finding:
    if value >= SOUND:
        return _good("insulation-sound")
    return _look("insulation-doubtful" if value >= DOUBTFUL else "insulation-bad")


_JUDGES: Mapping[Kind, Callable[[float, BuiltValve], Finding]] = {
    Kind.CONTROLLER: _at_controller,
    Kind.COIL: _at_coil,
    Kind.VOLTS: _in_volts,
    Kind.MILLIAMPERES: _in_milliamperes,
    Kind.INSULATION: _to_earth,
}


def is_within(value: float, band: Band) -> bool:
    """Between the ends as they are printed: rounded outward to whole ohms."""
    low, high = rounding.around(band)
    return low <= value <= high


def _band(band: Band) -> dict[str, str]:
    low, high = rounding.around(band)
    return {"low": str(low), "high": str(high), "calculated": f"{band.expected:.1f}"}


def _good(name: str, **values: str) -> Finding:
    return Finding(name=name, outcome=Outcome.GOOD, values=values)


def _look(name: str, **values: str) -> Finding:
    return Finding(name=name, outcome=Outcome.LOOK, values=values)


def _unknown(name: str, **values: str) -> Finding:
    return Finding(name=name, outcome=Outcome.UNKNOWN, values=values)
