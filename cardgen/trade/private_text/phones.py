"""Find mail addresses and phone numbers, by the shapes in which their countries write them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardgen.trade.private_text import known
from cardgen.trade.private_text.innocent import is_of
from cardgen.trade.private_text.normal_text import NEAR, Clause, NormalText

_MAIL = re.compile(r"[\w.%+-]+@[\w-]+(?:\.[\w-]+)*\.[a-z]{2,}")

# The national numbering plans, and ITU-T E.164 for the sign before a country; all from memory.
_SHAPES = (
    # US, Canada and Mexico: three, three and four; US without its area code.
    r"(?:04[45] |01 |\+?1[ .-]?)?(?:\([2-9]\d{2}\) ?|[2-9]\d{2}[ .-])\d{3}[ .-]\d{4}",
    r"[2-9]\d{2}[ .-]\d{3}(?:[ .-]\d{2}){2}",
    r"[2-9]\d{2}-\d{4}",
    # Mexico: two, four and four.
    r"(?:04[45] |01 )?(?:\(\d{2}\) ?|\d{2}[ -])\d{4}[ -]\d{4}",
    # Spain: nine digits.
    r"[6-9]\d{2}[ .]\d{3}[ .]\d{3}|[6-9]\d{2}(?:[ .]\d{2}){3}|9\d[ .]\d{3}(?:[ .]\d{2}){2}",
    # UK and Germany: a zero before the area; France: five pairs.
    r"(?:\(0\d{1,4}\) ?|0\d{2,4}[ /-])\d{3,4}[ -]?\d{3,5}|0\d(?: \d{2}){4}",
    # Any country, but no degrees: `+51.12345`.
    r"(?:\+(?!\d+\.\d+(?![\d.]))|(?:00|011 )(?=\d{1,3} ))[1-9](?:[ .-]?\(?\d{1,5}\)?){3,7}",
)
_PHONE = re.compile(rf"(?<![\w/-])(?<!\d[.,])(?:{'|'.join(_SHAPES)})(?![\w-]|[.,]\d)")
_LONG = re.compile(r"(?<![\w/-])\(?\d(?:[ .-]?[()]?\d){6,14}(?![\w-]|[.,]\d)")
_DATE_OR_DEGREES = re.compile(r"\d{4}-\d\d-\d\d|\d\d?[-.]\d\d?[-.]\d{4}|\d{1,3}\.\d{5,}$")
LEAST = 7  # digits


def mails(text: NormalText) -> Iterator[tuple[int, int]]:
    """`ann@example.com`."""
    yield from (match.span() for match in _MAIL.finditer(text.plain))


def phones(text: NormalText) -> Iterator[tuple[int, int]]:
    """A number in a phone's shape, or any long one after a word like 'call'; no serial number."""
    for match in _PHONE.finditer(text.plain):
        long = sum(sign.isdigit() for sign in match[0]) >= LEAST + match[0].startswith("+")
        if long and not is_of(known.TRADE, *_before(text, match.start())):
            yield match.span()
    for match in _LONG.finditer(text.plain):
        words, gap = _before(text, match.start())
        called = any(word.among(known.PHONES) for word in words[-NEAR:])
        if called and not _DATE_OR_DEGREES.match(match[0]) and not is_of(known.TRADE, words, gap):
            yield match.span()


def _before(text: NormalText, start: int) -> tuple[Clause, str]:
    """The words of its sentence before a place, and what stands between the last and it."""
    for clause in reversed(text.clauses):
        words = [word for word in clause if word.end <= start]
        if words:
            end = words[-1].end
            if words[-1].among(known.CODES):
                words.pop()  # 'stock code 555-1204'
            return tuple(words), text.plain[end:start]
    return (), ""
