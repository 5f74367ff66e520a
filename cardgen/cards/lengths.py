"""Say a length in the unit in which the job has it, with the other one beside: `85 ft (26 m)`."""

from __future__ import annotations

import math
import re

from cardgen.units import METERS_PER_FOOT, Length, LengthUnit, Meters, plain

# A length in a sentence; `14 ft 6 in` and what has its other unit already are left alone.
_IN_TEXT = re.compile(r"(?<![\w.,/(-])(\d+(?:\.\d+)?) ?(ft|m)\b(?! ?[\d(]|[.²³/*-]\w)")


def in_units(meters: Meters, usual: LengthUnit, *, up: bool) -> tuple[Length, Length]:
    """In the unit of the job and in the other one, to whole units, rounded up where ordered."""
    whole = math.ceil if up else round
    feet = Length(whole(meters / METERS_PER_FOOT - 1e-9), LengthUnit.FEET)
    metric = Length(whole(meters - 1e-9), LengthUnit.METERS)
    return (feet, metric) if usual is LengthUnit.FEET else (metric, feet)


def both(one: Length, other: Length) -> str:
    """`694 ft (212 m)`."""
    return f"{one} ({other})"


def with_other(length: Length) -> str:
    """`24 in (0.61 m)`, `5 ft (1.5 m)`."""
    if length.unit is LengthUnit.INCHES:
        return f"{length} ({plain(round(length.meters, 2))} {LengthUnit.METERS})"
    return f"{length} ({_other(length)})"


def beside_in(text: str) -> str:
    """Beside every length in a sentence of the job: `6.5 ft (2 m) from garage corner`.

    No finer than it was measured.
    """

    def said(found: re.Match[str]) -> str:
        return f"{found[0]} ({_other(Length(float(found[1]), LengthUnit(found[2])))})"

    return _IN_TEXT.sub(said, text)


def _other(length: Length) -> Length:
    """To whole units, below ten to tenths: nobody measures a trench to the inch."""
    if length.unit is LengthUnit.FEET:
        return Length(_rounded(length.meters), LengthUnit.METERS)
    return Length(_rounded(length.amount / METERS_PER_FOOT), LengthUnit.FEET)


def _rounded(amount: float) -> float:
    return round(amount) if amount >= 10 else round(amount, 1)
