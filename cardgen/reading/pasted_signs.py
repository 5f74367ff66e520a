"""Find what a word processor or a web page puts where a keyboard has another sign.

Curly quotes around a value, which hold nothing together, and bullets before a line.  Inside a text
both are the user's own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from cardgen.faults.file_faults import BULLET, CURLY_QUOTES
from cardgen.problems import Problem
from cardgen.reading.nodes import Scalar, short

_CLOSED_BY = {
    "\u201c": "\u201d\u201c",
    "\u201d": "\u201d",
    "\u201e": "\u201c\u201d",
    "\u2018": "\u2019",
    "\u201a": "\u2018\u2019",
    "\u00ab": "\u00bb",
}
_BULLETS = "\u2022\u2023\u25cf\u25aa\u25e6\u2043\u2219\u00b7\u2013\u2014"
STARTS = frozenset((*_CLOSED_BY, *_BULLETS))  # of a plain value that may be one of both
_BULLET_LINE = re.compile(rf"\s*(?:-\s+)?([{_BULLETS}])\s")


def is_pasted(text: str) -> bool:
    """Whether a plain value begins with a bullet, or with a curly quote that is to hold it all."""
    first, rest = text[0], text[1:]
    if first in _BULLETS:
        return rest[:1] in (" ", "\t")
    closing = [index for index, sign in enumerate(rest) if sign in _CLOSED_BY[first]]
    return not closing or closing[0] == len(rest) - 1


def pasted(values: Iterable[Scalar], lines: list[str]) -> Iterator[Problem]:
    """The problem of each such value."""
    for value in values:
        first, span = value.text[0], value.span
        if first in _BULLETS:
            yield BULLET.at(span, sign=first)
            continue
        line = lines[span.line - 1][span.column :]
        whole = re.match(f"([^{_CLOSED_BY[first]}]*)[{_CLOSED_BY[first]}]", line)
        inside = whole[1] if whole else value.text.strip("".join((first, *_CLOSED_BY[first])))
        yield CURLY_QUOTES.at(span, text=short(value.text), quoted=in_plain_quotes(inside))


def bullet_before(line: str) -> tuple[int, str] | None:
    """Where a line begins with a bullet, and with which."""
    match = _BULLET_LINE.match(line) or re.match(r"\s*(\*)\s", line)
    return (match.start(1), match[1]) if match else None


def in_plain_quotes(text: str) -> str:
    """A text as a value that YAML takes as it stands."""
    text = text.strip()
    if '"' not in text and "\\" not in text:
        return f'"{text}"'
    return "'" + text.replace("'", "''") + "'"
