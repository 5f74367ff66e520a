"""Find the length that a person meant by what a job file does not take: `60'`, `12'6"`, `40 yd`."""

from __future__ import annotations

import re

from cardgen.reading.shapes import meant_number
from cardgen.units import LengthUnit, plain

# What a length is written in, in feet, inches or meters.
_UNITS = {
    **dict.fromkeys(("'", "ft", "foot", "feet", "lf", "pie", "pies"), (1.0, LengthUnit.FEET)),
    **dict.fromkeys(("yd", "yds", "yard", "yards"), (3.0, LengthUnit.FEET)),
    **dict.fromkeys(('"', "in", "inch", "inches"), (1.0, LengthUnit.INCHES)),
    **dict.fromkeys(("m", "mt", "mts", "meter", "meters", "metre", "metres"),
                    (1.0, LengthUnit.METERS)),
    **dict.fromkeys(("metro", "metros"), (1.0, LengthUnit.METERS)),
    "km": (1000.0, LengthUnit.METERS),
    "cm": (0.01, LengthUnit.METERS),
    "mm": (0.001, LengthUnit.METERS),
}  # fmt: skip
_ABOUT = re.compile(r"^(?:~|\u2248|ca\.?\s|approx\.?\s|approximately\s|about\s)\s*", re.IGNORECASE)
_PRIMES = str.maketrans({"\u2019": "'", "\u2032": "'", "\u00b4": "'", "\u201d": '"', "\u2033": '"'})
_ONE = re.compile(r"(?P<number>[0-9].*?)\s*-?\s*(?P<unit>[A-Za-z]+|['\"])\.?")
_TWO = re.compile(
    r"(?P<feet>[0-9]+)\s*(?:'|ft\.?|feet|foot)\s*-?\s*(?P<inches>[0-9].*?)\s*(?:\"|in\.?|inch|inches)"
)


def meant_length(text: str, *, is_short: bool = False) -> str:
    """The length as a job file has it, `12.5 ft`; empty if there is a doubt about it.

    `is_short`: whether it may be in inches.
    """
    text = _ABOUT.sub("", text.translate(_PRIMES).replace("''", '"').strip()).rstrip(" ?")
    text = re.sub(r"^\.(?=[0-9])", "0.", text)
    two = _TWO.fullmatch(text)
    if two:
        inches = meant_number(two["inches"])
        if not inches or float(inches) >= 12:
            return ""
        return f"{plain(int(two['feet']) + float(inches) / 12)} ft"
    one = _ONE.fullmatch(text)
    if one is None or one["unit"].lower() not in _UNITS:
        return ""
    number = meant_number(one["number"])
    if not number:
        return ""
    factor, unit = _UNITS[one["unit"].lower()]
    if unit is LengthUnit.INCHES and not is_short:
        return f"{plain(float(number) / 12)} ft"
    return f"{number if factor == 1 else plain(float(number) * factor)} {unit}"
