"""Find the days that a person may have meant: `2026-3-14`, `3/14/2026`, `May 4, 2026`."""

from __future__ import annotations

import re
from datetime import date

_YEAR_LAST = re.compile(r"([0-9]{1,2})([-/.])([0-9]{1,2})\2([0-9]{4})")
_YEAR_FIRST = re.compile(r"([0-9]{4})([-/.])([0-9]{1,2})\2([0-9]{1,2})")
_IN_ONE = re.compile(r"((?:19|20)[0-9]{2})([0-9]{2})([0-9]{2})")
# The first three letters of the months, in English and Spanish.
_ENGLISH = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_SPANISH = ("ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic")
_MONTHS = {name: number for names in (_ENGLISH, _SPANISH) for number, name in enumerate(names, 1)}
_NAMED = re.compile(
    r"(?:(?P<month>[a-z]{3,})\.? (?P<day>[0-9]{1,2})(?:st|nd|rd|th)?"
    r"|(?P<day_first>[0-9]{1,2})(?:st|nd|rd|th)?(?: de)? (?P<month_last>[a-z]{3,})\.?(?: de)?)"
    r",? (?P<year>[0-9]{4})"
)


def meant_days(text: str) -> tuple[str, ...]:
    """Each as ISO 8601 has it; of two, that which has the month first; none if it is no day."""
    last, first = _YEAR_LAST.fullmatch(text), _YEAR_FIRST.fullmatch(text)
    named, whole = _NAMED.fullmatch(text.lower()), _IN_ONE.fullmatch(text)
    if named:
        month = _MONTHS.get((named["month"] or named["month_last"])[:3], 0)
        tried = [(named["year"], str(month), named["day"] or named["day_first"])]
    elif whole:
        tried = [(whole[1], whole[2], whole[3])]
    elif last:
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
