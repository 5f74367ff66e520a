"""A cable that is cut: in a ring the common has another way, so the leg itself shows.

Ohms by hand: 18 AWG has 6.385 for each 1,000 ft (wire table), coils 30; the ring of the common is
A - B1 - B2 - A, each leg 400 ft, 2.554 ohms.
"""

from __future__ import annotations

from cardgen.diagnosis import FaultKind, diagnose
from cardgen.results import OL, Kind
from tests.diagnosis.small_yard import as_built_of, measured, walk

RING = """\
job: {code: RING-04, site: Worked ring, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 19 V}
connectors:
  small: {takes: [2-5 x 18 AWG]}
controllers:
  A:
    place: garage wall
    supply: 24 V AC
    stations: 4
    terminals: [C, 1 to 4]
    coil: usual
    common: [A-K1 white, A-K2 white]
cables:
  A-K1: {gauge: 18 AWG, colors: [white, red, blue, green, yellow], run: [A, 400 ft, B1, 400 ft, B2]}
  A-K2: {gauge: 18 AWG, colors: [white, red], band: tape, run: [A, 400 ft, B2]}
boxes: {B1: {place: one}, B2: {place: two}}
stations:
  A1: {area: a, box: B1, hot: A-K1 red}
  A2: {area: b, box: B1, hot: A-K1 blue}
  A3: {area: c, box: B2, hot: A-K1 green}
  A4: {area: d, box: B2, hot: A-K1 yellow}
"""
LEG = 2.554


def test_a_cut_in_a_ring_is_told_at_its_leg() -> None:
    """Beyond B1 cut: A3 and A4 have no hot; A1 comes back by the near leg alone, 30 + 2 * 2.554.

    Before, the two ways from B1 were side by side, 2.554 and twice that: 1.703 on the common.
    """
    near = 30 + LEG + LEG
    readings = [
        measured(f"A{n}", Kind.CONTROLLER, ohms) for n, ohms in enumerate((near, near, OL, OL), 1)
    ]
    found = diagnose(as_built_of(RING), readings)
    (cut,) = (f for s in found.suspects for f in s.faults if f.kind is FaultKind.CUT)
    assert [(site.start, site.end) for site in cut.sites] == [("B1", "B2")]
    assert not found.is_several


def test_one_station_alone_is_no_cut_cable() -> None:
    """The last of a cable: its hot or the common of that leg says as much."""
    kinds = {f.kind for s in diagnose(as_built_of(), walk({8: OL})).suspects for f in s.faults}
    assert FaultKind.CUT not in kinds and FaultKind.OPEN in kinds
