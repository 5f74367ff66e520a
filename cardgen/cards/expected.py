"""Say what a meter must show: ohms, volts, milliamperes, each as a band and in the same words."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.asbuilt import Band, BuiltValve, rounding
from cardgen.units import NOT_KNOWN, plain

BOUND = "\u00a0"  # no line ends there
OHMS = f"{BOUND}Ω"
NOTHING = "–"  # nobody measures here
TO_FILL_IN = "_" * 6  # for what is not known, where a hand writes what it measured
LINE_FOR_WORDS = "_" * 14  # the same for some words


def in_band(band: Band, unit: str = "") -> str:
    """`31.1 (25–37)`."""
    return f"{rounding.ohms(band.expected)}{unit}{BOUND}({rounding.between(band)})"


def in_parts(band: Band, *, is_coil: bool = False) -> tuple[str, str, str]:
    """`Ω`, `31.1`, `(25–37)`: a row of the readings on a tag."""
    figure = plain(band.expected) if is_coil else rounding.ohms(band.expected)
    return OHMS.strip(BOUND), figure, f"({rounding.between(band)})"


def at_controller(valve: BuiltValve, unit: str = "") -> str:
    """`31.1 (25–37)`, or that it is not known."""
    return in_band(valve.ohms, unit) if valve.ohms else NOT_KNOWN


def coil_alone(valve: BuiltValve) -> str:
    """`30 Ω (24–36)`: a coil with its leads off, or that it is not known."""
    if valve.coil is None:
        return NOT_KNOWN
    return f"{plain(valve.coil.expected)}{OHMS} ({rounding.between(valve.coil)})"


def volts_at_valve(valve: BuiltValve) -> str:
    """`22.9–23.6` while it runs, or that it is not known; nothing where line voltage is near."""
    if valve.line_voltage:
        return NOTHING
    return rounding.volts(*valve.volts) if valve.volts else NOT_KNOWN


def milliamperes(valve: BuiltValve) -> str:
    """`230`, of all that runs with it, or that it is not known."""
    return str(valve.milliamperes) if valve.milliamperes is not None else NOT_KNOWN


def by_place(valve: BuiltValve) -> str:
    """`230 / 580 C`: in its own hot, and at C where that is another current."""
    at_c = milliamperes(valve)
    return f"{valve.in_hot} / {at_c}{BOUND}C" if valve.has_two_currents else at_c


def known(readings: Iterable[str]) -> list[str]:
    """Each once, without those that say that it is not known, or that nobody measures it."""
    return [reading for reading in dict.fromkeys(readings) if reading not in (NOT_KNOWN, NOTHING)]
