"""Know the PINs that are tried first: by a list of lines and words, and by rules."""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from itertools import pairwise
from pathlib import Path

_LIST = Path(__file__).with_name("weak_pins.txt")
_REPEATED = re.compile(r"(.{1,4}?)\1+(?!.)")  # 121212, abcabc, 20262026
_AROUND = r"[^a-zñáéíóúü]{0,4}"
_PARTS_OF_DATES = ((4, 2, 2), (2, 2, 4), (2, 2, 2))
_YEARS = range(1900, 2100)


def is_weak(pin: str, crew: str) -> bool:
    """Whether it is among the first that anybody tries."""
    typed = pin.casefold()
    digits = re.sub(r"[-/. ]", "", typed)
    return (
        len(set(typed)) < 3
        or _REPEATED.fullmatch(typed) is not None
        or _is_run(typed)
        or (digits.isascii() and digits.isdigit() and (_is_date(digits) or _is_years(digits)))
        or _is_mirror(typed)
        or bool(_listed().fullmatch(typed))
        or bool(re.fullmatch(f"{_AROUND}{re.escape(crew.casefold())}{_AROUND}", typed))
    )


def _is_run(text: str) -> bool:
    """Each character the same step of one or two behind the last: 345678, fedcba, 7890123."""
    steps = {_step(one, other) for one, other in pairwise(text)}
    return len(steps) == 1 and steps <= {1, -1, 2, -2}


def _step(one: str, other: str) -> int:
    """On a keypad 0 comes after 9."""
    step = ord(other) - ord(one)
    if one.isdigit() and other.isdigit():
        return (step + 5) % 10 - 5
    return step


def _is_mirror(text: str) -> bool:
    """A run and the same backward: 345543, 3456543."""
    return text == text[::-1] and _is_run(text[: (len(text) + 1) // 2])


def _is_years(digits: str) -> bool:
    """One year after the other, or a year and two digits: 19992000, 202601."""
    parts = [digits[i : i + 4] for i in range(0, len(digits), 4)]
    whole = [part for part in parts if len(part) == 4]
    return bool(whole) and len(parts[-1]) in (2, 4) and all(int(p) in _YEARS for p in whole)


def _is_date(digits: str) -> bool:
    """A day of the calendar in any of the usual orders: 03141959, 310799, 20260314."""
    for lengths in _PARTS_OF_DATES:
        if len(digits) != sum(lengths):
            continue
        cut, parts = 0, []
        for length in lengths:
            parts.append(digits[cut : cut + length])
            cut += length
        for order in ((0, 1, 2), (2, 0, 1), (2, 1, 0)):
            year, month, day = (parts[place] for place in order)
            if _is_day(year, int(month), int(day)):
                return True
    return False


def _is_day(year: str, month: int, day: int) -> bool:
    if len(year) == 4 and int(year) not in _YEARS:
        return False
    full = int(year) if len(year) == 4 else 2000 + int(year)
    try:
        date(full, month, day)
    except ValueError:
        return False
    return len(year) in (2, 4)


@cache
def _listed() -> re.Pattern[str]:
    lines = _LIST.read_text(encoding="utf-8").splitlines()
    words = [line.strip().casefold() for line in lines if line and not line.startswith("#")]
    return re.compile(f"{_AROUND}(?:{'|'.join(map(re.escape, words))}){_AROUND}")
