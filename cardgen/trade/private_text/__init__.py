"""Find in a text what must not hang in the open: codes, passwords, phone numbers, mail addresses.

Four rules, in this order; a number that the words beside it explain is none of them:

1. a mail address; a number in the shape of a phone number, or any long one after 'call';
2. a word for a password, and the word after it;
3. a word for a secret (code, PIN, clave), and a number near it;
4. a number near what a secret opens (gate, lock, portón, alarma); beside a gate, which may have a
   number of its own, it has four digits.
"""

from __future__ import annotations

from cardgen.light_dataclass import dataclass
from cardgen.trade.private_text.codes import codes
from cardgen.trade.private_text.normal_text import read
from cardgen.trade.private_text.passwords import passwords
from cardgen.trade.private_text.phones import mails, phones
from cardgen.trade.private_text.suspects import is_suspect

_RULES = (
    (mails, "an email address"),
    (phones, "a phone number"),
    (passwords, "a password"),
    (codes, "a code"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Private:
    """Attributes:
    what: `a code`, `a phone number`.
    words: those from `start` to `end` of the text.
    """

    what: str
    start: int
    end: int
    words: str


def private(text: str) -> Private | None:
    """The first private thing in a text, and None if there is none."""
    if not is_suspect(text):
        return None
    said = read(text)
    for rule, what in _RULES:
        for start, end in rule(said):
            first, last = said.at[start], said.at[end - 1] + 1
            return Private(what=what, start=first, end=last, words=text[first:last])
    return None
