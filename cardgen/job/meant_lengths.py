"""Find the length that a person meant by what a job file does not take: `60'`, `12'6"`, `40 yd`."""

from __future__ import annotations

import re

from cardgen.reading.shapes import meant_number
from cardgen.units import LengthUnit, plain

# What a length is written in, in feet, inches or meters.
_UNITS = {
    **dict.fromkeys(("'", "ft", "foot", "feet", "lf", "pie", "pies"), (1.0, LengthUnit.FEET)),
    **dict.fromkeys(("yd", "yds", "yard", "yards"), (3.0, LengthUnit.FEET)),
    **dict.fromkeys(('"', "in", "inch", "inches", "plg"), (1.0, LengthUnit.INCHES)),
    **dict.fromkeys(("pulgada", "pulgadas"), (1.0, LengthUnit.INCHES)),
    **dict.fromkeys(("m", "mt", "mts", "meter", "meters", "metre", "metres"),
                    (1.0, LengthUnit.METERS)),
    **dict.fromkeys(("metro", "metros"), (1.0, LengthUnit.METERS)),
    "km": (1000.0, LengthUnit.METERS),
    "cm": (0.01, LengthUnit.METERS),
    "mm": (0.001, LengthUnit.METERS),
}  # fmt: skip
_ABOUT = re.compile(r"^(?:~|\u2248|ca\.?\s|approx\.?\s|approximately\s|about\s)\s*", re.IGNORECASE)
_PRIMES = str.maketrans(
    dict.fromkeys("\u2018\u2019\u2032\u00b4`", "'") | dict.fromkeys("\u201c\u201d\u2033", '"')
)
_ONE = re.compile(r"(?P<number>[0-9].*?)\s*-?\s*(?P<unit>[A-Za-z]+|['\"])\.?")
_TWO = re.compile(
    r"(?P<feet>[0-9][0-9,]*)\s*(?:'|ft\.?|feet|foot|pies?)\s*-?\s*"
    r"(?P<inches>[0-9].*?)\s*(?:\"|in\.?|inch|inches|plg\.?|pulgadas?)",
    re.IGNORECASE,
)


# `10,50 ft`: a decimal comma, or a thousand with a digit forgotten.
_DOUBTFUL_COMMA = re.compile(r"[0-9]+,[0-9]{2}(?![0-9])")


def meant_length(text: str, *, is_short: bool = False) -> str:
    """The length as a job file has it, `12.5 ft`; empty if there is a doubt about it.

    `is_short`: whether it may be in inches.
    """
    amount, unit = _amount_and_unit(_ABOUT.sub("", _one_of(_straight(text))).rstrip(" ?"))
    if unit is LengthUnit.INCHES and not is_short:
        return f"{plain(float(amount) / 12)} ft"
    return f"{amount} {unit}" if unit else ""


def _one_of(text: str) -> str:
    """`85 ft` of `(85 ft)` and `85 ft / 26 m`, and `105 ft` of `1O5 ft`, letters for digits."""
    text = re.sub(r"^\((.*)\)$", r"\1", text)
    text = re.sub(r"^([0-9.]+ ?(?:ft|m))\s*(?:[/|=]|or|\()\s*[0-9.]+ ?(?:ft|m)\)?$", r"\1", text)
    digits = re.match(r"[0-9OolI.]+(?= ?(?:ft|m|feet)\b)", text)
    if digits and re.search("[0-9]", digits[0]):
        plain_digits = digits[0].translate(str.maketrans("OolI", "0011"))
        return plain_digits + text[digits.end() :]
    return text


def certain_length(text: str, *, is_short: bool = False) -> str:
    """The same where nobody need be asked: of a list, in which nobody looks at each."""
    text = _straight(text)
    amount, unit = _amount_and_unit(text)
    if unit is LengthUnit.INCHES and not is_short:  # more likely feet with a mark too many
        return ""
    if unit is not LengthUnit.METERS and _DOUBTFUL_COMMA.match(text):
        return ""
    return f"{amount} {unit}" if unit else ""


def _straight(text: str) -> str:
    """With the marks of a keyboard."""
    text = text.translate(_PRIMES).replace("''", '"').strip()
    return re.sub(r"^\.(?=[0-9])", "0.", text)


def _amount_and_unit(text: str) -> tuple[str, LengthUnit | None]:
    """`("12.5", FEET)` of `12' 6"`; without a unit where it is no length for certain."""
    two = _TWO.fullmatch(text)
    if two:
        feet, inches = meant_number(two["feet"]), meant_number(two["inches"])
        if not feet or not inches or float(inches) >= 12:
            return "", None
        return plain(float(feet) + float(inches) / 12), LengthUnit.FEET
    one = _ONE.fullmatch(text)
    number = meant_number(one["number"]) if one else ""
    if one is None or not number or one["unit"].lower() not in _UNITS:
        return "", None
    factor, unit = _UNITS[one["unit"].lower()]
    return number if factor == 1 else plain(float(number) * factor), unit
