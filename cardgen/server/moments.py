"""Say when something was measured, from what a phone said and when it arrived.

A phone says the time on the wall, with its distance from UTC; readings are ordered by the time on
the wall.  What claims to be measured after it arrived is of a wrong clock: it counts as measured
when it arrived, for it was measured no later.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

SLACK = timedelta(minutes=5)  # by which two good clocks may differ; our choice
# A time without its distance from UTC may be that of the most easterly zone (IANA tz database,
# Pacific/Kiritimati: 14 h ahead).
_EASTERLY = timedelta(hours=14)


def measured_moment(said_at: str, received_at_s: int) -> str:
    """The time on the wall, `2026-06-01T09:30`, which can be compared; a day alone is its begin."""
    arrived = datetime.fromtimestamp(received_at_s, UTC)
    if not said_at:
        return f"{arrived:%Y-%m-%d}"
    if not is_ahead(said_at, received_at_s):
        return said_at[:16].replace(" ", "T")
    zone = datetime.fromisoformat(said_at).tzinfo
    return f"{arrived.astimezone(zone or UTC):%Y-%m-%dT%H:%M}"


def is_ahead(said_at: str, received_at_s: int) -> bool:
    """Whether it was measured later than it arrived, as its clock says."""
    if not said_at:
        return False
    said = datetime.fromisoformat(said_at)
    if said.tzinfo is None:
        said = said.replace(tzinfo=UTC) - _EASTERLY
    return said > datetime.fromtimestamp(received_at_s, UTC) + SLACK


def shown(said_at: str) -> str:
    """`2026-06-01 09:30`, or the day where nothing says the hour."""
    return said_at[:16].replace("T", " ")
