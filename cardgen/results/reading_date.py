"""Turn what a person or a spreadsheet wrote for a day into ISO 8601, where it can be one day only.

`11/28/2026` and `28/11/2026` are the same day; `4/5/2026` is one only beside another of the file.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import datetime
from enum import Enum

from cardgen.reading.shapes import meant_days

_WHEN = re.compile(r"\d{4}-\d{2}-\d{2}([T ]\d{2}:\d{2}(:\d{2})?(Z|[+-]\d{2}:\d{2})?)?", re.ASCII)
_WRITTEN = re.compile(
    r"(?P<day>\d{1,2}([/.-])\d{1,2}\2\d{4})"
    r"(?:[ T,]+(?P<hour>\d{1,2}):(?P<minute>\d{2})(?::\d{2})?\s*(?P<half>[AaPp])?\.?[Mm]?\.?)?",
    re.ASCII,
)
_MONTHS, _HALF_DAY = 12, 12


class DayOrder(Enum):
    """Which of the first two numbers of a day is the month."""

    MONTH_FIRST = "month first"
    DAY_FIRST = "day first"


class NotADay(Exception):
    """It is no day, or it could be two.

    Attributes:
        is_ambiguous: whether both orders give a day.
    """

    def __init__(self, *, is_ambiguous: bool = False) -> None:
        super().__init__()
        self.is_ambiguous = is_ambiguous


def is_when(text: str) -> bool:
    """ISO 8601: a day of the calendar, with a time of day or without."""
    if not _WHEN.fullmatch(text):
        return False
    try:
        datetime.fromisoformat(text)
    except ValueError:
        return False
    return True


def day_order(texts: Iterable[str]) -> DayOrder | None:
    """The one order that the days of a file show; None where they show none, or both."""
    matches = (_WRITTEN.fullmatch(text.strip()) for text in texts)
    shown = {_order(match["day"]) for match in matches if match}
    shown.discard(None)
    return shown.pop() if len(shown) == 1 else None


def _order(day: str) -> DayOrder | None:
    first, second, _ = map(int, re.split("[/.-]", day))
    if first > _MONTHS:
        return DayOrder.DAY_FIRST
    return DayOrder.MONTH_FIRST if second > _MONTHS else None


def when_read(text: str, order: DayOrder | None = None) -> str:
    """ISO 8601.

    Raises:
        NotADay: if it is none, or could be two.
    """
    if is_when(text):
        return text
    match = _WRITTEN.fullmatch(text)
    days = meant_days(match["day"]) if match else ()
    if match is None or not days:
        raise NotADay
    if len(days) > 1 and order is None:
        raise NotADay(is_ambiguous=True)
    day = days[-1] if order is DayOrder.DAY_FIRST else days[0]
    return _with_time(day, match)


def _with_time(said: str, match: re.Match[str]) -> str:
    if match["hour"]:
        hour, half = int(match["hour"]), (match["half"] or "").lower()
        if half:
            hour = hour % _HALF_DAY + (_HALF_DAY if half == "p" else 0)
        said += f"T{hour:02}:{match['minute']}"
    if not is_when(said):
        raise NotADay
    return said
