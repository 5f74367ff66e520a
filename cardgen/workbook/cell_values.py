"""What people mean by the text of a cell: lengths, gauges, days, yes and no as they are typed.

A text that the job file takes as it is stays as it is, so that what was written comes back.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from functools import partial
from typing import Any

from cardgen.job import quantities
from cardgen.job.meant_lengths import certain_length
from cardgen.reading.shapes import (
    YES_NO,
    BadValue,
    OneOf,
    OrNotKnown,
    Parsed,
    Shape,
    Whole,
    meant_number,
)
from cardgen.results.reading_date import NotADay, when_read

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
    return shape is quantities.LENGTH or shape in _SHORT_LENGTHS


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


def _date(text: str) -> str:
    """A day that can be one day only, without its time of day."""
    try:
        return when_read(text.strip())[: len("2026-03-14")]
    except NotADay:
        return text


def _whole(text: str) -> str:
    """`7.0`, and `1,050`, which can only be a number."""
    return re.sub(r"\.0+$", "", meant_number(text.strip()))


_YES = ("yes", "y", "true", "x", "si", "sí", "✓", "✔")
_NO = ("no", "n", "false")


def _yes_no(text: str) -> str:
    word = text.strip().lower()
    return "yes" if word in _YES else "no" if word in _NO else text


def _unit_case(text: str) -> str:
    """A comma that can only be a decimal one: `0,4 A`, `6,5 ohm/1000 ft`."""
    return re.sub(r"^([0-9]+),([0-9]{1,2})(?![0-9])", r"\1.\2", text.strip())


_SHORT_LENGTHS = (quantities.SHORT_LENGTH, quantities.SLACK_LENGTH)
_WITH_UNITS = (
    *(quantities.OHMS, quantities.AMPERES, quantities.VOLTS, quantities.VOLT_AMPERES),
    *(quantities.MEGOHMS, quantities.GROUND_OHMS, quantities.CELSIUS, quantities.PERCENT),
    *(quantities.OHMS_PER_LENGTH, quantities.TEST_VOLTS),
)
_REWRITES: dict[Shape[Any], Callable[[str], str]] = {
    quantities.LENGTH: certain_length,
    **dict.fromkeys(_SHORT_LENGTHS, partial(certain_length, is_short=True)),
    **dict.fromkeys(_WITH_UNITS, _unit_case),
    quantities.GAUGE: quantities.meant_gauge,
    quantities.DATE: _date,
    YES_NO: _yes_no,
}
