"""Two hots against each other, and a spare tied to its common, by hand."""

from __future__ import annotations

import pytest

from cardgen.electrics.loops import at_coil, hot_to_hot, tied_to_common
from cardgen.units import Ohms
from tests.jobs import examined, sample

# 18 AWG copper at 20 C: 6.385 ohm per 1000 ft (NBS Handbook 100, table 1).
OHMS_PER_FOOT = 6.385 / 1000


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
    conductors = facts.wiring.conductors
    band = tied_to_common(conductors["A-K1 orange"], conductors["A-K1 white"], facts.network)
    assert band is not None
    # 85 + 60 ft, there and back
    assert band[0] == pytest.approx(2 * 145 * OHMS_PER_FOOT, abs=0.01)
    assert band[2] - band[0] == pytest.approx(1.0)


def test_a_spare_and_a_common_of_another_way_have_no_loop() -> None:
    facts = examined(sample("larkspur")).facts
    assert facts
    conductors = facts.wiring.conductors
    spare, elsewhere = conductors["A-K1 orange"], conductors["A-K2 white"]
    assert tied_to_common(spare, elsewhere, facts.network) is None


def test_a_coil_by_itself() -> None:
    assert at_coil(Ohms(30.0)) == pytest.approx((30.0, 24.5, 35.5))
