"""Readers for the trade's quantities and words: lengths, gauges, colours, supplies, addresses."""

from __future__ import annotations

import datetime
import re
from urllib.parse import urlsplit

from cardgen.job.model import Combination
from cardgen.reading.shapes import IDENTIFIER, Misread, Parsed, nearest
from cardgen.trade.colours import Insulation, colour_words, insulation
from cardgen.units import (
    Amperes,
    Gauge,
    GaugeSystem,
    Length,
    LengthUnit,
    Ohms,
    Supply,
    SupplyKind,
    Volts,
)

_NUMBER = r"[0-9]{1,7}(\.[0-9]{1,6})?"
_LENGTH_UNITS = {
    "ft": LengthUnit.FEET,
    "foot": LengthUnit.FEET,
    "feet": LengthUnit.FEET,
    "m": LengthUnit.METRES,
    "metre": LengthUnit.METRES,
    "metres": LengthUnit.METRES,
    "meter": LengthUnit.METRES,
    "meters": LengthUnit.METRES,
}
# Sizes that are made: AWG of irrigation work, IEC 60228 nominal sizes.
AWG_SIZES = (10.0, 12.0, 14.0, 16.0, 18.0, 20.0)
MM2_SIZES = (0.5, 0.75, 1.0, 1.5, 2.5, 4.0)


def _amount(text: str, what: str, units: tuple[str, ...]) -> tuple[float, str]:
    """Split `85 ft` into number and unit; say what is missing."""
    first = units[0]
    match = re.fullmatch(r"([+-]?[0-9.,]+)\s*(.*)", text)
    if not match:
        raise Misread(f"{what} is a number with its unit, not '{text}'", f"for example '5 {first}'")
    number, unit = match[1], match[2].strip()
    if "," in number:
        raise Misread(f"'{number}' has a comma", f"write a point: '{number.replace(',', '.')}'")
    if number.startswith("-"):
        raise Misread(f"{what} cannot be less than nothing", code="out-of-range")
    if not re.fullmatch(_NUMBER, number.lstrip("+")):
        raise Misread(f"'{number}' is no number that {what} can have")
    if not unit:
        ways = " or ".join(f"'{number} {u}'" for u in units[:2])
        raise Misread(f"{what} has no unit", f"write {ways}", "unit-missing")
    if float(number) == 0:
        raise Misread(f"{what} is zero", "leave it out if it is not known", "out-of-range")
    return float(number), unit


def _parse_length(text: str) -> Length:
    amount, unit = _amount(text, "a length", ("ft", "m"))
    if unit.lower() not in _LENGTH_UNITS:
        raise Misread(f"'{unit}' is no unit of length here", "write 'ft' or 'm'", "unit-unknown")
    return Length(amount, _LENGTH_UNITS[unit.lower()])


def _quantity(text: str, what: str, units: dict[str, float], least: float, most: float) -> float:
    amount, unit = _amount(text, what, tuple(units))
    if unit not in units:
        known = " or ".join(f"'{u}'" for u in units)
        raise Misread(f"'{unit}' is no unit for {what}", f"write {known}", "unit-unknown")
    value = amount * units[unit]
    if not least <= value <= most:
        first = next(iter(units))
        raise Misread(
            f"{what} of {text} is out of all scale",
            f"it lies between {least:g} and {most:g} {first}",
            "out-of-range",
        )
    return value


def _parse_ohms(text: str) -> Ohms:
    units = {"ohm": 1.0, "ohms": 1.0, "\u03a9": 1.0, "\u2126": 1.0}
    return Ohms(_quantity(text, "a resistance", units, 0.5, 2000))


def _parse_amperes(text: str) -> Amperes:
    return Amperes(_quantity(text, "a current", {"A": 1.0, "mA": 0.001}, 0.01, 20))


def _parse_volts(text: str) -> Volts:
    return Volts(_quantity(text, "a voltage", {"V": 1.0}, 1, 60))


def _parse_gauge(text: str) -> Gauge:
    match = re.fullmatch(rf"({_NUMBER})\s*(AWG|mm2|mm\u00b2)?", text, re.IGNORECASE)
    if not match:
        raise Misread(f"'{text}' is no gauge", "write '18 AWG' or '1.5 mm2'")
    size, unit = float(match[1]), (match[3] or "").lower()
    if not unit:
        raise Misread("a gauge has no unit", f"write '{text} AWG' or '{text} mm2'", "unit-missing")
    system = GaugeSystem.AWG if unit == "awg" else GaugeSystem.MM2
    sizes = AWG_SIZES if system is GaugeSystem.AWG else MM2_SIZES
    if size not in sizes:
        known = ", ".join(f"{s:g}" for s in sizes)
        raise Misread(f"{text} is not made", f"sizes in {system} are {known}", "gauge-not-made")
    return Gauge(size, system)


def _parse_colour(text: str) -> Insulation:
    colour = insulation(text)
    if colour is None:
        help_ = nearest(text, colour_words()) or "known are " + ", ".join(colour_words())
        raise Misread(f"'{text}' is no colour known here", help_, "unknown-colour")
    return colour


def _parse_supply(text: str) -> Supply:
    words = " ".join(text.split()).lower()
    if words in ("two-wire", "two wire"):
        return Supply(SupplyKind.TWO_WIRE)
    match = re.fullmatch(rf"(?:({_NUMBER})\s*v\s+)?(ac|dc latching)", words)
    if not match:
        raise Misread(f"'{text}' is no supply", "write '24 V AC', '9 V DC latching' or 'two-wire'")
    kind = SupplyKind.AC if match[3] == "ac" else SupplyKind.LATCHING
    if match[1] is None:
        return Supply(kind)
    if not 1 <= float(match[1]) <= 60:
        raise Misread(
            f"{match[1]} V is no supply for valves",
            "valve circuits run at 30 V or less; line voltage is for a licensed electrician",
            "out-of-range",
        )
    return Supply(kind, Volts(float(match[1])))


def _parse_combination(text: str) -> Combination:
    parts = []
    for part in text.split("+"):
        match = re.fullmatch(r"\s*(\d+)(?:\s*(?:-|to)\s*(\d+))?\s*x\s*(.+?)\s*", part)
        if not match:
            raise Misread(
                f"'{text}' is no set of conductors",
                "write '2-5 x 18 AWG' or '1-3 x 18 AWG + 1-2 x 14 AWG'",
            )
        least, most = int(match[1]), int(match[2] or match[1])
        if least > most:
            raise Misread(f"'{part.strip()}' counts downward")
        parts.append((_parse_gauge(match[3]), least, most))
    return Combination(parts=tuple(parts))


def _parse_date(text: str) -> str:
    try:
        return datetime.date.fromisoformat(text).isoformat()
    except ValueError:
        raise Misread(f"'{text}' is no date", "write year-month-day, '2026-03-14'") from None


# Characters of a QR symbol's alphanumeric mode (ISO/IEC 18004, table 5) less the blank.
ALPHANUMERIC = r"0-9A-Z$%*+\-./:"


def _parse_address(text: str) -> str:
    """The address in capitals, without a slash at the end; see RFC 3986, 6.2.2.1 for case."""
    try:
        parts = urlsplit(text)
        host = parts.hostname or ""
    except ValueError:
        raise Misread(f"'{text}' is no web address") from None
    if parts.scheme.lower() not in ("http", "https") or not host:
        raise Misread(f"'{text}' is no web address", "write 'https://jobs.example.com'")
    if parts.query or parts.fragment or parts.username or parts.password:
        raise Misread("the record's address has more than host and path", "leave out ? # and @")
    if parts.path != parts.path.upper():
        raise Misread(
            f"the path '{parts.path}' has small letters, which the printed code cannot keep",
            f"serve the record at '{parts.path.upper()}' and write it so",
        )
    capitals = text.upper().rstrip("/")
    if not re.fullmatch(f"[{ALPHANUMERIC}]+", capitals):
        raise Misread(
            f"'{text}' holds a character that the printed code cannot keep",
            "use letters, digits and - . / : only",
        )
    if len(capitals) > 60:
        raise Misread(f"the address has {len(capitals)} characters, more than 60")
    return capitals


def _parse_key(text: str) -> str:
    if not re.fullmatch(r"[0-9A-Z]{12,26}", text):
        raise Misread(
            f"the record key '{text}' is not 12 to 26 capitals and digits",
            "'cardgen new' makes one that nobody can guess",
        )
    return text


def _parse_coordinates(text: str) -> str:
    match = re.fullmatch(r"(-?\d{1,2}\.\d{3,7}),\s*(-?\d{1,3}\.\d{3,7})", text)
    if not match or abs(float(match[1])) > 90 or abs(float(match[2])) > 180:
        raise Misread(
            f"'{text}' are no coordinates", "write latitude, longitude: '51.12345, -1.12345'"
        )
    return f"{match[1]}, {match[2]}"


def _parse_flags(text: str) -> tuple[str, ...]:
    """`A1 to A24` or one flag."""
    match = re.fullmatch(r"(\S*?)(\d+) to (\S*?)(\d+)", text)
    if not match:
        return (IDENTIFIER.parse(text),)
    stem, first, stem_2, last = match[1], int(match[2]), match[3], int(match[4])
    if stem != stem_2 or first >= last or last - first > 200:
        raise Misread(f"'{text}' is no range of flags", "write 'A1 to A24'")
    width = len(match[2]) if match[2].startswith("0") else 0
    return tuple(IDENTIFIER.parse(f"{stem}{n:0{width}d}") for n in range(first, last + 1))


LENGTH = Parsed("a length", _parse_length, rf"{_NUMBER}\s*(ft|foot|feet|m|met(re|er)s?)")
OHMS = Parsed("a resistance", _parse_ohms, rf"{_NUMBER}\s*(ohms?|\u03a9|\u2126)")
AMPERES = Parsed("a current", _parse_amperes, rf"{_NUMBER}\s*m?A")
VOLTS = Parsed("a voltage", _parse_volts, rf"{_NUMBER}\s*V")
GAUGE = Parsed("a gauge", _parse_gauge, rf"{_NUMBER}\s*([Aa][Ww][Gg]|mm2|mm\u00b2)")
COLOUR = Parsed("a colour", _parse_colour, r"[A-Za-z]+([ \-][A-Za-z]+)?(/[A-Za-z \-]+)?")
SUPPLY = Parsed("a supply", _parse_supply)
COMBINATION = Parsed("a set of conductors", _parse_combination)
DATE = Parsed("a date", _parse_date, r"\d{4}-\d{2}-\d{2}")
ADDRESS = Parsed("a web address", _parse_address)
KEY = Parsed("the record key", _parse_key, r"[0-9A-Z]{12,26}")
COORDINATES = Parsed("coordinates", _parse_coordinates)
FLAGS = Parsed("a flag", _parse_flags)
