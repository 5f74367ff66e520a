"""How to measure, in the words of the test sheet.

Common practice, no source, as the bands are.  Power off first and one station at a time are public
safety advice; nothing here claims that a job meets any code.
"""

from __future__ import annotations

from cardgen.units import SupplyKind

BLANKS = ("temperature", "meter", "weather", "initials", "date")
_LIFTED = "wires lifted: commons, hots"
_OFF = "power off and locked"
TICKS = {
    SupplyKind.AC: (_OFF, _LIFTED, "sensor out of the loop", "meter leads zeroed"),
    SupplyKind.LATCHING: (_OFF, _LIFTED, "sensor out of the loop", "meter leads zeroed"),
    SupplyKind.TWO_WIRE: (_OFF, "valve leads off the decoder", "meter leads zeroed"),
}

_ZERO = (
    "Hold the probes together and take what the meter shows off every reading. Never measure ohms "
    "on a live conductor."
)
_WRITE = (
    "Write down every value, OL where the meter shows it; a blank means not measured. Look at the "
    "pattern of all rows before you judge a single one."
)
_OHMS = (
    "Ohms: power off, commons and all hots lifted, or the controller is measured too. One probe on "
    "the lifted common, the other on each hot in turn."
)
_PULSE = (
    "A latching valve takes a pulse: no steady volts or milliamperes. Give one pulse to open, one "
    "to close; watch, listen, tick."
)
_DECODER = (
    "Ohms: only at the decoder's output, the valve's leads off the decoder. Along the path, or "
    "through a decoder, ohms mean nothing."
)
_INSULATION = (
    "Insulation: each conductor against earth, controller and decoders disconnected; the job's own "
    "specification says how much is enough."
)
_BAND = (
    "What is expected is calculated, for 20 °C: the band is the coil within 15 % and the meter "
    "within 1 Ω (common practice, no source)."
)
RULES = {
    SupplyKind.AC: (
        _OHMS,
        _ZERO,
        _WRITE,
        "Volts: at the box, the valve connected and on. Volts without a load prove nothing.",
        "mA: clamp or in line at the controller, one station on; what runs beside it counts in.",
        _INSULATION,
        _BAND,
    ),
    SupplyKind.LATCHING: (
        _OHMS,
        _ZERO,
        _WRITE,
        _PULSE,
        _INSULATION,
        _BAND,
    ),
    SupplyKind.TWO_WIRE: (
        _DECODER,
        _ZERO,
        _WRITE,
        _INSULATION,
        _BAND,
    ),
}
