"""Pass by the texts in which no rule can find anything, which are nearly all."""

from __future__ import annotations

import re

from cardgen.trade.private_text import known
from cardgen.trade.private_text.innocent import OPENED
from cardgen.trade.private_text.normal_text import in_plain_letters
from cardgen.trade.private_text.phones import LEAST

# Each rule needs one of these, or the digits of a phone number.
_SIGNS = frozenset("@#*")
_WORDS = known.CODES | known.PINS | known.PASSWORDS | known.LOGINS | known.NETWORKS | {"pass"}
_TELLING = tuple(sorted(_SIGNS | _WORDS | OPENED))
_SEVERAL_WORDS = re.compile("|".join(pattern for pattern, _ in known.ONE_WORD))


def is_suspect(text: str) -> bool:
    plain, _ = in_plain_letters(text)
    return (
        any(map(plain.__contains__, _TELLING))
        or sum(map(str.isdigit, plain)) >= LEAST
        or _SEVERAL_WORDS.search(plain) is not None
    )
