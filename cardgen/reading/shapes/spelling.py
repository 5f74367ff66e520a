"""Find the known word that a person may have meant."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

LONGEST_WORD = 200  # letters that are compared


def either(words: Iterable[str]) -> str:
    """`'a', 'b' or 'c'`."""
    quoted = [f"'{word}'" for word in words]
    return " or ".join((", ".join(quoted[:-1]), quoted[-1])) if len(quoted) > 1 else quoted[0]


def nearest(word: str, known: Iterable[str]) -> str:
    """`did you mean 'gauge'?` for a near miss, else empty."""
    close = _nearest(word, known)
    return f"did you mean {either(close)}?" if 0 < len(close) < 4 else ""


def nearest_one(word: str, known: Iterable[str]) -> str:
    """What was meant, where there is no doubt about it, else empty."""
    close = _nearest(word, known)
    return close[0] if len(close) == 1 else ""


def _nearest(word: str, known: Iterable[str]) -> list[str]:
    """The known words that are nearest, all of them if several are equally near."""
    matcher = difflib.SequenceMatcher(b=word.lower()[:LONGEST_WORD])
    ratios: dict[str, float] = {}
    for choice in known:
        matcher.set_seq1(choice.lower())
        if matcher.real_quick_ratio() >= 0.6 and matcher.quick_ratio() >= 0.6:
            ratios[choice] = matcher.ratio()
    best = max(ratios.values(), default=0.0)
    return [choice for choice, ratio in ratios.items() if ratio == best] if best >= 0.6 else []
