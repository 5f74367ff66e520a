"""How to measure: what the test sheet asks for, by the names of its texts in the catalogues.

Common practice, no source, as the bands are.  Power off first and one station at a time are public
safety advice; nothing here claims that a job meets any code.
"""

from __future__ import annotations

from cardgen.units import SupplyKind

BLANKS = ("temperature", "meter", "weather", "initials", "date")
_LIFTED = ("power off", "wires lifted", "sensor out", "leads zeroed")
TICKS = {
    SupplyKind.AC: _LIFTED,
    SupplyKind.LATCHING: ("battery out", *_LIFTED[1:]),
    SupplyKind.TWO_WIRE: ("power off", "valve leads off", "leads zeroed"),
}
RULES = {
    SupplyKind.AC: ("ohms", "zero", "write", "volts", "milliamperes", "insulation", "band"),
    SupplyKind.LATCHING: ("battery ohms", "zero", "write", "pulse", "insulation", "band"),
    SupplyKind.TWO_WIRE: ("decoder", "zero", "write", "insulation", "band"),
}
