"""Turn what a person wrote for a value into the number in the unit of its kind, or into why not.

`31.4`, `1.2k`, `1200 ohm`, `0.23 A`, `1,234.5` can be one thing only.  `1,234` can be two.
"""

from __future__ import annotations

import re

from cardgen.results.measured import OL, Kind

_LONGEST = 20  # signs of a number; no meter shows as many
_OL = {"ol", "o.l", "o.l.", "0l", "0.l", "∞"}
_YES = {"yes", "y", "x", "✓", "ok", "1", "si", "sí", "s"}
_NO = {"no", "n", "none", "0", "ninguna", "ninguno", "nada"}
FACTORS = {"": 1.0, "m": 1e-3, "k": 1e3, "K": 1e3, "M": 1e6, "meg": 1e6, "G": 1e9}
_BASES = {"Ω": ("Ω", 1.0), "V": ("V", 1.0), "mA": ("A", 1e-3), "MΩ": ("Ω", 1e6)}
SYMBOLS = {
    **dict.fromkeys(("Ω", "\u2126", "ohm", "ohms", "ohmios"), "Ω"),
    **dict.fromkeys(("V", "v", "volt", "volts", "VAC", "Vac"), "V"),
    **dict.fromkeys(("A", "a", "amp", "amps"), "A"),
}
_WRITTEN = re.compile(
    rf"([0-9.,]+)\s*({'|'.join(filter(None, FACTORS))})?\s*({'|'.join(SYMBOLS)})?", re.ASCII
)
_PLAIN = re.compile(r"\d{1,9}(?:\.\d{1,6})?|\.\d{1,6}", re.ASCII)
_GROUP = r"[1-9]\d{0,2}"
_THOUSANDS = re.compile(rf"{_GROUP}(?:,\d{{3}})+(?:\.\d+)?", re.ASCII)
_THOUSANDS_BY_POINT = re.compile(rf"{_GROUP}(?:(?:\.\d{{3}})+,\d+|(?:\.\d{{3}}){{2,}})", re.ASCII)
_DECIMAL_COMMA = re.compile(r"\d{1,9},\d{1,6}", re.ASCII)
_EITHER = re.compile(rf"{_GROUP},\d{{3}}", re.ASCII)


class NotAValue(Exception):
    """It says no value, or it could say two.

    Attributes:
        variant: of the fault READING_VALUE.
        values: what goes into its words.
    """

    def __init__(self, variant: str = "", **values: str) -> None:
        super().__init__(variant)
        self.variant, self.values = variant, values


def value_read(text: str, kind: Kind) -> float:
    """In the unit of `kind`.

    Raises:
        NotAValue: if it is none, in another unit, or could be taken for two.
    """
    text = text.strip()
    if kind is Kind.NOT_REACHED:
        return 0.0
    if kind is Kind.WALK_TEST:
        return _ran(text)
    if text.lower() in _OL:
        if not kind.may_be_ol:
            raise NotAValue("never OL", kind=kind)
        return OL
    value = _in_unit(text, kind)
    if kind.is_too_much(value):
        raise NotAValue("too much", text=text, most=kind.most_text, unit=kind.unit)
    return value


def is_yes_or_no(text: str) -> bool:
    return text.strip().lower() in _YES | _NO


def _ran(text: str) -> float:
    if is_yes_or_no(text):
        return float(text.lower() in _YES)
    raise NotAValue("walk", text=text)


def _in_unit(text: str, kind: Kind) -> float:
    match = _WRITTEN.fullmatch(text)
    if match is None or len(match[1]) > _LONGEST:
        raise NotAValue(text=text)
    value, factor, symbol = _number(match[1]), match[2], match[3]
    if not factor and not symbol:
        return value
    base, scale = _BASES[kind.unit]
    # A small m beside ohms is a slip for a large one, and a million times less.
    if SYMBOLS.get(symbol, base) != base or (factor == "m" and base == "Ω"):
        raise NotAValue("other unit", text=text, unit=kind.unit)
    return round(value * FACTORS[factor or ""] / scale, 6)


def _number(text: str) -> float:
    """A comma is taken for what it can only be."""
    if _PLAIN.fullmatch(text):
        return float(text)
    if _EITHER.fullmatch(text):
        whole, part = text.split(",")
        raise NotAValue("thousands", text=text, whole=whole, part=part)
    if _THOUSANDS.fullmatch(text):
        return float(text.replace(",", ""))
    if _THOUSANDS_BY_POINT.fullmatch(text):
        return float(text.replace(".", "").replace(",", "."))
    if _DECIMAL_COMMA.fullmatch(text):
        return float(text.replace(",", "."))
    raise NotAValue(text=text)
