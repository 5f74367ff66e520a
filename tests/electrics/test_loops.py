"""Two hots against each other, and a spare tied to its common, by hand."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from cardgen.electrics.loops import Commons, at_coil, hot_to_hot
from cardgen.units import Ohms
from tests.jobs import examined, sample

# 18 AWG copper at 20 C: 6.385 ohm per 1000 ft (NBS Handbook 100, table 1).
OHMS_PER_FOOT = 6.385 / 1000


def test_the_same_job_gives_the_same_digits_whatever_the_order_of_a_set() -> None:
    """With these two orders the sum of one spare's loop once differed in its last digit."""
    says = (
        "from tests.jobs import examined, sample;"
        "from cardgen.output.as_printable import as_printable;"
        "print(as_printable(examined(sample('heron'))).asbuilt.spares)"
    )
    said = {
        subprocess.run(
            [sys.executable, "-c", says],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "3")
    }
    assert len(said) == 1


def test_two_hots_of_a_box_read_through_both_coils() -> None:
    facts = examined(sample("larkspur")).facts
    assert facts
    one, other = facts.circuits["A1"], facts.circuits["A2"]
    band = hot_to_hot(one, other, facts.network)
    assert band is not None
    # 85 ft out on each hot, two coils of 30 ohm; the common carries nothing
    assert band[0] == pytest.approx(2 * 85 * OHMS_PER_FOOT + 60, abs=0.01)
    assert (band[0] - band[1], band[2] - band[0]) == pytest.approx((10.0, 10.0))  # 15 % + 1 ohm


def test_hots_whose_commons_meet_elsewhere_have_no_such_reading() -> None:
    facts = examined(sample("quarry")).facts
    assert facts
    circuits = facts.circuits
    assert hot_to_hot(circuits["A11"], circuits["B3"], facts.network) is None  # VB-5, A and B
    assert hot_to_hot(circuits["A1"], circuits["A4"], facts.network) is None  # two boxes


def test_a_spare_tied_to_its_common_reads_there_and_back() -> None:
    facts = examined(sample("larkspur")).facts
    assert facts
    (spare,) = facts.uses.stretches["A-K1 orange"]
    band = Commons(facts.uses, facts.network).tied(spare)
    assert band is not None
    # 85 + 60 ft, there and back
    assert band[0] == pytest.approx(2 * 145 * OHMS_PER_FOOT, abs=0.01)
    assert band[2] - band[0] == pytest.approx(1.0)


RING = """
job: {code: X-1, site: S, revision: 1, date: 2026-01-02}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
palettes: {three: [white, red, blue]}
coils: {usual: {supply: 24 V AC, resistance: 30 ohm}}
controllers:
  A: {place: wall, supply: 24 V AC, stations: 2, coil: usual, common: COMMON}
cables:
  K1: {gauge: 18 AWG, palette: three, run: [A, 100 ft, VB-1]}
  K2: {gauge: 18 AWG, palette: three, band: tape, run: [A, 300 ft, VB-1]}
boxes: {VB-1: {}}
stations:
  A1: {area: one, box: VB-1, hot: K1 red}
joints:
  A: [[C, LANDED], [1, K1 red]]
  VB-1: [[K1 red, A1], [JOINED, A1]]
"""


def tied(common: str, conductor: str) -> float | None:
    text = RING.replace("COMMON", f"[{common}]").replace("LANDED", common).replace("JOINED", common)
    facts = examined(text).facts
    assert facts
    (spare,) = facts.uses.stretches[conductor]
    band = Commons(facts.uses, facts.network).tied(spare)
    return band[0] if band else None


def test_a_spare_goes_back_on_the_common_that_is_at_both_of_its_ends() -> None:
    # no white in its own cable is the common: 100 ft out, 300 ft back
    assert tied("K2 white", "K1 blue") == pytest.approx(400 * OHMS_PER_FOOT, abs=0.01)


def test_a_common_fed_round_a_ring_reads_both_ways_side_by_side() -> None:
    # 100 ft out; back 100 and 300 ft in parallel: 75 ft
    assert tied("K1 white, K2 white", "K1 blue") == pytest.approx(175 * OHMS_PER_FOOT, abs=0.01)


def test_without_a_common_at_both_ends_there_is_no_loop() -> None:
    facts = examined(sample("larkspur").replace("[A-K1 white, A-K2 white]", "A-K1 white")).facts
    assert facts
    (spare,) = facts.uses.stretches["A-K2 green"]
    assert Commons(facts.uses, facts.network).tied(spare) is None


def test_a_coil_by_itself() -> None:
    assert at_coil(Ohms(30.0)) == pytest.approx((30.0, 24.5, 35.5))


def test_of_two_commons_at_both_ends_that_of_its_own_cable_is_taken() -> None:
    """K1 white is first in the file, and 300 ft longer than K2 gray, beside which K2 tan lies."""
    text = """
job: {code: X-1, site: S, revision: 1, date: 2026-01-02}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils: {usual: {supply: 24 V AC, resistance: 30 ohm}}
controllers:
  A: {place: wall, supply: 24 V AC, stations: 2, coil: usual, common: [K1 white, K2 gray]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, pink], run: [A, 400 ft, VB-1]}
  K2: {gauge: 18 AWG, colors: [gray, blue, tan], run: [A, 100 ft, VB-1]}
boxes: {VB-1: {}}
stations:
  A1: {area: one, box: VB-1, hot: K1 red}
  A2: {area: two, box: VB-1, hot: K2 blue}
joints:
  VB-1: [[K1 red, A1], [K2 blue, A2], [K1 white, A1], [K2 gray, A2]]
"""
    facts = examined(text).facts
    assert facts
    commons = Commons(facts.uses, facts.network)
    for conductor, feet in (("K2 tan", 100), ("K1 pink", 400)):
        (spare,) = facts.uses.stretches[conductor]
        band = commons.tied(spare)
        assert band is not None
        assert band[0] == pytest.approx(2 * feet * OHMS_PER_FOOT, abs=0.01)
