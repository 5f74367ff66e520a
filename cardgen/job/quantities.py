"""Readers for the trade's quantities and words: lengths, gauges, colors, supplies, addresses."""

from __future__ import annotations

import re
from collections.abc import Mapping
from urllib.parse import urlsplit

from cardgen.faults.value_faults import (
    COMMA,
    GAUGE_NOT_MADE,
    OUT_OF_RANGE,
    TOO_LONG,
    UNIT_MISSING,
    UNIT_UNKNOWN,
    UNKNOWN_COLOR,
    VALUE,
)
from cardgen.job.job_parts import Combination
from cardgen.job.meant_lengths import meant_length
from cardgen.reading.nodes import short
from cardgen.reading.shapes import (
    IDENTIFIER,
    BadValue,
    Parsed,
    either,
    is_a_day,
    meant_days,
    meant_number,
    nearest,
)
from cardgen.trade.colors import Insulation, color_words, insulation
from cardgen.trade.copper import awg_area_mm2
from cardgen.trade.meant_colors import meant_color
from cardgen.units import (
    METERS_PER_FOOT,
    Amperes,
    Celsius,
    Gauge,
    GaugeSystem,
    Length,
    LengthUnit,
    Megohms,
    Ohms,
    OhmsPerKilometer,
    Supply,
    SupplyKind,
    Tolerance,
    VoltAmperes,
    Volts,
    plain,
)

_NUMBER = r"[0-9]{1,7}(\.[0-9]{1,6})?"
_LENGTH_UNITS = {
    "ft": LengthUnit.FEET,
    "foot": LengthUnit.FEET,
    "feet": LengthUnit.FEET,
    "m": LengthUnit.METERS,
    "meter": LengthUnit.METERS,
    "meters": LengthUnit.METERS,
    "metre": LengthUnit.METERS,
    "metres": LengthUnit.METERS,
}
_INCHES = dict.fromkeys(("in", "inch", "inches"), LengthUnit.INCHES)
_SHORT_UNITS = {**_INCHES, **_LENGTH_UNITS}
# Sizes that are made: AWG of irrigation work, IEC 60228 nominal sizes.
AWG_SIZES = (10.0, 12.0, 14.0, 16.0, 18.0, 20.0)
MM2_SIZES = (0.5, 0.75, 1.0, 1.5, 2.5, 4.0)
_SIZES = {GaugeSystem.AWG: AWG_SIZES, GaugeSystem.MM2: MM2_SIZES}


_TOLD = ("ft", "m")
# A leg longer than that is a typing error (assumed; the longest of a golf course is a mile or two).
LONGEST_LEG = 10_000.0  # m


def _amount(text: str, what: str, units: tuple[str, ...]) -> tuple[float, str]:
    """Split `85 ft` into number and unit; say what is missing."""
    match = re.fullmatch(r"(-?)([0-9][0-9.,]*)\s*([^0-9]*)", text)
    if not match and re.fullmatch(r"\.[0-9]+\s*[A-Za-z%\u03a9]+", text):
        raise BadValue(VALUE, "meant", what=what, text=short(text), meant=f"0{text}")
    if not match:
        example = f"'5 {units[0]}'"
        raise BadValue(VALUE, "no unit", what=what, text=short(text), example=example)
    sign, number, unit = match[1], match[2], match[3].strip()
    if "," in number:
        raise _comma(number, unit)
    if sign == "-":
        raise BadValue(OUT_OF_RANGE, "negative", what=what)
    if number.count(".") > 1:
        raise BadValue(VALUE, "points", text=number, count=number.count("."))
    if number.endswith(".") and unit:
        meant = f"{number[:-1]} {unit}"
        raise BadValue(VALUE, "meant", what=what, text=short(text), meant=short(meant))
    number = number.removesuffix(".")
    if not unit:
        told = units[:1] if units[1:2] == (f"{units[0]}s",) else units[:2]
        examples = either(f"{number} {u}" for u in told)
        raise BadValue(UNIT_MISSING, what=what, examples=examples)
    if float(number) == 0:
        raise BadValue(OUT_OF_RANGE, "zero", what=what)
    return float(number), unit


def _comma(number: str, unit: str) -> BadValue:
    meant = meant_number(number)
    if not meant:
        return BadValue(COMMA, "unclear", number=number)
    return BadValue(COMMA, number=number, meant=f"{meant} {unit}".strip())


def _unknown_unit(text: str, units: str) -> BadValue:
    return BadValue(UNIT_UNKNOWN, text=short(text), units=units)


def _not(text: str, what: str, example: str) -> BadValue:
    return BadValue(VALUE, text=short(text), what=what, example=example)


def _parse_length(text: str) -> Length:
    amount, unit = _length_amount(text, ("ft", "m"), _LENGTH_UNITS)
    length = Length(amount, _LENGTH_UNITS[unit.lower()])
    if not 0.01 <= length.meters <= LONGEST_LEG:
        raise BadValue(OUT_OF_RANGE, what="a length", text=short(text))
    return length


def _length_amount(
    text: str, usual: tuple[str, str], units: Mapping[str, LengthUnit]
) -> tuple[float, str]:
    """Number and unit of a length; what else it may be written as is told as it should be."""
    meant = meant_length(text, is_short="in" in units)
    if meant and not re.fullmatch(
        r"[0-9][0-9.]*\s*([A-Za-z]*|['\"\u2019\u2032\u201d\u2033]*)[.?]?", text
    ):
        if "," in text:
            raise BadValue(COMMA, number=short(text), meant=meant)
        raise BadValue(VALUE, "meant", what="a length", text=short(text), meant=meant)
    amount, unit = _amount(text, "a length", usual)
    if unit.lower() in units:
        return amount, unit
    if meant:
        raise BadValue(UNIT_UNKNOWN, "meant", text=short(text), meant=meant)
    raise _unknown_unit(text, either(("in", *_TOLD) if "in" in units else _TOLD))


def _parse_pigtail(text: str) -> Length:
    """Beyond 30 ft it is a cable (assumed)."""
    length = _short_length(text)
    if not 0.01 <= length.meters <= 30 * METERS_PER_FOOT:
        raise BadValue(OUT_OF_RANGE, "pigtail", text=short(text))
    return length


def _parse_slack(text: str) -> Length:
    """Also none at all; beyond 30 ft it is a leg (assumed)."""
    none = re.fullmatch(rf"0{{1,7}}(?:\.0{{1,6}})?\s*({_SHORT})", text)
    if none:
        return Length(0.0, _SHORT_UNITS[none[1].lower()])
    length = _short_length(text)
    if not 0.01 <= length.meters <= 30 * METERS_PER_FOOT:
        raise BadValue(OUT_OF_RANGE, "slack", text=short(text))
    return length


def _short_length(text: str) -> Length:
    """Also in inches."""
    amount, unit = _length_amount(text, ("in", "ft"), _SHORT_UNITS)
    return Length(amount, _SHORT_UNITS[unit.lower()])


def _parse_percent(text: str) -> float:
    """`10 %` as a part of one; none at all is possible, more than all is a typing error."""
    if re.fullmatch(r"0{1,7}(\.0{1,6})?\s*%", text):
        return 0.0
    return _quantity(text, "a part of the run", {"%": 1.0}, 0.1, 100) / 100


def _quantity(text: str, what: str, units: dict[str, float], least: float, most: float) -> float:
    amount, unit = _amount(text, what, tuple(units))
    factors = {u.lower(): factor for u, factor in units.items()}
    if unit.lower() not in factors:
        raise _unknown_unit(text, f"it in {either(list(units)[:2])}")
    value = amount * factors[unit.lower()]
    if not least <= value <= most:
        bounds = {"least": least, "most": most, "unit": next(iter(units))}
        raise BadValue(OUT_OF_RANGE, "between", what=what, text=short(text), **bounds)
    return value


def _parse_ohms(text: str) -> Ohms:
    """From 0.5 to 2000 ohm: beyond that no coil is made (assumed), so it is a typing error."""
    units = {"ohm": 1.0, "ohms": 1.0, "\u03a9": 1.0}
    return Ohms(_quantity(text.replace("\u2126", "\u03a9"), "a resistance", units, 0.5, 2000))


def _parse_amperes(text: str) -> Amperes:
    return Amperes(_quantity(text, "a current", {"A": 1.0, "mA": 0.001}, 0.01, 20))


def _parse_volt_amperes(text: str) -> VoltAmperes:
    return VoltAmperes(_quantity(text, "a transformer", {"VA": 1.0}, 1, 2000))


def _parse_volts(text: str) -> Volts:
    return Volts(_quantity(text, "a voltage", {"V": 1.0}, 1, 60))


def _parse_test_volts(text: str) -> Volts:
    """Of an insulation tester: hand-held ones for low voltage give these (from memory)."""
    return Volts(_quantity(text, "a test voltage", {"V": 1.0}, 50, 1000))


def _parse_megohms(text: str) -> Megohms:
    """Below 0.01 Mohm or above what hand-held testers show it is a typing error (assumed)."""
    units = {"Mohm": 1.0, "megohm": 1.0, "M\u03a9": 1.0, "kohm": 0.001, "k\u03a9": 0.001}
    units |= {"Mohms": 1.0, "megohms": 1.0, "kohms": 0.001}
    text = text.replace("\u2126", "\u03a9")
    return Megohms(_quantity(text, "an insulation resistance", units, 0.01, 10_000))


def _parse_ground_ohms(text: str) -> Ohms:
    """A rod below 1 ohm or a limit above 200 ohm is a typing error (assumed)."""
    units = {"ohm": 1.0, "ohms": 1.0, "\u03a9": 1.0}
    text = text.replace("\u2126", "\u03a9")
    return Ohms(_quantity(text, "a ground resistance", units, 1, 200))


def _parse_celsius(text: str) -> Celsius:
    units = {"C": 1.0, "\u00b0C": 1.0}
    return Celsius(_quantity(text, "a temperature", units, 1, 80))


def _parse_ohms_per_length(text: str) -> OhmsPerKilometer:
    """`6.5 ohm/1000 ft` or `21 ohm/km`, of one conductor at 20 C."""
    match = re.fullmatch(r"(.*?)\s*(?:/|per)\s*(1000\s*ft|km)", text)
    if not match:
        raise _not(text, "a resistance of a conductor", "'6.5 ohm/1000 ft' or '21 ohm/km'")
    per_kilometer = 1.0 if match[2] == "km" else 1000 / (1000 * METERS_PER_FOOT)
    return OhmsPerKilometer(_parse_ohms(match[1]) * per_kilometer)


_GAUGES = "'18 AWG' or '1.5 mm2'"


def _parse_gauge(text: str) -> Gauge:
    match = re.fullmatch(r"([0-9.,]+)\s*(AWG|mm2|mm\u00b2)?", text, re.IGNORECASE)
    if match and "," in match[1]:
        raise _comma(match[1], match[2] or "")
    if not match or not re.fullmatch(_NUMBER, match[1]):
        meant = meant_gauge(text)
        raise _not(text, "a gauge", f"'{meant}'" if meant else _GAUGES)
    size, unit = float(match[1]), (match[2] or "").lower()
    if not unit:
        made = [f"{plain(size)} {system}" for system, sizes in _SIZES.items() if size in sizes]
        examples = either(made) if made else _GAUGES
        raise BadValue(UNIT_MISSING, what="a gauge", examples=examples)
    system = GaugeSystem.AWG if unit == "awg" else GaugeSystem.MM2
    if size not in _SIZES[system]:
        sizes = ", ".join(f"{s:g}" for s in _SIZES[system])
        alike = _alike(size, system)
        raise BadValue(GAUGE_NOT_MADE, text=short(text), system=system, sizes=sizes, alike=alike)
    return Gauge(size, system)


def meant_gauge(text: str) -> str:
    """`14 AWG` by `#14`, `AWG 14`, `14 ga` or, of a cable with two conductors, `14/2`."""
    match = re.fullmatch(
        r"(#|no\.?|awg|cal\.?|calibre|gauge|gage)?\s*([0-9]{2})\s*"
        r"(ga?\.?|gauge|gage|(?:awg)?\s*[/-]\s*[0-9]{1,2}|awg)?",
        text,
        re.IGNORECASE,
    )
    is_said = match and (match[1] or match[3]) and float(match[2]) in AWG_SIZES
    return f"{match[2]} AWG" if match and is_said else ""


def _alike(size: float, system: GaugeSystem) -> str:
    """Of a size in mm2 the AWG that is as thick, within 5 % (ours): 0.8 mm2 and 18 AWG."""
    if system is GaugeSystem.AWG:
        return ""
    near = (n for n in AWG_SIZES if abs(awg_area_mm2(n) / size - 1) <= 0.05)
    return "".join(f"; {n:g} AWG is {awg_area_mm2(n):.2f} mm2" for n in near)


def _parse_color(text: str) -> Insulation:
    for part in text.split("/"):
        if insulation(part) is None:
            known = color_words()
            several = [meant_color(word) for word in re.split(r"[;,\s]+", text)]
            if len(several) > 1 and all(several):
                words = ", ".join(color.word for color in several if color)
                raise BadValue(
                    UNKNOWN_COLOR, text=short(text), suggestion=f"write '{short(words)}'"
                )
            meant = meant_color(part)
            suggestion = f"did you mean '{meant.word}'?" if meant else nearest(part, known)
            suggestion = suggestion or "known are " + ", ".join(known)
            raise BadValue(UNKNOWN_COLOR, text=short(part), suggestion=suggestion)
    color = insulation(text)
    if color is None:
        raise BadValue(VALUE, "three colors", text=short(text))
    return color


# The limit of a Class 2 circuit (NFPA 70, chapter 9, table 11(A), as a trade magazine gives it).
HIGHEST_SUPPLY = 30.0


def _parse_supply(text: str) -> Supply:
    words = " ".join(text.split()).lower()
    if words in ("two-wire", "two wire"):
        return Supply(SupplyKind.TWO_WIRE)
    match = re.fullmatch(rf"(?:({_NUMBER})\s*v)?\s*(ac|dc latching)", words)
    if not match:
        raise _not(text, "a supply", "'24 V AC', '9 V DC latching' or 'two-wire'")
    kind = SupplyKind.AC if match[3] == "ac" else SupplyKind.LATCHING
    if match[1] is None:
        return Supply(kind)
    if not 1 <= float(match[1]) <= HIGHEST_SUPPLY:
        raise BadValue(OUT_OF_RANGE, "supply", text=match[1], most=HIGHEST_SUPPLY)
    return Supply(kind, Volts(float(match[1])))


MOST_TOLERANCE = 30  # percent (assumed: beyond that it is no supply of that voltage)


def _parse_tolerance(text: str) -> Tolerance:
    two = rf"-\s*(?P<below>{_NUMBER})\s*%?\s*/?\s*\+\s*(?P<above>{_NUMBER})\s*%"
    one = rf"(?:\+/?-|±)\s*(?P<below>{_NUMBER})\s*%"
    match = re.fullmatch(two, text.strip()) or re.fullmatch(one, text.strip())
    if match is None:
        raise _not(text, "a tolerance", "'-10/+17 %' or '+/-10 %'")
    below, above = match["below"], match.groupdict().get("above", match["below"])
    for percent in (below, above):
        if float(percent) > MOST_TOLERANCE:
            raise BadValue(OUT_OF_RANGE, "tolerance", text=percent, most=MOST_TOLERANCE)
    return Tolerance(float(below), float(above))


MOST_IN_A_CONNECTOR = 20  # of one gauge (assumed: more do not fit into any)


def _parse_combination(text: str) -> Combination:
    parts = []
    for part in text.split("+"):
        match = re.fullmatch(r"\s*([0-9]+)(?:\s*(?:-|to)\s*([0-9]+))?\s*x\s*(.+?)\s*", part)
        if not match:
            example = "'2-5 x 18 AWG' or '1-3 x 18 AWG + 1-2 x 14 AWG'"
            raise _not(text, "a set of conductors", example)
        least, most = int(match[1]), int(match[2] or match[1])
        if least > most:
            upward = f"{most}-{least} x {match[3]}"
            raise BadValue(VALUE, "downward", text=short(part), upward=upward)
        if not 1 <= most <= MOST_IN_A_CONNECTOR:
            raise BadValue(OUT_OF_RANGE, "connector", count=most)
        parts.append((_parse_gauge(match[3]), least, most))
    return Combination(parts=tuple(parts))


def _parse_date(text: str) -> str:
    if not re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        meant = either(meant_days(text) or ("2026-03-14",))
        raise _not(text, "a date", f"year-month-day, {meant}")
    if not is_a_day(text):
        raise BadValue(VALUE, "no such day", text=text)
    if not "1950" <= text[:4] <= "2199":
        raise BadValue(OUT_OF_RANGE, "year", text=text[:4])
    return text


LONGEST_ADDRESS = 60
_HOST = (
    r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)*"  # RFC 1123, 2.1
)


def _parse_address(text: str) -> str:
    """The address in capitals, without a slash at the end; see RFC 3986, 6.2.2.1 for case.

    The characters are those of a QR symbol's alphanumeric mode (ISO/IEC 18004, table 5) that also
    name a folder anywhere.
    """
    no_address = _not(text, "a web address", "'https://jobs.example.com'")
    try:
        parts = urlsplit(text)
        host, port = parts.hostname or "", parts.port
    except ValueError:
        raise no_address from None
    if parts.scheme.lower() not in ("http", "https") or not host or port == 0:
        raise no_address
    if any(sign in text for sign in "?#@"):
        raise BadValue(VALUE, "more than a path")
    strange = re.search("[^A-Za-z0-9./:-]", text)
    if strange:
        raise BadValue(VALUE, "not in a code", letter=strange[0])
    if not re.fullmatch(_HOST, host):
        raise no_address
    if any(part in ("", ".", "..") for part in parts.path.rstrip("/").split("/")[1:]):
        raise BadValue(VALUE, "no path", path=parts.path)
    capitals = parts.path.upper()
    if parts.path != capitals:
        raise BadValue(VALUE, "small letters", path=parts.path, capitals=capitals)
    count = len(text.rstrip("/"))
    if count > LONGEST_ADDRESS:
        raise BadValue(TOO_LONG, "address", count=count, most=LONGEST_ADDRESS)
    return text.upper().rstrip("/")


def _parse_key(text: str) -> str:
    if not re.fullmatch(r"[0-9A-Z]{12,26}", text):
        raise BadValue(VALUE, "not a key", text=short(text))
    if len(set(text)) < 5:
        raise BadValue(VALUE, "plain key", text=text)
    return text


def _parse_coordinates(text: str) -> str:
    match = re.fullmatch(r"(-?[0-9]{1,2}\.[0-9]{3,7}),\s*(-?[0-9]{1,3}\.[0-9]{3,7})", text)
    if not match:
        example = "latitude, longitude in degrees: '51.12345, -1.12345'"
        raise _not(text, "a pair of coordinates", example)
    if abs(float(match[1])) > 90 or abs(float(match[2])) > 180:
        raise BadValue(OUT_OF_RANGE, "earth", text=text)
    return f"{match[1]}, {match[2]}"


MOST_FLAGS = 201  # in one range


def _parse_flags(text: str) -> tuple[str, ...]:
    """`A1 to A24` or one flag."""
    match = re.fullmatch(r"(\S*?)([0-9]{1,6}) to (\S*?)([0-9]{1,6})", text)
    if not match:
        return (IDENTIFIER.parse(text),)
    stem, first, stem_2, last = match[1], int(match[2]), match[3], int(match[4])
    if stem != stem_2 or first >= last:
        raise _not(text, "a range of flags", "'A1 to A24'")
    count = last - first + 1
    if count > MOST_FLAGS:
        raise BadValue(OUT_OF_RANGE, "flags", text=short(text), count=count, most=MOST_FLAGS)
    width = len(match[2]) if match[2].startswith("0") else 0
    return tuple(IDENTIFIER.parse(f"{stem}{n:0{width}d}") for n in range(first, last + 1))


def _any_case(unit: str) -> str:
    """A pattern for a unit; JSON Schema has no flag for case."""
    return "".join(f"[{c.upper()}{c.lower()}]" if c.isalpha() else c for c in unit)


_FEET = "|".join(_any_case(unit) for unit in _LENGTH_UNITS)
LENGTH = Parsed("a length", _parse_length, rf"{_NUMBER}\s*({_FEET})")
_SHORT = "|".join(_any_case(unit) for unit in _SHORT_UNITS)
SHORT_LENGTH = Parsed("a length", _parse_pigtail, rf"{_NUMBER}\s*({_SHORT})")
SLACK_LENGTH = Parsed("a length", _parse_slack, rf"{_NUMBER}\s*({_SHORT})")
PERCENT = Parsed("a part of the run", _parse_percent, rf"{_NUMBER}\s*%")
OHMS = Parsed("a resistance", _parse_ohms, rf"{_NUMBER}\s*([Oo][Hh][Mm][Ss]?|\u03a9|\u2126)")
AMPERES = Parsed("a current", _parse_amperes, rf"{_NUMBER}\s*[Mm]?[Aa]")
CELSIUS = Parsed("a temperature", _parse_celsius, rf"{_NUMBER}\s*\u00b0?C")
OHMS_PER_LENGTH = Parsed(
    "a resistance of a conductor",
    _parse_ohms_per_length,
    rf"{_NUMBER}\s*([Oo][Hh][Mm][Ss]?|\u03a9|\u2126)\s*(/|per)\s*(1000\s*ft|km)",
)
VOLT_AMPERES = Parsed("a transformer", _parse_volt_amperes, rf"{_NUMBER}\s*[Vv][Aa]")
VOLTS = Parsed("a voltage", _parse_volts, rf"{_NUMBER}\s*[Vv]")
TEST_VOLTS = Parsed("a test voltage", _parse_test_volts, rf"{_NUMBER}\s*[Vv]")
_MEGOHM = "|".join(_any_case(unit) for unit in ("Mohms", "Mohm", "megohms", "megohm"))
_KILOHM = "|".join(_any_case(unit) for unit in ("kohms", "kohm"))
MEGOHMS = Parsed(
    "an insulation resistance",
    _parse_megohms,
    rf"{_NUMBER}\s*({_MEGOHM}|{_KILOHM}|[MmKk](\u03a9|\u2126))",
)
GROUND_OHMS = Parsed(
    "a ground resistance", _parse_ground_ohms, rf"{_NUMBER}\s*([Oo][Hh][Mm][Ss]?|\u03a9|\u2126)"
)
GAUGE = Parsed("a gauge", _parse_gauge, rf"{_NUMBER}\s*([Aa][Ww][Gg]|[Mm][Mm][2\u00b2])")
COLOR = Parsed("a color", _parse_color, r"[A-Za-z]+([ \-][A-Za-z]+)?(/[A-Za-z \-]+)?")
SUPPLY = Parsed("a supply", _parse_supply)
TOLERANCE = Parsed("a tolerance", _parse_tolerance)
COMBINATION = Parsed("a set of conductors", _parse_combination)
DATE = Parsed("a date", _parse_date, "[0-9]{4}-[0-9]{2}-[0-9]{2}")
ADDRESS = Parsed("a web address", _parse_address)
KEY = Parsed("the record key", _parse_key, "[0-9A-Z]{12,26}")
COORDINATES = Parsed("a pair of coordinates", _parse_coordinates)
FLAGS = Parsed("a flag", _parse_flags)
