"""One value that somebody measured, and the columns it is kept in."""

from __future__ import annotations

import math
import re
from enum import StrEnum

from cardgen.light_dataclass import dataclass
from cardgen.results.conditions import Conditions, conditions_of

OL = math.inf  # what a meter shows when nothing flows: a value, never a missing one
OL_TEXT = "OL"
# More digits than these are a slip of the finger; what is too much is told kind by kind.
_NUMBER = re.compile(r"\d{1,9}(\.\d{1,6})?")


class Kind(StrEnum):
    """What was measured, and its unit.

    Attributes:
        CONTROLLER: ohms between the hot and the common, both lifted at the controller.
        COIL: ohms at the coil's leads, taken off.
        COIL_WIRES: ohms at the wires to which the coil's leads were joined, these off, the hot and
            the common lifted at the controller: back from the box, where nothing should join them.
        VOLTS: at the valve, connected and on; with a load on the conductor `start`.
        MILLIAMPERES: out of the controller at C, the station on with all that runs beside it.
        INSULATION: megohms to earth, of the conductor `start`, else of the valve's hot.
        HOT_TO_HOT: ohms between the hots of two stations, lifted at the controller.
        COMMON_TO_COMMON: ohms between the commons of the controllers `start` and `to`.
        OTHER_COMMON: ohms between the hot and the common of another controller, `to`.
        BOX_LOOP: ohms between hot and common in a box, opened there, outward to the coil.
        SPARE_LOOP: ohms of the spare `start` and the conductor `to`, tied together in `box`.
        OPEN_VOLTS: volts without load, of the conductor `start`, else of the valve's hot.
        HOT_MILLIAMPERES: what the station's own hot carries.
        WALK_TEST: 1 where the station `valve` was on and the valve `to` ran, 0 where none did.
        NOT_REACHED: nobody could measure there; its value is 0 and means nothing.
    """

    CONTROLLER = "ohms at the controller"
    COIL = "ohms at the coil"
    COIL_WIRES = "ohms at the coil wires"
    VOLTS = "volts"
    MILLIAMPERES = "milliamperes"
    INSULATION = "insulation"
    HOT_TO_HOT = "ohms hot to hot"
    COMMON_TO_COMMON = "ohms common to common"
    OTHER_COMMON = "ohms hot to another common"
    BOX_LOOP = "ohms in a box"
    SPARE_LOOP = "ohms of a spare loop"
    OPEN_VOLTS = "volts without load"
    HOT_MILLIAMPERES = "milliamperes on its hot"
    WALK_TEST = "walk test"
    NOT_REACHED = "not reached"

    @property
    def unit(self) -> str:
        return UNITS.get(self, "Ω")

    @property
    def may_be_ol(self) -> bool:
        """Volts and milliamperes are never open: they are zero."""
        return self.unit in ("Ω", "MΩ")

    @property
    def most_text(self) -> str:
        """`10000 mA`."""
        return f"{MOST[self.unit]} {self.unit}".strip()

    def is_too_much(self, value: float) -> bool:
        """A slip or another unit than `unit`; OL is none."""
        return value != OL and value > MOST[self.unit]


# Of those that are not in ohms.
UNITS = {
    Kind.VOLTS: "V",
    Kind.OPEN_VOLTS: "V",
    Kind.MILLIAMPERES: "mA",
    Kind.HOT_MILLIAMPERES: "mA",
    Kind.INSULATION: "MΩ",
    Kind.WALK_TEST: "",
    Kind.NOT_REACHED: "",
}
# The most that is taken, in the unit: all assumed, from what hand-held meters show.  Wide on
# purpose: a true reading, like mains that strayed onto a valve's wires, must never be refused.
MOST = {"Ω": 60_000_000, "V": 1_000, "mA": 10_000, "MΩ": 100_000, "": 1}
# What can be said without naming a valve: by the conductor or controller that it was measured on.
OF_A_CONDUCTOR = (
    *(Kind.COMMON_TO_COMMON, Kind.SPARE_LOOP, Kind.INSULATION),
    *(Kind.OPEN_VOLTS, Kind.VOLTS),
)
# What is measured between two, and so needs the second.
BETWEEN = (Kind.HOT_TO_HOT, Kind.COMMON_TO_COMMON, Kind.OTHER_COMMON, Kind.SPARE_LOOP)
# What is measured in a box that the valve does not say.
AT_A_BOX = (Kind.BOX_LOOP, Kind.SPARE_LOOP)
NONE_RAN = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """Attributes:
    id: a UUID, so that one entry sent twice is one entry.
    when: ISO 8601 date, or date and time, as written.
    record_key: of the record, as in its address; the column `job` of a CSV file.
    value: in the unit of `kind`, not below zero; `OL` where the meter shows that.
    by: name of the crew, never shown to the public.
    start, to: between what and what, where `kind` does not say it; the columns `from` and `to`.
    conditions: under which it was measured, as written.
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
    start: str = ""
    to: str = ""
    conditions: str = ""
    withdrawn: str = ""

    @property
    def under(self) -> Conditions:
        return conditions_of(self.conditions)

    @property
    def net(self) -> float:
        """The value, of ohms without those of the meter's leads."""
        if self.kind.unit != "Ω":
            return self.value
        return max(self.value - self.under.lead_ohms, 0.0)

    @property
    def subject(self) -> tuple[str, ...]:
        """What it is a value of: two of one subject, the newer tells more."""
        place = self.box if self.kind in AT_A_BOX else ""
        to = self.to if self.kind in BETWEEN else ""
        return self.valve, self.kind, self.start, to, place

    @property
    def shown(self) -> str:
        """`31.4 Ω`, `OL`; of a walk test which valve ran."""
        if self.kind is Kind.WALK_TEST:
            return (self.to or self.valve) if self.value else "–"
        if self.kind is Kind.NOT_REACHED:
            return "–"
        return OL_TEXT if self.value == OL else f"{value_text(self.value)} {self.kind.unit}"

    @property
    def between(self) -> str:
        """`A3 – A7`, `VB-2`: what it was measured on, as far as the kind leaves it open."""
        ends = (self.start, self.to) if self.kind in BETWEEN else (self.start,)
        if self.kind in (Kind.HOT_TO_HOT, Kind.OTHER_COMMON):
            ends = (self.valve, self.to)
        place = (self.box,) if self.kind in AT_A_BOX else ()
        return ", ".join(filter(None, (" – ".join(filter(None, ends)), *place)))


COLUMNS = (
    *("id", "when", "job", "box", "valve", "kind", "from", "to", "value", "conditions"),
    *("by", "notes", "withdrawn"),
)
# The column of a field that has another name.
FIELD_OF = {"job": "record_key", "from": "start"}
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
