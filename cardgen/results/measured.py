"""One value that somebody measured at one valve, and the columns it is kept in."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from enum import StrEnum

OL = math.inf  # what a meter shows when nothing flows: a value, never a missing one
OL_TEXT = "OL"
# More digits than these are a slip of the finger; what is too much is told kind by kind.
_NUMBER = re.compile(r"\d{1,9}(\.\d{1,6})?")


class Kind(StrEnum):
    """What was measured, and its unit.

    Attributes:
        CONTROLLER: ohms between the hot and the common, both lifted at the controller.
        COIL: ohms at the coil's leads, taken off.
        VOLTS: at the valve, connected and on.
        MILLIAMPERES: out of the controller, the station on with all that runs beside it.
        INSULATION: megohms from a conductor to earth.
    """

    CONTROLLER = "ohms at the controller"
    COIL = "ohms at the coil"
    VOLTS = "volts"
    MILLIAMPERES = "milliamperes"
    INSULATION = "insulation"

    @property
    def unit(self) -> str:
        return UNITS[self]

    @property
    def may_be_ol(self) -> bool:
        """Volts and milliamperes are never open: they are zero."""
        return self not in (Kind.VOLTS, Kind.MILLIAMPERES)

    @property
    def most_text(self) -> str:
        """`10000 mA`."""
        return f"{MOST[self]} {self.unit}"

    def is_too_much(self, value: float) -> bool:
        """A slip or another unit than `unit`; OL is none."""
        return value != OL and value > MOST[self]


UNITS = {
    Kind.CONTROLLER: "Ω",
    Kind.COIL: "Ω",
    Kind.VOLTS: "V",
    Kind.MILLIAMPERES: "mA",
    Kind.INSULATION: "MΩ",
}
# The most that is taken, in `unit`: all assumed, from what hand-held meters show.  Wide on purpose:
# a true reading, like mains that strayed onto a valve's wires, must never be refused.
MOST = {
    Kind.CONTROLLER: 60_000_000,
    Kind.COIL: 60_000_000,
    Kind.VOLTS: 1_000,
    Kind.MILLIAMPERES: 10_000,
    Kind.INSULATION: 100_000,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """Attributes:
    id: a UUID, so that one entry sent twice is one entry.
    when: ISO 8601 date, or date and time, as written.
    record_key: of the record, as in its address; the column `job` of a CSV file.
    value: in the unit of `kind`, not below zero; `OL` where the meter shows that.
    by: name of the crew, never shown to the public.
    withdrawn: by whom, and why; it counts for nothing then.
    """

    id: str
    when: str
    record_key: str
    box: str
    valve: str
    kind: Kind
    value: float
    by: str = ""
    notes: str = ""
    withdrawn: str = ""

    @property
    def shown(self) -> str:
        """`31.4 Ω`, `OL`."""
        return OL_TEXT if self.value == OL else f"{value_text(self.value)} {self.kind.unit}"


COLUMNS = ("id", "when", "job", "box", "valve", "kind", "value", "by", "notes", "withdrawn")
# What an office's own sheet must have; the rest may be left out.
REQUIRED = ("when", "valve", "kind", "value")


def value_text(value: float) -> str:
    """`31.4`, `0`, `OL`: a decimal point, no exponent, no trailing zeros."""
    if value == OL:
        return OL_TEXT
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return text or "0"


def value_of(text: str) -> float | None:
    """What stands in a cell or a field; None where it is no number and not `OL`."""
    if text.strip().upper() == OL_TEXT:
        return OL
    return float(text) if _NUMBER.fullmatch(text.strip()) else None
