"""What people mean by the text of a cell: lengths, gauges, days, yes and no as they are typed.

A text that the job file takes as it is stays as it is, so that what was written comes back.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from fractions import Fraction
from typing import Any

from cardgen.job import quantities
from cardgen.reading.shapes import YES_NO, BadValue, OneOf, OrNotKnown, Parsed, Shape, Whole
from cardgen.results.reading_date import NotADay, when_read
from cardgen.units import plain

# What looks like a blank, and what looks like nothing: both come with text from a web page.
_BLANKS = re.compile("[\u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000\t\v\f]")
_NOTHING = re.compile("[\u00ad\u180e\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]")
_LINES = re.compile("\r\n?")


def cleaned(text: str) -> str:
    """Without characters that nobody sees; lines of a cell stay lines."""
    text = _LINES.sub("\n", unicodedata.normalize("NFC", text))
    return _NOTHING.sub("", _BLANKS.sub(" ", text))


def listed(text: str, *, sentences: bool, lengths: bool) -> list[str]:
    """The values of a list in a cell: on lines of their own, or with signs between them."""
    if "\n" in text.rstrip(" "):
        parts = text.split("\n")
    elif sentences:
        parts = text.split(";")
    else:
        parts = re.split(r"[;,](?![0-9]{3}(?![0-9]))" if lengths else "[;,]", text)
    return [" ".join(part.split()) for part in parts if part.strip()]


def as_meant(text: str, shape: Shape[Any]) -> str:
    """The text as a job file has it, where it can mean one thing only; else as it is."""
    if isinstance(shape, OrNotKnown):
        shape = shape.inner
    if _is_taken(text, shape):
        return text
    rewrite = _REWRITES.get(shape)
    if rewrite is None and isinstance(shape, Whole):
        rewrite = _whole
    other = rewrite(text) if rewrite else text
    return other if _is_taken(other, shape) else text


def is_length(shape: Shape[Any]) -> bool:
    return shape in _LENGTHS


def _is_taken(text: str, shape: Shape[Any]) -> bool:
    if isinstance(shape, OneOf):
        return text.lower() in shape.words
    if not isinstance(shape, Parsed):
        return True
    try:
        shape.parse(text)
    except BadValue:
        return False
    return True


# ---- lengths -------------------------------------------------------------------------------

_HALVES = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_NUMBER = r"(?:[0-9][0-9,]*(?:\.[0-9]+)?(?:[ -][0-9]+/[0-9]+)?|[0-9]+/[0-9]+|\.[0-9]+)"
_FOOT = r"(?:'|ft|feet|foot|lf|pies?)"
_INCH = r"(?:\"|''|in|inch|inches|pulgadas?|plg)"
_METER = r"(?:m|mts?|meters?|metres?|metros?)"
_FEET_AND_INCHES = re.compile(rf"({_NUMBER})\s*{_FOOT}[\s-]*(?:({_NUMBER})\s*{_INCH})?")
_INCHES = re.compile(rf"({_NUMBER})\s*{_INCH}")
_METERS = re.compile(rf"({_NUMBER})\s*{_METER}")


def _length(text: str) -> str:
    """`1,050 ft`, `60'`, `60' 6"`, `3 1/2 in`, `85 pies`; curly marks are the same as straight."""
    text = re.sub("[‘’′´`]", "'", re.sub("[“”″]", '"', text)).strip().rstrip(".").lower()
    for sign, written in _HALVES.items():
        text = text.replace(sign, f" {written}")
    text = " ".join(text.split())
    decimal = re.fullmatch(
        rf"([0-9]+),([0-9](?=[^0-9])|[0-9]{{2}}(?=\s*m))\s*({_FOOT}|{_INCH}|{_METER})", text
    )
    if decimal:  # no thousands; two digits are left to be asked about where a foot is the unit
        text = f"{decimal[1]}.{decimal[2]} {decimal[3]}"
    both = _FEET_AND_INCHES.fullmatch(text)
    if both:
        inches = _amount(both[2]) if both[2] else Fraction(0)
        return _shown(_amount(both[1]), inches, "ft")
    for pattern, unit in ((_INCHES, "in"), (_METERS, "m")):
        match = pattern.fullmatch(text)
        if match:
            return _shown(_amount(match[1]), Fraction(0), unit)
    return text


def _shown(amount: Fraction | None, inches: Fraction | None, unit: str) -> str:
    if amount is None or inches is None:
        return ""
    return f"{plain(float(amount + inches / 12))} {unit}"


def _amount(text: str) -> Fraction | None:
    """None where a comma does not mark thousands, or a part of nothing is taken."""
    number, _, part = text.replace("-", " ").partition(" ")
    if "," in number and not re.fullmatch(r"[0-9]{1,3}(,[0-9]{3})+(\.[0-9]+)?", number):
        return None
    try:
        return Fraction(number.replace(",", "")) + (Fraction(part) if part else 0)
    except ZeroDivisionError:
        return None


# ---- other values --------------------------------------------------------------------------


def _gauge(text: str) -> str:
    """`#18`, `18 ga`, `AWG 18`: in this trade a bare gauge number is AWG only where it says so."""
    match = re.fullmatch(
        r"(?:#|no\.?\s*|awg\s*)([0-9]{2})(?:\s*(?:awg|ga\.?|gauge))?|([0-9]{2})\s*(?:ga\.?|gauge)",
        text.strip().lower(),
    )
    return f"{match[1] or match[2]} AWG" if match else text


def _date(text: str) -> str:
    """A day that can be one day only, without its time of day."""
    try:
        return when_read(text.strip())[: len("2026-03-14")]
    except NotADay:
        return text


def _whole(text: str) -> str:
    """`7.0`, and `1,050` where it can only be a number."""
    text = text.strip()
    if re.fullmatch("[0-9]{1,3}(,[0-9]{3})+", text):
        return text.replace(",", "")
    return re.sub(r"\.0+$", "", text)


_YES = ("yes", "y", "true", "x", "si", "sí", "✓", "✔")
_NO = ("no", "n", "false")


def _yes_no(text: str) -> str:
    word = text.strip().lower()
    return "yes" if word in _YES else "no" if word in _NO else text


def _unit_case(text: str) -> str:
    """A comma that can only be a decimal one: `0,4 A`, `6,5 ohm/1000 ft`."""
    return re.sub(r"^([0-9]+),([0-9]{1,2})(?![0-9])", r"\1.\2", text.strip())


_LENGTHS = (quantities.LENGTH, quantities.SHORT_LENGTH, quantities.SLACK_LENGTH)
_WITH_UNITS = (
    *(quantities.OHMS, quantities.AMPERES, quantities.VOLTS, quantities.VOLT_AMPERES),
    *(quantities.MEGOHMS, quantities.GROUND_OHMS, quantities.CELSIUS, quantities.PERCENT),
    *(quantities.OHMS_PER_LENGTH, quantities.TEST_VOLTS),
)
_REWRITES: dict[Shape[Any], Callable[[str], str]] = {
    **dict.fromkeys(_LENGTHS, _length),
    **dict.fromkeys(_WITH_UNITS, _unit_case),
    quantities.GAUGE: _gauge,
    quantities.DATE: _date,
    YES_NO: _yes_no,
}
