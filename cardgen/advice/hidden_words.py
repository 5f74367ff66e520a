"""Say what good readings leave open, and what would show it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from cardgen.diagnosis import HiddenFault, HiddenKind
from cardgen.words import Text, Words

_MOST_NAMES = 6  # of more the sentence would be a list
# Said without the names: these are of nearly all that was measured.
_NAMELESS = (HiddenKind.RUNS,)


def hidden_in_words(words: Words, hidden: Iterable[HiddenFault]) -> Iterator[Text]:
    """`Ohms do not show: ...`, then what to do about it; nothing where nothing is left open."""
    given = tuple(hidden)
    if given:
        listed = words.joined([_what(words, each) for each in given], "; ")
        yield words("diagnosis.hidden", what=listed)
    kinds = {each.kind for each in given}
    if kinds & {HiddenKind.SWAPPED, HiddenKind.POLARITY, HiddenKind.RUNS}:
        yield words("diagnosis.hidden run")


def _what(words: Words, hidden: HiddenFault) -> Text:
    key = f"diagnosis.hidden {hidden.kind}"
    if hidden.ohms is not None:
        return words(key, ohms=math.ceil(hidden.ohms))
    if hidden.kind in _NAMELESS or not hidden.valves:
        return words(key)
    if len(hidden.valves) > _MOST_NAMES:
        return words(f"{key} many", number=len(hidden.valves))
    return words(key, valves=words.list_of(hidden.valves))
