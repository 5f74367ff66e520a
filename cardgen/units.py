"""Quantities of the trade with their units; a bare number never stands for one."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from typing import NewType

from cardgen.light_dataclass import dataclass

Meters = NewType("Meters", float)
Ohms = NewType("Ohms", float)
OhmsPerKilometer = NewType("OhmsPerKilometer", float)
Amperes = NewType("Amperes", float)
Volts = NewType("Volts", float)
VoltAmperes = NewType("VoltAmperes", float)
Megohms = NewType("Megohms", float)
Celsius = NewType("Celsius", float)

NOT_KNOWN = "not known"  # stands for a value that nobody knows, in a job file and on paper

METERS_PER_FOOT = 0.3048  # exact; international foot, NIST SP 811 (2008), appendix B.8
METERS_PER_INCH = 0.0254  # exact; same place


class LengthUnit(StrEnum):
    FEET = "ft"
    METERS = "m"
    INCHES = "in"  # only of what is short


_METERS_PER = {
    LengthUnit.FEET: METERS_PER_FOOT,
    LengthUnit.METERS: 1.0,
    LengthUnit.INCHES: METERS_PER_INCH,
}


@dataclass(frozen=True, slots=True)
class Length:
    """A length as the file says it."""

    amount: float
    unit: LengthUnit

    @property
    def meters(self) -> Meters:
        return Meters(self.amount * _METERS_PER[self.unit])

    def __str__(self) -> str:
        return f"{plain(self.amount)} {self.unit}"


def in_meters(length: Length | None) -> Meters | None:
    """None where the length is not known."""
    return None if length is None else length.meters


def known_length(lengths: Iterable[Length | None]) -> Meters:
    """At least so long are all of them end to end."""
    return Meters(sum(length.meters for length in lengths if length is not None))


def whole_length(lengths: Iterable[Length | None]) -> Meters | None:
    """All of them end to end; None where one is not known."""
    found = list(lengths)
    known = [length.meters for length in found if length is not None]
    return Meters(sum(known)) if len(known) == len(found) else None


class GaugeSystem(StrEnum):
    AWG = "AWG"
    MM2 = "mm2"


@dataclass(frozen=True, slots=True)
class Gauge:
    """A conductor size: AWG number, or cross-section in mm2."""

    size: float
    system: GaugeSystem

    def __str__(self) -> str:
        return f"{plain(self.size)} {self.system}"


class SupplyKind(StrEnum):
    AC = "AC"
    LATCHING = "DC latching"
    TWO_WIRE = "two-wire"


@dataclass(frozen=True, slots=True)
class Tolerance:
    """By how many percent something may be below and above what is said of it."""

    below: float
    above: float

    def __str__(self) -> str:
        return f"-{plain(self.below)}/+{plain(self.above)} %"


@dataclass(frozen=True, slots=True)
class Supply:
    """What drives the coils.  `volts` is None where the file does not say it."""

    kind: SupplyKind
    volts: Volts | None = None

    def __str__(self) -> str:
        return f"{plain(self.volts)} V {self.kind}" if self.volts is not None else str(self.kind)


def plain(number: float) -> str:
    """`85`, `0.4`, `6.5`: no trailing zeros, never an exponent."""
    return f"{number:.4f}".rstrip("0").rstrip(".")


def beside(number: float, limit: float, digits: int = 1) -> str:
    """`19.97` beside 20: rounded, with more digits where rounding would make them change places."""
    for more in range(digits, 5):
        text = f"{number:.{more}f}"
        if (float(text) < limit) == (number < limit) and (float(text) > limit) == (number > limit):
            return text
    return plain(number)
