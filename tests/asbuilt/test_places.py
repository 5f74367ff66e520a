"""What lies before and after a place on its cables, read off the runs by hand."""

from __future__ import annotations

import pytest

from cardgen.asbuilt import as_built
from cardgen.asbuilt.places import cables, neighbors, usual_unit
from cardgen.units import LengthUnit
from tests.checks.bases import completed
from tests.jobs import examined

CABLES = """\
cables:
  K2: {gauge: 18 AWG, colors: [white, tan], run: [VB-1, 40 ft, PB-3]}
  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1, not known, VB-2]}
boxes: {VB-1: {}, VB-2: {}, PB-3: {kind: pull box}}
"""


def test_what_is_nearer_to_the_controller_comes_first_on_all_cables() -> None:
    job = examined(completed(CABLES)).job
    assert job is not None
    found = {
        place: [
            (n.cable, n.place, n.length, n.upstream) for n in neighbors(job.cables.values(), place)
        ]
        for place in ("A", "VB-1", "VB-2", "PB-3")
    }
    assert found == {
        "A": [("K1", "VB-1", "85 ft", False)],
        "VB-1": [
            ("K1", "A", "85 ft", True),
            ("K2", "PB-3", "40 ft", False),
            ("K1", "VB-2", "", False),
        ],
        "VB-2": [("K1", "VB-1", "", True)],
        "PB-3": [("K2", "VB-1", "40 ft", True)],
    }


def test_boxes_and_controllers_have_those_of_their_own_cables() -> None:
    facts = examined(completed(CABLES)).facts
    assert facts is not None
    built = as_built(facts)
    (hut,) = built.controllers
    assert [n.place for n in hut.neighbors] == ["VB-1"]
    assert {box.id: [n.place for n in box.neighbors] for box in built.boxes} == {
        "VB-1": ["A", "PB-3", "VB-2"],
        "VB-2": ["VB-1"],
        "PB-3": ["VB-1"],
    }


@pytest.mark.parametrize(
    ("run", "unit"),
    [
        ("A, 26 m, VB-1, 60 ft, VB-2", LengthUnit.FEET),
        ("A, 26 m, VB-1, 60 ft, VB-2, 9 m, PB-3", LengthUnit.METERS),
        ("A, not known, VB-1, 18 m, VB-2", LengthUnit.METERS),
    ],
)
def test_the_unit_of_most_legs_and_feet_where_they_are_as_many(run: str, unit: LengthUnit) -> None:
    cable = f"cables: {{K1: {{gauge: 18 AWG, colors: [white, red, blue, tan], run: [{run}]}}}}\n"
    boxes = "boxes: {VB-1: {}, VB-2: {}, PB-3: {kind: pull box}}\n"
    job = examined(completed(cable + boxes)).job
    assert job is not None
    assert usual_unit(job) is unit


def test_a_cable_has_its_lengths_and_its_own_reels_or_those_of_the_job() -> None:
    """40 ft are 12.192 m."""
    text = CABLES.replace("K2: {gauge: 18 AWG,", "K2: {reels: [500 ft, 250 ft], gauge: 18 AWG,")
    job = examined(completed("reels: [1000 ft]\n" + text)).job
    assert job is not None
    shorter, longer = cables(job)
    assert [(stop.at, stop.length, stop.meters) for stop in shorter.run] == [
        ("VB-1", "", 0.0),
        ("PB-3", "40 ft", pytest.approx(12.192)),
    ]
    assert [stop.length for stop in longer.run] == ["", "85 ft", ""]
    assert [[str(reel) for reel in cable.reels] for cable in (shorter, longer)] == [
        ["250 ft", "500 ft"],
        ["1000 ft"],
    ]
