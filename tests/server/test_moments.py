"""When something was measured: as the phone said, unless its clock contradicts itself."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cardgen.server.moments import is_ahead, measured_moment

ARRIVED = int(datetime(2026, 6, 1, 16, 30, tzinfo=UTC).timestamp())


@pytest.mark.parametrize(
    ("said", "moment", "ahead"),
    # By hand; Phoenix is 7 h behind UTC, so it arrived there at 09:30.
    [
        ("2026-06-01T09:28-07:00", "2026-06-01T09:28", False),
        ("2026-06-01T09:34-07:00", "2026-06-01T09:34", False),  # four minutes: two good clocks
        ("2026-06-01T10:30-07:00", "2026-06-01T09:30", True),
        ("2027-06-01T09:28-07:00", "2026-06-01T09:30", True),
        ("2026-05-04", "2026-05-04", False),
        ("2026-06-01", "2026-06-01", False),
        ("2026-06-02", "2026-06-02", False),  # already begun at Kiritimati, 14 h ahead of UTC
        ("2026-06-03", "2026-06-01T16:30", True),
        ("2026-06-01 09:28", "2026-06-01T09:28", False),
        ("2026-06-01T16:00Z", "2026-06-01T16:00", False),
        ("", "2026-06-01", False),
    ],
)
def test_a_clock_is_believed_until_it_says_a_time_after_the_arrival(
    said: str, moment: str, ahead: bool
) -> None:
    assert (measured_moment(said, ARRIVED), is_ahead(said, ARRIVED)) == (moment, ahead)
