"""Find the number that a person meant: `1,050`, `1.050,5`, `1 050`, `85,5`, `3 1/2`, `8½`."""

from __future__ import annotations

import re
import unicodedata

from cardgen.units import plain

_POINTS = {",": r"\.", ".": ",", "'": "[.,]", " ": "[.,]"}  # by the sign between thousands
_MOST_DIGITS = 24  # more is no number that anybody typed
_FRACTION = re.compile(r"(?:([0-9]{1,7})[ -]+)?([0-9]{1,3})/([0-9]{1,3})")


def meant_number(text: str) -> str:
    """The number as a job file has it, `1050.5`; empty if there is a doubt about it.

    Three digits after one comma are thousands, as in US English and in Mexico; any other number
    of digits after it is a fraction, as much of Latin America and Europe have it.
    """
    text = _with_plain_fractions(text).strip()
    if len(text) > _MOST_DIGITS:
        return ""
    fraction = _FRACTION.fullmatch(text)
    if fraction:
        whole, upper, lower = int(fraction[1] or 0), int(fraction[2]), int(fraction[3])
        return plain(whole + upper / lower) if upper < lower else ""
    if re.fullmatch(r"[0-9]+(\.[0-9]+)?", text):
        return text
    for group, point in _POINTS.items():
        signs = re.escape(group)
        parts = re.fullmatch(
            rf"([1-9][0-9]{{0,2}}(?:{signs}[0-9]{{3}})+)(?:{point}([0-9]+))?", text
        )
        # A single point is a decimal point: only a comma after it, or another, makes it a thousand.
        if parts and (group != "." or parts[2] or text.count(".") > 1):
            digits = parts[1].replace(group, "")
            return f"{digits}.{parts[2]}" if parts[2] else digits
    if re.fullmatch("[0-9]+,[0-9]+", text):
        return text.replace(",", ".")
    return ""


def _with_plain_fractions(text: str) -> str:
    """`8½` as `8 1/2`, the apostrophes of Swiss thousands as typed, and wide spaces as spaces."""
    written = []
    for character in text.replace("\u2019", "'"):
        compatible = unicodedata.normalize("NFKC", character)
        is_fraction = compatible != character and "\u2044" in compatible
        written.append(f" {compatible}" if is_fraction else compatible)
    return "".join(written).replace("\u2044", "/")
