"""What is proven, and what is said where it is not."""

from __future__ import annotations

import pytest

from cardgen.allot import allot, give
from cardgen.cli.allotments import as_text
from tests.allot.test_choose import ONE_WAY, SPLICED, dedented
from tests.allot.yards import job

# Three stations behind a splice that two colours pass unchanged: one change at least.
THREE = """
stations:
  A1: {area: bed, box: VB-2}
  A2: {area: bed, box: VB-2}
  A3: {area: bed, box: VB-2}
"""


def test_it_is_said_that_there_can_be_no_fewer() -> None:
    found = allot(job(SPLICED) + THREE.lstrip("\n"))
    assert found.is_fewest
    assert "color changes in all: 1, the fewest there can be" in as_text(found)


def test_where_the_work_is_broken_off_nothing_is_claimed(monkeypatch: pytest.MonkeyPatch) -> None:
    """The choice stands, for it is sound; only that it is the best is not said."""
    monkeypatch.setattr(give, "MOST_ARCS", 0)
    found = allot(job(SPLICED) + THREE.lstrip("\n"))
    assert found.text is not None and not found.is_fewest
    assert "color changes in all: 1, not proven to be the fewest" in as_text(found)


def test_an_order_that_misses_a_station_is_not_the_last_word() -> None:
    """A1 takes K1 red, A2 needs it; a flow through all of them finds room for both."""
    found = allot(job(dedented(ONE_WAY)))
    assert found.is_fewest
    assert {name: way.cables for name, way in found.ways.items()} == {
        "A1": ("K2",),
        "A2": ("K1",),
    }
