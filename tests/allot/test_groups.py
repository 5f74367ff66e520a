"""Stations are weighed together only where they may want the same conductor or spare."""

from __future__ import annotations

from cardgen.allot.choose import searches_of
from cardgen.allot.groups import groups
from cardgen.allot.needs import needs_of
from cardgen.allot.supply import FreeConductors
from cardgen.examine import examine_text
from tests.allot.test_choose import FORK
from tests.allot.yards import job

TWO_RUNS = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 85 ft, VB-1]}
  K2: {gauge: 18 AWG, colors: [white, red, blue], band: tape, run: [A, 85 ft, VB-2]}
boxes:
  VB-1: {}
  VB-2: {}
"""
STATIONS = """
stations:
  A1: {area: lawn, box: VB-1}
  A2: {area: bed, box: VB-2}
  A3: {area: lawn, box: VB-1}
"""


def grouped(text: str) -> list[list[str]]:
    facts = examine_text(job(text) + STATIONS.lstrip("\n")).facts
    assert facts
    needs = needs_of(facts.job)
    supply = FreeConductors(facts, needs)
    found = groups(supply, searches_of(supply, needs, {}))
    return [[search.need.station.id for search in group] for group in found]


def test_home_runs_that_never_meet_are_weighed_apart() -> None:
    assert grouped(TWO_RUNS) == [["A1", "A3"], ["A2"]]


def test_branches_of_one_home_run_are_weighed_together() -> None:
    assert grouped(FORK) == [["A1", "A2", "A3"]]


def test_a_box_that_asks_for_spares_ties_the_cables_that_could_bring_them() -> None:
    both = TWO_RUNS.replace("run: [A, 85 ft, VB-2]", "run: [A, 85 ft, VB-2, 9 ft, PB-1]").replace(
        "run: [A, 85 ft, VB-1]", "run: [A, 85 ft, VB-1, 9 ft, PB-1]"
    )
    with_spares = both + "  PB-1: {kind: pull box, spares: 1}\n"
    assert grouped(with_spares) == [["A1", "A2", "A3"]]
