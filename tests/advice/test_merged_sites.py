"""Legs of one conductor that follow each other are one place; how far, added up by hand.

A-K2 of the quarry goes from A 180 ft to VB-4, 230 ft to VB-5, 150 ft to VB-6: TRADE data of the
sample job, 54.864 m, 70.104 m and 45.72 m (a foot is 0.3048 m, NIST SP 811).
"""

from __future__ import annotations

import pytest

from cardgen.advice.merged_sites import merged, meters_between
from cardgen.advice.site_words import distance_in_words
from cardgen.diagnosis import SuspectSite
from cardgen.words import english
from tests.advice.diagnoses import site
from tests.cards.printables import printable
from tests.jobs import sample

RED = "A-K2 white"


def put_together(*sites: SuspectSite) -> list[tuple[str, str]]:
    known = printable(sample("quarry")).asbuilt
    return [(each.start, each.end) for each in merged(known, sites)]


def test_legs_in_any_order_become_one() -> None:
    legs = (site(RED, "VB-4", "VB-5"), site(RED, "VB-5", "VB-6"), site(RED, "A", "VB-4"))
    assert put_together(*legs) == [("A", "VB-6")]
    assert put_together(*reversed(legs)) == [("A", "VB-6")]


def test_what_does_not_follow_stays_apart() -> None:
    apart = (site(RED, "A", "VB-4"), site(RED, "VB-5", "VB-6"))
    assert put_together(*apart) == [("A", "VB-4"), ("VB-5", "VB-6")]
    other = (site(RED, "A", "VB-4"), site("A-K2 green", "VB-4", "VB-5"))
    assert put_together(*other) == [("A", "VB-4"), ("VB-4", "VB-5")]


def test_a_gap_between_them_keeps_them_apart() -> None:
    """No farther than 20 m of the first, so not at its end, where the second begins."""
    gap = (site(RED, "A", "VB-4", 20.0), site(RED, "VB-4", "VB-5"))
    assert put_together(*gap) == [("A", "VB-4"), ("VB-4", "VB-5")]


def test_how_far_is_added_up() -> None:
    """54.864 m + 30 m = 84.864 m: 278.4 ft, told as 279 ft and 85 m."""
    known = printable(sample("quarry")).asbuilt
    (whole,) = merged(known, (site(RED, "VB-4", "VB-5", 0.0, 30.0), site(RED, "A", "VB-4")))
    assert whole.most_m == pytest.approx(84.864)
    told = distance_in_words(english(), known, whole)
    assert told is not None
    assert told.printed == "No farther than 279 ft (85 m) from controller A"
    assert meters_between(known, whole) == pytest.approx(54.864 + 70.104)


@pytest.mark.parametrize(
    ("bounds", "expected"),
    [
        ((54.864,), None),  # all of the leg: the place itself says that
        ((0.0, 54.9), None),
        ((30.5, 54.864), "No nearer than 100 ft (30 m) to controller A"),  # 100.07 ft
        ((15.3, 30.4), "From 50 ft (15 m) to 100 ft (31 m) from controller A"),  # 50.2, 99.7
        ((), None),
    ],
)
def test_a_distance_is_told_outward_and_only_where_it_tells_something(
    bounds: tuple[float, ...], expected: str | None
) -> None:
    known = printable(sample("quarry")).asbuilt
    told = distance_in_words(english(), known, site(RED, "A", "VB-4", *bounds))
    assert (told.printed if told else None) == expected
