"""What a conductor is on either side of a place, and which ones end there: read off by hand.

A ===[K1 white, red, blue, green, tan]=== VB-1 === VB-2       A1 in VB-1 is on K1 red, A2 in VB-2
on a hot that is not known; K1 tan is a spare.
"""

from __future__ import annotations

import pytest

from cardgen.asbuilt import AsBuilt, as_built
from tests.checks.bases import completed
from tests.jobs import examined

YARD = """\
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, tan]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: not known}
spares: {SP-1: {conductor: K1 tan}}
"""


@pytest.fixture(scope="module")
def built() -> AsBuilt:
    facts = examined(completed(YARD)).facts
    assert facts is not None
    return as_built(facts)


def test_a_hot_is_another_stretch_beyond_its_valve(built: AsBuilt) -> None:
    red = built.conductor["K1 red"]
    sides = [(place, onward) for place in ("A", "VB-1", "VB-2", "X") for onward in (False, True)]
    found = {side: red.at(side[0], onward=side[1]) for side in sides}
    assert {side: (s.first, s.last) for side, s in found.items() if s} == {
        ("A", True): ("A", "VB-1"),
        ("VB-1", False): ("A", "VB-1"),
        ("VB-1", True): ("VB-1", "VB-2"),
        ("VB-2", False): ("VB-1", "VB-2"),
    }


def test_what_may_be_a_hot_ends_where_its_conductor_does(built: AsBuilt) -> None:
    ending = {
        (place, cable): [c.name for c in built.maybe_hots_ending(place, cable)]
        for place in ("A", "VB-1", "VB-2")
        for cable in ("K1", "K9")
    }
    assert {where: names for where, names in ending.items() if names} == {
        ("VB-2", "K1"): ["K1 blue", "K1 green"]
    }
