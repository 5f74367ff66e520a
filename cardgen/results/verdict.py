"""Turn one measured value and what the job expects there into a verdict: a name and its numbers.

Ohms, hot to common, both lifted at the controller, by the number of coils on the way:

    0        wire    wire + coil/3  wire + coil/2   wire + coil    wire + 2 coils  1000 ohms  OL
    |--short--|--low--|---third---|-----half-----|----within----|-high--double--high-|--wet--| open

Common practice, no source, but for the parallel coils.  What fits two of them is told as both,
and nothing is told that the value alone does not prove.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import field
from enum import StrEnum

from cardgen.asbuilt import Band, BuiltValve, rounding
from cardgen.light_dataclass import dataclass
from cardgen.results.conditions import Conditions
from cardgen.results.measured import NONE_RAN, OL, Kind, Measured

COIL = 0.15  # of the coil's ohms; common practice, no source, as the printed band
METER = 1.0  # ohms, leads and contacts of the meter; common practice, no source
# Ohms above which no coil or wire is, yet something carries: a wet splice, a wire that is nearly
# broken; common practice, no source.  Only OL is open.
WET = 1000.0
CURRENT = 0.25  # of the expected current; assumed: coils of one sort differ by as much
TWO_READINGS = 0.02  # of volts: what a meter is off, here and at the terminals; assumed
NO_VOLTS, NO_MILLIAMPERES = 1.0, 10.0  # what a meter shows where there is nothing; assumed
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
    finding = _JUDGES[measured.kind](measured, valve)
    values = {"valve": valve.id, "box": valve.box, "controller": valve.controller}
    return Finding(
        name=finding.name,
        outcome=finding.outcome,
        values={**values, **finding.values},
        line_voltage=valve.line_voltage,
    )


def verdict_of_conductor(measured: Measured) -> Finding:
    """What a value says that belongs to no valve: of a conductor, or of two commons."""
    return _OF_CONDUCTORS[measured.kind](measured)


NO_CONDITIONS = Conditions()


def expected_band(
    kind: Kind, valve: BuiltValve, under: Conditions = NO_CONDITIONS
) -> tuple[float, float] | None:
    """Between what `verdict` takes a value of that kind for good, as it is printed."""
    if kind is Kind.INSULATION:
        return SOUND, math.inf
    if kind is Kind.COIL or (kind is Kind.CONTROLLER and valve.decoder is None):
        band = valve.coil if kind is Kind.COIL else valve.ohms
        return None if valve.device or band is None else rounding.around(band)
    if valve.latching or valve.decoder is not None:
        return None
    if kind is Kind.VOLTS and valve.volts and not valve.line_voltage:
        return rounding.volts_around(*_volts(valve, under))
    current = {Kind.MILLIAMPERES: valve.milliamperes, Kind.HOT_MILLIAMPERES: valve.in_hot}.get(kind)
    return None if current is None else (current * (1 - CURRENT), current * (1 + CURRENT))


def _volts(valve: BuiltValve, under: Conditions) -> tuple[float, float]:
    """In the measure of what the terminals give: as read in the same walk, else all it may be."""
    low, high = valve.volts
    supply = valve.supply
    if supply is None:
        return low, high
    at_least, at_most = supply.low, supply.high
    if under.terminal_volts is not None:
        at_least = under.terminal_volts * (1 - TWO_READINGS)
        at_most = under.terminal_volts * (1 + TWO_READINGS)
    return low * at_least / supply.expected, high * at_most / supply.expected


# ---- ohms at the controller ----------------------------------------------------------------


def _at_controller(measured: Measured, valve: BuiltValve) -> Finding:
    value = measured.net
    if valve.device or valve.decoder is not None:
        return _unknown("ohms-mean-nothing")
    if value == OL:
        return _look("open")
    if value > WET:
        return _look("wet")
    if valve.ohms is None or valve.coil is None:
        return _unknown("not-known")
    low, high = rounding.around(valve.ohms)
    if value > high:
        return _above(value, valve.ohms, valve.coil, coils=1 + len(valve.others))
    if value >= low:
        return _good("within", **_band(valve.ohms))
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


def _at_coil(measured: Measured, valve: BuiltValve) -> Finding:
    value = measured.net
    if valve.device:
        return _unknown("ohms-mean-nothing")
    if value == OL:
        return _look("coil-open")
    if value > WET:
        return _look("coil-far")
    if valve.coil is None:
        return _unknown("not-known")
    band, (low, high) = _band(valve.coil), rounding.around(valve.coil)
    if value > high:
        return _look("coil-high", **band)
    if value >= low:
        return _good("coil-within", **band)
    if value <= METER:
        return _look("coil-short", **band)
    return _look("coil-half" if _fits(value, 0.0, valve.coil.expected / 2) else "coil-low", **band)


def _at_coil_wires(measured: Measured, valve: BuiltValve) -> Finding:
    """Lifted at the controller and the coil off: only the other coils of a twin join them."""
    if valve.device or valve.decoder is not None:
        return _unknown("ohms-mean-nothing")
    if valve.others:
        return _unknown("counts-with-others")
    if measured.net == OL:
        return _good("wires-apart")
    return _look("wires-wet" if measured.net > WET else "wires-joined")


# ---- while it runs -------------------------------------------------------------------------


def _in_volts(measured: Measured, valve: BuiltValve) -> Finding:
    value = measured.value
    if valve.latching or valve.decoder is not None:
        return _unknown("pulse-only")
    if value < NO_VOLTS:
        return _look("volts-none")
    found = expected_band(Kind.VOLTS, valve, measured.under)
    if found is None:
        return _unknown("not-known")
    low, high = found
    band = {"low": f"{low:.1f}", "high": f"{high:.1f}"}
    if value < low:
        return _look("volts-low", **band)
    return _look("volts-high", **band) if value > high else _good("volts-within", **band)


def _in_milliamperes(measured: Measured, valve: BuiltValve) -> Finding:
    """At C with all that runs beside it, or on its own hot: each by what flows there."""
    value, kind = measured.value, measured.kind
    if valve.latching or valve.decoder is not None:
        return _unknown("pulse-only")
    if value < NO_MILLIAMPERES:
        return _look("current-none")
    found = expected_band(kind, valve)
    if found is None:
        return _unknown("not-known")
    at_c = kind is Kind.MILLIAMPERES
    said = {"expected": str(valve.milliamperes if at_c else valve.in_hot)}
    if value > found[1]:
        return _look("current-high", **said)
    if value >= found[0]:
        return _good("current-within", **said)
    if at_c and valve.beside:
        beside = {"beside": ", ".join(valve.beside), "in_hot": str(valve.in_hot)}
        return _look("current-low-beside", **said, **beside)
    return _look("current-low", **said)


def _walk(measured: Measured, valve: BuiltValve) -> Finding:
    if not measured.value or measured.to == NONE_RAN:
        return _look("walk-none")
    own = ("", valve.id, valve.station, *(other.id for other in valve.others))
    if measured.to in own:
        return _good("walk-right")
    return _look("walk-other", other=measured.to)


# ---- between conductors, and outward from a box --------------------------------------------


def _in_box(measured: Measured, valve: BuiltValve) -> Finding:
    """From a box outward is more than the coil and less than the whole loop."""
    place = {"place": measured.box or valve.box}
    if valve.device or valve.decoder is not None:
        return _unknown("ohms-mean-nothing")
    if measured.net == OL:
        return _look("box-open", **place)
    if valve.ohms is None or valve.coil is None:
        return _unknown("not-known")
    wire = _wire(valve.ohms, valve.coil, 1 + len(valve.others))
    low, high = max(math.floor(valve.ohms.low - wire), 0), math.ceil(valve.ohms.high)
    values = {**place, "low": str(low), "high": str(high)}
    if measured.net < low:
        return _look("box-low", **values)
    return _look("box-high", **values) if measured.net > high else _good("box-within", **values)


def _hot_to_hot(measured: Measured, _valve: BuiltValve) -> Finding:
    if measured.net == OL:
        return _look("pair-open", other=measured.to)
    return _with_others(measured)


def _on_other_common(measured: Measured, _valve: BuiltValve) -> Finding:
    if measured.net == OL:
        return _good("not-on-common", other=measured.to)
    return _look("on-other-common", other=measured.to)


def _of_commons(measured: Measured) -> Finding:
    ends = {"one": measured.start, "other": measured.to}
    return _good("commons-apart", **ends) if measured.net == OL else _look("commons-meet", **ends)


def _of_spare(measured: Measured) -> Finding:
    values = {"one": measured.start, "other": measured.to, "place": measured.box}
    if measured.net == OL:
        return _look("spare-open", **values)
    return _look("spare-wet", **values) if measured.net > WET else _good("spare-whole", **values)


def _to_earth(measured: Measured) -> Finding:
    if measured.value >= SOUND:
        return _good("insulation-sound")
    return _look("insulation-doubtful" if measured.value >= DOUBTFUL else "insulation-bad")


def _under_load(measured: Measured) -> Finding:
    """Of a wire that nothing should feed: induced volts fall to none under a load."""
    one = measured.start
    if measured.value >= NO_VOLTS:
        return _look("wire-live", one=one)
    return _good("wire-dead", one=one)


def _open_volts(_measured: Measured) -> Finding:
    return _unknown("open-volts")


def _with_others(_measured: Measured) -> Finding:
    return _unknown("counts-with-others")


_OF_CONDUCTORS: Mapping[Kind, Callable[[Measured], Finding]] = {
    Kind.COMMON_TO_COMMON: _of_commons,
    Kind.SPARE_LOOP: _of_spare,
    Kind.INSULATION: _to_earth,
    Kind.OPEN_VOLTS: _open_volts,
    Kind.VOLTS: _under_load,
}
_JUDGES: Mapping[Kind, Callable[[Measured, BuiltValve], Finding]] = {
    **{kind: lambda measured, _valve: verdict_of_conductor(measured) for kind in _OF_CONDUCTORS},
    Kind.CONTROLLER: _at_controller,
    Kind.COIL: _at_coil,
    Kind.COIL_WIRES: _at_coil_wires,
    Kind.VOLTS: _in_volts,
    Kind.MILLIAMPERES: _in_milliamperes,
    Kind.HOT_MILLIAMPERES: _in_milliamperes,
    Kind.HOT_TO_HOT: _hot_to_hot,
    Kind.OTHER_COMMON: _on_other_common,
    Kind.BOX_LOOP: _in_box,
    Kind.WALK_TEST: _walk,
    Kind.NOT_REACHED: lambda _measured, _valve: _unknown("not-reached"),
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
