"""Find codes: a number, or a word said to be one, near a secret's word or near what it opens."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from cardgen.trade.private_text import known
from cardgen.trade.private_text.innocent import (
    OPENED,
    is_explained,
    is_innocent_place,
    is_innocent_secret,
)
from cardgen.trade.private_text.normal_text import NEAR, Clause, NormalText, Word
from cardgen.trade.private_text.passwords import is_elsewhere

_SECRETS = known.CODES | known.PINS
_GROUPS = re.compile(r"\d{1,4}(?:[- /]\d{1,4}){1,3}")  # 44-71, 12-34-16, 32 14 6
# Typed into a keypad, whatever stands beside it; `3000#` is the class of a fitting.
_KEYED = re.compile(r"(?<![\w#])(?!\d+000#)\d{4,8}#(?!\w)|(?<![\w)*])\*\d{3,8}")


def codes(text: NormalText) -> Iterator[tuple[int, int]]:
    """`gate code 44`, `portón 4471`, `4471 at the keypad`, `4471#`."""
    for clause in text.clauses:
        for index, key in enumerate(clause):
            found = _code_of(clause, index)
            if found is None:
                continue
            first = index
            while first and clause[first - 1].among(OPENED):  # 'gate code', not only 'code'
                first -= 1
            yield min(found.start, clause[first].start), max(found.end, key.end)
    yield from (match.span() for match in _KEYED.finditer(text.plain))


def _code_of(clause: Clause, index: int) -> Word | None:
    """The code that belongs to a key word."""
    key = clause[index]
    if key.among(_SECRETS):
        return _code_of_secret(clause, index)
    if not key.among(OPENED) or is_innocent_place(clause, index):
        return None
    if key.among(known.LOCKS):
        return _near(clause, index, lambda word: word.digits >= 3) or _grouped(clause, index, 3)
    most = 4 if key.among(known.GATES) else 99  # a door has a number of its own, as long as any
    return _near(clause, index, lambda word: word.digits >= most or _is_typed(word))


def _code_of_secret(clause: Clause, index: int) -> Word | None:
    opens = _opens(clause, index)
    if not opens and is_innocent_secret(clause, index):
        return None
    least = 2 if opens else 3
    return (
        _near(clause, index, lambda word: word.digits >= least or word.is_mixed, opens=opens)
        or _grouped(clause, index, least)
        or (_code_word(clause, index) if opens or clause[index].among(known.SPOKEN) else None)
    )


def _opens(clause: Clause, index: int) -> bool:
    """Whether the code is that of something that opens: `gate code`, `código del portón`."""
    for at in range(max(index - 4, 0), min(index + 4, len(clause))):
        between = clause[min(at, index) + 1 : max(at, index)]
        of_trade = any(word.among(known.TRADE) for word in between)
        if clause[at].among(OPENED) and not of_trade and not is_innocent_place(clause, at):
            return True
    return False


def _is_typed(word: Word) -> bool:
    """`447#`, or after a colon `447`."""
    signed = word.text[0] in "#*" or word.text[-1] in "#*"
    return word.digits >= 3 and (signed or word.is_told)


def _near(
    clause: Clause, index: int, fits: Callable[[Word], bool], *, opens: bool = False
) -> Word | None:
    """The number near a key word that nothing explains."""
    for at in range(index + 1, min(index + 2 + NEAR, len(clause))):
        if clause[at].among(_SECRETS) and not clause[index].among(_SECRETS):
            break  # what follows belongs to that word
        if fits(clause[at]) and not is_explained(clause, at, index, opens=opens):
            return clause[at]
    for at in range(index - 1, max(index - 2 - NEAR, -1), -1):
        next_ = clause[at + 1]
        leads_on = at + 1 == index or next_.among(known.LINKS | OPENED)
        if not leads_on or next_.is_apart:
            continue
        if fits(clause[at]) and not is_explained(clause, at, index, opens=opens):
            return clause[at]
    return None


def _grouped(clause: Clause, index: int, least: int) -> Word | None:
    """`12-34-16` behind its key word, with no more than little words between."""
    for word in clause[index + 1 : index + 2 + NEAR]:
        if _GROUPS.fullmatch(word.text) and len(re.split("[- /]", word.text)) >= least:
            return word
        if not word.among(known.LINKS | OPENED):
            break
    return None


def _code_word(clause: Clause, index: int) -> Word | None:
    """A word that is the code: `gate code: crane`, `la clave es garza`."""
    told = False
    for at in range(index + 1, len(clause)):
        word, rest = clause[at], clause[at + 1 : at + 2]
        told = told or word.is_told or word.text in known.IS
        if word.among(known.LINKS | OPENED):
            continue
        ends = not rest or bool(re.search(r"[^\w\s]", rest[0].gap))
        other = is_elsewhere(word) or word.among(known.KINDS_OF_CODE | known.COLORS)
        is_word = word.text.isalpha() and len(word.text) > 3 and not other
        return word if told and ends and is_word else None
    return None
