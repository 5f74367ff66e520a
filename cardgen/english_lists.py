"""Put names in the order in which one counts, and say a list of them: `A1, A2 and A11 to A14`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator


def natural(name: str) -> tuple[tuple[int, str], ...]:
    """To sort by: K2 before K10."""
    parts = re.split("([0-9]+)", name)
    return tuple((int(part), "") if part.isdecimal() else (-1, part) for part in parts)


def english_list(words: Iterable[str]) -> str:
    """`A1, A2 and A3`; runs of numbers are drawn together: `A11 to A14`."""
    parts = [" to ".join(run) for run in runs(words)]
    return " and ".join(part for part in (", ".join(parts[:-1]), *parts[-1:]) if part)


def runs(words: Iterable[str]) -> Iterator[tuple[str, ...]]:
    """Each name once, by itself; of three and more that count on, the first and the last."""
    names = list(dict.fromkeys(words))
    index = 0
    while index < len(names):
        end = index
        while end + 1 < len(names) and _follows(names[end], names[end + 1]):
            end += 1
        if end - index >= 2:
            yield names[index], names[end]
            index = end + 1
        else:
            yield (names[index],)
            index += 1


def _follows(one: str, two: str) -> bool:
    stem = one.rstrip("0123456789")
    digits = one[len(stem) :]
    return bool(digits) and two == f"{stem}{int(digits) + 1:0{len(digits)}d}"
