"""Find the days that a person may have meant: `2026-3-14`, `3/14/2026`, `14.3.2026`, `4/5/2026`."""

from __future__ import annotations

import re
from datetime import date

_YEAR_LAST = re.compile(r"([0-9]{1,2})([-/.])([0-9]{1,2})\2([0-9]{4})")
_YEAR_FIRST = re.compile(r"([0-9]{4})([-/.])([0-9]{1,2})\2([0-9]{1,2})")


def meant_days(text: str) -> tuple[str, ...]:
    """Each as ISO 8601 has it; of two, that which has the month first; none if it is no day."""
    last, first = _YEAR_LAST.fullmatch(text), _YEAR_FIRST.fullmatch(text)
    if last:
        tried = [(last[4], last[1], last[3]), (last[4], last[3], last[1])]
    elif first:
        tried = [(first[1], first[3], first[4])]
    else:
        return ()
    days = (f"{year}-{int(month):02d}-{int(day):02d}" for year, month, day in tried)
    return tuple(day for day in dict.fromkeys(days) if is_a_day(day))


def is_a_day(text: str) -> bool:
    """Of the calendar."""
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True
