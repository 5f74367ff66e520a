"""Say which letter codes of a job are made for these cards: no table of standard codes has them."""

from __future__ import annotations

from cardgen.cards.printable import Printable
from cardgen.trade.colors import STROKE, own_codes
from cardgen.words import Said, Text


def own_codes_line(printable: Printable) -> Text | None:
    """`Color codes of these cards: LB, TN and base/stripe as in WH/BU`; None where none is."""
    words, codes = printable.words, printable.asbuilt.codes
    parts: list[Said] = list(own_codes(codes))
    striped = next((code for code in codes if STROKE in code), "")
    if striped:
        parts.append(words("codes.striped", code=striped))
    return words("codes.own", codes=words.list_of(parts)) if parts else None
