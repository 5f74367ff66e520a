"""Tell which words make a number innocent: what it is of, its unit, a year, a street."""

from __future__ import annotations

import re

from cardgen.trade.private_text import known
from cardgen.trade.private_text.normal_text import Clause

OPENED = known.LOCKS | known.GATES | known.DOORS
_YEAR = re.compile("(?:19|20)[0-9]{2}")


def is_of(nouns: frozenset[str], before: Clause, gap: str) -> bool:
    """Whether the word right before a number says what it counts: `serial no. 12`, `box 12`.

    Behind a comma or a colon a number is of something else, but for `serial: 12`.
    """
    words = list(before)
    while words and words[-1].among(known.NUMBER_SIGNS):
        gap += words.pop().gap
    if not words:
        return any(word.among(known.NUMBER_SIGNS) for word in before)
    if re.search(r"[,(=/]", gap):
        return False
    return words[-1].among(known.LABELS if ":" in gap else nouns)


def is_innocent_secret(clause: Clause, index: int) -> bool:
    """`valve code`, `código de color`, `per code`; of pins those of wood and metal."""
    before = next((word for word in reversed(clause[:index]) if not word.digits), None)
    after = clause[index + 1 : index + 4]
    if clause[index].among(known.PINS):
        of_metal = before is not None and before.among(known.METAL)
        return of_metal or any(word.among(known.TRADE) for word in after[:1])
    kinds = known.KINDS_OF_CODE | known.RULES
    if before is not None and before.among(kinds) and not clause[index].is_apart:
        return True
    named = next((word for word in after if not word.among(known.LINKS)), None)
    return named is not None and named.among(known.KINDS_OF_CODE)


def is_innocent_place(clause: Clause, index: int) -> bool:
    """`gate valve`, `alarm box`, `Gate Road`, `Calle Portón`."""
    after = clause[index + 1 : index + 2]
    before = next((w for w in reversed(clause[:index]) if not w.among(known.LINKS)), None)
    named = known.TRADE | known.STREETS_AFTER
    return any(word.among(named) and not word.is_apart for word in after) or (
        before is not None and before.text in known.STREETS_BEFORE
    )


def is_explained(clause: Clause, at: int, key: int, *, opens: bool) -> bool:
    """Whether the words beside a number say what it is: `4500 sq ft`, `box 12`, `since 2019`.

    Args:
        key: where the word stands whose code it may be.
        opens: it is known that the code opens something.
    """
    number = clause[at]
    return (
        number.text in known.PUBLIC_NUMBERS
        or is_of(known.TRADE, clause[:at], number.gap)
        or (key != at + 1 and _is_counted(clause, at, opens=opens))
        or (key != at - 1 and _is_year(clause, at))
        or (key == at + 1 and not opens and bool(_YEAR.fullmatch(number.text)))
        or (clause[key].among(OPENED) and _is_in_street(clause, at))
    )


def _is_counted(clause: Clause, at: int, *, opens: bool) -> bool:
    """`4500 ft`, `100 by 200`, `201 decoder`."""
    after = clause[at + 1 : at + 3]
    if not after or after[0].is_apart:
        return False
    unit = after[0].among(known.UNITS)
    if after[0].text in known.SHORT_UNITS and clause[at].digits > 3:
        unit = False
    by = after[0].text in known.TIMES and after[-1].text[0].isdigit()
    return unit or by or (after[0].among(known.TRADE) and not opens)


def _is_year(clause: Clause, at: int) -> bool:
    before = clause[max(at - 1, 0) : at]
    return bool(_YEAR.fullmatch(clause[at].text)) and any(
        word.text in known.YEAR_WORDS for word in before
    )


def _is_in_street(clause: Clause, at: int) -> bool:
    """`4471 Elm St`, `Av. Reforma 4471`."""
    before, after = clause[max(at - 3, 0) : at], clause[at + 1 : at + 4]
    return any(word.text in known.STREETS_AFTER for word in after) or any(
        word.text in known.STREETS_BEFORE for word in before
    )
